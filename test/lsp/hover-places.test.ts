import assert from "node:assert/strict";
import { parse } from "yaml";
import type { Hover, MarkupContent } from "vscode-languageserver-protocol";
import { CAMERA, MOVE, RIG, SET, WORKSPACE } from "./documents.ts";
import { positionAt, startServer, type Client } from "./harness.ts";
import { asJson, marked, twin } from "./twin.ts";

/** A cursor in a document, and what the hover there says. */
interface Row {
  readonly about: string;
  readonly path: string;
  /** With `|` at the cursor. */
  readonly text: string;
  readonly says: readonly RegExp[];
}

const PATH = "moves/along.move.yaml";
const within = (text: string, word: string, by: string): string => {
  assert.ok(text.includes(word), word);
  return text.replace(word, () => by);
};
const move = (word: string, by: string, ...also: [string, string][]): Pick<Row, "path" | "text"> => ({
  path: PATH,
  text: also.reduce((text, [one, other]) => within(text, one, other), within(MOVE, word, by)),
});
const rig = (word: string, by: string): Pick<Row, "path" | "text"> => ({
  path: "kit/slider.rig.yaml",
  text: within(RIG, word, by),
});
const set = (word: string, by: string): Pick<Row, "path" | "text"> => ({
  path: "moves/table.set.yaml",
  text: within(SET, word, by),
});
const key = (fields: string): Pick<Row, "path" | "text"> => move("name: right", `name: right\n    ${fields}`);
const expected = (row: string): Pick<Row, "path" | "text"> => move("keys:", `expect:\n  - ${row}\nkeys:`);

/**
 * The slide goes 0.6 m in 4 s with minimum jerk: 15/8 · 0.6/4 = 0.28125 m/s at half time, 60 · 0.6/4^3 = 0.5625 m/s3 at the
 * ends; the plate 30 deg: 15/8 · 30/4 = 14.06 deg/s. The pan axis passes the lid at 2 m, the pupil is 0.102 m in front of it.
 */
