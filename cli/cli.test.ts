import assert from "node:assert/strict";
import { spawn, spawnSync } from "node:child_process";
import { chmodSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, type BuildOptions } from "esbuild";
import { bundles as listed } from "../scripts/bundles.mjs";
import { KIT } from "../test/fixtures/kit.ts";

/** The program as it ships, bundled anew: it starts in a tenth of the time that it takes from its sources. */
const MAIN = fileURLToPath(new URL("../.cache/cli-test/main.cjs", import.meta.url));

interface Bundle {
  readonly entry: string;
  readonly out: string;
  readonly options: BuildOptions;
}
const bundles = listed as readonly Bundle[];

const MOVE = `move: 1
title: Lid
rig: kit/slider.rig.yaml
camera: { use: kit/a.camera.yaml, lens: wide }
set: kit/table.set.yaml
rate: 23.976
start: "01:00:00:00"
keys:
  - at: 0 s
    name: top
    axes: { slide: -0.2 }
    aim: { at: lid, framing: [0.5, 0.45] }
    focus: lid
  - at: 2 s
    axes: { slide: 0.1 }
    aim: { framing: [0.4, 0.5] }
passes:
  - { name: plain }
  - { name: tall, targets: { lid: { shift: [0, 0, 100 mm] } } }
`;

const FAST = MOVE.replace("at: 2 s", "at: 0.6 s");

