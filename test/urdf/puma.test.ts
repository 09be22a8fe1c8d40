import { assertNear, mountOf, rigOfTexts } from "./posed.ts";

/**
 * PUMA 560 in the standard convention of Denavit and Hartenberg, T = Rz(q) Tz(d) Tx(a) Rx(alpha) [m, rad]: P. Corke,
 * robotics-toolbox-python, models/DH/Puma560.py, with d1 = 0; limits of Wang & Chen 1991 [deg] through the same file.
 */
const PUMA = [
  { d: 0, a: 0, alpha: Math.PI / 2, range: [-160, 160] },
  { d: 0, a: 0.4318, alpha: 0, range: [-45, 225] },
  { d: 0.15005, a: 0.0203, alpha: -Math.PI / 2, range: [-225, 45] },
  { d: 0.4318, a: 0, alpha: Math.PI / 2, range: [-110, 170] },
  { d: 0, a: 0, alpha: -Math.PI / 2, range: [-100, 100] },
  { d: 0, a: 0, alpha: 0, range: [-266, 266] },
] as const;

const HALF = Math.PI / 2;

/** Poses of the same source; rotation by rows, position rounded to eight digits there (README of RVC3-python, wiki). */
const PUBLISHED = {
  qz: { q: [0, 0, 0, 0, 0, 0], rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], position: [0.4521, -0.15005, 0.4318] },
  qr: { q: [0, HALF, -HALF, 0, 0, 0], rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], position: [0.0203, -0.15005, 0.8636] },
  qn: {
    q: [0, Math.PI / 4, Math.PI, 0, Math.PI / 4, 0],
    rotation: [0, 0, 1, 0, 1, 0, -1, 0, 0],
    position: [0.59630315, -0.15005, -0.01435427],
  },
} as const;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** Tz(d) Tx(a) Rx(alpha) of one row is the origin of the joint behind it; the last stands before a fixed flange. */
function urdf(): string {
  const links = [0, 1, 2, 3, 4, 5, 6].map((k) => `<link name="l${k}"/>`);
  const joints = PUMA.map(({ range }, k) => {
    const { d, a, alpha } = k === 0 ? { d: 0, a: 0, alpha: 0 } : PUMA[k - 1];
    return `<joint name="j${k + 1}" type="revolute"><parent link="l${k}"/><child link="l${k + 1}"/><axis xyz="0 0 1"/>
      <origin xyz="${a} 0 ${d}" rpy="${alpha} 0 0"/><limit lower="${radians(range[0])}" upper="${radians(range[1])}"/></joint>`;
  });
  return `<robot name="puma"><link name="flange"/><joint name="end" type="fixed"><parent link="l6"/><child link="flange"/></joint>
    ${joints.reverse().join("\n")} ${links.join("")}</robot>`;
}

function chain(): string {
  const joints = PUMA.map(({ range }, k) => {
    const { d, a, alpha } = k === 0 ? { d: 0, a: 0, alpha: 0 } : PUMA[k - 1];
    const origin = `{ at: [${a}, 0, ${d}], turn: [${alpha} rad, 0, 0] }`;
    return `  - { axis: j${k + 1}, type: rotary, origin: ${origin}, range: [${range.join(", ")}] }`;
  });
  return `rig: 1\nchain:\n${joints.join("\n")}\n`;
}

/** Product of Rz(q) Tz(d) Tx(a) Rx(alpha), written out by the convention's own formula; rows of (3, 4). */
function product(q: readonly number[]): { rotation: number[]; position: number[] } {
  let t = [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0];
  PUMA.forEach(({ d, a, alpha }, k) => {
    const [c, s, ca, sa] = [Math.cos(q[k]), Math.sin(q[k]), Math.cos(alpha), Math.sin(alpha)];
    const m = [c, -s * ca, s * sa, a * c, s, c * ca, -c * sa, a * s, 0, sa, ca, d];
    t = [0, 1, 2].flatMap((row) =>
      [0, 1, 2, 3].map((col) => {
        const sum = [0, 1, 2].reduce((all, i) => all + t[4 * row + i] * m[4 * i + col], 0);
        return col === 3 ? sum + t[4 * row + 3] : sum;
      }),
    );
  });
  const rotation = [0, 1, 2, 4, 5, 6, 8, 9, 10].map((i) => t[i]);
  return { rotation, position: [t[3], t[7], t[11]] };
}

const named = (q: readonly number[]): Record<string, number> =>
  Object.fromEntries(q.map((value, k) => [`j${k + 1}`, value]));

describe("the PUMA 560 as a URDF file", () => {
  const fromFile = rigOfTexts("rig: 1\nurdf: arm.urdf\n", urdf());
  const fromChain = rigOfTexts(chain(), "");

  for (const [name, { q, rotation, position }] of Object.entries(PUBLISHED)) {
    it(`has the published pose ${name}, and that of our own chain`, () => {
      const found = mountOf(fromFile, named(q));
      assertNear(found.rotation, rotation, 1e-9, name);
      assertNear(found.position, position, 5e-9, `${name}, to the eight digits that are published`);
      const exact = product(q);
      assertNear(found.rotation, exact.rotation, 1e-9, name);
      assertNear(found.position, exact.position, 1e-9, name);
      const own = mountOf(fromChain, named(q));
      assertNear(found.rotation, own.rotation, 1e-12, name);
      assertNear(found.position, own.position, 1e-12, name);
    });
  }

  it("has the ranges of our own chain", () => {
    fromChain.joints.forEach(({ name, range }, k) => {
      const { range: other, name: otherName } = fromFile.joints[k];
      if (!range || !other || name !== otherName) throw new Error(`${name} has no range`);
      assertNear([other.low, other.high], [range.low, range.high], 1e-12, name);
    });
  });
});

describe("the turn of an origin", () => {
  const turned = (rpy: string): readonly number[] =>
    mountOf(
      rigOfTexts(
        "rig: 1\nurdf: arm.urdf\n",
        `<robot name="a"><link name="a"/><link name="b"/><joint name="j" type="continuous">
          <parent link="a"/><child link="b"/><origin rpy="${rpy}"/></joint></robot>`,
      ),
      {},
    ).rotation;

  it("is about fixed axes: roll, then pitch, then yaw", () => {
    // By hand: a quarter about x takes y to z; then a quarter about the fixed z takes x to y and leaves z.
    assertNear(turned(`${HALF} 0 ${HALF}`), [0, 0, 1, 1, 0, 0, 0, 1, 0], 1e-12, "roll and yaw");
    // A quarter about x, then a quarter about the fixed y: y goes to z, and z to x.
    assertNear(turned(`${HALF} ${HALF} 0`), [0, 1, 0, 0, 0, -1, -1, 0, 0], 1e-12, "roll and pitch");
  });

  it("is the product written out", () => {
    const [r, p, y] = [0.3, -0.5, 1.1];
    const [sr, cr, sp, cp, sy, cy] = [r, p, y].flatMap((angle) => [Math.sin(angle), Math.cos(angle)]);
    const rows = [
      ...[cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr],
      ...[sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr],
      ...[-sp, cp * sr, cp * cr],
    ];
    assertNear(turned("0.3 -0.5 1.1"), rows, 1e-12, "three turns");
  });
});
