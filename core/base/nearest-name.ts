/** Edits (a letter put in, taken out, changed, or two swapped) from `a` to `b`; more than `most` is returned as `most + 1`. */
export function editDistance(a: string, b: string, most: number): number {
  if (Math.abs(a.length - b.length) > most) return most + 1;
  let before: number[] = [];
  let lastLeast = 0;
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const change = last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      let cost = Math.min(change, last[j] + 1, row[j - 1] + 1);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) cost = Math.min(cost, before[j - 2] + 1);
      row.push(cost);
      least = Math.min(least, cost);
    }
    // A swap reaches back two rows.
    if (least > most && lastLeast > most) return most + 1;
    lastLeast = least;
    before = last;
    last = row;
  }
  return Math.min(last[b.length], most + 1);
}

/** Longest name that a nearest one is looked for [UTF-16 units]; names of ours are short. */
const LONGEST = 60;

/** The known name that `written` was most likely meant to be, or `undefined` when none is near. */
export function nearestName(written: string, known: Iterable<string>): string | undefined {
  if (written.length > LONGEST) return undefined;
  const wanted = fold(written);
  const most = wanted.length < 2 ? 0 : Math.max(1, Math.floor(wanted.length / 3));
  let best: string | undefined;
  let bestDistance = most + 1;
  for (const name of known) {
    const distance = editDistance(wanted, fold(name), bestDistance - 1);
    if (distance < bestDistance) {
      best = name;
      bestDistance = distance;
    }
    if (bestDistance === 0) break;
  }
  return best;
}

/** Case and the joints between words do not count: `closeFocus` is `close-focus`. */
const fold = (name: string): string => name.replace(/[-_ ]/g, "").toLowerCase();
