/** A value of a new document: a scalar, a list, or a map in the order in which it is written. */
export type Part = string | number | readonly Part[] | Fields;

/** Fields of a map by name, each with its value; the comment behind it is kept where the notation has comments. */
export interface Fields {
  readonly fields: readonly Field[];
}

export interface Field {
  readonly name: string;
  readonly value: Part;
  readonly comment?: string;
  /** The first thing to fill in: the cursor goes to its value. One a document. */
  readonly first?: boolean;
}

export interface WrittenDocument {
  readonly text: string;
  /** Offset of the first thing to fill in; 0 where nothing is. */
  readonly cursor: number;
}

/** Longest line that a map or list is written in [characters]. */
const LINE_CAP = 110;
/** Marks the cursor while the text is made; it stands in no name that a person types. */
const CURSOR = "\u{f8ff}";

/** Fields in the order given; a bare pair is a name and its value. */
export function fields(...entries: readonly (Field | readonly [string, Part])[]): Fields {
  return { fields: entries.map((entry) => ("name" in entry ? entry : { name: entry[0], value: entry[1] })) };
}

/** Writes a document in YAML, what there is to say of it in a comment at its top. */
export function yamlText(about: string, document: Fields): WrittenDocument {
  return withCursor(`# ${about}\n${document.fields.map((field) => blockField(field, "")).join("\n")}\n`);
}

/** Writes a document in JSON, which has no comments: what there is to say of it is its `note`. */
export function jsonText(about: string, document: Fields): WrittenDocument {
  const [head, ...rest] = document.fields;
  const whole = { fields: [head, { name: "note", value: about }, ...rest] };
  return withCursor(`${jsonBlock(whole, "")}\n`);
}

function withCursor(marked: string): WrittenDocument {
  const cursor = Math.max(0, marked.indexOf(CURSOR));
  return { text: marked.replaceAll(CURSOR, ""), cursor };
}

function blockField(field: Field, indent: string): string {
  const { name, value, comment } = field;
  const behind = comment === undefined ? "" : ` # ${comment}`;
  const flow = flowText(value, yamlScalar);
  const mark = field.first === true ? CURSOR : "";
  const line = `${indent}${yamlScalar(name)}: ${mark}${flow}${behind}`;
  if (!hasComments(value) && !isListOfMaps(value) && line.length <= LINE_CAP) return line;
  return `${indent}${yamlScalar(name)}:${behind}\n${mark}${block(value, `${indent}  `)}`;
}

function block(value: Part, indent: string): string {
  if (isFields(value)) return value.fields.map((field) => blockField(field, indent)).join("\n");
  if (isList(value)) return value.map((item) => `${indent}- ${blockItem(item, indent)}`).join("\n");
  return `${indent}${yamlScalar(value)}`;
}

function blockItem(item: Part, indent: string): string {
  const flow = flowText(item, yamlScalar);
  const fits = !hasComments(item) && indent.length + 2 + flow.length <= LINE_CAP;
  return fits && !(isFields(item) && item.fields.length > 3) ? flow : block(item, `${indent}  `).trimStart();
}

function flowText(value: Part, scalar: (value: string | number) => string): string {
  if (isFields(value)) {
    const inside = value.fields.map(
      (field) => `${scalar(field.name)}: ${field.first === true ? CURSOR : ""}${flowText(field.value, scalar)}`,
    );
    return inside.length === 0 ? "{}" : `{ ${inside.join(", ")} }`;
  }
  if (isList(value)) return `[${value.map((item) => flowText(item, scalar)).join(", ")}]`;
  return scalar(value);
}

function jsonBlock(value: Part, indent: string): string {
  const flow = flowText(value, jsonScalar);
  const isTop = indent === "";
  if (!isTop && !isListOfMaps(value) && indent.length + flow.length <= LINE_CAP - 20) return flow;
  const inner = `${indent}  `;
  if (isFields(value)) {
    const lines = value.fields.map(
      ({ name, value: of, first }) =>
        `${inner}${JSON.stringify(name)}: ${first === true ? CURSOR : ""}${jsonBlock(of, inner)}`,
    );
    return `{\n${lines.join(",\n")}\n${indent}}`;
  }
  if (isList(value)) return `[\n${value.map((item) => inner + jsonBlock(item, inner)).join(",\n")}\n${indent}]`;
  return jsonScalar(value);
}

const isList = (value: Part): value is readonly Part[] => Array.isArray(value);
const isFields = (value: Part): value is Fields => typeof value === "object" && "fields" in value;
const isListOfMaps = (value: Part): boolean => isList(value) && value.some(isFields);

function hasComments(value: Part): boolean {
  if (isList(value)) return value.some(hasComments);
  return isFields(value) && value.fields.some(({ comment, value: of }) => comment !== undefined || hasComments(of));
}

const jsonScalar = (value: string | number): string => JSON.stringify(value);

/** Plain where a reader of YAML can take it for nothing else, quoted as in JSON otherwise. */
function yamlScalar(value: string | number): string {
  if (typeof value === "number") return String(value);
  const isPlain = /^[\p{L}./][\p{L}\p{N} ./_-]*$/u.test(value) && !/\s$/.test(value);
  const isWord = /^(true|false|null|yes|no|on|off|y|n|[.](inf|nan))$/i.test(value);
  const isAmount = /^-?\d+(\.\d+)? (s|m|mm|kg|deg|%)$/.test(value);
  return (isPlain && !isWord) || isAmount ? value : JSON.stringify(value);
}
