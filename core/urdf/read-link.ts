import type { XmlElement } from "../syntax/xml.ts";
import { numberOf, only, originOf, reportUnread, sizeOf, textOf, vectorOf } from "./read-attributes.ts";
import { fault, remark, type UrdfFaults, type UrdfLink, type UrdfShape } from "./urdf.ts";

/**
 * One link, or `undefined` after a finding when it has no name. A broken shape or mass is left out.
 *
 * @param loads Takes the faults of what the link carries, which leave the chain as it is.
 */
export function readLink(to: UrdfFaults, loads: UrdfFaults, element: XmlElement): UrdfLink | undefined {
  const name = textOf(to, element, "name");
  const inertial = inertialOf(loads, element);
  const shapes = (kind: "collision" | "visual"): UrdfShape[] =>
    element.children.filter((child) => child.name === kind).flatMap((child) => shapeOf(loads, child) ?? []);
  const [collisions, visuals] = [shapes("collision"), shapes("visual")];
  return name && { name, ...(inertial ? { inertial } : {}), collisions, visuals };
}

function inertialOf(to: UrdfFaults, link: XmlElement): UrdfLink["inertial"] {
  const element = only(to, link, "inertial");
  if (!element) return undefined;
  const { at } = originOf(to, element);
  const weight = only(to, element, "mass");
  const mass = weight && numberOf(to, weight, "value");
  if (weight && !mass && !weight.attributes.has("value")) {
    fault(to, "missing-field", weight.nameSpan, '`mass` lacks `value="…"`.');
  }
  if (!mass || mass.value === 0) return undefined;
  if (mass.value < 0) return fault(to, "bad-number", mass.span, `A mass is ${mass.value} kg: it must be 0 or more.`);
  return { at, mass: mass.value };
}

const SHAPES = ["box", "cylinder", "sphere", "mesh"];

function shapeOf(to: UrdfFaults, element: XmlElement): UrdfShape | undefined {
  const pose = originOf(to, element);
  const geometry = only(to, element, "geometry");
  if (!geometry) {
    return fault(to, "missing-field", element.nameSpan, `\`${element.name}\` lacks \`<geometry>\`.`);
  }
  const [shape, second] = geometry.children;
  if (!shape || second) {
    const many = second !== undefined;
    const message = `\`geometry\` has ${many ? "several shapes" : "no shape"}: it takes one of box, cylinder, sphere and mesh.`;
    return fault(to, many ? "over-determined" : "missing-field", (second ?? geometry).nameSpan, message);
  }
  if (!SHAPES.includes(shape.name)) {
    const message = `A shape \`${shape.name}\` is not read, so this ${element.name} is left out: use box, cylinder, sphere or mesh.`;
    remark(to, "not-computed", shape.nameSpan, message);
    return undefined;
  }
  const solid = solidOf(to, shape);
  const name = element.attributes.get("name")?.value.trim();
  return solid && { ...(name ? { name } : {}), pose, solid };
}

function solidOf(to: UrdfFaults, shape: XmlElement): UrdfShape["solid"] | undefined {
  switch (shape.name) {
    case "box": {
      const size = vectorOf(to, shape, "size");
      if (!shape.attributes.has("size")) {
        return fault(to, "missing-field", shape.nameSpan, '`box` lacks `size="x y z"`.');
      }
      if (!size || Math.min(...size) > 0) return size && { shape: "box", size };
      const message = `\`size\` of \`box\` is ${size.join(" ")}: each must be more than 0.`;
      return fault(to, "bad-number", shape.attributes.get("size")!.span, message);
    }
    case "sphere": {
      const radius = sizeOf(to, shape, "radius");
      return radius === undefined ? undefined : { shape: "sphere", radius };
    }
    case "cylinder": {
      const [radius, height] = [sizeOf(to, shape, "radius"), sizeOf(to, shape, "length")];
      return radius === undefined || height === undefined ? undefined : { shape: "cylinder", radius, height };
    }
    default:
      return meshOf(to, shape);
  }
}

function meshOf(to: UrdfFaults, shape: XmlElement): UrdfShape["solid"] | undefined {
  reportUnread(to, shape, ["filename", "scale"]);
  const file = textOf(to, shape, "filename");
  const written = shape.attributes.get("scale");
  const scale = written ? vectorOf(to, shape, "scale") : ([1, 1, 1] as const);
  if (!file || !scale) return undefined;
  if (scale.every((part) => Math.abs(part) > 1e-9)) return { shape: "mesh", file, scale };
  return fault(
    to,
    "bad-number",
    written?.span ?? shape.nameSpan,
    "`scale` of `mesh` has a 0 in it: nothing would be left.",
  );
}
