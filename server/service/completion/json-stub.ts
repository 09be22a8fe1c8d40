import type { Shape } from "../../../core/schema/shape.ts";
import type { Written } from "./written-snippet.ts";

/** The least that may stand behind a name in JSON, which has no empty values: to be overwritten at once. */
export function jsonStub(shape: Shape): Written {
  switch (shape.kind) {
    case "map":
    case "record":
      return { plain: "{}", snippet: "{ $0 }" };
    case "list":
    case "tuple":
      return { plain: "[]", snippet: "[$0]" };
    case "either":
      return jsonStub(shape.options[0]);
    case "scalar":
      return scalarStub(shape.facts.type);
  }
}

function scalarStub(type: Extract<Shape, { kind: "scalar" }>["facts"]["type"]): Written {
  switch (type) {
    case "version":
      return { plain: "1", snippet: "${0:1}" };
    case "flag":
      return { plain: "true", snippet: "${0:true}" };
    case "quantity":
    case "axis-quantity":
    case "count":
    case "ratio":
    case "rate":
    case "written":
      return { plain: "0", snippet: "${0:0}" };
    default:
      return { plain: '""', snippet: '"$0"' };
  }
}
