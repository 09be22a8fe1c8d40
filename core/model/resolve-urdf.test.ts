import assert from "node:assert/strict";
import {
  binaryStl,
  boxTriangles,
  glbFile,
  gltfBuffer,
  gltfFile,
  gltfJson,
  objText,
} from "../../test/stage/mesh-files.ts";
import { encodeBase64 } from "../../protocol/base64.ts";
import { FLEXIBLE } from "../../test/urdf/flexible.ts";
import type { ResolvedRig, Solid } from "../rig/resolved-rig.ts";
import type { RigResolution } from "./resolve-rig.ts";
import { resolveRig } from "./resolve-rig.ts";
import type { SourceState } from "./sources.ts";

const RAD = Math.PI / 180;

interface Read extends RigResolution {
  readonly rig: ResolvedRig;
  readonly asked: readonly string[];
}

/** The rig of `kit/r.rig.yaml` that names `arms/arm.urdf` beside its folder. */
function read(rig: string, urdf: string, others: Readonly<Record<string, SourceState>> = {}): Read {
  const files: Readonly<Record<string, SourceState>> = {
    "/job/kit/r.rig.yaml": { state: "text", text: `rig: 1\nurdf: ../arms/arm.urdf\n${rig}` },
    "/job/arms/arm.urdf": { state: "text", text: urdf },
    ...others,
  };
  const asked: string[] = [];
  const sources = {
    read(file: string): SourceState {
      asked.push(file);
      return files[file] ?? { state: "missing" };
    },
  };
  const resolved = resolveRig("/job/kit/r.rig.yaml", sources);
  assert.ok(resolved.rig, JSON.stringify(resolved.problems));
  return { ...resolved, rig: resolved.rig, asked };
}

const PAIR = (links: string, joint = ""): string =>
  `<robot name="a">${links}<joint name="j" type="revolute"><parent link="a"/><child link="b"/>
    <limit lower="-1" upper="1" velocity="2"/>${joint}</joint></robot>`;

