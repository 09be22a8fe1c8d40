import type { Keeper } from "../keeper.ts";
import type { Pictures } from "../pictures.ts";
import type { PaneKind } from "./pane-kind.ts";
import { FRESH_PANES, nextCount, withCount, withKind, type PaneCount, type PaneSet } from "./pane-set.ts";

/** What the panes show: changed by header, bar and keys, kept, and shown. */
export interface Arranging {
  now(): PaneSet;
  arrange(set: PaneSet): void;
  setCount(count: PaneCount): void;
  /** One, two or four panes in turn. */
  nextCount(): void;
  /** @param pane The active one by default. */
  setKind(kind: PaneKind, pane?: number): void;
  activate(pane: number): void;
  /** Shows all of the scene again. @param pane The active one by default. */
  fit(pane?: number): void;
  /** Somebody looked around. */
  keepViewpoints(): void;
  /** Another move: nobody has looked around in it yet. */
  forgetViewpoints(): void;
}

/** @param changed Called when the panes are others, or show something else. */
export function createArranging(keeper: Keeper, pictures: Pictures, changed: (set: PaneSet) => void): Arranging {
  const own: Arranging = {
    now() {
      const { panes, spare, active } = keeper.now();
      return { panes, spare, active, viewpoints: pictures.viewpoints() };
    },
    arrange(set) {
      const { panes, spare, active, viewpoints } = set;
      keeper.keep({ panes, spare, active, viewpoints });
      pictures.arrange(set);
      changed(set);
    },
    setCount: (count) => own.arrange(withCount(own.now(), count)),
    nextCount: () => own.setCount(nextCount(own.now())),
    setKind: (kind, pane = keeper.now().active) => own.arrange(withKind(own.now(), pane, kind)),
    activate(active) {
      if (active !== keeper.now().active) own.arrange({ ...own.now(), active });
    },
    fit(pane = keeper.now().active) {
      pictures.fit(pane);
      own.keepViewpoints();
      changed(own.now());
    },
    keepViewpoints: () => keeper.keep({ viewpoints: pictures.viewpoints() }),
    forgetViewpoints: () => own.arrange({ ...own.now(), viewpoints: FRESH_PANES.viewpoints }),
  };
  return own;
}