interface Answer {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

describe("movewright on the command line", () => {
  let folder: string;
  const put = (name: string, text: string): void => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  const run = (...args: string[]): Answer =>
    spawnSync(process.execPath, [MAIN, ...args], {
      cwd: folder,
      encoding: "utf8",
      env: { ...process.env, NO_COLOR: "" },
    });
  const json = <T>(answer: Answer): T => JSON.parse(answer.stdout) as T;

  before(async () => {
    const { entry, options } = bundles.find(({ out }) => out === "dist/cli/main.cjs") as Bundle;
    await build({ ...options, entryPoints: [fileURLToPath(new URL(`../${entry}`, import.meta.url))], outfile: MAIN });
    folder = mkdtempSync(join(tmpdir(), "cli-"));
    for (const [name, text] of Object.entries(KIT)) put(`kit/${name}`, text);
    put("good.move.yaml", MOVE);
  });
  after(() => rmSync(folder, { recursive: true, force: true }));

  describe("check", () => {
    interface CheckAnswer {
      version: number;
      files: { path: string; kind: string; findings: Record<string, unknown>[] }[];
    }

    it("answers a clean folder with exit code 0, every document once, paths as given", () => {
      const answer = run("check", "kit", "./good.move.yaml", "good.move.yaml", "--format", "json");
      assert.equal(answer.status, 0, answer.stdout + answer.stderr);
      const { version, files } = json<CheckAnswer>(answer);
      assert.equal(version, 1);
      assert.deepEqual(
        files.map(({ path, kind }) => [path, kind]),
        [
          ["kit/a.camera.yaml", "camera"],
          ["kit/crane.rig.yaml", "rig"],
          ["kit/slider.rig.yaml", "rig"],
          ["kit/table.set.yaml", "set"],
          ["./good.move.yaml", "move"],
        ],
      );
    });

    it("answers an error with exit code 1, its place in UTF-16 and its figures", () => {
      put("fast/é.move.yaml", FAST.replaceAll("kit/", "../kit/").replace("title: Lid", "title: 🫖 Lid"));
      const answer = run("check", "fast", "--format", "json");
      assert.equal(answer.status, 1, answer.stderr);
      const [{ path, findings }] = json<CheckAnswer>(answer).files;
      assert.equal(path, "fast/é.move.yaml");
      const speed = findings.find((finding) => finding.code === "axis-speed" && finding.axis === "slide");
      assert.ok(speed);
      // 1.875 x 0.3 m in 0.6 s, the peak of a minimum-jerk segment, over the slider's 0.5 m/s.
      assert.ok(Math.abs((speed.value as number) - (1.875 * 0.3) / 0.6) < 1e-9);
      assert.deepEqual([speed.severity, speed.limit, speed.unit, speed.key], ["error", 0.5, "m/s", "key 2"]);
      const lines = readFileSync(join(folder, "fast/é.move.yaml"), "utf8").split("\n");
      const line = lines.findIndex((text) => text.includes("slide: 0.1"));
      const character = lines[line].indexOf("0.1");
      const range = { start: { line, character }, end: { line, character: character + 3 } };
      assert.deepEqual(speed.range, range);
      const time = speed.time as { from: number; to: number };
      assert.ok(0 < time.from && time.from < 0.3 && 0.3 < time.to && time.to < 0.6);
    });

    it("prints one line a finding and a summary, without colours off a terminal", () => {
      const answer = run("check", "fast");
      assert.equal(answer.status, 1);
      const lines = answer.stdout.trimEnd().split("\n");
      for (const line of lines.slice(0, -1))
        assert.match(line, /^fast\/é\.move\.yaml:\d+:\d+: (error|information) [a-z-]+ /);
      assert.match(lines[lines.length - 1], /^1 document checked: \d+ errors/);
      assert.ok(!answer.stdout.includes("\u001b"));
    });

    it("does not fail on what is allowed with a reason", () => {
      const allow = ["axis-speed", "axis-accel", "axis-jerk"].map((code) => `{ code: ${code}, reason: rehearsed }`);
      put("allowed.move.yaml", `${FAST}allow: [${allow.join(", ")}]\n`);
      const answer = run("check", "allowed.move.yaml", "--format", "json");
      assert.equal(answer.status, 0, answer.stdout);
      const [{ findings }] = json<CheckAnswer>(answer).files;
      assert.ok(
        findings.some(
          ({ code, allowed, severity }) => code === "axis-speed" && allowed === "rehearsed" && severity === "hint",
        ),
      );
    });

    it("says in one line why it could not run, with exit code 2", () => {
      mkdirSync(join(folder, "empty"), { recursive: true });
      put("notes.txt", "no document");
      const cases: [string[], RegExp][] = [
        [["check", "none.move.yaml"], /none\.move\.yaml is not there/],
        [["check", "notes.txt"], /notes\.txt is no document by its name/],
        [["check", "empty"], /empty holds no documents/],
        [["check", "--format", "xml"], /xml/],
        [["chekc"], /chekc/],
        [["solve", "kit/slider.rig.yaml"], /is a rig document; a move document is needed/],
        [["solve", "good.move.yaml", "--at", "99 s"], /outside the move/],
        [["solve", "good.move.yaml", "--pass", "blue"], /no pass blue; it has plain, tall/],
        [["pose", "kit/slider.rig.yaml", "--axes", "pam=3"], /no axis pam; it has slide, pan, tilt/],
        [["pose", "kit/slider.rig.yaml", "--axes", "slide=3 deg"], /slide/],
      ];
      for (const [args, message] of cases) {
        const answer = run(...args);
        assert.equal(answer.status, 2, args.join(" "));
        assert.equal(answer.stdout, "", args.join(" "));
        assert.match(answer.stderr, message);
        assert.equal(answer.stderr.trimEnd().split("\n").length, 1, answer.stderr);
      }
    });

    it("says that a file may not be read", function () {
      if (process.getuid?.() === 0) {
        // Root reads every file: then the file must simply be checked.
        put("locked.rig.yaml", KIT["slider.rig.yaml"]);
        chmodSync(join(folder, "locked.rig.yaml"), 0);
        assert.equal(run("check", "locked.rig.yaml").status, 0);
        return;
      }
      put("locked.rig.yaml", KIT["slider.rig.yaml"]);
      chmodSync(join(folder, "locked.rig.yaml"), 0);
      const answer = run("check", "locked.rig.yaml");
      assert.equal(answer.status, 2);
      assert.match(answer.stderr, /may not be read/);
    });
  });

  describe("solve", () => {
    interface Sample {
      t: number;
      frame: number;
      timecode: string;
      axes: Record<string, { value: number; speed: number; accel: number; jerk: number }>;
      camera: { position: number[]; rotation: number[] };
      lens: { focal: number; focus: number };
      targets: Record<string, { framing: [number, number] | null; distance: number }>;
    }
    interface SolveAnswer {
      version: number;
      rate: { num: number; den: number };
      duration: number;
      samples: Sample[];
    }

    /** Where the pupil is and how the camera is turned, worked out for this slider alone. */
    function sliderCamera(axes: Sample["axes"]): {
      position: number[];
      forward: number[];
      left: number[];
      up: number[];
    } {
      const [a, b] = [axes.pan.value, axes.tilt.value].map((deg) => (deg * Math.PI) / 180);
      const forward = [Math.cos(a) * Math.cos(b), Math.sin(a) * Math.cos(b), Math.sin(b)];
      const left = [-Math.sin(a), Math.cos(a), 0];
      const up = [-Math.cos(a) * Math.sin(b), -Math.sin(a) * Math.sin(b), Math.cos(b)];
      // Tilt axis at height 0.9 + 0.15 + 0.1; from there the flange [0.04, 0, 0.05] and the pupil 50 mm along the view.
      const position = [0, 1, 2].map((i) => [0, axes.slide.value, 1.15][i] + 0.09 * forward[i] + 0.05 * up[i]);
      return { position, forward, left, up };
    }

    const dot = (p: number[], q: number[]): number => p.reduce((sum, part, i) => sum + part * q[i], 0);
    const close = (actual: number, expected: number, slack: number, what: string): void =>
      assert.ok(Math.abs(actual - expected) <= slack, `${what}: ${actual} is not ${expected}`);

    function checkSample(sample: Sample, lid: number[]): void {
      const { position, forward, left, up } = sliderCamera(sample.axes);
      position.forEach((part, i) => close(sample.camera.position[i], part, 1e-9, `camera at ${sample.t}`));
      const [x, y, z, w] = sample.camera.rotation;
      const turned = [1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y)];
      turned.forEach((part, i) => close(part, forward[i], 1e-9, `view at ${sample.t}`));
      const away = lid.map((part, i) => part - position[i]);
      const depth = dot(away, forward);
      // 24 mm on 36 x 20.25 mm, no distortion.
      const across = 0.5 + (24 / 36) * (-dot(away, left) / depth);
      const down = 0.5 + (24 / 20.25) * (-dot(away, up) / depth);
      const { framing, distance } = sample.targets.lid;
      close(framing?.[0] ?? NaN, across, 1e-9, `across at ${sample.t}`);
      close(framing?.[1] ?? NaN, down, 1e-9, `down at ${sample.t}`);
      close(distance, Math.hypot(...away), 1e-9, `distance at ${sample.t}`);
      close(sample.lens.focus, depth + 0.05 + 0.044, 1e-9, `focus at ${sample.t}`);
      close(sample.lens.focal, 24, 1e-9, "focal length");
    }

    it("gives every frame and the end, equal to poses and projections worked out by hand", () => {
      const answer = run("solve", "good.move.yaml", "--format", "json");
      assert.equal(answer.status, 0, answer.stderr);
      const { version, rate, duration, samples } = json<SolveAnswer>(answer);
      assert.deepEqual([version, rate, duration], [1, { num: 24000, den: 1001 }, 2]);
      // 2 s at 24000/1001 are 47.95 frames: frames 0 to 47 and the end.
      assert.equal(samples.length, 49);
      samples.slice(0, 48).forEach(({ t, frame }, idx) => {
        assert.equal(frame, idx);
        close(t, (idx * 1001) / 24000, 1e-12, "frame time");
      });
      assert.deepEqual([samples[0].timecode, samples[25].timecode, samples[48].t], ["01:00:00:00", "01:00:01:01", 2]);
      for (const sample of samples) checkSample(sample, [2, 0, 1.1]);
      close(samples[0].targets.lid.framing?.[1] ?? NaN, 0.45, 1e-9, "first framing");
      close(samples[48].targets.lid.framing?.[0] ?? NaN, 0.4, 1e-9, "last framing");
      assert.ok(samples[0].camera.rotation[3] >= 0);
    });

    it("gives a keyed axis the closed form of a minimum-jerk segment and its derivatives", () => {
      const answer = run("solve", "good.move.yaml", "--at", "0.5", "--format", "json");
      const [{ t, axes }] = json<SolveAnswer>(answer).samples;
      assert.equal(t, 0.5);
      const [s, d, T] = [0.25, 0.3, 2];
      close(axes.slide.value, -0.2 + d * (10 * s ** 3 - 15 * s ** 4 + 6 * s ** 5), 1e-12, "value");
      close(axes.slide.speed, (d / T) * (30 * s ** 2 - 60 * s ** 3 + 30 * s ** 4), 1e-12, "speed");
      close(axes.slide.accel, (d / T ** 2) * (60 * s - 180 * s ** 2 + 120 * s ** 3), 1e-12, "acceleration");
      close(axes.slide.jerk, (d / T ** 3) * (60 - 360 * s + 360 * s ** 2), 1e-11, "jerk");
    });

    it("gives solved speeds that difference quotients confirm", () => {
      const at = (time: number): Sample =>
        json<SolveAnswer>(run("solve", "good.move.yaml", "--at", `${time}`, "--format", "json")).samples[0];
      const h = 1e-3;
      const [before, now, after] = [0.8 - h, 0.8, 0.8 + h].map(at);
      for (const axis of ["pan", "tilt"]) {
        const quotient = (after.axes[axis].value - before.axes[axis].value) / (2 * h);
        close(now.axes[axis].speed, quotient, 1e-4, `${axis} speed`);
        const second = (after.axes[axis].speed - before.axes[axis].speed) / (2 * h);
        close(now.axes[axis].accel, second, 1e-3, `${axis} acceleration`);
      }
    });

    it("takes a label as a time and shifts the targets of a pass", () => {
      const answer = run("solve", "good.move.yaml", "--at", "01:00:01:00", "--pass", "tall", "--format", "json");
      assert.equal(answer.status, 0, answer.stderr);
      const [sample] = json<SolveAnswer>(answer).samples;
      close(sample.t, 24 * (1001 / 24000), 1e-12, "time of the label");
      checkSample(sample, [2, 0, 1.2]);
    });

    it("writes a table for spreadsheets and one for people", () => {
      const csv = run("solve", "good.move.yaml", "--format", "csv").stdout.trimEnd().split("\r\n");
      assert.equal(csv.length, 50);
      const head = csv[0].split(",");
      for (const name of ["t", "frame", "timecode", "slide", "pan.speed", "camera.qw", "focus", "lid.across"]) {
        assert.ok(head.includes(name), name);
      }
      assert.ok(csv.every((line) => line.split(",").length === head.length));
      const text = run("solve", "good.move.yaml").stdout.trimEnd().split("\n");
      assert.equal(text.length, 50);
      assert.equal(new Set(text.map((line) => line.length)).size, 1);
    });

    it("answers a move that cannot be read with its findings and exit code 1", () => {
      put("broken.move.yaml", MOVE.replace("slider", "slidre"));
      const answer = run("solve", "broken.move.yaml", "--format", "json");
      assert.equal(answer.status, 1);
      assert.equal(answer.stdout, "");
      assert.match(answer.stderr, /^broken\.move\.yaml:3:\d+: error missing-file /);
    });

    it("ends quietly when its reader goes away", async () => {
      const child = spawn(process.execPath, [MAIN, "solve", "good.move.yaml", "--format", "json"], { cwd: folder });
      child.stdout.destroy();
      let said = "";
      child.stderr.on("data", (chunk: Buffer) => (said += chunk.toString()));
      await new Promise((resolve) => child.on("close", resolve));
      assert.equal(said, "");
    });
  });

  describe("pose", () => {
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

    it("computes values outside a range and lists them, with exit code 0", () => {
      const answer = run("pose", "kit/crane.rig.yaml", "--axes", "lift=45", "--format", "json");
      assert.equal(answer.status, 0);
      const [finding, ...rest] = json<PoseAnswer>(answer).findings;
      assert.equal(rest.length, 0);
      assert.deepEqual([finding.code, finding.axis, finding.unit], ["axis-range", "level", "deg"]);
      assert.ok(Math.abs(finding.value + 45) < 1e-9 && Math.abs(finding.limit + 40) < 1e-9);
    });
  });

  describe("reach", () => {
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
      const answer = spawnSync(process.execPath, [MAIN, "reach", "kit/slider.rig.yaml"], {
        cwd: folder,
        encoding: "utf8",
        input: `${lines.join("\n")}\nno json\n`,
      });
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

  it("prints its version and its help", () => {
    const { version } = JSON.parse(
      readFileSync(fileURLToPath(new URL("../package.json", import.meta.url)), "utf8"),
    ) as {
      version: string;
    };
    assert.equal(run("--version").stdout.trim(), version);
    const help = run("--help");
    assert.equal(help.status, 0);
    for (const command of ["check", "solve", "retime", "pose", "reach"])
      assert.match(help.stdout, new RegExp(`^ +${command}`, "m"));
  });
});
