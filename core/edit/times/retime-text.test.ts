import assert from "node:assert/strict";
import { KIT } from "../../../test/fixtures/kit.ts";
import { memorySources } from "../../../test/fixtures/memory-sources.ts";
import { runToEnd } from "../../base/task.ts";
import { analyse } from "../../checks/analyse.ts";
import type { Fit } from "../../motion/retime-fit.ts";
import { parseTree } from "../../syntax/parse.ts";
import { retimeText, type MoveDocument, type NotRetimed, type Retimed, type RetimedText } from "./retime-text.ts";

const FILE = "a.move.yaml";

function documentOf(text: string, files: Readonly<Record<string, string>> = {}): MoveDocument {
  const sources = memorySources(new Map([...Object.entries({ ...KIT, ...files }), [FILE, text]]));
  const analysis = runToEnd(analyse(FILE, sources));
  assert.ok(analysis.trajectory, JSON.stringify(analysis.textFindings.map(({ message }) => message)));
  return { file: FILE, text, tree: parseTree(text, "yaml"), sources, analysis };
}

const retime = (document: MoveDocument, fit: Fit): Retimed | NotRetimed => runToEnd(retimeText(document, fit));

function retimed(document: MoveDocument, fit: Fit): Retimed & { readonly written: RetimedText } {
  const answer = retime(document, fit);
  assert.ok(answer.status === "retimed", JSON.stringify(answer));
  assert.ok("text" in answer.written, JSON.stringify(answer.written));
  return answer as Retimed & { readonly written: RetimedText };
}

