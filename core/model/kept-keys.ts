import type { Problem } from "../base/problem.ts";
import { sameData } from "../base/same-data.ts";
import type { Span } from "../base/span.ts";
import type { ResolvedKey } from "../motion/resolved-move.ts";
import type { KeyFields, MoveContext } from "./move-context.ts";

/** What one key gives by itself: it depends on its declaration, the context and what stands here before `key`. */
export interface KeyPart {
  /** Position in the text. */
  readonly index: number;
  readonly label: string;
  /** Whether an aim holds just before this key. */
  readonly aimed: boolean;
  /** All but its time, which depends on the keys before. */
  readonly key: Omit<ResolvedKey, "time">;
  /** Whether an aim holds from this key on. */
  readonly aims: boolean;
  readonly undetermined: boolean;
  /** Spans of these and of the key's origins count from the key's start. */
  readonly problems: readonly Problem[];
  readonly spans: readonly Span[];
}

/** What the versions of one document hand on, so that what is the same need not be resolved again. */
export interface Kept {
  keys?: KeptKeys;
}

/** Keys that were resolved in one context, by their declarations. */
export interface KeptKeys {
  readonly context: Omit<MoveContext, "scope">;
  readonly parts: WeakMap<KeyFields, KeyPart>;
  /** The resolved keys of parts, with the times that they had last. */
  readonly timed: WeakMap<KeyPart, ResolvedKey>;
}

/** The context with all that is as before put in the place of what is equal to it; what was kept for another is dropped. */
export function settleContext(
  kept: Kept,
  context: MoveContext,
): { readonly context: MoveContext; readonly keys: KeptKeys } {
  const { scope, ...fresh } = context;
  const before = kept.keys?.context as Readonly<Record<string, unknown>> | undefined;
  const settled = Object.fromEntries(
    Object.entries(fresh).map(([name, value]) => [name, sameData(value, before?.[name]) ? before?.[name] : value]),
  ) as typeof fresh;
  const isSame =
    kept.keys !== undefined &&
    Object.entries(settled).every(([name, value]) => value === before?.[name]) &&
    Object.keys(settled).length === Object.keys(kept.keys.context).length;
  const keys = isSame && kept.keys ? kept.keys : { context: settled, parts: new WeakMap(), timed: new WeakMap() };
  kept.keys = keys;
  return { context: { ...settled, scope }, keys };
}
