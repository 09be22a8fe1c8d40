/** A value that a setting may have, what it is by itself, and what it does. */
export type SettingRow =
  | { readonly type: "boolean"; readonly default: boolean; readonly description: string }
  | {
      readonly type: "integer";
      readonly default: number;
      readonly least: number;
      readonly most: number;
      readonly description: string;
    }
  | {
      readonly type: "word";
      readonly default: string;
      /** Each word with what it means. */
      readonly words: Readonly<Record<string, string>>;
      readonly description: string;
    };

/**
 * Every setting of the section `movewright`, by its name within it. The package's configuration, the reference page and
 * the server's reading follow from this table.
 */
export const SETTINGS = {
  checkWorkspace: yes("Also check documents of the workspace that are not open."),
  "problems.limit": {
    type: "integer",
    default: 500,
    least: 10,
    most: 10_000,
    description: "Most problems that are shown of one document. One more says how many were left out.",
  },
  "inlayHints.times": yes("Show frame number and timecode behind the time of a key."),
  "inlayHints.solved": yes("Show solved axes behind an aim and behind a camera point."),
  "inlayHints.peaks": yes("Show the highest share of a limit on the way to each key."),
  "codeLens.stage": yes("Show above a move a lens that opens its stage."),
  "codeLens.peaks": yes("Show above a move how near it comes to each limit, and the number of its findings."),
  "codeLens.play": yes(
    "Show above each key a lens that plays from it. Of very long moves the first 500 keys have one.",
  ),
  "codeLens.uses": yes(
    "Show above rigs, cameras and sets how many moves use them, and above each axis the move that needs it most.",
  ),
  "format.alignKeys": yes(
    "Line up the columns of key tables when formatting: items of a list, one below the other, each in braces or brackets on a line of its own.",
  ),
  "review.markNew": yes("Say at findings that are new since the base that was chosen for reviews that they are."),
  "trace.server": {
    type: "word",
    default: "off",
    words: {
      off: "Nothing is written down.",
      messages: "Each message by its name.",
      verbose: "Each message with what is in it.",
    },
    description: "Write down in the output what the editor and the language server say to each other.",
  },
} as const satisfies Readonly<Record<string, SettingRow>>;

export type SettingName = keyof typeof SETTINGS;

/** A value for each setting. */
export type Settings = {
  readonly [Name in SettingName]: (typeof SETTINGS)[Name]["type"] extends "boolean"
    ? boolean
    : (typeof SETTINGS)[Name]["type"] extends "integer"
      ? number
      : string;
};

/** The section of the editor's settings that is ours. */
export const SETTINGS_SECTION = "movewright";

function yes(description: string): { type: "boolean"; default: boolean; description: string } {
  return { type: "boolean", default: true, description };
}
