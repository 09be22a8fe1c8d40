import { optional, required } from "./facts.ts";
import { flag, moveKey, name, quantity, reference, text, version } from "./field-types.ts";
import { allowField, fields, list, noteField } from "./shared-fields.ts";

const minutes = () => quantity("time", { from: 0 });

const shot = () =>
  fields({
    name: optional(text(), "What the shot is called.", "the move's title"),
    move: required(reference("move"), "The move's document, relative to this one."),
    passes: optional(list(name("pass")), "Passes of the move that are taken, by name.", "all of them"),
    product: optional(text(), "What stands in front of the camera."),
    wardrobe: optional(text(), "Wardrobe."),
    props: optional(text(), "Props."),
    "setup-time": optional(minutes(), "Time to set up, such as `20 min`.", "0 min"),
    "pass-time": optional(minutes(), "Time for each pass, the move's own included.", "the move's duration"),
    "change-battery": optional(flag(), "The battery is changed before this shot.", "false"),
    note: noteField(),
  });

const match = () =>
  fields({
    from: required(moveKey(), "The key that is cut from: `lid.move.yaml#top`."),
    to: required(moveKey(), "The key that is cut to."),
    about: required(name("target"), "The target whose framing must agree."),
    tolerance: optional(quantity("pixels", { above: 0 }), "How far the framings may differ.", "2 px"),
  });

/** Fields of `NAME.shoot.yaml`. */
export const shootDocument = fields({
  shoot: required(version(), "Says that this document is a shoot, in version 1 of the language."),
  name: optional(text(), "What people call the shoot.", "the file's name"),
  shots: required(list(shot()), "The shots, in the order of the day."),
  match: optional(list(match()), "Cuts between moves whose framings must agree. Read, not yet computed."),
  allow: allowField(),
  note: noteField(),
});
