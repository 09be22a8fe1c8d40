import type { TemplateKind } from "../protocol/templates.ts";

/** Characters that some file system can't have in a name, or that part a path. */
const UNFIT = /[\\/:*?"<>|\p{Cc}]/u;
/** Names that are devices on Windows, whatever stands behind their first dot. */
const DEVICE = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;
/** Room for the endings within the 255 bytes that a name may have [bytes]. */
const LENGTH_CAP = 230;

/** The file that a person means by a name: `vase` and `vase.move.yaml` are one; `vase.json` asks for JSON. */
export function documentFileName(written: string, kind: TemplateKind): string {
  const name = written.trim();
  const ending = /\.(yaml|yml|json)$/i.exec(name)?.[0] ?? "";
  const front = name.slice(0, name.length - ending.length);
  const stem = front.toLowerCase().endsWith(`.${kind}`) ? front.slice(0, -kind.length - 1) : front;
  return `${stem}.${kind}${ending === "" ? ".yaml" : ending.toLowerCase()}`;
}

/** Why no file can have this name, with what to do; `undefined` for one that can be. */
export function nameProblem(written: string, kind: TemplateKind): string | undefined {
  const file = documentFileName(written, kind);
  const stem = file.replace(/\.[^.]+\.[^.]+$/, "");
  const unfit = UNFIT.exec(written.trim())?.[0];
  if (unfit !== undefined) {
    const shown = /\p{Cc}/u.test(unfit) ? "a control character" : `\`${unfit}\``;
    return `A file's name can't have ${shown} in it: leave it out, or write - instead.`;
  }
  if (stem === "") return `Write a name for the ${kind}, such as ${EXAMPLES[kind]}.`;
  if (/^[. ]|[. ]$/.test(stem)) return "A file's name neither begins nor ends with a dot or a space here.";
  if (DEVICE.test(stem)) return `Windows has a device called ${stem}: choose another name.`;
  const bytes = new TextEncoder().encode(stem).length;
  return bytes > LENGTH_CAP ? `This name is ${bytes} bytes long; at most ${LENGTH_CAP} fit.` : undefined;
}

const EXAMPLES: Readonly<Record<TemplateKind, string>> = {
  rig: "slider",
  camera: "a-cam",
  set: "teapots",
  move: "over-the-lid",
  shoot: "day-one",
};

/** What is proposed before anything is typed. */
export const exampleName = (kind: TemplateKind): string => EXAMPLES[kind];
