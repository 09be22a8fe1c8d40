/** Share of the largest pivot below which a system is taken as singular and damped. */
const SINGULAR = 1e-14;

/**
 * Solves J x = r in the least-squares sense for at most three unknowns; exact where J is square and regular. Nearly
 * singular directions are damped, so the result is always finite for finite input. Allocates nothing.
 *
 * @param jacobian Shape (rows, columns), row-major.
 * @param residual Shape (rows,).
 * @param out      Shape (columns,).
 */
export function leastSquaresStep(
  jacobian: Float64Array,
  residual: Float64Array,
  rows: number,
  columns: number,
  out: Float64Array,
): void {
  const j = jacobian;
  const r = residual;
  if (rows === 1 && columns === 1) {
    out[0] = j[0] === 0 ? 0 : r[0] / j[0];
    return;
  }
  if (rows === 2 && columns === 2) {
    const det = j[0] * j[3] - j[1] * j[2];
    const size = (Math.abs(j[0]) + Math.abs(j[1])) * (Math.abs(j[2]) + Math.abs(j[3]));
    if (SINGULAR * size < Math.abs(det)) {
      out[0] = (j[3] * r[0] - j[1] * r[1]) / det;
      out[1] = (j[0] * r[1] - j[2] * r[0]) / det;
      return;
    }
  }
  if (rows === 3 && columns === 3) {
    const c0 = j[4] * j[8] - j[5] * j[7];
    const c1 = j[5] * j[6] - j[3] * j[8];
    const c2 = j[3] * j[7] - j[4] * j[6];
    const det = j[0] * c0 + j[1] * c1 + j[2] * c2;
    const size =
      (Math.abs(j[0]) + Math.abs(j[1]) + Math.abs(j[2])) *
      (Math.abs(j[3]) + Math.abs(j[4]) + Math.abs(j[5])) *
      (Math.abs(j[6]) + Math.abs(j[7]) + Math.abs(j[8]));
    if (SINGULAR * size < Math.abs(det)) {
      const b0 = j[2] * j[7] - j[1] * j[8];
      const b1 = j[0] * j[8] - j[2] * j[6];
      const b2 = j[1] * j[6] - j[0] * j[7];
      const a0 = j[1] * j[5] - j[2] * j[4];
      const a1 = j[2] * j[3] - j[0] * j[5];
      const a2 = j[0] * j[4] - j[1] * j[3];
      out[0] = (c0 * r[0] + b0 * r[1] + a0 * r[2]) / det;
      out[1] = (c1 * r[0] + b1 * r[1] + a1 * r[2]) / det;
      out[2] = (c2 * r[0] + b2 * r[1] + a2 * r[2]) / det;
      return;
    }
  }
  dampedStep(jacobian, residual, rows, columns, 1e-12, out);
}

/** (Jᵀ J + damping · trace · I)⁻¹ Jᵀ r for at most three unknowns. 0 where J is 0. */
export function dampedStep(
  jacobian: Float64Array,
  residual: Float64Array,
  rows: number,
  columns: number,
  damping: number,
  out: Float64Array,
): void {
  const normal = (a: number, b: number): number => {
    let sum = 0;
    if (a < columns && b < columns) {
      for (let row = 0; row < rows; row++) sum += jacobian[row * columns + a] * jacobian[row * columns + b];
    }
    return sum;
  };
  const side = (a: number): number => {
    let sum = 0;
    if (a < columns) for (let row = 0; row < rows; row++) sum += jacobian[row * columns + a] * residual[row];
    return sum;
  };
  const trace = normal(0, 0) + normal(1, 1) + normal(2, 2);
  for (let a = 0; a < columns; a++) out[a] = 0;
  if (!(0 < trace)) return;
  const d = damping * trace;
  const [m00, m01, m02] = [normal(0, 0) + d, normal(0, 1), normal(0, 2)];
  const [m11, m12, m22] = [normal(1, 1) + d, normal(1, 2), normal(2, 2) + d];
  const [s0, s1, s2] = [side(0), side(1), side(2)];
  // Cholesky of the symmetric 3 x 3; unused unknowns have a lone d on the diagonal.
  const l00 = Math.sqrt(m00);
  const l10 = m01 / l00;
  const l20 = m02 / l00;
  const l11 = Math.sqrt(Math.max(m11 - l10 * l10, d * 1e-3));
  const l21 = (m12 - l20 * l10) / l11;
  const l22 = Math.sqrt(Math.max(m22 - l20 * l20 - l21 * l21, d * 1e-3));
  const y0 = s0 / l00;
  const y1 = (s1 - l10 * y0) / l11;
  const y2 = (s2 - l20 * y0 - l21 * y1) / l22;
  const x2 = y2 / l22;
  const x1 = (y1 - l21 * x2) / l11;
  const x0 = (y0 - l10 * x1 - l20 * x2) / l00;
  out[0] = x0;
  if (1 < columns) out[1] = x1;
  if (2 < columns) out[2] = x2;
}
