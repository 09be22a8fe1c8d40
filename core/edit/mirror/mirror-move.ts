import type { TextEdits } from "../apply-edits.ts";
import { checked, type Rewriting } from "../field-edits.ts";
import { keyItems, keyMap } from "../key-item.ts";
import { rigMirror } from "./mirror-axes.ts";
import { mirroredKey } from "./mirror-key.ts";
import type { Mirroring } from "./mirror-miss.ts";
import { isOnPlane, partnerOf, type Plane } from "./mirror-plane.ts";
import { Unwritable } from "./mirror-values.ts";
import { mirroredWhole } from "./mirror-whole.ts";
import { isWithin, sharedSpans } from "../times/time-fields.ts";
import type { SolvedText } from "../write-axes.ts";

/** A move in a mirror, and what it must then be. */
export interface MirroredMove {
  readonly rewriting: Rewriting;
  readonly by: Mirroring;
  /** Whether the base of the rig goes to its mirrored place. */
  readonly movesBase: boolean;
  /** Whether keys give the camera's place instead of axes, as the rig is not alike on both sides. */
  readonly byCamera: boolean;
}

/**
 * The move with left and right exchanged: places of the camera, axes, framings, rolls, turntables, and for each target that
 * which stands for it on the other side. The set stays as it is.
 */
export function mirrorMove(document: SolvedText, plane: Plane): MirroredMove {
  const { move } = document;
  const used = usedTargets(document);
  const partner = move.targets.map((_, target) => (used.has(target) ? partnerOf(move, target, plane) : -1));
  const by = { plane, partner };
  const rig = rigMirror(move, plane);
  const facts = { by, movesBase: rig?.place !== undefined, byCamera: rig === undefined };
  const refuse = (refusal: string): MirroredMove => ({ rewriting: { refusal }, ...facts });
  const lone = [...used].find((target) => partner[target] < 0);
  if (lone !== undefined) {
    return refuse(
      `\`${move.targets[lone].name}\` is not on the plane, and no target of the set stands for it on the other side`,
    );
  }
  if (!keyItems(document)) return refuse("a key of the text could not be read: mend it first");
  const table = move.axes.find(
    ({ turntable }, axis) =>
      0 <= turntable &&
      !isOnPlane(move, turntable, plane) &&
      move.keys.some((key) => key.axes.some((one) => one.axis === axis)),
  );
  if (table) return refuse(`\`${table.name}\` turns about an axis that does not stand on the plane`);
  const edits: TextEdits[number][] = [];
  for (const [key, { label }] of move.keys.entries()) {
    const made = keyMap(document, key)
      ? mirroredKey(document, key, by, rig)
      : new Unwritable("it is repeated elsewhere (`&name`, `*name`)");
    if (made instanceof Unwritable) return refuse(`\`${label}\` cannot be written anew: ${made.why}`);
    edits.push(...made);
  }
  const whole = mirroredWhole(document, by, rig);
  if (whole instanceof Unwritable) return refuse(whole.why);
  const all = [...edits, ...whole];
  const shared = sharedSpans(document.tree);
  if (all.some(({ span }) => isWithin(span, shared)))
    return refuse("a value is repeated elsewhere (`&name`, `*name`): write it out first");
  return { rewriting: checked(document, all), ...facts };
}

/** Targets that the move speaks of. */
function usedTargets({ move }: SolvedText): ReadonlySet<number> {
  const used = new Set<number>();
  for (const { aim, focus, camera, path } of move.keys) {
    if (aim?.kind === "target") used.add(aim.target);
    if (focus?.kind === "target") used.add(focus.target);
    if (camera?.kind === "offset") used.add(camera.from);
    if (path?.kind === "arc-about") used.add(path.target);
  }
  for (const { targets } of move.passes) for (const target of Object.keys(targets)) used.add(Number(target));
  for (const { of, measure } of move.expectations ?? []) {
    if (0 <= measure.subject && move.targets.some(({ name }) => of.startsWith(`${name}.`))) used.add(measure.subject);
  }
  return used;
}
