import { element, setText } from "../element.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { reading, shareReading } from "../take/reading.ts";
import { bandOf, limitOf, limitShare, rangeShare, tableOf } from "../take/share.ts";
import { createNudge, type NudgeEvents } from "./nudge.ts";

export interface Values {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined): void;
  update(moment: Moment): void;
}

const HEADS = ["Axis", "Position", "of range", "Speed", "of limit", "Acceleration", "of limit", "Jerk", "of limit"];
const ROLES = { driven: "", setup: "set up", follows: "follows", turntable: "turntable" } as const;

/**
 * The axes' values as a table: what the picture shows, for those who do not see it or want the numbers. Axes that keys give
 * are nudged from there.
 */
export function createValues(events: NudgeEvents): Values {
  const body = element("tbody", {});
  const table = element(
    "table",
    { class: "values" },
    element("caption", { class: "unseen" }, "Axes at the shown instant"),
    element("thead", {}, element("tr", {}, ...HEADS.map((head) => element("th", { scope: "col" }, head)))),
    body,
  );
  const object = element("div", {}, table);
  let open: OpenTake | undefined;
  let rows: HTMLTableCellElement[][] = [];
  let named = "";
  return {
    object,
    load(next) {
      open = next;
      // Who nudges an axis keeps hold of its row.
      const names = JSON.stringify(next?.stage.axes.map(({ name, role, type }) => [name, role, type]) ?? []);
      if (names === named) return;
      named = names;
      rows = [];
      body.replaceChildren();
      for (const [index, axis] of (next?.stage.axes ?? []).entries()) {
        const cells = Array.from({ length: 8 }, () => element("td", {}));
        const role = ROLES[axis.role];
        const isKeyed = axis.role === "driven" || axis.role === "turntable";
        const what = isKeyed ? createNudge(axis, index, events) : axis.name;
        const name = element("th", { scope: "row" }, what, role ? element("small", {}, ` ${role}`) : undefined);
        body.append(element("tr", {}, name, ...cells));
        rows.push(cells);
      }
    },
    update(moment) {
      if (open === undefined) return;
      const { axes } = open.stage;
      const near = Math.min(moment.sample + (moment.way > 0.5 ? 1 : 0), open.take.count - 1);
      rows.forEach((cells, axis) => {
        const { type } = axes[axis];
        setText(cells[0], reading(type, 0, moment.values[axis]));
        setShare(cells[1], rangeShare(axes[axis], moment.values[axis]), "range");
        for (let order = 1; order <= 3; order++) {
          const value = tableOf(open as OpenTake, order)[near * axes.length + axis];
          setText(cells[2 * order], reading(type, order, value));
          const share =
            limitOf(axes[axis], order) === undefined ? NaN : limitShare(open as OpenTake, axis, order, near);
          setShare(cells[2 * order + 1], share, "limit");
        }
      });
    },
  };
}

/** A range may be used to its ends; a limit is marked from 90 % on. */
function setShare(cell: HTMLTableCellElement, share: number, of: "range" | "limit"): void {
  const band = bandOf(share);
  const marked = of === "limit" || band === "over" ? band : "calm";
  setText(cell, `${marked === "over" ? "▲ " : ""}${shareReading(share)}`);
  const name = `share share-${marked}`;
  if (cell.className !== name) cell.className = name;
}
