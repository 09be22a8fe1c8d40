import assert from "node:assert/strict";
import { json, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright pose", () => {
  const { run, put } = shippedProgram("pose");

  interface PoseAnswer {
    frame: string;
    point: string;
    position: number[];
    rotation: number[];
    findings: { code: string; axis: string; value: number; limit: number; unit: string }[];
  }

  it("gives the mount, and the entrance pupil of a lens, in the base's frame", () => {
    const mount = json<PoseAnswer>(
      run("pose", "kit/slider.rig.yaml", "--axes", "slide=250 mm,pan=90", "--format", "json"),
    );
    assert.deepEqual([mount.frame, mount.point, mount.findings], ["base", "mount", []]);
    [0, 0.29, 1.2].forEach((part, i) => assert.ok(Math.abs(mount.position[i] - part) < 1e-12));
    const half = Math.SQRT1_2;
    [0, 0, half, half].forEach((part, i) => assert.ok(Math.abs(mount.rotation[i] - part) < 1e-12));
    const pupil = json<PoseAnswer>(
      run(
        "pose",
        "kit/slider.rig.yaml",
        "--axes",
        "pan=90",
        "--camera",
        "kit/a.camera.yaml",
        "--lens",
        "long",
        "--format",
        "json",
      ),
    );
    assert.equal(pupil.point, "pupil");
    [0, 0.1, 1.2].forEach((part, i) => assert.ok(Math.abs(pupil.position[i] - part) < 1e-12));
  });

  it("focuses a lens whose pupil goes with focus", () => {
    put(
      "kit/macro.camera.yaml",
      `camera: 1
body: { sensor: [36 mm, 20.25 mm], resolution: [6144, 3456], flange: 44 mm }
lenses:
  macro: { focal: 100 mm, pupil: [{ focus: infinity, at: 60 mm }, { focus: 1 m, at: 80 mm }, { focus: 0.5 m, at: 100 mm }] }
`,
    );
    const lens = ["--camera", "kit/macro.camera.yaml", "--lens", "macro", "--format", "json"];
    const at = (...focus: string[]): number =>
      json<PoseAnswer>(run("pose", "kit/slider.rig.yaml", "--axes", "pan=0", ...lens, ...focus)).position[0];
    // The mount is 40 mm in front of the pan axis; two thirds of a metre are half of the way from 1 m to 0.5 m.
    assert.ok(Math.abs(at() - 0.1) < 1e-12);
    assert.ok(Math.abs(at("--focus", "infinity") - 0.1) < 1e-12);
    assert.ok(Math.abs(at("--focus", "1") - 0.12) < 1e-12);
    assert.ok(Math.abs(at("--focus", "500 mm") - 0.14) < 1e-12);
    assert.ok(Math.abs(at("--focus", `${2 / 3} m`) - 0.13) < 1e-9);
    for (const [focus, why] of [
      ["2 deg", /^movewright: --focus: /],
      ["0", /--focus is a distance of more than 0 from the sensor plane, or `infinity`/],
    ] as const) {
      const refused = run("pose", "kit/slider.rig.yaml", "--axes", "pan=0", ...lens, "--focus", focus);
      assert.equal(refused.status, 2);
      assert.match(refused.stderr, why);
    }
    const lensless = run("pose", "kit/slider.rig.yaml", "--axes", "pan=0", "--focus", "1 m");
    assert.match(lensless.stderr, /--focus needs --camera and --lens/);
    const reached = json<{ position: number[]; error: { m: number } }>(
      run("reach", "kit/slider.rig.yaml", "--from", "0.12,0.3,1.2", "--aim", "2,0.3,1.2", ...lens, "--focus", "1 m"),
    );
    assert.ok(reached.error.m < 1e-9 && Math.abs(reached.position[0] - 0.12) < 1e-6);
  });

  it("computes values outside a range and lists them, with exit code 0", () => {
    const answer = run("pose", "kit/crane.rig.yaml", "--axes", "lift=45", "--format", "json");
    assert.equal(answer.status, 0);
    const [finding, ...rest] = json<PoseAnswer>(answer).findings;
    assert.equal(rest.length, 0);
    assert.deepEqual([finding.code, finding.axis, finding.unit], ["axis-range", "level", "deg"]);
    assert.ok(Math.abs(finding.value + 45) < 1e-9 && Math.abs(finding.limit + 40) < 1e-9);
  });
});
