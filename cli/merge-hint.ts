/** What git is told once, so that it calls `movewright merge` by itself. */
export const MERGE_DRIVER = "movewright merge %O %A %B --marker-size %L --path %P --ours-label %X --theirs-label %Y";

/** How merging is set up, for whoever calls it in another way: one line. */
export const MERGE_HINT =
  "let git call it. Put `*.move.yaml merge=movewright` into .gitattributes, the same for .rig, .camera, .set and .shoot, " +
  `and run: git config merge.movewright.driver '${MERGE_DRIVER}'`;
