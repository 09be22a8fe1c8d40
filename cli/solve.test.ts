import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { json, MOVE, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright solve", () => {
  const { folder, main, put, run } = shippedProgram("solve");

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
    const child = spawn(process.execPath, [main, "solve", "good.move.yaml", "--format", "json"], { cwd: folder() });
    child.stdout.destroy();
    let said = "";
    child.stderr.on("data", (chunk: Buffer) => (said += chunk.toString()));
    await new Promise((resolve) => child.on("close", resolve));
    assert.equal(said, "");
  });
});