/** The text of the slide's times, in order. */
const timesOf = (text: string): string[] =>
  [...text.matchAll(/(?:at|after): ([^,}\n#]+?) *(?:#.*|[,}].*)?$/gm)].map((m) => m[1]);

const move = (body: string): string => `move: 1
rig: slider.rig.yaml
camera: { use: a.camera.yaml, lens: wide }
set: table.set.yaml
${body}`;

// Slide 0.5 m/s, 1 m/s2, 8 m/s3: over 0.3 m from rest to rest 1.875 · 0.3 / 0.5 = 1.125 s, √(5.7735 · 0.3 / 1) = 1.3161 s,
// ∛(60 · 0.3 / 8) = 1.3104 s (Flash & Hogan 1985).
const NEEDED = Math.sqrt((10 / Math.sqrt(3)) * 0.3);
const SLIDE = move(`keys: # two
  - { at: 0 s, axes: { slide: 0, pan: 0, tilt: 0 } } # begin
  - { at: 0.8 s, axes: { slide: 0.3 } }
`);

describe("a move retimed in its text", () => {
  it("ends at the closed form, rounded up to a tenth of a millisecond", () => {
    const { written, fitted, shares } = retimed(documentOf(SLIDE), "whole");
    const up = Math.ceil(NEEDED * 1e4) / 1e4;
    assert.equal(written.text, SLIDE.replace("0.8 s", `${up} s`));
    assert.ok(Math.abs(fitted.factor! - NEEDED / 0.8) < 1e-9);
    const worst = Math.max(...shares.map(({ share }) => share));
    assert.ok(0.99 <= worst && worst <= 1);
  });

  it("takes whole frames where the text does, and no frame too many", () => {
    const text = SLIDE.replace("0.8 s", "20 f");
    for (const fit of ["whole", "segments"] as const) {
      // 1.3161 s are 32.9 frames at 25.
      assert.deepEqual(timesOf(retimed(documentOf(text), fit).written.text), ["0 s", "33 f"]);
    }
  });

  it("gives back what is left over", () => {
    const slow = SLIDE.replace("0.8 s", "00:00:09:00");
    assert.deepEqual(timesOf(retimed(documentOf(slow), "whole").written.text), ["0 s", "00:00:01:08"]);
  });

  it("keeps written speed: the time in the text is not the time that is played", () => {
    const half = SLIDE.replace("keys:", "speed: 50 %\nkeys:");
    const { written, trajectory } = retimed(documentOf(half), "whole");
    assert.ok(NEEDED <= trajectory.duration && trajectory.duration < NEEDED + 3e-4);
    assert.equal(Number.parseFloat(timesOf(written.text)[1]), Math.ceil((NEEDED / 2) * 1e4) / 1e4);
  });

  it("cuts each segment to its own need and says what is left to other cures", () => {
    const text = move(`keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { after: 0.8 s, axes: { slide: 0.3 }, stop: true }
  - { after: 9 s, axes: { slide: -0.3 } }
`);
    const { written, remaining, trajectory } = retimed(documentOf(text), "segments");
    const [first, second, third] = timesOf(written.text).map(Number.parseFloat);
    assert.equal(first, 0);
    assert.ok(NEEDED <= second && second <= NEEDED * 1.01, `${second} s`);
    // 0.6 m: √(5.7735 · 0.6) = 1.861 s, 1.875 · 0.6 / 0.5 = 2.25 s.
    assert.ok(2.25 <= third && third <= 2.25 * 1.01, `${third} s`);
    assert.ok(Math.abs(trajectory.duration - second - third) < 1e-6);
    assert.deepEqual(remaining, []);
  });

  it("says the least time of the path beside what keys come to", () => {
    const text = move(`keys:
  - { at: 0 s, axes: { slide: -0.4 }, aim: lid }
  - { at: 3 s, axes: { slide: 0.1 } }
  - { at: 6 s, axes: { slide: 0.4 } }
`);
    const { fitted, trajectory } = retimed(documentOf(text), "fastest");
    const { duration, lowerBound } = fitted.least!;
    assert.ok(0 < lowerBound && lowerBound <= duration && duration <= trajectory.duration);
    assert.ok(trajectory.duration < 1.6 * lowerBound);
  });

  it("leaves errors that time does not cure, and lists them", () => {
    const text = SLIDE.replace("slide: 0.3", "slide: 1.2");
    const { remaining, fresh } = retimed(documentOf(text), "whole");
    assert.deepEqual(
      remaining.map(({ code }) => code),
      ["axis-range"],
    );
    assert.deepEqual(fresh, []);
  });

  it("tells what no time cures", () => {
    const torn = retime(documentOf(`${SLIDE}  - { at: 0 s, axes: { slide: 0.1 } }\n`), "whole");
    assert.ok(torn.status === "not-retimed" && /could not be read/.test(torn.reason), JSON.stringify(torn));
    // A pot that runs past by itself at 2 m/s, 2 m away: the pan turns at 1 rad/s or more, of 30 deg/s.
    const set = KIT["table.set.yaml"].replace(
      "lid: { at: [2, 0, 1.1] }",
      "lid: { follow: [{ at: 0 s, to: [2, -1, 1.1] }, { at: 1 s, to: [2, 1, 1.1] }] }",
    );
    const text = move("keys:\n  - { at: 0 s, axes: { slide: 0 }, aim: lid }\n  - { at: 2 s, axes: { slide: 0.1 } }\n");
    const passing = retime(documentOf(text, { "table.set.yaml": set }), "whole");
    assert.ok(
      passing.status === "not-retimed" && /pan breaks its .* however slow/.test(passing.reason),
      JSON.stringify(passing),
    );
    // Under a camera without any offset: straight past below it, pan would have to jump.
    const rig = KIT["slider.rig.yaml"].replace(
      "camera-mount: { at: [0.04, 0, 0.05] }",
      "camera-mount: { at: [0, 0, 0] }",
    );
    const below = KIT["table.set.yaml"].replace("floor-spot: { at: [0.3, 0, 0.1] }", "floor-spot: { at: [0, 0, 0.1] }");
    const over = move(
      "keys:\n  - { at: 0 s, axes: { slide: -0.3 }, aim: floor-spot }\n  - { at: 9 s, axes: { slide: 0.3 } }\n",
    );
    const jump = retime(documentOf(over, { "table.set.yaml": below, "slider.rig.yaml": rig }), "segments");
    assert.ok(jump.status === "not-retimed" && /pan would have to jump/.test(jump.reason), JSON.stringify(jump));
  });

  it("tells what cannot be written, and what cannot be cured", () => {
    const shared = move(`keys:
  - { at: 0 s, axes: { slide: 0 }, aim: lid }
  - { after: &t 0.8 s, axes: { slide: 0.3 } }
  - { after: *t, axes: { slide: 0 } }
`);
    const answer = retime(documentOf(shared), "whole");
    assert.ok(answer.status === "retimed" && "reason" in answer.written && /alias/.test(answer.written.reason));
    const free = { "slider.rig.yaml": KIT["slider.rig.yaml"].replace(/, limits: \{[^}]*\}/g, "") };
    const unbounded = retime(documentOf(SLIDE, free), "whole");
    assert.ok(unbounded.status === "not-retimed" && /states a limit/.test(unbounded.reason));
  });
});
