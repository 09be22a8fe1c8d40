import assert from "node:assert/strict";
import fc from "fast-check";
import {
  createMotorRoom,
  motorScale,
  placeOf,
  valueAt,
  writeMotor,
  type LensMotor,
  type MotorName,
} from "./lens-motor.ts";

const motor = (name: MotorName, rows: readonly (readonly [number, number])[]): LensMotor => ({
  name,
  limits: {},
  scale: motorScale(rows.map(([value, angle]) => ({ place: placeOf(name, value), angle }))),
  origins: { scale: 0, speed: 0, accel: 0, jerk: 0 },
});

const REST = [0, 0, 0];
const angleAt = (one: LensMotor, value: number): number => {
  const room = createMotorRoom();
  writeMotor(one, value, REST, room);
  return room.angle[0];
};

/** Three motors with uneven scales: focus from infinity to close, iris by stops, a zoom. */
const MOTORS = [
  motor("focus", [
    [Infinity, 0],
    [3, 0.6],
    [1.2, 1.7],
    [0.6, 2.9],
    [0.38, 4.4],
  ]),
  motor("iris", [
    [2.8, 1.5],
    [4, 1.2],
    [8, 0.7],
    [22, 0.05],
  ]),
  motor("zoom", [
    [0.024, 0],
    [0.035, 0.5],
    [0.05, 1.1],
    [0.07, 1.6],
  ]),
];
const RANGES = { focus: [0.3, 8], iris: [2, 30], zoom: [0.02, 0.08] } as const;

describe("the scale of a lens motor", () => {
  it("stands at each row, and at a value between as its place on a line of rows tells", () => {
    assert.ok(Math.abs(angleAt(MOTORS[0], 1.2) - 1.7) < 1e-12);
    assert.ok(Math.abs(angleAt(MOTORS[0], 0.38) - 4.4) < 1e-12);
    // Rows on a line: one over 1.5 m is in the middle between those of 1 m and 3 m; f/4 is half of the way from f/2 to f/8.
    const line = motor("focus", [
      [3, 0],
      [1, 2],
    ]);
    assert.ok(Math.abs(angleAt(line, 1.5) - 1) < 1e-12);
    const stops = motor("iris", [
      [2, 0],
      [8, 2],
    ]);
    assert.ok(Math.abs(angleAt(stops, 4) - 1) < 1e-12);
    assert.ok(Math.abs(angleAt(motor("zoom", [[0.02, 0], [0.06, 2]]), 0.04) - 1) < 1e-12); // prettier-ignore
  });

  it("goes straight on beyond its ends", () => {
    const line = motor("focus", [
      [3, 0],
      [1, 2],
    ]);
    assert.ok(Math.abs(angleAt(line, Infinity) - -1) < 1e-12);
    assert.ok(Math.abs(angleAt(line, 0.5) - 5) < 1e-12);
  });

  it("rises where the rows rise, between and beyond them", () => {
    for (const one of MOTORS) {
      const [low, high] = RANGES[one.name];
      const way = Math.sign(one.scale.angles[1] - one.scale.angles[0]);
      let before = NaN;
      for (let n = 0; n <= 4000; n++) {
        const [from, to] = [placeOf(one.name, low), placeOf(one.name, high)].sort((a, b) => a - b);
        const angle = way * angleAt(one, valueAt(one.name, from + ((to - from) * n) / 4000));
        assert.ok(!(angle <= before), `${one.name} ${n}`);
        before = angle;
      }
    }
  });

  it("turns as difference quotients of its angle say, up to jerk", () => {
    // Nine points, of eighth order for the first two derivatives and of sixth for the third.
    const stencils = [
      [1 / 280, -4 / 105, 1 / 5, -4 / 5, 0, 4 / 5, -1 / 5, 4 / 105, -1 / 280],
      [-1 / 560, 8 / 315, -1 / 5, 8 / 5, -205 / 72, 8 / 5, -1 / 5, 8 / 315, -1 / 560],
      [-7 / 240, 3 / 10, -169 / 120, 61 / 30, 0, -61 / 30, 169 / 120, -3 / 10, 7 / 240],
    ];
    const room = createMotorRoom();
    const share = fc.double({ min: 0.02, max: 0.98, noNaN: true });
    const rate = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(0, 1, 2), share, fc.tuple(rate, rate, rate), (which, at, [a, b, c]) => {
        const one = MOTORS[which];
        const [low, high] = RANGES[one.name];
        const value = low + at * (high - low);
        const size = 0.2 * value;
        const rates = [a * size, b * size, c * size];
        const h = 2e-3;
        const course = (t: number): number => value + t * (rates[0] + t * (rates[1] / 2 + (t * rates[2]) / 6));
        // The curves of two rows meet with equal derivatives to the fourth; the quotients need more.
        const places = [-4, 0, 4].map((n) => placeOf(one.name, course(n * h)));
        const [lowest, highest] = [Math.min(...places), Math.max(...places)];
        fc.pre(!one.scale.places.some((place) => lowest - 1e-3 <= place && place <= highest + 1e-3));
        writeMotor(one, value, rates, room);
        const given = Array.from(room.angle);
        stencils.forEach((weights, k) => {
          const sum = weights.reduce((total, weight, i) => total + weight * angleAt(one, course((i - 4) * h)), 0);
          const measured = sum / h ** (k + 1);
          const slack = [1e-8, 1e-6, 2e-4][k] * (1 + Math.abs(measured));
          assert.ok(Math.abs(given[k + 1] - measured) < slack, `${one.name} ${k + 1}: ${given[k + 1]}, ${measured}`);
        });
      }),
      { seed: 5, numRuns: 400 },
    );
  });

  it("steps neither its speed nor its jerk at a row", () => {
    const room = createMotorRoom();
    for (const one of MOTORS) {
      for (const place of one.scale.places.filter((at) => 0 < at || one.name !== "focus")) {
        const value = valueAt(one.name, place);
        const sides = [-1e-9, 1e-9].map((off) => {
          writeMotor(one, value * (1 + off), [0.3 * value, -0.2 * value, 0.1 * value], room);
          return Array.from(room.angle);
        });
        sides[0].forEach((part, k) => assert.ok(Math.abs(part - sides[1][k]) < 1e-5 * (1 + Math.abs(part)), `${k}`));
      }
    }
  });

  it("knows nothing of a distance of 0 or behind the sensor", () => {
    for (const value of [0, -1, NaN]) assert.ok(Number.isNaN(angleAt(MOTORS[0], value)));
  });
});
