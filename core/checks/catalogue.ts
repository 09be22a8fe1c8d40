import type { FindingCode } from "../base/finding-code.ts";
import { AXIS_ROWS } from "./catalogue/axis-rows.ts";
import { DOCUMENT_ROWS } from "./catalogue/document-rows.ts";
import { FOCUS_ROWS } from "./catalogue/focus-rows.ts";
import { IMAGE_ROWS } from "./catalogue/image-rows.ts";
import { LOAD_ROWS } from "./catalogue/load-rows.ts";
import { OWN_ROWS } from "./catalogue/own-rows.ts";
import { PEOPLE_ROWS } from "./catalogue/people-rows.ts";
import { PICTURE_ROWS } from "./catalogue/picture-rows.ts";
import type { CatalogueRow } from "./catalogue/row.ts";
import { SHOOT_ROWS } from "./catalogue/shoot-rows.ts";
import { SPACE_ROWS } from "./catalogue/space-rows.ts";

/** One row a code; the reference page of findings is written from it. */
export const CATALOGUE: Readonly<Record<FindingCode, CatalogueRow>> = {
  ...DOCUMENT_ROWS,
  ...AXIS_ROWS,
  ...PICTURE_ROWS,
  ...FOCUS_ROWS,
  ...IMAGE_ROWS,
  ...SPACE_ROWS,
  ...PEOPLE_ROWS,
  ...LOAD_ROWS,
  ...SHOOT_ROWS,
  ...OWN_ROWS,
};
