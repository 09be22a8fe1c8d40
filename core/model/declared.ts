import type * as z from "zod";
import type { Span } from "../base/span.ts";

/** A value as the text states it, with its place. */
export interface Stated<T> {
  readonly value: T;
  readonly span: Span;
}

/** A list. What was broken is `undefined`; the others keep their positions. */
export interface StatedList<T> extends Stated<readonly (T | undefined)[]> {
  /**
   * In a list whose items are read apart: what stands for what each item says, the same object for an item that was taken
   * over from an earlier version of the document, wherever it stands now.
   */
  readonly meanings?: readonly object[];
}

/** A map of fields. */
export interface StatedFields<T> extends Stated<T> {
  /** Where each stated field's name stands, broken ones included. */
  readonly names: ReadonlyMap<string, Span>;
}

/** An entry of a map with free names. */
export interface StatedEntry<T> {
  readonly nameSpan: Span;
  readonly item: T;
}

/**
 * What is left of a document after reading: every value has its place; what was broken or left out is `undefined`. Lists
 * keep their positions. Quantities whose unit is known are in SI, the others as written.
 */
export type Declared<S> =
  S extends z.ZodOptional<infer Inner>
    ? Declared<Inner> | undefined
    : S extends z.ZodObject<infer Fields>
      ? StatedFields<DeclaredFields<Fields>>
      : S extends z.ZodRecord<infer _Names, infer Item>
        ? Stated<ReadonlyMap<string, StatedEntry<Declared<Item>>>>
        : S extends z.ZodTuple<infer Items>
          ? Stated<readonly Declared<Items[number]>[]>
          : S extends z.ZodArray<infer Item>
            ? StatedList<Declared<Item>>
            : S extends z.ZodUnion<infer Options>
              ? Declared<Options[number]>
              : S extends z.ZodType<infer Output>
                ? Stated<Output>
                : never;

/** Fields of a map by name. */
export type DeclaredFields<Fields> = {
  readonly [Name in keyof Fields]: Declared<Fields[Name]> | undefined;
};
