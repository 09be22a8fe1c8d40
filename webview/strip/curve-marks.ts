import type uPlot from "uplot";
import type { Palette } from "../palette.ts";
import type { Columns } from "./columns.ts";
import type { Band, CurveSpec } from "./curve-spec.ts";
import { traceLine } from "./trace.ts";
import { traceFrame } from "./trace-frame.ts";

/** Lines down through the plot at the keys that are in the window. */
export function drawKeys(plot: uPlot, keyTimes: readonly number[], palette: Palette): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = palette.css["grid-strong"];
  ctx.setLineDash([1, 4].map((part) => part * devicePixelRatio));
  ctx.beginPath();
  for (const time of keyTimes) {
    const x = Math.round(plot.valToPos(time, "x", true)) + 0.5;
    if (x < bbox.left || bbox.left + bbox.width + 1 < x) continue;
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
  }
  ctx.stroke();
  ctx.restore();
}

export function drawLevels(plot: uPlot, { levels }: CurveSpec, palette: Palette): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.strokeStyle = palette.css["share-over"];
  ctx.fillStyle = palette.css.quiet;
  ctx.lineWidth = devicePixelRatio;
  ctx.font = `${10 * devicePixelRatio}px ${palette.font}`;
  ctx.textAlign = "right";
  for (const level of levels) {
    const y = Math.round(plot.valToPos(level.at, "y", true)) + 0.5;
    if (y < bbox.top || bbox.top + bbox.height < y) continue;
    ctx.setLineDash([7, 4].map((part) => part * devicePixelRatio));
    ctx.beginPath();
    ctx.moveTo(bbox.left, y);
    ctx.lineTo(bbox.left + bbox.width, y);
    ctx.stroke();
    const above = y - bbox.top > bbox.height / 2;
    ctx.textBaseline = above ? "bottom" : "top";
    const off = (above ? -2 : 3) * devicePixelRatio;
    ctx.fillText(level.name, bbox.left + bbox.width - 4 * devicePixelRatio, y + off);
  }
  ctx.restore();
}

/** Share of the ink that fills a band: the lines in it stay to be read. */
const FILL = 0.13;

export function drawBands(plot: uPlot, { bands }: CurveSpec, palette: Palette, columns: Columns): void {
  const { ctx, bbox } = plot;
  if (bands.length === 0) return;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.globalAlpha = FILL;
  ctx.fillStyle = palette.css["share-calm"];
  for (const band of bands) fillBand(plot, band, columns);
  ctx.restore();
}

/** What lies above the upper line is cut off from what lies above the lower one: neither has to be turned round. */
function fillBand(plot: uPlot, { low, high }: Band, columns: Columns): void {
  const { ctx } = plot;
  const area = areaAbove(plot, low, columns);
  area.addPath(areaAbove(plot, high, columns));
  ctx.fill(area, "evenodd");
}

/** From a line to the top of the plot, and on beyond it; where the line has no number it is as if it went along that top. */
function areaAbove(plot: uPlot, extents: Band["low"], columns: Columns): Path2D {
  const frame = traceFrame(plot, columns);
  const path = new Path2D();
  const top = plot.bbox.top - plot.bbox.height;
  let last = 0;
  let isOpen = false;
  const close = (): void => {
    if (isOpen) path.lineTo(last, top);
    isOpen = false;
  };
  traceLine(extents, frame, {
    moveTo(x, y) {
      close();
      path.moveTo(x, top);
      path.lineTo(x, y);
      last = x;
      isOpen = true;
    },
    lineTo(x, y) {
      path.lineTo(x, y);
      last = x;
    },
  });
  close();
  return path;
}
