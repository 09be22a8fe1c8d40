import { gzipSync } from "node:zlib";
import type { CheckReport } from "../../core/exchange/check-report.ts";
import { MOST_RESULTS, renderSarif } from "../../core/exchange/sarif.ts";

/** A code host takes 10 MB packed by gzip; it may pack a little less well. */
const MOST_PACKED = 9_500_000;

/** A log that a code host takes: when it is too large packed, it keeps fewer of the worst results. */
export function fittingSarif(report: CheckReport, helpPage: string | undefined, room = MOST_PACKED): string {
  for (let most = MOST_RESULTS; ; most = Math.floor(most / 2)) {
    const log = renderSarif(report, { helpPage, most });
    if (most === 0 || log.length <= room || gzipSync(log).length <= room) return log;
  }
}
