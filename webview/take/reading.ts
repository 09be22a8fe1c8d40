import type { MoveAxis } from "../../core/motion/resolved-move.ts";

const DEG = 180 / Math.PI;
const UNITS = {
  linear: ["m", "m/s", "m/s²", "m/s³"],
  rotary: ["°", "°/s", "°/s²", "°/s³"],
} as const;

/** Unit that people read a derivative of an axis in. */
export function unitOf(type: MoveAxis["type"], order: number): string {
  return UNITS[type][order];
}

/** SI to that unit. */
export function readFactor(type: MoveAxis["type"]): number {
  return type === "rotary" ? DEG : 1;
}

/** `1.240 m`, `-12.50 °/s`; a dash for what is no number. */
export function reading(type: MoveAxis["type"], order: number, si: number): string {
  if (Number.isNaN(si)) return "–";
  if (!Number.isFinite(si)) return "unbounded";
  const text = (si * readFactor(type)).toFixed(type === "linear" ? 3 : 2);
  return `${Number(text) === 0 ? text.replace("-", "") : text} ${unitOf(type, order)}`;
}

/** `87 %`; a dash when there is no limit. What breaks a limit never reads as 100 %. */
export function shareReading(share: number): string {
  if (Number.isNaN(share)) return "–";
  if (!Number.isFinite(share)) return "unbounded";
  const percent = share * 100;
  if (percent > 100 && percent < 100.5) return `${percent > 100.0001 ? "over 100" : "100"} %`;
  return `${Math.round(percent > 99.5 && percent < 100 ? Math.floor(percent) : percent)} %`;
}

/** `35 mm`, `24.5 mm`. */
export function focalReading(focal: number): string {
  return `${Number((focal * 1000).toFixed(1))} mm`;
}

/** `1.84 m`; `—` when there is none. */
export function distanceReading(distance: number): string {
  return Number.isFinite(distance) ? `${distance.toFixed(distance < 1 ? 3 : 2)} m` : "–";
}
