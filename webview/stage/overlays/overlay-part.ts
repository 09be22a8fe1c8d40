import type { Object3D } from "three";
import type { Palette } from "../../palette.ts";
import type { Moment } from "../../take/moment.ts";
import type { Label } from "../labels.ts";

/** A part of the scene that the menu "Show" has an entry for. What is hidden is not brought up to date. */
export interface OverlayPart {
  readonly object: Object3D;
  update?(moment: Moment): void;
  /** It is shown from now on, or hidden. */
  show?(on: boolean): void;
  paint?(palette: Palette): void;
  /** @param width, height Of the pane that is drawn next [device px]; `ratio` of them are a CSS px. */
  setPicture?(width: number, height: number, ratio: number): void;
  /** Names in one pane. */
  labels?(pixelsOf: PixelsOf, pointer: Pointer | undefined): readonly Label[];
}

/** Pixels of places in the set, shape (count, 2), as `projectPlaces` gives them. */
export type PixelsOf = (places: ArrayLike<number>) => Float32Array;

/** Where a mouse is over a pane [CSS px from its top left]. */
export interface Pointer {
  readonly x: number;
  readonly y: number;
}
