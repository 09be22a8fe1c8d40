import { isRecord } from "../base/is-record.ts";
import { CATALOGUE } from "../checks/catalogue.ts";
import { DOCUMENT_KINDS } from "../model/document-kind.ts";
import type { CheckedDocument } from "./checked-document.ts";

type Test = (value: unknown) => boolean;
type Fields = Readonly<Record<string, Test>>;

const isText: Test = (value) => typeof value === "string";
const isNumber: Test = (value) => typeof value === "number" && Number.isFinite(value);
const isCount: Test = (value) => Number.isSafeInteger(value) && (value as number) >= 0;
const oneOf =
  (...values: readonly string[]): Test =>
  (value) =>
    values.includes(value as string);
const listOf =
  (item: Test): Test =>
  (value) =>
    Array.isArray(value) && value.every(item);
/** A map with all of `needed` and any of `others`, and nothing else. */
const mapOf =
  (needed: Fields, others: Fields = {}): Test =>
  (value) =>
    isRecord(value) &&
    Object.keys(needed).every((name) => Object.hasOwn(value, name)) &&
    Object.entries(value).every(([name, each]) =>
      Object.hasOwn(needed, name) ? needed[name](each) : Object.hasOwn(others, name) && others[name](each),
    );

const position = mapOf({ line: isCount, character: isCount });
const range = mapOf({ start: position, end: position });
const related = mapOf({ file: isText, range, message: isText });
const cure = mapOf({ title: isText, file: isText, edits: listOf(mapOf({ range, text: isText })) });

const finding = mapOf(
  {
    code: oneOf(...Object.keys(CATALOGUE)),
    severity: oneOf("error", "warning", "information", "hint"),
    message: isText,
    file: isText,
    range,
    related: listOf(related),
    element: isText,
    cures: listOf(cure),
  },
  {
    key: isText,
    axis: isText,
    time: mapOf({ from: isNumber, to: isNumber }),
    peak: isNumber,
    value: isNumber,
    limit: isNumber,
    unit: isText,
    allowed: isText,
    pass: isText,
  },
);

const worst = mapOf({ axis: isText, of: oneOf("range", "speed", "accel", "jerk"), at: isNumber }, { share: isNumber });
const move = mapOf({ title: isText, duration: isNumber, keys: isCount }, { worst });
const document = mapOf(
  { file: isText, findings: listOf(finding), inputs: listOf(isText) },
  { kind: oneOf(...DOCUMENT_KINDS), move },
);

/** Whether data of a file or another machine is what `check` tells of a document. */
export const isCheckedDocument = (value: unknown): value is CheckedDocument => document(value);
