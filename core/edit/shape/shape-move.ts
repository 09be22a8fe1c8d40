import { checked } from "../field-edits.ts";
import { keyItems } from "../key-item.ts";
import type { ShapeIntent } from "./intent.ts";
import { shapeAxis } from "./shape-axis.ts";
import { shapeCamera } from "./shape-camera.ts";
import type { ShapedMove, Shaping } from "./shaped.ts";
import { shapeFraming } from "./shape-framing.ts";
import { shapeTarget } from "./shape-target.ts";
import { shapeTime } from "./shape-time.ts";
import { shapeZoom } from "./shape-zoom.ts";

/**
 * The text edits of what a person shapes by hand: values in the units and notations in which they stand, all else byte for
 * byte as it is. What cannot be had is taken as far as it goes, with where it stops and why.
 */
export function shapeMove(document: ShapedMove, intent: ShapeIntent): Shaping {
  const { move, tree, file } = document;
  if (!keyItems(document)) return { refusal: "a key of the text could not be read: mend it first" };
  if (move.keys[intent.key] === undefined) return { refusal: "the move has no such key any more" };
  const made = shapedBy(document, intent);
  // A number that carries no comment keeps all; what is added or written on one line might take one away.
  if ("refusal" in made || made.file !== file) return made;
  const kept = checked({ tree }, made.edits);
  return "refusal" in kept ? kept : made;
}

function shapedBy(document: ShapedMove, intent: ShapeIntent): Shaping {
  const { move } = document;
  switch (intent.kind) {
    case "time":
      return shapeTime(document, intent.key, intent.time);
    case "camera":
      return shapeCamera(document, intent.key, intent.at);
    case "framing":
      return shapeFraming(document, intent.key, intent.at);
    case "zoom":
      return shapeZoom(document, intent.key, intent.focal);
    case "target":
      if (!move.targets[intent.target]) return { refusal: "the set has no such target any more" };
      return shapeTarget(document, intent.key, intent.target, intent.at);
    case "axis":
      if (!move.axes[intent.axis]) return { refusal: "the rig has no such axis any more" };
      return shapeAxis(document, intent.key, intent.axis, intent.by);
  }
}
