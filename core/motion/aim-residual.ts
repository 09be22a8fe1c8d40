import { pointCount, type AimProblem, type AimRoom } from "./aim-problem.ts";
import { focusedPupilPush, focusedPupilTerm } from "./aim-focus.ts";
import { productTerm, quotientTerm, ROOM, rootTerm } from "./series.ts";

/*
 * The aim's equations, exact with the pupil off the axes. With the line of sight (X, Y, Z) in the camera's frame and the
 * wanted picture point x, y: Y + x X = 0 and Z + y X = 0. The line of sight is the target seen from the pupil, or in a
 * switch the blend (1 - s) A/|A| + s B/|B|. The horizon: U_y cos r - U_z sin r = 0 for the up direction U. On a path the
 * place that the pupil is to have is at the pupil.
 */

/** Writes coefficient `k` of all residuals, from things that have come down to the flange up to order `k`. */
export function writeResidualTerm(problem: AimProblem, room: AimRoom, k: number): void {
  const { place, things } = room.fall;
  const { residual } = room;
  const last = (problem.descent.count + 1) * things * 3 * ROOM;
  let row = 0;
  if (room.focus && room.focus.active[0] === 1) {
    room.pupil[k] = focusedPupilTerm(room.focus, place, last + pointCount(problem) * 3 * ROOM, k);
  }
  if (0 < problem.targets) {
    for (let p = 0; p < problem.targets; p++) {
      // From the flange to the pupil, once for each order.
      const at = last + p * 3 * ROOM;
      place[at + k] -= room.pupil[k];
    }
    const sight = problem.targets === 1 ? place : room.sight;
    const at = problem.targets === 1 ? last : 0;
    if (problem.targets === 2) writeBlendTerm(room, last, k);
    if (k === 0) writeScale(room, sight, at);
    const size = room.scale[0];
    const { x, y } = room.wanted;
    let across = sight[at + ROOM + k];
    let down = sight[at + 2 * ROOM + k];
    for (let n = 0; n <= k; n++) {
      across += x[n] * sight[at + k - n];
      down += y[n] * sight[at + k - n];
    }
    residual[0] = (problem.row === 1 ? down : across) * size;
    residual[1] = down * size;
    row = problem.row < 0 ? 2 : 1;
  }
  if (problem.level) {
    const up = last + room.fall.points * 3 * ROOM;
    residual[row] =
      productTerm(place, up + ROOM, room.rollCos, 0, k) - productTerm(place, up + 2 * ROOM, room.rollSin, 0, k);
    row += 1;
  }
  if (problem.placed) {
    const at = last + problem.targets * 3 * ROOM + k;
    residual[row] = place[at] - room.pupil[k];
    residual[row + 1] = place[at + ROOM];
    residual[row + 2] = place[at + 2 * ROOM];
  }
}

/** True while the line of sight points forward, so that the picture point is the target's and not its mirror's. */
export function looksForward(problem: AimProblem, room: AimRoom): boolean {
  if (problem.targets === 0) return true;
  const last = (problem.descent.count + 1) * room.fall.things * 3 * ROOM;
  return 0 < (problem.targets === 1 ? room.fall.place[last] : room.sight[0]);
}

/**
 * Derivatives of the residuals by the unknowns at order 0, from `push`, which must be new: points in it are then seen from
 * the pupil. After `writeResidualTerm(…, 0)`.
 */
export function writeJacobian(problem: AimProblem, room: AimRoom): void {
  const { things } = room.fall;
  const n = problem.unknown.length;
  const x = room.wanted.x[0];
  const y = room.wanted.y[0];
  for (let u = 0; u < n; u++) {
    const push = u * things * 3;
    let row = 0;
    if (room.focus && room.focus.active[0] === 1) {
      // What the pupil gains on the points, they lose.
      const gain = focusedPupilPush(room.focus, room.push, push + pointCount(problem) * 3);
      for (let p = 0; p < pointCount(problem); p++) room.push[push + 3 * p] -= gain;
    }
    if (0 < problem.targets) {
      let dx = room.push[push];
      let dy = room.push[push + 1];
      let dz = room.push[push + 2];
      if (problem.targets === 2) {
        writeUnitPush(room, push, 0);
        writeUnitPush(room, push + 3, 1);
        const p = room.unitPush;
        const s = room.share[0];
        dx = p[0] + s * (p[3] - p[0]);
        dy = p[1] + s * (p[4] - p[1]);
        dz = p[2] + s * (p[5] - p[2]);
      }
      const size = room.scale[0];
      const across = (dy + x * dx) * size;
      const down = (dz + y * dx) * size;
      room.jacobian[u] = problem.row === 1 ? down : across;
      if (problem.row < 0) room.jacobian[n + u] = down;
      row = problem.row < 0 ? 2 : 1;
    }
    if (problem.level) {
      const up = push + room.fall.points * 3;
      room.jacobian[row * n + u] = room.push[up + 1] * room.rollCos[0] - room.push[up + 2] * room.rollSin[0];
      row += 1;
    }
    if (problem.placed) {
      const at = push + problem.targets * 3;
      for (let axis = 0; axis < 3; axis++) room.jacobian[(row + axis) * n + u] = room.push[at + axis];
    }
  }
}

function writeBlendTerm(room: AimRoom, last: number, k: number): void {
  const { square, length, unit, sight, share } = room;
  const { place } = room.fall;
  for (let p = 0; p < 2; p++) {
    const at = last + p * 3 * ROOM;
    let sum = 0;
    for (let axis = 0; axis < 3; axis++) sum += productTerm(place, at + axis * ROOM, place, at + axis * ROOM, k);
    square[p * ROOM + k] = sum;
    length[p * ROOM + k] = rootTerm(square, p * ROOM, length, p * ROOM, k);
    for (let axis = 0; axis < 3; axis++) {
      const to = (p * 3 + axis) * ROOM;
      unit[to + k] = quotientTerm(place, at + axis * ROOM, length, p * ROOM, unit, to, k);
    }
  }
  for (let axis = 0; axis < 3; axis++) {
    const a = axis * ROOM;
    const b = (3 + axis) * ROOM;
    // A/|A| + s (B/|B| - A/|A|).
    sight[a + k] = unit[a + k] + productTerm(share, 0, unit, b, k) - productTerm(share, 0, unit, a, k);
  }
}

/** d(V/|V|) = (dV - u (u · dV)) / |V| for target `p`, dV from `push[at ..]`, into `unitPush`. */
function writeUnitPush(room: AimRoom, at: number, p: number): void {
  const { unit, push, unitPush } = room;
  const u = p * 3 * ROOM;
  const along = unit[u] * push[at] + unit[u + ROOM] * push[at + 1] + unit[u + 2 * ROOM] * push[at + 2];
  const length = room.length[p * ROOM];
  const per = 0 < length ? 1 / length : 0;
  for (let axis = 0; axis < 3; axis++) {
    unitPush[3 * p + axis] = (push[at + axis] - unit[u + axis * ROOM] * along) * per;
  }
}

/** One over the length of the sight at order 0, so that residuals are angles whatever the distance. */
function writeScale(room: AimRoom, sight: Float64Array, at: number): void {
  const x = sight[at];
  const y = sight[at + ROOM];
  const z = sight[at + 2 * ROOM];
  const square = x * x + y * y + z * z;
  room.scale[0] = 0 < square ? 1 / Math.sqrt(square) : 0;
}
