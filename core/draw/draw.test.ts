import assert from "node:assert/strict";
import fc from "fast-check";
import { SaxesParser } from "saxes";
import { runToEnd } from "../base/task.ts";
import type { Vec2, Vec3 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";
import { planTrajectory } from "../motion/plan.ts";
import { slideBy, topToFront } from "../../test/stage/moves.ts";
import { backToFront } from "./depth-order.ts";
import { lineOn, type Eye, type Rectangle } from "./eye.ts";
import { fitted, LABEL_SIZE, placeLabels, textWidth, type WantedLabel } from "./labels.ts";
import { outlineOn } from "./outline.ts";
import { outsideEye } from "./outside-eye.ts";
import { isPicture } from "./picture-page.ts";
import { drawPicture, PICTURE_VIEWS } from "./picture.ts";
import type { PlacedSolid } from "./shot.ts";
import { drawnSolid } from "./solid-corners.ts";
import { pixels } from "./svg.ts";

const AREA: Rectangle = { left: 0, right: 1000, top: 0, bottom: 600 };
/** Looks along x from the origin, 90 degrees wide; the page is the plane. */
const ahead: Eye = {
  kind: "perspective",
  position: [0, 0, 0],
  ahead: [1, 0, 0],
  right: [0, -1, 0],
  down: [0, 0, -1],
  window: { left: -1, right: 1, top: -1, bottom: 1 },
  page: (x, y) => [x, y],
  bends: false,
};

const box = (name: string, at: Vec3, size: Vec3): PlacedSolid => ({
  name,
  part: "obstacle",
  solid: { shape: "box", size },
  pose: { at, turn: [0, 0, 0, 1] },
});

function isInside(polygon: readonly Vec2[], [x, y]: Vec2, slack: number): boolean {
  return polygon.every((a, i) => {
    const b = polygon[(i + 1) % polygon.length];
    const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
    return dx * (y - a[1]) - dy * (x - a[0]) >= -slack * Math.hypot(dx, dy);
  });
}

describe("outlines of bodies", () => {
  it("hold all that is seen of a body, also where it reaches behind the eye, and nothing outside the window", () => {
    const part = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(fc.array(fc.tuple(part, part, part), { minLength: 4, maxLength: 9 }), (corners) => {
        const outline = outlineOn(ahead, corners);
        for (const [x, y] of outline) assert.ok(Math.max(Math.abs(x), Math.abs(y)) <= 1 + 1e-9);
        // Any mixture of corners is in the body.
        for (let i = 0; i < 60; i++) {
          const weights = corners.map((_, k) => Math.abs(Math.sin(1 + i * 7.3 + k * 3.1)) ** 3);
          const sum = weights.reduce((a, b) => a + b, 0);
          const [x, y, z] = [0, 1, 2].map((k) => corners.reduce((all, corner, c) => all + (corner[k] * weights[c]) / sum, 0)); // prettier-ignore
          const seen: Vec2 = [-y / x, -z / x];
          if (x < 0.01 || Math.abs(seen[0]) > 1 || Math.abs(seen[1]) > 1 || outline.length < 3) continue;
          assert.ok(isInside(outline, seen, 1e-5), `${seen.join()} in ${JSON.stringify(outline)}`);
        }
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it("are none of what is behind, and all of the window for what one stands in", () => {
    const corners = (at: Vec3, size: Vec3): Vec3[] =>
      (drawnSolid({ shape: "box", size })?.corners ?? []).map((corner) => corner.map((part, k) => part + at[k]) as unknown as Vec3); // prettier-ignore
    assert.deepEqual(outlineOn(ahead, corners([-2, 0, 0], [1, 1, 1])), []);
    const around = outlineOn(ahead, corners([0, 0, 0], [4, 4, 4]));
    for (const [x, y] of [[-1, -1], [1, -1], [1, 1], [-1, 1]] as const) {
      assert.ok(around.some((corner) => Math.hypot(corner[0] - x, corner[1] - y) < 1e-9));
    } // prettier-ignore
  });

  it("end lines at the eye and at the window", () => {
    assert.deepEqual(lineOn(ahead, [2, 4, 0], [2, -4, 0]), [[-1, 0], [1, 0]]); // prettier-ignore
    assert.equal(lineOn(ahead, [-1, 0, 0], [-2, 1, 0]), undefined);
    assert.equal(lineOn(ahead, [1, 3, 0], [1, 2, 0]), undefined);
    const along = lineOn(ahead, [-5, 0.005, 0], [5, 0.005, 0]);
    assert.ok(along && Math.abs(along[0][0] + 0.5) < 1e-9 && Math.abs(along[1][0] + 0.001) < 1e-9);
  });
});

describe("the order in which bodies are drawn", () => {
  const plinth = box("plinth", [2, 0, 0.5], [0.4, 0.4, 1]);
  const plate = box("plate", [2, 0, 1.01], [3, 3, 0.02]);
  const wall = box("wall", [6, 0, 1], [0.1, 40, 2]);
  const pot = box("pot", [2.1, 0.05, 1.12], [0.2, 0.2, 0.2]);
  const outlines = (solids: readonly PlacedSolid[]) =>
    solids.map((placed) => ({ placed, outline: [[0, 0], [100, 0], [100, 100]] as Vec2[] })); // prettier-ignore
  for (const [view, expected] of [
    // From above the wall is apart and comes where it likes; on the plinth lies the plate, on it stands the pot.
    ["top", ["plinth", "plate", "pot"]],
    ["front", ["wall", "plate"]],
    ["front", ["wall", "pot"]],
    ["free", ["wall", "plate", "pot"]],
  ] as const) {
    it(`is right from ${view} for ${expected.join(", ")}, whatever the order in which they are given, for bodies that touch too`, () => {
      const all = [plinth, plate, wall, pot];
      const eye = outsideEye(view, [[0, -1, 0], [4, 1, 1.5]], AREA); // prettier-ignore
      for (const given of [all, [...all].reverse(), [pot, plinth, wall, plate]]) {
        const names = backToFront(eye, outlines(given)).map(({ placed }) => placed.name);
        const at = expected.map((name) => names.indexOf(name));
        assert.deepEqual(
          at,
          [...at].sort((a, b) => a - b),
          names.join(", "),
        );
      }
    });
  }
});

describe("names in a picture", () => {
  it("lie on no other and on no mark, and stay on the page", () => {
    const place = fc.tuple(fc.double({ min: 0, max: 1000, noNaN: true }), fc.double({ min: 0, max: 600, noNaN: true }));
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 60 }), (places) => {
        const wanted = places.map((at, k): WantedLabel => ({ text: `key ${k}`, at, reach: 6, style: "text" }));
        const marks = places.map(([x, y]) => ({ left: x - 6, right: x + 6, top: y - 6, bottom: y + 6 }));
        const boxes = placeLabels(wanted, AREA, marks).map(({ x, y, text }) => ({
          left: x + 0.01,
          right: x + textWidth(text, LABEL_SIZE) - 0.01,
          top: y - LABEL_SIZE * 0.9,
          bottom: y + 0.1,
        }));
        boxes.forEach((one, i) => {
          assert.ok(one.left >= 0 && one.right <= 1000 && one.top >= 0 && one.bottom <= 600);
          for (const other of [...boxes.slice(i + 1), ...marks]) {
            const apart = one.right <= other.left || other.right <= one.left || one.bottom <= other.top || other.bottom <= one.top; // prettier-ignore
            assert.ok(apart, "two lie on each other");
          }
        });
      }),
      { seed: 8, numRuns: 60 },
    );
  });

  it("all find room where there is some, and are cut where a line is too short", () => {
    const wanted = [0, 1, 2].map((k): WantedLabel => ({
      text: "lid",
      at: [500, 300 + 3 * k],
      reach: 5,
      style: "text",
    }));
    assert.equal(placeLabels(wanted, AREA, []).length, 3);
    assert.equal(fitted("short", 12, 100), "short");
    const cut = fitted("a very long title of a move, which goes on and on", 18, 200);
    assert.ok(cut.endsWith("…") && textWidth(cut, 18) <= 200);
  });
});

describe("pictures of a move", () => {
  const moves = { topToFront, slideBy };
  for (const [name, move] of Object.entries(moves)) {
    it(`of ${name} are whole XML with a title, and the same to the byte each time`, () => {
      const title = 'Pots <script>alert("|")</script> & \u0007 é ]]> \ud800';
      const trajectory = runToEnd(planTrajectory({ ...move, title }));
      for (const view of PICTURE_VIEWS) {
        const svg = runToEnd(drawPicture(trajectory, view, 1.7));
        assert.equal(svg, runToEnd(drawPicture(runToEnd(planTrajectory({ ...move, title })), view, 1.7)));
        assert.ok(isPicture(svg));
        const texts: string[] = [];
        let names: string[] = [];
        const parser = new SaxesParser();
        parser.on("error", (error) => assert.fail(error));
        parser.on("opentag", ({ name: tagName }) => (names = [...names, tagName]));
        parser.on("text", (text) => texts.push(text));
        parser.write(svg).close();
        assert.ok(
          texts.some((text) => text.startsWith('Pots <script>alert("|")</script> & \ufffd é ]]> \ufffd')),
          view,
        );
        assert.ok(!names.includes("script"));
        assert.doesNotMatch(svg, /NaN|Infinity|undefined/);
        assert.match(svg, /does not say that the move is safe/);
        // Every number with at most two digits after its point, in places too.
        assert.doesNotMatch(svg.replace(/<style>.*<\/style>|<text.*?<\/text>|<desc.*?<\/desc>/gs, ""), /\d\.\d{3}/);
      }
    });
  }

  it("write numbers short and without a sign for nothing", () => {
    assert.deepEqual([1.5, -0.001, 12, 3.14159, -2.5].map(pixels), ["1.5", "0", "12", "3.14", "-2.5"]);
    assert.equal(xmlText('<&>"'), "&lt;&amp;&gt;&quot;");
  });
});
