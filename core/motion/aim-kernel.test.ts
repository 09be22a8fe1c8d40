import assert from "node:assert/strict";
import { seededRandom } from "../base/random.ts";
import { pupilTable } from "../lens/pupil-table.ts";
import { randomMove } from "../../test/support/moves.ts";
import { runToEnd } from "../base/task.ts";
import { createEvaluateRoom, evaluateAxes } from "./evaluate.ts";
import type { MoveModel } from "./move-model.ts";
import { planModel } from "./plan.ts";
import { ROOM } from "./series.ts";
import { createSolveRoom, type SolveRoom } from "./solve-instant.ts";

/** A random move whose pupil stands still, so that the written-out solver is for its aims. */
function modelOf(seed: number): MoveModel {
  const { move } = randomMove(3 * seed + 1);
  return runToEnd(planModel({ ...move, optics: { ...move.optics, pupil: pupilTable([{ focal: 0.05, at: 0.07 }]) } }))
    .model;
}

function generalRoom(model: MoveModel): SolveRoom {
  const room = createSolveRoom(model);
  room.kernels.fits.fill(0);
  return room;
}

describe("the aim's kernel", () => {
  it("gives the general solver's values to 1e-12 rad and its rates to 1e-9", () => {
    let compared = 0;
    for (let seed = 0; seed < 30; seed++) {
      const model = modelOf(seed);
      const random = seededRandom(seed);
      const quick = createSolveRoom(model);
      const general = generalRoom(model);
      for (let n = 0; n < 200; n++) {
        const t = random() * model.duration;
        const status = evaluateAxes(model, quick, t, "right", 3);
        assert.equal(status, evaluateAxes(model, general, t, "right", 3));
        if (quick.kernels.written[0] === 0) continue;
        compared += 1;
        for (let at = 0; at < ROOM * model.move.axes.length; at++) {
          const order = at % ROOM;
          if (3 < order) continue;
          const want = general.series[at];
          const off = Math.abs(quick.series[at] - want);
          const most = order === 0 ? 1e-12 : 1e-9 * Math.max(1, Math.abs(want));
          assert.ok(off <= most, `seed ${seed}, t ${t}, axis ${Math.floor(at / ROOM)}, order ${order}: off by ${off}`);
        }
      }
    }
    assert.ok(700 < compared, `${compared} instants compared`);
  });

  it("gives values alone as it gives them with rates", () => {
    const model = modelOf(2);
    const room = createSolveRoom(model);
    for (let n = 0; n < 20; n++) {
      const t = (model.duration * n) / 20;
      evaluateAxes(model, room, t, "right", 3);
      const values = model.move.axes.map((_, axis) => room.series[axis * ROOM]);
      evaluateAxes(model, room, t, "right", 0);
      assert.deepEqual(
        model.move.axes.map((_, axis) => room.series[axis * ROOM]),
        values,
      );
    }
  });

  it("leaves lone axes, horizons, and pupils that move to the general solver", () => {
    for (let seed = 0; seed < 12; seed++) {
      const { model } = runToEnd(planModel(randomMove(seed).move));
      const { fits } = createEvaluateRoom(model).solve.kernels;
      model.spans.forEach(({ problem }, span) => {
        if (fits[span] === 0) return;
        assert.ok(problem && !problem.level && !problem.placed && problem.unknown.length === 2);
        assert.ok(!Number.isNaN(model.stillPupil));
      });
    }
  });
});
