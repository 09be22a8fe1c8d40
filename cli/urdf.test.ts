import assert from "node:assert/strict";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checkCommand } from "./commands/check.ts";
import { poseCommand } from "./commands/pose.ts";
import { plain } from "./paint.ts";

const URDF = `<robot name="post"><link name="floor"/><link name="lift"><visual><geometry><mesh filename="lift.stl"/></geometry></visual></link>
<joint name="up" type="prismatic"><parent link="floor"/><child link="lift"/><origin xyz="0 0 0.5"/><axis xyz="0 0 1"/>
<limit lower="0" upper="1"/></joint></robot>`;

describe("a rig from a URDF file on the command line", () => {
  let folder: string;
  const put = (name: string, text: string): string => {
    const path = join(folder, name);
    mkdirSync(join(path, ".."), { recursive: true });
    writeFileSync(path, text);
    return path;
  };
  beforeEach(() => (folder = mkdtempSync(join(tmpdir(), "cli-urdf-"))));
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  const check = async (path: string): Promise<string[]> => {
    const { output } = await checkCommand([path], { format: "json", paint: plain });
    const { files } = JSON.parse(output) as { files: { findings: { code: string; message: string }[] }[] };
    return files.flatMap(({ findings }) => findings.map(({ code, message }) => `${code}: ${message}`));
  };

  it("is read from the disk with its meshes, within the project", async () => {
    put("job/package.json", "{}");
    const rig = put("job/kit/post.rig.yaml", "rig: 1\nurdf: ../arms/post.urdf\n");
    put("job/arms/post.urdf", URDF);
    const facet = (...corners: string[]) =>
      `facet normal 0 0 0 outer loop ${corners.map((corner) => `vertex ${corner}`).join(" ")} endloop endfacet`;
    put("job/arms/lift.stl", `solid lift\n${facet("0 0 0", "0.1 0 0", "0 0.1 0.1")}\nendsolid lift\n`);
    assert.deepEqual(await check(rig), []);
    const { output, exit } = poseCommand(rig, { axes: "up=0.25", format: "json" });
    assert.equal(exit, 0);
    assert.deepEqual((JSON.parse(output) as { position: number[] }).position, [0, 0, 0.75]);
  });

  it("is not read outside of it", async () => {
    put("job/package.json", "{}");
    const rig = put("job/post.rig.yaml", "rig: 1\nurdf: ../post.urdf\n");
    put("post.urdf", URDF);
    const [finding, ...others] = await check(rig);
    assert.match(finding, /^missing-file: .* lies outside of what may be read here\.$/);
    assert.deepEqual(others, []);
  });

  it("says which meshes are not there, and is usable without them", async () => {
    const rig = put("job/post.rig.yaml", "rig: 1\nurdf: post.urdf\n");
    put("job/post.urdf", URDF);
    const [finding, ...others] = await check(rig);
    assert.match(finding, /^missing-file: `post\.urdf`, line 1, column \d+: No file is found for `lift\.stl`\./);
    assert.deepEqual(others, []);
    assert.equal(poseCommand(rig, { axes: "up=0.25", format: "json" }).exit, 0);
  });
});
