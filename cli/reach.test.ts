import assert from "node:assert/strict";
import { json, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright reach", () => {
  const { feed, run } = shippedProgram("reach");

  interface ReachAnswer {
    frame: string;
    point: string;
    status: string;
    axes: Record<string, number>;
    position: number[];
    rotation: number[];
    error: { m: number; rad: number };
    nearest?: number[];
    distance?: number;
    stoppedBy?: string[];
  }
  const near = (is: readonly number[], wanted: readonly number[]): void =>
    wanted.forEach((part, i) => assert.ok(Math.abs(is[i] - part) < 1e-9, `${is.join()} against ${wanted.join()}`));

  it("gives axes that pose confirms", () => {
    // At slide 0.25, pan 90, the mount of the slider is at [0, 0.29, 1.2] and looks along y.
    const args = ["--from", "0,0.29,1.2", "--aim", "0,2,1.2", "--format", "json"];
    const answer = json<ReachAnswer>(run("reach", "kit/slider.rig.yaml", ...args));
    assert.deepEqual([answer.frame, answer.point, answer.status], ["base", "mount", "converged"]);
    near([answer.axes.slide, answer.axes.pan, answer.axes.tilt], [0.25, 90, 0]);
    near(answer.rotation, [0, 0, Math.SQRT1_2, Math.SQRT1_2]);
    const list = Object.entries(answer.axes).map(([name, value]) => `${name}=${value}`);
    const pose = json<{ position: number[] }>(
      run("pose", "kit/slider.rig.yaml", "--axes", list.join(), "--format", "json"),
    );
    near(pose.position, [0, 0.29, 1.2]);
  });

  it("brings the camera to a place alone when nothing is looked at, the head as it is near", () => {
    // Pan at 90 degrees: the mount is 0.04 m to the left of the pan axis, so the slide has to stand at 0.21.
    const args = ["--near", "pan=90", "--format", "json"];
    const answer = json<ReachAnswer>(run("reach", "kit/slider.rig.yaml", "--from", "0,0.25,1.2", ...args));
    assert.equal(answer.status, "converged");
    near([answer.axes.slide, answer.axes.pan, answer.axes.tilt], [0.21, 90, 0]);
    const beyond = json<ReachAnswer>(run("reach", "kit/slider.rig.yaml", "--from", "0.3,3.04,1.2", ...args));
    assert.deepEqual([beyond.status, beyond.stoppedBy], ["out-of-reach", ["slide"]]);
    near(beyond.nearest!, [0, 1.04, 1.2]);
    assert.ok(Math.abs(beyond.distance! - Math.hypot(0.3, 2)) < 1e-6);
  });

  it("puts the pupil of a lens there, the target at its framing", () => {
    const camera = ["--camera", "kit/a.camera.yaml", "--lens", "wide", "--framing", "0.75,0.5"];
    // Half a picture of 36 mm at 24 mm is a slope of 0.75: a quarter of the picture to the right is 0.375 to the right.
    const aim = ["--from", "0.09,0,1.2", "--aim", "2.09,-0.75,1.2", "--format", "json"];
    const answer = json<ReachAnswer>(run("reach", "kit/slider.rig.yaml", ...aim, ...camera));
    assert.deepEqual([answer.point, answer.status], ["pupil", "converged"]);
    near([answer.axes.slide, answer.axes.pan, answer.axes.tilt], [0, 0, 0]);
  });

  it("says how far out of reach a place is, where the nearest one is and what stops it, with exit code 0", () => {
    const result = run(
      "reach",
      "kit/slider.rig.yaml",
      "--from",
      "0.04,3.5,1.2",
      "--aim",
      "9,3.5,1.2",
      "--format",
      "json",
    );
    const answer = json<ReachAnswer>(result);
    assert.deepEqual([result.status, answer.status, answer.stoppedBy], [0, "out-of-reach", ["slide"]]);
    const off = Math.hypot(...answer.nearest!.map((part, i) => part - [0.04, 3.5, 1.2][i]));
    assert.ok(Math.abs(off - answer.distance!) < 1e-9 && Math.abs(off - answer.error.m) < 1e-9);
    assert.ok(Math.abs(answer.axes.slide - 1) < 1e-9 && 2.4 < off && off < 2.6, `${off}`);
    const text = run("reach", "kit/slider.rig.yaml", "--from", "0.04,3.5,1.2", "--aim", "9,3.5,1.2").stdout;
    assert.match(text, /m out of reach; the nearest place\nposition /);
    assert.match(text, /^stopped by slide$/m);
  });

  it("reaches for a move in the set, its targets by name", () => {
    const args = ["--aim", "lid", "--format", "json"];
    const at0 = json<{ samples: { camera: { position: number[]; rotation: number[] } }[] }>(
      run("solve", "good.move.yaml", "--at", "0 s", "--format", "json"),
    ).samples[0].camera;
    const answer = json<ReachAnswer>(
      run("reach", "good.move.yaml", "--from", at0.position.join(), "--framing", "0.5,0.45", ...args),
    );
    assert.deepEqual([answer.frame, answer.point, answer.status], ["set", "pupil", "converged"]);
    near(answer.rotation, at0.rotation);
    near([answer.axes.slide], [-0.2]);
  });

  it("answers JSON lines in their order, and says in its place which cannot be asked", () => {
    const lines = [
      { from: [0.04, 0.25, 1.2], aim: [2, 0.25, 1.2] },
      { from: [0.04, 9, 1.2], aim: [2, 0, 1.2] },
      { form: [0, 0, 0] },
      { from: [0.04, 0, 1.2], rotation: [0, 0, 0, 1], near: { slide: "10 mm" } },
    ].map((line) => JSON.stringify(line));
    const answer = feed(`${lines.join("\n")}\nno json\n`, "reach", "kit/slider.rig.yaml");
    const answers = answer.stdout
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as ReachAnswer & { message?: string });
    assert.deepEqual(
      answers.map(({ status }) => status),
      ["converged", "out-of-reach", "refused", "converged", "refused"],
    );
    near([answers[0].axes.slide, answers[3].axes.pan], [0.25, 0]);
    assert.match(answers[2].message!, /form is no field/);
    assert.equal(answer.status, 1);
  });

  it("refuses in one line what it cannot ask", () => {
    for (const [args, words] of [
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--aim", "lid"], /known with a move/],
      [["good.move.yaml", "--from", "0,0,1", "--aim", "pot"], /has no target pot; it has/],
      [["kit/slider.rig.yaml", "--from", "0,0", "--aim", "1,0,0"], /--from takes 3 numbers/],
      [["kit/slider.rig.yaml", "--from", "0,0,1 deg", "--aim", "1,0,0"], /--from/],
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--aim", "1,0,0", "--framing", "0.5,0.5"], /--framing needs/],
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--aim", "1,0,0", "--roll", "3"], /no roll axis/],
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--aim", "1,0,0", "--near", "slid=1"], /has no axis slid/],
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--aim", "1,0,0", "--rotation", "0,0,0,1"], /either --aim/],
      [["kit/slider.rig.yaml", "--from", "0,0,1", "--roll", "3"], /need --aim/],
      [["kit/a.camera.yaml", "--from", "0,0,1", "--aim", "1,0,0"], /a rig document is needed/],
    ] as const) {
      const answer = run("reach", ...args);
      assert.equal(answer.status, 2, args.join(" "));
      assert.match(answer.stderr, words);
      assert.equal(answer.stderr.trimEnd().split("\n").length, 1, answer.stderr);
    }
  });
});