describe("a rig from a URDF file", () => {
  it("has its joints as axes, what the rig says beside, and its links' masses and shapes", () => {
    const { rig, problems } = read("tip: tip_left\naxes: { reach: { limits: { speed: 0.2, accel: 1 } } }\n", FLEXIBLE);
    assert.deepEqual(problems.map(({ severity }) => severity), ["information"]); // prettier-ignore
    const shown = rig.joints.map(({ name, type, role, limits }) => ({ name, type, role, limits }));
    assert.deepEqual(shown, [
      { name: "mast_on_cart", type: "fixed", role: "none", limits: {} },
      { name: "reach", type: "linear", role: "driven", limits: { speed: 0.2, accel: 1 } },
      { name: "jaw_left_joint", type: "rotary", role: "driven", limits: { speed: 0.5 } },
      { name: "tip_left_joint", type: "fixed", role: "none", limits: {} },
    ]);
    assert.deepEqual(rig.joints[1].range, { low: -0.42, high: 0 });
    const masses = rig.masses.map(({ origin: _, ...mass }) => mass);
    assert.deepEqual(masses, [
      { name: "cart", link: -1, at: [0, 0, 0.08], mass: 24 },
      { name: "mast", link: 0, at: [0, 0, 0], mass: 6 },
      { name: "tip_left", link: 3, at: [0.01, 0, 0], mass: 0.2 },
    ]);
    const bodies = rig.bodies.map(({ name, link, pose, solid, only }) => ({ name, link, at: pose.at, solid, only }));
    assert.deepEqual(bodies, [
      { name: "cart", link: -1, at: [0, 0, 0.1], solid: { shape: "box", size: [0.7, 0.5, 0.2] }, only: undefined },
      { name: "post", link: 0, at: [0, 0, 0.3], solid: { shape: "cylinder", radius: 0.05, height: 0.6 }, only: undefined },
    ]); // prettier-ignore
  });

  it("carries what hangs by fixed joints where it hangs", () => {
    const hung = `<link name="a"/><link name="b"/><link name="c"><collision><origin xyz="1 0 0"/>
        <geometry><sphere radius="0.1"/></geometry></collision><inertial><origin xyz="0 2 0"/><mass value="3"/></inertial></link>
      <joint name="h" type="fixed"><parent link="b"/><child link="c"/><origin xyz="0 0 5" rpy="0 0 1.5707963267948966"/></joint>`;
    const { rig } = read("tip: b\n", PAIR(hung));
    const near = (found: readonly number[], wanted: readonly number[]): void =>
      found.forEach((value, k) => assert.ok(Math.abs(value - wanted[k]) < 1e-12, found.join()));
    assert.equal(rig.bodies[0].link, 0);
    near(rig.bodies[0].pose.at, [0, 1, 5]);
    near(rig.masses[0].at, [-2, 0, 5]);
  });

  it("parts what is seen from what keeps clear where a link states both", () => {
    const box = (size: string): string => `<geometry><box size="${size}"/></geometry>`;
    const both = `<link name="a"><visual>${box("1 1 1")}</visual><collision>${box("2 2 2")}</collision></link>
      <link name="b"><visual name="v">${box("1 1 1")}</visual><collision>${box("1 1 1")}</collision></link>`;
    const { rig } = read("", PAIR(both));
    assert.deepEqual(rig.bodies.map(({ only }) => only), ["clearance", "looks", undefined]); // prettier-ignore
  });

  it("follows where the file mimics, through several joints", () => {
    const chain = `<robot name="a"><link name="a"/><link name="b"/><link name="c"/><link name="d"/>
      <joint name="last" type="continuous"><parent link="c"/><child link="d"/><mimic joint="mid" offset="0.25"/></joint>
      <joint name="mid" type="prismatic"><parent link="b"/><child link="c"/><limit lower="-1" upper="1"/>
        <mimic joint="first" multiplier="-0.5"/></joint>
      <joint name="first" type="continuous"><parent link="a"/><child link="b"/></joint></robot>`;
    const { rig } = read("", chain);
    assert.deepEqual(rig.joints.map(({ role }) => role), ["driven", "follows", "follows"]); // prettier-ignore
    assert.deepEqual(rig.joints[1].follows, { leader: 0, ratio: -0.5, offset: 0 });
    assert.deepEqual(rig.joints[2].follows, { leader: 1, ratio: 1, offset: 0.25 });
  });

  it("takes a narrower range, and the file's where the degrees beside it are only rounded", () => {
    const range = (text: string): unknown => read(`axes: { j: { range: ${text} } }\n`, PAIR('<link name="a"/><link name="b"/>')).rig.joints[0].range; // prettier-ignore
    assert.deepEqual(range("[-30, 40]"), { low: -30 * RAD, high: 40 * RAD });
    assert.deepEqual(range("[-57.3, 57.2]"), { low: -1, high: 57.2 * RAD });
  });

  it("can be set before a take, at few places, and knows how well it comes back", () => {
    const text = "axes: { j: { drive: setup, positions: [0, 30], repeat: { sigma: 0.01 deg } } }\n";
    const more = `<link name="a"/><link name="b"/><link name="c"/>
      <joint name="k" type="continuous"><parent link="b"/><child link="c"/></joint>`;
    const [joint] = read(text, PAIR(more)).rig.joints;
    assert.equal(joint.role, "setup");
    assert.deepEqual(joint.positions, [0, 30 * RAD]);
    assert.ok(Math.abs((joint.repeat?.sigma ?? 0) - 0.01 * RAD) < 1e-15);
  });

  it("says where limits stand, in the file or beside it", () => {
    const { rig, origins } = read("axes: { j: { limits: { accel: 9 } } }\n", PAIR('<link name="a"/><link name="b"/>'));
    const [{ origins: at }] = rig.joints;
    assert.equal(origins.place(at.range)?.file, "/job/arms/arm.urdf");
    assert.equal(origins.place(at.speed)?.file, "/job/arms/arm.urdf");
    assert.equal(origins.place(at.accel)?.file, "/job/kit/r.rig.yaml");
    assert.equal(origins.place(at.self)?.file, "/job/kit/r.rig.yaml");
    assert.equal(at.jerk, 0);
  });

  describe("finds meshes", () => {
    const box = boxTriangles([-1, -1, -1], [1, 1, 3]);
    const made: Readonly<Record<string, () => Uint8Array>> = {
      stl: () => binaryStl(box),
      obj: () => objText(box),
      glb: () => glbFile(box),
      gltf: () => gltfFile(gltfJson(box, `data:;base64,${encodeBase64(gltfBuffer(box))}`)),
    };
    const there = (file: string): SourceState => {
      const content = made[file.slice(file.lastIndexOf(".") + 1).toLowerCase()];
      return { state: "bytes", size: 100, stamp: "1", content };
    };
    const meshes = (...names: string[]): string =>
      PAIR(`<link name="a">${names.map((name) => `<visual><geometry><mesh filename="${name}" scale="0.001 0.001 -0.001"/></geometry></visual>`).join("")}</link><link name="b"/>`); // prettier-ignore
    const filesOf = ({ rig }: Read): unknown =>
      rig.bodies.map(({ solid }) => (solid.shape === "mesh" ? solid.file : ""));

    it("beside the file, and in a package's folder at or above it", () => {
      const names = ["look/a.stl", "../x.OBJ", "package://bot/b.glb", "package://arms/c.gltf", "package://far/d.stl"];
      const places = ["/job/arms/look/a.stl", "/job/x.OBJ", "/job/arms/bot/b.glb", "/job/arms/c.gltf", "/far/d.stl"];
      const found = read("", meshes(...names), Object.fromEntries(places.map((file) => [file, there(file)])));
      assert.deepEqual(filesOf(found), places);
      assert.deepEqual(found.problems, []);
      const { hull, ...solid } = found.rig.bodies[0].solid as Extract<Solid, { shape: "mesh" }>;
      assert.deepEqual(solid, { shape: "mesh", file: places[0], scale: [0.001, 0.001, -0.001], margin: 0 });
      const ends = [0, 1, 2].map((k) => (hull ?? []).filter((_, idx) => idx % 3 === k)).map((all) => [Math.min(...all), Math.max(...all)]); // prettier-ignore
      assert.deepEqual(ends, [[-0.001, 0.001], [-0.001, 0.001], [-0.003, 0.001]]); // prettier-ignore
      for (const file of places) assert.ok(found.inputs.includes(file), file);
    });

    it("asks for every place at once while nobody has looked, and says nothing then", () => {
      const places = ["/job/arms/bot/a.stl", "/job/bot/a.stl", "/bot/a.stl"];
      const waiting = Object.fromEntries(places.map((file) => [file, { state: "unread" } as const]));
      const found = read("", meshes("package://bot/a.stl"), waiting);
      assert.deepEqual(found.problems, []);
      assert.deepEqual(found.unread, Object.keys(waiting));
    });

    it("takes the hull of what stops, not of what is but looked at, and warns once of one that is broken", () => {
      const mesh = (kind: string, name: string): string => `<${kind}><geometry><mesh filename="${name}"/></geometry></${kind}>`; // prettier-ignore
      const urdf = PAIR(`<link name="a">${mesh("visual", "seen.stl")}${mesh("collision", "stop.stl")}</link>
        <link name="b">${mesh("collision", "broken.stl")}${mesh("collision", "broken.stl")}</link>`);
      const broken: SourceState = { state: "bytes", size: 1, stamp: "1", content: () => Uint8Array.of(1) };
      const { rig, problems } = read("", urdf, {
        "/job/arms/seen.stl": { ...broken, content: () => assert.fail("It is only drawn.") },
        "/job/arms/stop.stl": there("stop.stl"),
        "/job/arms/broken.stl": broken,
      });
      const hulls = rig.bodies.map(({ solid }) => solid.shape === "mesh" && solid.hull?.length);
      assert.deepEqual(hulls, [24, undefined, undefined, undefined]);
      assert.deepEqual(problems.map(({ code, severity }) => [code, severity]), [["not-computed", "warning"]]); // prettier-ignore
      assert.match(problems[0].message, /`broken\.stl` can't be read as a mesh\..* No clearance is measured there\./);
    });

    it("warns of one that is too large, once", () => {
      const large: SourceState = { state: "bytes", size: 12_340_000, stamp: "1", content: () => undefined };
      const { problems } = read("", meshes("a.stl", "a.stl"), { "/job/arms/a.stl": large });
      assert.deepEqual(problems.map(({ code, severity }) => [code, severity]), [["too-large", "warning"]]); // prettier-ignore
      assert.match(problems[0].message, /`a\.stl` has 12\.4 MB/);
    });
  });

  it("reads a file once for all rigs that name it", () => {
    const memo = new Map();
    const text = PAIR('<link name="a"/><link name="b"/>');
    const sources = {
      read: (file: string): SourceState => ({
        state: "text",
        text: file.endsWith(".urdf") ? text : "rig: 1\nurdf: a.urdf\n",
      }),
    };
    resolveRig("one.rig.yaml", sources, memo);
    const kept: unknown = memo.get("a.urdf");
    resolveRig("two.rig.yaml", sources, memo);
    assert.ok(kept);
    assert.equal(memo.get("a.urdf"), kept);
  });
});
