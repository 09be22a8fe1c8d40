import type { Chain } from "./chain.ts";

/**
 * How far each axis may go when the ranges of what follows it are counted too. Shapes (n,): `low` and `high` in the axis's
 * own unit, infinite where nothing stops it; `lowBy` and `highBy` name the joint whose range it is, -1 for none.
 */
export interface Travel {
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly lowBy: Int32Array;
  readonly highBy: Int32Array;
}

/** Followers' own entries are left infinite: their leaders carry their ranges. Where ranges exclude each other, low > high. */
export function travel(chain: Chain): Travel {
  const { count, rig } = chain;
  const result: Travel = {
    low: new Float64Array(count).fill(-Infinity),
    high: new Float64Array(count).fill(Infinity),
    lowBy: new Int32Array(count).fill(-1),
    highBy: new Int32Array(count).fill(-1),
  };
  // value of joint i = rootRatio · root + shift
  const shift = new Float64Array(count);
  for (const i of chain.followers) shift[i] = chain.ratio[i] * shift[chain.leader[i]] + chain.offset[i];
  rig.joints.forEach(({ range }, i) => {
    const ratio = chain.rootRatio[i];
    if (!range || ratio === 0) return;
    const root = chain.root[i];
    const [a, b] = [(range.low - shift[i]) / ratio, (range.high - shift[i]) / ratio];
    const [low, high] = a <= b ? [a, b] : [b, a];
    if (result.low[root] < low) {
      result.low[root] = low;
      result.lowBy[root] = i;
    }
    if (high < result.high[root]) {
      result.high[root] = high;
      result.highBy[root] = i;
    }
  });
  return result;
}
