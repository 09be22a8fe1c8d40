import { optional, required } from "./facts.ts";
import { flag, moveKey, name, quantity, reference, text, version } from "./field-types.ts";
import { allowField, fields, list, noteField } from "./shared-fields.ts";

const duration = () => quantity("time", { from: 0 });

const shot = () =>
  fields({
    name: optional(text(), "What the shot is called.", "the move's title"),
    move: required(reference("move"), "The move's document, relative to this one."),
    passes: optional(list(name("pass")), "Passes of the move that are taken, by name, in this order.", "all of them"),
    product: optional(text(), "What stands in front of the camera."),
    wardrobe: optional(text(), "Wardrobe."),
    props: optional(text(), "Props."),
    "setup-time": optional(
      duration(),
      "Time to set up, such as `20 min`. The shot's rig stands idle meanwhile.",
      "0 min",
    ),
    "pass-time": optional(
      duration(),
      "Time from the start of one pass to the start of the next: the move, the way back to its first key, and the wait. What is left beside the two is idle; a time that is too short for them is not kept.",
      "the move's duration and that of the way back; of the last pass the move's alone",
    ),
    "change-battery": optional(flag(), "The battery of the shot's rig is changed before this shot.", "false"),
    allow: allowField(),
    note: noteField(),
  });

const match = () =>
  fields({
    from: required(moveKey(), "The key that is cut from: `lid.move.yaml#top`."),
    to: required(moveKey(), "The key that is cut to."),
    about: required(
      name("target"),
      "The target about which the pictures must agree. Both sets have it, and it may stand elsewhere in each. What a pass shifts is left out.",
    ),
    tolerance: optional(
      quantity("pixels", { above: 0 }),
      "How far the two pictures of the target, and of what is around it, may lie apart in the delivered picture: captured pixels of the move that is cut from. Common practice, no source.",
      "2 px",
    ),
    size: optional(
      quantity("length", { from: 0 }),
      "How large what must agree is, with the target at its centre. So the distance, the direction and the height of the view, the roll and the focal length count by what they change in the picture. `0 m` compares the target's framing alone. The default is common practice, no source.",
      "what fills half of the delivered picture's height at the key that is cut from",
    ),
    allow: allowField(),
    note: noteField(),
  });

/** Fields of `NAME.shoot.yaml`. */
export const shootDocument = fields({
  shoot: required(version(), "Says that this document is a shoot, in version 1 of the language."),
  name: optional(text(), "What people call the shoot.", "the file's name"),
  shots: required(
    list(shot()),
    "The shots, in the order of the day. The battery of each rig is reckoned over them: what it draws at rest, while axes move, on the ways back and while it waits. A rig draws in its own shots only, and each pass is reckoned as the move itself.",
  ),
  match: optional(list(match()), "Cuts between moves whose pictures must agree."),
  allow: allowField(),
  note: noteField(),
});
