import assert from "node:assert/strict";
import fc from "fast-check";
import { FLEXIBLE } from "../../test/urdf/flexible.ts";
import { MAX_JOINTS, readUrdf } from "./read-urdf.ts";
import { serialChain, type SerialChain } from "./serial-chain.ts";
import type { UrdfJoint } from "./urdf.ts";

function chainTo(tip: string | undefined, text = FLEXIBLE): SerialChain {
  const { urdf, problems, loads } = readUrdf(text);
  assert.deepEqual([...problems, ...loads], []);
  const chain = serialChain(urdf, tip);
  assert.ok("joints" in chain, JSON.stringify(chain));
  return chain;
}

const jointOf = (name: string): UrdfJoint => {
  const joint = readUrdf(FLEXIBLE).urdf.joints.find((each) => each.name.value === name);
  assert.ok(joint);
  return joint;
};

describe("a URDF file", () => {
  it("gives its joints with the defaults of the specification", () => {
    const reach = jointOf("reach");
    assert.equal(reach.type, "prismatic");
    assert.deepEqual(reach.axis, [1, 0, 0]);
    assert.deepEqual(reach.range?.value, { low: -0.42, high: 0 });
    assert.equal(reach.speed?.value, 0.4);
    assert.deepEqual(reach.origin, { at: [0.17, 0, 0.3], turn: [0, 0, 0, 1] });
    assert.deepEqual(jointOf("jaw_right_joint").axis, [0, 0, -1]);
    assert.deepEqual(jointOf("turn").axis, [0, 0, 1]);
    assert.deepEqual(jointOf("tip_left_joint").origin, { at: [0, 0, 0], turn: [0, 0, 0, 1] });
    for (const name of ["turn", "roll_left"]) assert.equal(jointOf(name).range, undefined);
    assert.equal(FLEXIBLE.slice(reach.name.span.start, reach.name.span.end), "reach");
  });

  it("gives the chain to a tip, what hangs on it, and what is beside it", () => {
    const chain = chainTo("tip_left");
    const names = chain.joints.map(({ name }) => name.value);
    assert.deepEqual(names, ["mast_on_cart", "reach", "jaw_left_joint", "tip_left_joint"]);
    assert.deepEqual(
      chain.left.map(({ name }) => name.value),
      ["wheel_left", "jaw_right", "lamp"],
    );
    const carried = chain.carried.map(({ link, on }) => [link.name.value, on]);
    assert.deepEqual(carried, [["cart", -1], ["mast", 0], ["arm", 1], ["jaw_left", 2], ["tip_left", 3]]); // prettier-ignore
  });

  it("carries what hangs by fixed joints along", () => {
    const chain = chainTo("jaw_left");
    const tip = chain.carried.find(({ link }) => link.name.value === "tip_left");
    assert.equal(tip?.on, 2);
    const toLamp = chainTo("lamp").carried.map(({ link }) => link.name.value);
    assert.deepEqual(toLamp, ["cart", "mast", "lamp"]);
  });

  it("with several ends says which", () => {
    const none = serialChain(readUrdf(FLEXIBLE).urdf, undefined);
    assert.ok("tips" in none);
    assert.deepEqual(none.tips, ["wheel_left", "tip_left", "jaw_right", "lamp"]);
  });

  it("takes soft limits, half limits, no velocity and a turn as a quaternion", () => {
    const { urdf, problems } = readUrdf(`<robot name="a"><link name="a"/><link name="b"/><link name="c"/>
      <joint name="p" type="revolute"><parent link="a"/><child link="b"/>
        <origin quat_xyzw="0 0 2 0"/><limit upper="2" effort="1" velocity="0"/>
        <safety_controller soft_lower_limit="0.5" k_velocity="1"/></joint>
      <joint name="q" type="prismatic"><parent link="b"/><child link="c"/><limit lower="-1"/>
        <mimic joint="p" multiplier="-0.5" offset="0.1"/></joint></robot>`);
    assert.deepEqual(problems, []);
    const [p, q] = urdf.joints;
    assert.deepEqual(p.range?.value, { low: 0.5, high: 2 });
    assert.equal(p.speed, undefined);
    assert.deepEqual(p.origin.turn, [0, 0, 1, 0]);
    assert.deepEqual(q.range?.value, { low: -1, high: 0 });
    assert.deepEqual({ ...q.mimic, joint: q.mimic?.joint.value }, { joint: "p", multiplier: -0.5, offset: 0.1 });
  });

  it("has bounds", () => {
    const joints = Array.from({ length: MAX_JOINTS + 1 }, () => "<joint/>").join("");
    const { problems } = readUrdf(`<robot>${joints}</robot>`);
    assert.deepEqual(problems.map(({ code }) => code), ["too-large"]); // prettier-ignore
  });

  it("never throws, whatever became of its bytes", () => {
    const bytes = new TextEncoder().encode(FLEXIBLE);
    const change = fc.record({
      at: fc.nat(bytes.length - 1),
      kind: fc.constantFrom("set", "cut", "double"),
      to: fc.oneof(fc.nat(255), fc.constantFrom(...new TextEncoder().encode('<>/="& 0-e.9'))),
      length: fc.nat(60),
    });
    fc.assert(
      fc.property(
        fc.array(change, { minLength: 1, maxLength: 6 }),
        fc.option(fc.constantFrom("arm", "lamp")),
        (all, tip) => {
          let now = [...bytes];
          for (const { at, kind, to, length } of all) {
            if (kind === "set") now[at % now.length] = to;
            else if (kind === "cut") now.splice(at % now.length, length);
            else now = [...now.slice(0, at + length), ...now.slice(at)];
          }
          const text = new TextDecoder().decode(Uint8Array.from(now));
          const { urdf, problems, loads } = readUrdf(text);
          for (const { span, message } of [...problems, ...loads]) {
            assert.ok(0 <= span.start && span.start <= span.end && span.end <= text.length + 1, message);
            assert.doesNotMatch(message, /undefined|NaN|\[object/);
          }
          if (problems.length > 0) return;
          const chain = serialChain(urdf, tip ?? undefined);
          for (const { span } of "problems" in chain ? chain.problems : []) assert.ok(span.end <= text.length);
        },
      ),
      { seed: 32, numRuns: 2000 },
    );
  });
});
