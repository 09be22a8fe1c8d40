import type { Vec2 } from "../base/vec3.ts";

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
      value === undefined ? [] : [` ${key}="${typeof value === "number" ? pixels(value) : escaped(value)}"`],
    ) // prettier-ignore
    .join("");
  return content === undefined ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

/** The data of a path through places; `close` joins its ends. */
export function way(points: readonly Vec2[], close?: "close"): string {
  const written = points.map(([x, y]) => `${pixels(x)} ${pixels(y)}`);
  return points.length === 0 ? "" : `M${written.join("L")}${close ? "Z" : ""}`;
}

const ENTITIES: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** Text for XML 1.0, which has no room for most control characters and none for half a character. */
export function escaped(text: string): string {
  return text
    .replace(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu, "\ufffd")
    .replace(/[&<>"]/g, (letter) => ENTITIES[letter]);
}
