import type { Dimension } from "../base/dimension.ts";
import type { FindingCode, Severity } from "../base/finding-code.ts";
import type { OriginId } from "../base/origin-id.ts";
import type { TextCure } from "../base/problem.ts";
import type { Place } from "../base/span.ts";
import type { Vec3 } from "../base/vec3.ts";

/** A field that, added to the map of a finding's place, such as its key, cures it: its name and value as written. */
export interface AddedField {
  readonly field: string;
  readonly value: string;
  /** A value of the map that it is added to, where that is not the finding's own: a field of the move beside its `rig`. */
  readonly beside?: OriginId;
}

/** A straight way between two points of the set [m]. */
export interface Segment {
  readonly from: Vec3;
  readonly to: Vec3;
}

/** A value that, written in place of the one at `origin`, cures it. The document may be another one than the move's. */
export interface SetValue {
  readonly origin: OriginId;
  /** As written: `1.2 m`. */
  readonly value: string;
  /** What is done, as a quick fix says it: `Set \`mass\` of the counterweight to 9.4 kg`. */
  readonly title: string;
}

/** What one check found, as data: SI, origins instead of places, no message yet. */
export interface Finding {
  readonly code: FindingCode;
  readonly severity: Severity;
  readonly origin: OriginId;
  /** The limit's own field, the other key of a segment. */
  readonly related: readonly {
    readonly origin: OriginId;
    readonly note:
      "limit" | "from-key" | "to-key" | "target" | "mass" | "see" | "tolerance" | "repeat" | "pass" | "part";
  }[];
  readonly key?: string;
  readonly axis?: string;
  /** Played time [s]; `from === to` for one instant. */
  readonly time?: { readonly from: number; readonly to: number };
  /** When it is worst [s]. */
  readonly peak?: number;
  /** SI; `Infinity` when unbounded. */
  readonly measured?: number;
  readonly limit?: number;
  readonly dimension?: Dimension;
  readonly evidence: "exact" | "bracketed" | "sampled" | "unbounded";
  /** What else the message of this code needs, by name. Numbers in SI. */
  readonly facts: Readonly<Record<string, number | string>>;
  /** Each cures it by itself. */
  readonly adds?: readonly AddedField[];
  /** Each cures it by itself. */
  readonly sets?: readonly SetValue[];
  /** Ends of the shortest way between two things at `peak`, in the set [m]. */
  readonly segment?: Segment;
}

/** A finding with its place, message and figures in the units that people read: what views, diagnostics and reports use. */
export interface PlacedFinding {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** One or two sentences: where, value, what is allowed, the cure. */
  readonly message: string;
  readonly place: Place;
  readonly related: readonly { readonly place: Place; readonly message: string }[];
  readonly key?: string;
  readonly axis?: string;
  readonly time?: { readonly from: number; readonly to: number };
  readonly peak?: number;
  /** In `unit`. */
  readonly value?: number;
  readonly limit?: number;
  readonly unit?: string;
  /** The reason given in an `allow`. */
  readonly allowed?: string;
  /** The pass that it is of, where the move as it stands does not have it. */
  readonly pass?: string;
  readonly cures: readonly TextCure[];
  readonly segment?: Segment;
  /** What is too near to what, or the part that is in the picture, by the names that the message uses. */
  readonly bodies?: { readonly part: string; readonly target: string };
}
