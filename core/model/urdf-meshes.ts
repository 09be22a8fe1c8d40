import { listing } from "../base/listing.ts";
import { resolveReference } from "../base/path.ts";
import type { FileId } from "../base/span.ts";
import type { Body } from "../rig/resolved-rig.ts";
import type { Placed } from "../urdf/urdf.ts";
import { brokenMessage, formatMessage, isMeshFile, NOT_MEASURED, sizeMessage } from "./mesh-file.ts";
import { readInput } from "./resolution.ts";
import { reportAt, type UrdfReporter } from "./urdf-file.ts";

/** Meshes that can't be drawn, gathered so that one cause is one finding. */
export interface MeshFaults {
  /** Not found, by the package that they are looked for in; "" for those with a path. */
  readonly missing: Map<string, Placed<string>[]>;
  readonly unread: { readonly written: Placed<string>; readonly only: Body["only"] }[];
  /** Broken inside, by file: the first place that names it and why. */
  readonly broken: Map<FileId, { readonly written: Placed<string>; readonly fault: string }>;
  /** Files that were looked at already. */
  readonly seen: Set<FileId>;
}

export const noMeshFaults = (): MeshFaults => ({ missing: new Map(), unread: [], broken: new Map(), seen: new Set() });

/** Folders above the file that a package is looked for in. */
const MOST_FOLDERS = 12;

const PACKAGE = /^package:\/\/([^/]+)\/(.+)$/;

/**
 * Where a mesh is looked for, the first that is there counts. A path is relative to the URDF file; `package://name/rest` is
 * looked for from the file's folder upwards, in a folder `name` or in one that is called so itself.
 */
export function meshPlaces(urdf: FileId, written: string): readonly FileId[] {
  const path = pathOf(written);
  const [, name = "", rest = ""] = PACKAGE.exec(path) ?? [];
  return name ? packagePlaces(urdf, name, rest) : [resolveReference(urdf, path)];
}

const pathOf = (written: string): string => written.replace(/^file:\/\//, "").replaceAll("\\", "/");

/** The file of a mesh; the first place that it may have where none is there. */
export function findMesh(to: UrdfReporter, written: Placed<string>, only: Body["only"], faults: MeshFaults): FileId {
  const path = pathOf(written.value);
  const name = PACKAGE.exec(path)?.[1] ?? "";
  const files = meshPlaces(to.urdf.file, written.value);
  if (!isMeshFile(path)) {
    faults.unread.push({ written, only });
    return files[0];
  }
  // All places are asked for, though the first that is there will do: one round of reading then tells all.
  const states = files.map((file) => readInput(to.scope.resolution, file));
  const index = states.findIndex(({ state }) => state === "bytes" || state === "text");
  if (index >= 0) {
    const message = faults.seen.has(files[index]) ? undefined : sizeMessage(files[index], states[index]);
    if (message !== undefined)
      reportAt(to, "too-large", written.span, only === "looks" ? message : `${message} ${NOT_MEASURED}`, "warning");
    faults.seen.add(files[index]);
    return files[index];
  }
  const isKnown = states.every(({ state }) => state !== "unread");
  if (isKnown) faults.missing.set(name, [...(faults.missing.get(name) ?? []), written]);
  return files[0];
}

function packagePlaces(urdf: FileId, name: string, rest: string): FileId[] {
  const places: FileId[] = [];
  let up = "./";
  for (let depth = 0; depth < MOST_FOLDERS; depth++) {
    const folder = folderAt(urdf, up);
    if (folder === name || folder.endsWith(`/${name}`)) places.push(resolveReference(urdf, up + rest));
    places.push(resolveReference(urdf, `${up}${name}/${rest}`));
    if (folderAt(urdf, `${up}../`) === folder) break;
    up += "../";
  }
  return places;
}

/** The folder `up` from a file, without a slash at its end. */
const folderAt = (file: FileId, up: string): FileId => resolveReference(file, `${up}x`).slice(0, -2);

/** One finding a package, one for paths and one for formats. */
export function reportMeshes(to: UrdfReporter, { missing, unread, broken }: MeshFaults): void {
  for (const { written, fault } of broken.values()) {
    reportAt(to, "not-computed", written.span, `${brokenMessage(written.value, fault)} ${NOT_MEASURED}`, "warning");
  }
  for (const [name, meshes] of missing) {
    const cure = name
      ? `A folder \`${name}\` with it is looked for beside the URDF file and in the folders above it, as far as they may be read: put it there, or write paths relative to the file.`
      : "Paths are relative to the URDF file.";
    reportAt(to, "missing-file", meshes[0].span, `No file is found for ${namesOf(meshes)}. ${cure}`);
  }
  if (unread.length === 0) return;
  const written = unread.map((one) => one.written);
  const message = formatMessage(namesOf(written), new Set(written.map(({ value }) => value)).size > 1);
  const isLook = unread.every(({ only }) => only === "looks");
  reportAt(to, "not-computed", written[0].span, isLook ? message : `${message} ${NOT_MEASURED}`, "warning");
}

const namesOf = (meshes: readonly Placed<string>[]): string =>
  listing([...new Set(meshes.map(({ value }) => value))], "and", 3);
