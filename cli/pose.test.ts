import assert from "node:assert/strict";
import { json, shippedProgram } from "../test/support/shipped-program.ts";

describe("movewright pose", () => {
  const { run } = shippedProgram("pose");

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
