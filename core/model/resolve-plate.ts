import { resolveReference } from "../base/path.ts";
import type { ResolvedMove } from "../motion/resolved-move.ts";
import type { Stated } from "./declared.ts";
import type { MoveFields } from "./move-context.ts";
import { isPlateFile, openPlate, plateSizeMessage } from "./plate-file.ts";
import { originOf, readInput, reportUnopened, type Scope } from "./resolution.ts";
import { report } from "./report.ts";

/** Of the plate over the lens picture, where the text says nothing else. */
const OPACITY = 0.5;

/** The picture that lies over the view through the lens; nothing hangs on it but that view. */
export function plateOf(scope: Scope, { plate }: MoveFields): Pick<ResolvedMove, "plate"> {
  if (!plate) return {};
  const isFile = typeof plate.value === "string";
  const fields = isFile ? { file: plate as Stated<string> } : (plate.value as PlateFields);
  const { file: reference, opacity, fills } = fields;
  if (!reference) return {};
  const file = resolveReference(scope.file, reference.value);
  if (!isPlateFile(file)) {
    scope.resolution.inputs.add(file);
    const message = `\`${reference.value}\` is no picture that the stage shows, by its name: it shows PNG, JPEG and WebP.`;
    report(scope, "not-computed", reference.span, message, { severity: "warning" });
    return {};
  }
  const source = readInput(scope.resolution, file);
  reportUnopened(scope, reference, source, file);
  const large = plateSizeMessage(file, source);
  if (large !== undefined) report(scope, "too-large", reference.span, large, { severity: "warning" });
  if (openPlate(scope.resolution, file)?.isPicture === false) {
    const message = `\`${reference.value}\` is not shown: it does not begin as a PNG, JPEG or WebP file does. Save it as one of them again.`;
    report(scope, "not-computed", reference.span, message, { severity: "warning" });
  }
  const origin = originOf(scope, reference.span);
  return { plate: { file, opacity: opacity?.value ?? OPACITY, fills: fills?.value ?? "captured", origin } };
}

interface PlateFields {
  readonly file?: Stated<string>;
  readonly opacity?: Stated<number>;
  readonly fills?: Stated<"captured" | "delivered">;
}
