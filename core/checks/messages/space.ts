import { formatQuantity } from "../../base/units.ts";
import type { Finding } from "../finding.ts";
import { figures, text, type Words } from "./words.ts";

/** What the rig and the camera come near to. */
export const SPACE_WORDS = {
  clearance: (f, at) => {
    const target = text(f, "target");
    const { where, short } = nearness(f, at);
    return `${where}${short}; lead the move past at a distance, or move ${target}`;
  },
  "self-clearance": (f, at) => {
    const { where, short } = nearness(f, at);
    const design = `or state them under \`touching\` in the rig if they are built to touch`;
    return `${where}${short}; change ${f.key} so that they stay apart, ${design}`;
  },
  floor: floorMessage,
  "in-view": viewMessage,
} satisfies Readonly<Record<string, Words>>;

const length = (value: number): string => formatQuantity(value, "length");

/** `arm is 31 mm from plinth at …` and `, 19 mm nearer than the clearance of 50 mm`. */
function nearness(f: Finding, at: string): { readonly where: string; readonly short: string } {
  const [distance, limit] = figures(f);
  const [measured, least] = [f.measured ?? 0, f.limit ?? 0];
  const [part, target] = [text(f, "part"), text(f, "target")];
  const where =
    measured <= 0
      ? `${part} reaches ${length(-measured)} into ${target}${at}`
      : `${part} is ${distance} from ${target}${at}`;
  return { where, short: least > 0 ? `, ${length(least - measured)} nearer than the clearance of ${limit}` : "" };
}

function floorMessage(f: Finding, at: string): string {
  const [height, limit] = figures(f);
  const [measured, least] = [f.measured ?? 0, f.limit ?? 0];
  const part = text(f, "part");
  if (least === 0) {
    const deep = length(-measured);
    return `${part} reaches ${deep} below the floor that the rig stands on; raise what carries it by ${deep}, or correct its size`;
  }
  const where =
    measured < 0
      ? `${part} reaches ${length(-measured)} below the floor${at}`
      : `${part} is ${height} above the floor${at}`;
  return `${where}, ${length(least - measured)} nearer than the clearance of ${limit}; keep the camera or the arm higher at ${f.key}`;
}

function viewMessage(f: Finding, at: string): string {
  const px = formatQuantity(f.measured ?? 0, "pixels");
  const crop = text(f, "crop") === "free" ? "; the delivered crop is free of it" : "";
  const where = `${text(f, "part")} is in the picture${at}: it reaches ${px} in from the ${text(f, "side")} edge${crop}`;
  return `${where}; change the pose at ${f.key} so that it leaves the view, or take a longer lens`;
}