const ROWS: readonly Row[] = [
  {
    about: "a limit: its share used, in which move and when",
    ...rig("speed: 0.4", "spe|ed: 0.4"),
    says: [
      /`slide`: linear, -0\.6 m to 0\.6 m, at most 0\.4 m\/s, 4 m\/s2, 60 m\/s3\./,
      /Used most by Along the table, on the way from left to right, 00:00:02:00: 70 % of speed\./,
    ],
  },
  {
    about: "another limit of the same axis: that one's share",
    ...rig("jerk: 60 }", "jerk: 6|0 }"),
    says: [/Used most by Along the table, at key left, 00:00:00:00: 1 % of jerk\./],
  },
  {
    about: "a range: how near the moves come to its ends",
    ...rig("range: [-0.6", "ran|ge: [-0.6"),
    says: [/at key left, 00:00:00:00: 50 % of the way to the end of its range\./],
  },
  {
    about: "an axis of a rig: whichever limit is used most",
    ...rig("axis: slide", "axis: sli|de"),
    says: [/`slide`: linear/, /70 % of speed\./, /\| Along the table \| -0\.3 m to 0\.3 m \| 0\.2813 m\/s \(70 %\) \|/],
  },
  {
    about: "a limit of a turntable",
    ...set("speed: 40", "sp|eed: 40"),
    says: [/`plate`: rotary, -360 deg to 360 deg/, /00:00:02:00: 35 % of speed\./],
  },
  {
    about: "an axis in a move: each rate with its share",
    ...move("slide: 0.3", "sli|de: 0.3"),
    says: [
      /\| speed \| -0\.2813 m\/s at 00:00:02:00 \| 0 m\/s at 00:00:00:00 \| 0\.4 m\/s \| 70 % \|/,
      /\| jerk \|.*60 m\/s3 \| 1 % \|/,
    ],
  },
  {
    about: "a target: least and greatest distance, and when it is in the picture",
    ...move("focus: lid", "focus: li|d"),
    says: [
      /1\.898 m at 00:00:02:00 at the nearest, 1\.9204 m at 00:00:00:00 at the farthest/,
      /in the captured picture all the time/,
    ],
  },
  {
    about: "a target that leaves the picture: when",
    // The view turns with the pan by 60 deg, past half of the lens's 54.43 deg.
    ...move("keys:", "keys:", [
      MOVE.slice(MOVE.indexOf("keys:\n") + 6),
      "  - { at: 0 s, name: left, axes: { slide: 0, pan: 0, tilt: 0, plate: 0 }, focus: l|id }\n  - { at: 4 s, axes: { pan: 60 } }\n",
    ]),
    says: [/in the captured picture: 00:00:00:00 to 00:00:01:2[0-9] \(looked at every 0\.01\d* s\)/],
  },
  {
    about: "a target of a set",
    ...set("lid:", "l|id:"),
    says: [/\| Along the table \| 1\.898 m at 00:00:02:00 \| 1\.9204 m at 00:00:00:00 \| 6 s \|/],
  },
  { about: "seconds", ...move("at: 4 s", "at: |4 s"), says: [/As written: 4 s, frame 100, 00:00:04:00\./] },
  { about: "frames", ...move("after: 2 s", "after: 50| f"), says: [/As written: 2 s, 50 frames\./] },
  {
    about: "a label of a drop rate",
    // 4 s · 30000/1001 = 119.88 frames.
    ...move("at: 4 s", "at: |4 s", ["rate: 25", "rate: 29.97df"]),
    says: [/As written: 4 s, frame 119, 00:00:03;29 \(between two frames; labels drop: 2 are left out each minute/],
  },
  {
    about: "the label of the first frame",
    ...move("rate: 25", 'rate: 25\nstart: "01:00:00:|10"'),
    says: [/01:00:00:10 is the label of frame 90010 since 00:00:00:00 at 25/],
  },
  {
    about: "a rate",
    ...move("rate: 25", "rate: 2|5"),
    says: [/A frame lasts 40 ms; labels count 25 frames a second\./],
  },
  {
    about: "a code that is allowed and found",
    ...move("at: 4 s", "at: 2 s", ["name: right", "name: right\n    allow: [{ code: axis-sp|eed, reason: a test }]"]),
    says: [
      /`axis-speed` \(error\): An axis is too fast/,
      /Cure: Give the segment more time/,
      /Found here once now, allowed:/,
    ],
  },
  {
    about: "a code that is allowed and not found",
    ...key("allow: [{ code: axis-sp|eed, reason: a test }]"),
    says: [/It is not found here now\./],
  },
  {
    about: "what is expected, kept",
    ...expected("{ of: slide.sp|eed, below: 0.3 }"),
    says: [
      /`slide\.speed` is 0 m\/s at 00:00:00:00 to 0\.2813 m\/s at 00:00:02:00\./,
      /At most 0\.3 m\/s is expected: kept, with 0\.018\d* m\/s to spare\./,
    ],
  },
  {
    about: "what is expected, broken",
    ...expected("{ of: lid.distance, above: 1.9| m }"),
    says: [/`lid\.distance` is 1\.898 m at 00:00:02:00 to 1\.9204 m/, /At least 1\.9 m is expected: broken by 2 mm\./],
  },
  {
    about: "the way back as it came",
    // The take lasts 6 s; it goes back at half its speed.
    ...move("keys:", "return: rever|sed\nkeys:"),
    says: [
      /As it came, at 50 % of the speed: the way back takes 12 s\. At most 35 % of a limit, the speed of `slide`\./,
    ],
  },
  {
    about: "a way back of its own",
    // 15/8 · 0.6 m / 3 s = 0.375 m/s of 0.4.
    ...move("keys:", "return: { ti|me: 3 s }\nkeys:"),
    says: [/Directly: the way back takes 3 s\. At most 94 % of a limit, the speed of `slide`\./],
  },
  {
    about: "a path: how far and how fast the pupil goes",
    // Half the pan's turn of atan(0.3/2) takes 0.102 sin 8.53 deg = 15.1 mm off each side of 0.6 m.
    ...key("path: li|ne"),
    says: [/From left to right the entrance pupil goes 0\.5697 m in 4 s, at most 0\.267\d* m\/s at 00:00:02:00\./],
  },
  {
    about: "an ease: what it does to each axis",
    ...key("ease: minimum-|jerk"),
    says: [/\| `slide` \| 0\.3 m \| -0\.3 m \| 0\.2813 m\/s \(70 %\) \| 0\.2165 m\/s2 \(5 %\) \|/],
  },
  {
    about: "a hold",
    ...key("hold: 1| s"),
    says: [/At right everything rests from 00:00:04:00 to 00:00:05:00\./],
  },
  {
    about: "a document that is named",
    ...move("slider.rig.yaml", "sli|der.rig.yaml"),
    says: [/\*\*Slider \(slider\.rig\.(yaml|json)\)\*\*/, /Defines `slide`, `pan`, `tilt`\./],
  },
  {
    about: "a shot",
    path: "day.shoot.yaml",
    text: "shoot: 1\nshots:\n  - { move: moves/al|ong.move.yaml }\n",
    says: [
      /\*\*Along the table \(along/,
      /6 s, 3 keys, at most 70 % of a limit \(the speed of `slide`\), no findings\./,
    ],
  },
  {
    about: "a code in a config",
    path: "movewright.config.yaml",
    text: "config: 1\nseverity:\n  axis-sp|eed: hint\n",
    says: [/`axis-speed` \(error\): An axis is too fast/, /Cure: Give the segment more time/],
  },
  {
    about: "a time of a set, which has no frames",
    ...set("targets:", "targets:\n  bee: { follow: [{ at: 0 s, to: [2, 1, 1] }, { at: |1.5 s, to: [2, 0, 1] }] }"),
    says: [/As written: 1\.5 s\./],
  },
  {
    about: "a part of the rig",
    ...rig("head:", "bodies:\n  - { name: ca|rt, on: slide, box: [0.2, 0.3, 0.4] }\nhead:"),
    says: [/`cart`: a box of 0\.2 m by 0\.3 m by 0\.4 m\./],
  },
  {
    about: "a corner, and the way to it",
    ...key("blend: 10| cm"),
    says: [/At right the entrance pupil rests: nothing is rounded\./, /From left to right the entrance pupil goes/],
  },
  {
    about: "a move that does not come back by itself",
    ...move("keys:", "return: no|ne\nkeys:"),
    says: [/The rig does not come back by its own motors/],
  },
  {
    about: "what stands in the set: the least distance of each move",
    // The wall begins at 1 m; the view is straight at 2 s, the pupil, where the camera ends, then 0.102 m in front of the pan axis.
    ...set("turntables:", "obstacles:\n  wa|ll: { at: [1.5, 0, 1], box: [1, 3, 1] }\nturntables:"),
    says: [/`wall`: a box of 1 m by 3 m by 1 m/, /\| Along the table \| 0\.898 m \| the camera \| 00:00:02:00 \|/],
  },
];

describe("hover at a cursor", () => {
  let client: Client;
  const jsonPath = (path: string): string => `json/${path.replace(/yaml$/, "json")}`;
  before(async () => {
    const twins = Object.entries(WORKSPACE).map(([path, text]) => [jsonPath(path), asJson(parse(text))]);
    client = await startServer({ ...WORKSPACE, ...Object.fromEntries(twins), "kit/b.camera.yaml": CAMERA });
  });
  after(async () => assert.equal(await client.stop(), 0));

  const ask = async (path: string, text: string, offset: number): Promise<string> => {
    const found = await client.connection.sendRequest<Hover | null>("textDocument/hover", {
      textDocument: { uri: client.uri(path) },
      position: positionAt(text, offset),
    });
    return (found?.contents as MarkupContent | undefined)?.value ?? "";
  };

  for (const { about, path, text, says } of ROWS) {
    for (const format of ["YAML", "JSON"]) {
      it(`tells of ${about}, in ${format}`, async () => {
        const yaml = marked(text);
        const isYaml = format === "YAML";
        const cursor = isYaml ? yaml : twin(yaml);
        const place = isYaml ? path : jsonPath(path);
        const users = isYaml ? PATH : jsonPath(PATH);
        await client.open(place, cursor.text);
        // The move that uses the document is solved with it.
        const known = place === users ? "" : isYaml ? MOVE : asJson(parse(MOVE));
        if (known !== "") {
          await client.open(users, known);
        }
        // Answered once the move is solved, however long that takes.
        await client.connection.sendRequest("movewright/take", { uri: client.uri(users) });
        const said = await ask(place, cursor.text, cursor.offset);
        for (const each of says) assert.match(said, each);
        await client.close(place);
        if (known !== "") await client.close(users);
      });
    }
  }
});
