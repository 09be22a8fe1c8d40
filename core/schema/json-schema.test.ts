import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { Ajv2020 } from "ajv/dist/2020.js";
import { parse } from "yaml";
import { KIT } from "../../test/fixtures/kit.ts";
import { SCHEMA_KINDS, SHAPES } from "./documents.ts";
import { jsonSchema } from "./json-schema.ts";
import type { Shape } from "./shape.ts";

const validator = (kind: (typeof SCHEMA_KINDS)[number]) => new Ajv2020({ strict: false }).compile(jsonSchema(kind));

describe("jsonSchema", () => {
  it("takes documents that are right", () => {
    for (const [file, text] of Object.entries(KIT)) {
      const kind = SCHEMA_KINDS.find((each) => file.includes(`.${each}.`));
      assert.ok(kind);
      const validate = validator(kind);
      assert.ok(validate(parse(text)), `${file}: ${JSON.stringify(validate.errors)}`);
    }
  });

  it("refuses unknown fields, missing fields, wrong forms and wrong words", () => {
    const rig = validator("rig");
    const joint = { axis: "pan", type: "rotary" };
    assert.ok(rig({ rig: 1, chain: [joint] }));
    for (const wrong of [
      { chain: [joint] },
      { rig: 2, chain: [joint] },
      { rig: 1, chain: [joint], colour: "red" },
      { rig: 1, chain: [{ axis: "pan" }] },
      { rig: 1, chain: [{ axis: "pan", type: "rotery" }] },
      { rig: 1, chain: [{ ...joint, along: [0, 1] }] },
      { rig: 1, chain: joint },
    ]) {
      assert.ok(!rig(wrong), JSON.stringify(wrong));
    }
  });

  it("lists the severities of findings for the workspace's settings", () => {
    const config = validator("config");
    assert.ok(config({ config: 1, severity: { "near-limit": "off", "axis-speed": "warning" } }));
    assert.ok(!config({ config: 1, severity: { "near-limit": "loud" } }));
    assert.ok(!config({ config: 1, severity: { "no-such-code": "off" } }));
  });

  it("is what the files of schemas/ hold", () => {
    for (const kind of SCHEMA_KINDS) {
      const file = path.join(import.meta.dirname, `../../schemas/${kind}.schema.json`);
      assert.deepEqual(JSON.parse(readFileSync(file, "utf8")), JSON.parse(JSON.stringify(jsonSchema(kind))));
    }
  });
});

describe("tables of fields", () => {
  it("say of every field what it is for, in a sentence", () => {
    const visit = (shape: Shape, where: string): void => {
      if (shape.kind === "record" || shape.kind === "list") visit(shape.item, `${where}[]`);
      if (shape.kind === "either") for (const option of shape.options) visit(option, where);
      if (shape.kind === "scalar" && shape.facts.type === "word") {
        for (const [word, doc] of Object.entries(shape.facts.words))
          assert.match(doc, /^[A-Z].*\.$/, `${where}=${word}`);
      }
      if (shape.kind !== "map") return;
      for (const field of shape.fields.values()) {
        assert.match(field.doc, /^[A-Zf].*\.$/, `${where}.${field.name}`);
        visit(field.shape, `${where}.${field.name}`);
      }
    };
    for (const kind of SCHEMA_KINDS) visit(SHAPES[kind], kind);
  });
});
