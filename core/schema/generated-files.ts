import { SCHEMA_KINDS } from "./documents.ts";
import { fieldsPage } from "./fields-page.ts";
import { jsonSchema } from "./json-schema.ts";

/** Files of the project that the tables give, by path from its root; not yet formatted. */
export function generatedFiles(): Readonly<Record<string, string>> {
  const schemas = SCHEMA_KINDS.map((kind): [string, string] => [
    `schemas/${kind}.schema.json`,
    `${JSON.stringify(jsonSchema(kind), undefined, 2)}\n`,
  ]);
  return Object.fromEntries([...schemas, ["docs/reference/fields.md", fieldsPage()]]);
}
