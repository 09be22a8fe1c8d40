import type { Problem } from "../base/problem.ts";
import { sameData } from "../base/same-data.ts";
import type { Span } from "../base/span.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import type { Stated } from "./declared.ts";
import type { MoveContext } from "./move-context.ts";
import type { TimelessKey } from "./played-keys.ts";

/** What one key gives by itself: it depends on its declaration, the context, and what stands here before `start`. */
export interface KeyPart {
  /** Position in the text. */
  readonly index: number;
  readonly label: string;
  /** Whether an aim holds just before this key. */
  readonly aimed: boolean;
  /** Where the key began when this was made: spans in here are those of then. */
  readonly start: number;
  /** All but what depends on the times of other keys. */
  readonly key: TimelessKey;
  /** Texts of the ramps of its ease and of its switch, written time [s]. */
  readonly easeRamp?: Stated<number>;
  readonly switchRamp?: Stated<number>;
  /** Whether an aim holds from this key on. */
  readonly aims: boolean;
  readonly undetermined: boolean;
  readonly problems: readonly Problem[];
  /** Of the key's origins. */
  readonly spans: readonly Span[];
}

/** What the versions of one document hand on, so that what is the same need not be resolved again. */
export interface Kept {
  keys?: KeptKeys;
}

/** Keys as they were resolved in one context. */
export interface KeptKeys {
  readonly context: Omit<MoveContext, "scope">;
  /** By what their declarations say, see `StatedList`. */
  readonly parts: WeakMap<object, KeyPart>;
  /** What the parts were played as the last time. */
  readonly played: WeakMap<KeyPart, ResolvedKey>;
}

/** What was kept for this context, and the context with the same objects in it as then. Another context drops all. */
export function keptFor(
  kept: Kept,
  context: MoveContext,
): { readonly context: MoveContext; readonly keptKeys: KeptKeys } {
  const { scope, ...fresh } = context;
  const before: Readonly<Record<string, unknown>> = { ...kept.keys?.context };
  const settled = Object.fromEntries(
    Object.entries(fresh).map(([name, value]) => [name, sameData(value, before[name]) ? before[name] : value]),
  ) as unknown as typeof fresh;
  const isSame = kept.keys && Object.entries(settled).every(([name, value]) => value === before[name]);
  const keptKeys = isSame && kept.keys ? kept.keys : { context: settled, parts: new WeakMap(), played: new WeakMap() };
  kept.keys = keptKeys;
  return { context: { ...settled, scope }, keptKeys };
}
