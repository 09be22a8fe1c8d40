import type { Vec2 } from "../base/vec3.ts";
import { xmlText } from "../base/xml-text.ts";

/** Digits after the point of every place on the page: pictures of the same move are the same to the byte. */
const DIGITS = 2;

/** A number of px as it is written: `12`, `12.5`, never `-0`. */
export function pixels(value: number): string {
  const text = value.toFixed(DIGITS).replace(/\.?0+$/, "");
  return text === "-0" ? "0" : text;
}

/** Attributes with their values, in the order in which they are given; those without a value are left out. */
export type Attributes = Readonly<Record<string, string | number | undefined>>;

export function tag(name: string, attributes: Attributes, content?: string): string {
  const written = Object.entries(attributes)
    .flatMap(([key, value]) =>
      value === undefined ? [] : [` ${key}="${typeof value === "number" ? pixels(value) : xmlText(value)}"`],
    ) // prettier-ignore
    .join("");
  return content === undefined ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

/** The data of a path through places; `close` joins its ends. */
export function way(points: readonly Vec2[], close?: "close"): string {
  const written = points.map(([x, y]) => `${pixels(x)} ${pixels(y)}`);
  return points.length === 0 ? "" : `M${written.join("L")}${close ? "Z" : ""}`;
}
