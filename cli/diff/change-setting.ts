/** A file that takes a document's place: where its content is on the disk, and the path under which it is read. */
export interface StandIn {
  readonly as: string;
  readonly from: string;
}

/** What two states are compared, as plain data that goes to threads. Paths are absolute; `roots` bound what is read. */
export type ChangeSetting = { readonly roots: readonly string[] } & (
  | {
      readonly way: "git";
      /** A folder of the repository. */
      readonly folder: string;
      /** Commits; without `head` the files on the disk. */
      readonly base: string;
      readonly head?: string;
    }
  | { readonly way: "folders"; readonly before: string; readonly after: string }
  | { readonly way: "moves"; readonly before: string; readonly after: string }
  | {
      /** One file in two states, in the place of a document among others as they stand on the disk. */
      readonly way: "file";
      readonly before?: StandIn;
      readonly after?: StandIn;
      /** Another path that the content after is read under. */
      readonly also?: string;
    }
);
