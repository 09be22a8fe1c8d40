import type { Tree, TreeNode } from "../syntax/tree.ts";

/** Whether two texts say the same, in the same way and with the same comments: they differ in blanks and line ends alone. */
export function meansTheSame(one: Tree, other: Tree): boolean {
  return (
    one.problems.length === other.problems.length &&
    one.problems.every(({ code }, idx) => code === other.problems[idx].code) &&
    one.comments.length === other.comments.length &&
    one.comments.every(({ text }, idx) => text === other.comments[idx].text) &&
    isSame(one.root, other.root)
  );
}

function isSame(one: TreeNode | undefined, other: TreeNode | undefined): boolean {
  if (one === other) return true;
  if (!one || !other) return false;
  if (one.kind === "scalar") {
    return other.kind === "scalar" && Object.is(one.value, other.value) && one.style === other.style;
  }
  if (one.kind === "alias") return other.kind === "alias" && one.target?.kind === other.target?.kind;
  if (one.kind === "list") {
    return (
      other.kind === "list" &&
      one.flow === other.flow &&
      one.items.length === other.items.length &&
      one.items.every((item, idx) => isSame(item, other.items[idx]))
    );
  }
  return (
    other.kind === "map" &&
    one.flow === other.flow &&
    one.entries.length === other.entries.length &&
    one.entries.every(
      ({ name, value }, idx) => name === other.entries[idx].name && isSame(value, other.entries[idx].value),
    )
  );
}
