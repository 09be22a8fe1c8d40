import type { MoveModel } from "./move-model.ts";
import { ROOM } from "./series.ts";

const TURN = 2 * Math.PI;

/**
 * Spans that were solved apart can meet whole turns from one another, which are the same pose: later ones are shifted so
 * that axes go on without a jump.
 */
export function joinTurns(model: MoveModel): void {
  for (let i = 1; i < model.spans.length; i++) {
    const before = model.spans[i - 1];
    const after = model.spans[i];
    if (!before.path || !after.path) continue;
    after.problem!.unknown.forEach((axis, u) => {
      if (model.move.axes[axis].type !== "rotary") return;
      const v = before.problem!.unknown.indexOf(axis);
      if (v < 0) return;
      const ends = before.path!.ends[v];
      const turns = Math.round((ends[ends.length - ROOM] - after.path!.ends[u][0]) / TURN);
      if (turns === 0) return;
      const { coefficients, degree } = after.path!.curves[u];
      for (let c = 0; c < coefficients.length; c += degree + 1) coefficients[c] += turns * TURN;
      for (let e = 0; e < after.path!.ends[u].length; e += ROOM) after.path!.ends[u][e] += turns * TURN;
    });
  }
}
