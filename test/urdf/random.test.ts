import assert from "node:assert/strict";
import fc from "fast-check";
import { resolveRig } from "../../core/model/resolve-rig.ts";
import { memorySources } from "../fixtures/memory-sources.ts";
import { FLEXIBLE } from "./flexible.ts";
import { readWithOther } from "./other-reader.ts";
import { assertNear, mountOf, rigOfTexts } from "./posed.ts";

const number = (most: number) => fc.double({ min: -most, max: most, noNaN: true });
const triple = (most: number) => fc.tuple(number(most), number(most), number(most));

const joint = fc.record({
  type: fc.constantFrom("revolute", "continuous", "prismatic", "fixed"),
  xyz: fc.option(triple(2)),
  rpy: fc.option(triple(4)),
  axis: fc.option(triple(1).filter((axis) => Math.hypot(...axis) > 0.05)),
  /** Mimics an earlier joint that moves, counted back. */
  mimics: fc.option(fc.record({ back: fc.integer({ min: 1, max: 3 }), multiplier: number(3), offset: number(1) })),
  value: number(1.5),
});

type Joint = typeof joint extends fc.Arbitrary<infer J> ? J : never;

interface Built {
  readonly text: string;
  readonly values: Readonly<Record<string, number>>;
}

/** A chain with a branch at each third link, joints and links in the order of `order`. */
function build(joints: readonly Joint[], order: readonly number[]): Built {
  const values: Record<string, number> = {};
  const moving: string[] = [];
  const parts = [`<link name="l0"/>`];
  joints.forEach(({ type, xyz, rpy, axis, mimics, value }, k) => {
    const leader = type === "fixed" || !mimics ? undefined : moving[moving.length - mimics.back];
    const list = (numbers: readonly number[]): string => numbers.join("  ");
    const origin = xyz || rpy ? `<origin${xyz ? ` xyz="${list(xyz)}"` : ""}${rpy ? ` rpy="${list(rpy)}"` : ""}/>` : "";
    const limit = type === "revolute" || type === "prismatic" ? `<limit lower="-9" upper="9" velocity="1"/>` : "";
    const mimic = leader
      ? `<mimic joint="${leader}" multiplier="${mimics?.multiplier}" offset="${mimics?.offset}"/>`
      : "";
    const turn = axis ? `<axis xyz="${list(axis)}"/>` : "";
    parts.push(`<link name="l${k + 1}"/>`);
    parts.push(
      `<joint name="j${k}" type="${type}"><child link="l${k + 1}"/><parent link="l${k}"/>${origin}${turn}${limit}${mimic}</joint>`,
    );
    if (k % 3 === 1) {
      parts.push(`<link name="b${k}"/>`);
      parts.push(`<joint name="s${k}" type="continuous"><parent link="l${k}"/><child link="b${k}"/></joint>`);
    }
    if (type === "fixed") return;
    if (!leader) values[`j${k}`] = value;
    moving.push(`j${k}`);
  });
  const shuffled = parts.map((part, k) => ({ part, at: order[k % order.length] + k * 1e-6 }));
  shuffled.sort((one, other) => one.at - other.at);
  return { text: `<robot name="r">${shuffled.map(({ part }) => part).join("\n")}</robot>`, values };
}

describe("random URDF files", () => {
  it("have the poses that another reader gives them", () => {
    let compared = 0;
    fc.assert(
      fc.property(
        fc.array(joint, { minLength: 1, maxLength: 9 }),
        fc.array(fc.nat(100), { minLength: 30, maxLength: 30 }),
        (joints, order) => {
          const { text, values } = build(joints, order);
          if (Object.keys(values).length === 0) return;
          const tip = `l${joints.length}`;
          const found = mountOf(rigOfTexts(`rig: 1\nurdf: arm.urdf\ntip: ${tip}\n`, text), values);
          const robot = readWithOther(text);
          for (const each of Object.values(robot.joints)) each.ignoreLimits = true;
          robot.setJointValues(values);
          robot.updateMatrixWorld(true);
          const m = robot.links[tip].matrixWorld.elements;
          assertNear(found.position, [m[12], m[13], m[14]], 1e-9, text);
          assertNear(found.rotation, [m[0], m[4], m[8], m[1], m[5], m[9], m[2], m[6], m[10]], 1e-9, text);
          compared += 1;
        },
      ),
      { seed: 33, numRuns: 150 },
    );
    assert.ok(compared > 120, `${compared} compared`);
  });

  it("give a rig or findings, never a throw or NaN, whatever became of their bytes", () => {
    const bytes = new TextEncoder().encode(FLEXIBLE);
    const places = fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.nat(255)), { minLength: 1, maxLength: 4 });
    let whole = 0;
    fc.assert(
      fc.property(places, fc.constantFrom("", "tip: tip_left\n", "tip: lamp\n"), (changes, tip) => {
        const changed = Uint8Array.from(bytes);
        for (const [at, to] of changes) changed[at] = to;
        const files = new Map([
          ["r.rig.yaml", `rig: 1\nurdf: arm.urdf\n${tip}`],
          ["arm.urdf", new TextDecoder().decode(changed)],
        ]);
        const { rig, problems } = resolveRig("r.rig.yaml", memorySources(files));
        assert.ok(rig !== undefined || problems.length > 0, "no rig and no finding");
        if (!rig) return;
        whole += 1;
        const { position, rotation } = mountOf(rig, {});
        assert.ok([...position, ...rotation].every(Number.isFinite));
        assert.doesNotMatch(JSON.stringify(rig), /null/, "NaN and infinity are null in JSON");
      }),
      { seed: 34, numRuns: 1000 },
    );
    assert.ok(whole > 30, `${whole} rigs were whole`);
  });
});
