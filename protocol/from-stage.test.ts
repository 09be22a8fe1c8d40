import assert from "node:assert/strict";
import { readFromStage } from "./from-stage.ts";

const STATE = {
  uri: "file:///a.move.yaml",
  version: 3,
  time: 1.5,
  playing: false,
  frame: 37,
  timecode: "00:00:01:12",
  webgl: true,
  message: "",
  pictures: 12,
  keys: 5,
  findings: 0,
  links: [0, 0, 0.22],
};

const GHOST = {
  label: "HEAD (1a2b3c4)",
  alignment: "share",
  time: 1.2,
  pupil: 0.04,
  links: [0, 0, 0.2],
  keys: [],
  marks: [{ name: "lid", from: [120, 80.5], hasArrow: true }],
  words: "Pupil 40.0 mm",
};

describe("messages from the stage", () => {
  it("lets through what the protocol names", () => {
    for (const message of [
      { type: "ready" },
      { type: "ready", uri: "file:///a.move.yaml" },
      { type: "mesh", mesh: { file: "/rigs/hand.gltf" } },
      { type: "series", name: "clearance", version: 3 },
      { type: "reach", wish: { kind: "section", height: 1.2 } },
      { type: "reach", wish: { kind: "shell" } },
      { type: "passes" },
      { type: "mesh", mesh: { file: "/rigs/hand.gltf", part: "hand.bin" } },
      { type: "compare", wish: "revision" },
      { type: "reveal-key", key: 0 },
      { type: "reveal-finding", id: 4 },
      { type: "state", id: 7, state: STATE },
      { type: "state", id: 8, state: { ...STATE, ghost: GHOST } },
      { type: "failed", message: "no WebGL" },
    ]) {
      assert.deepEqual(readFromStage(message), message);
    }
  });

  it("drops everything else", () => {
    for (const message of [
      undefined,
      { type: "compare", wish: "everything" },
      { type: "state", id: 8, state: { ...STATE, ghost: { ...GHOST, alignment: "place" } } },
      null,
      "ready",
      [],
      {},
      { type: "open", uri: "file:///etc/passwd" },
      { type: "mesh" },
      { type: "series", name: "weather", version: 3 },
      { type: "reach", wish: { kind: "section" } },
      { type: "reach", wish: { kind: "section", height: NaN } },
      { type: "reach" },
      { type: "mesh", mesh: { part: "hand.bin" } },
      { type: "mesh", mesh: { file: ["/rigs/hand.gltf"] } },
      { type: "mesh", mesh: { file: "x".repeat(5000) } },
      { type: "reveal-key", key: -1 },
      { type: "reveal-key", key: 0.5 },
      { type: "reveal-key", key: "0" },
      { type: "reveal-finding" },
      { type: "ready", uri: 5 },
      { type: "failed", message: "x".repeat(5000) },
      { type: "state", id: 1, state: { ...STATE, links: ["a"] } },
      { type: "state", id: 1, state: { ...STATE, time: NaN } },
    ]) {
      assert.equal(readFromStage(message), undefined, JSON.stringify(message));
    }
  });
});
