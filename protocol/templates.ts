import type { TextPosition } from "./requests.ts";

/** Kinds of documents that can be begun from a template. */
export const TEMPLATE_KINDS = ["rig", "camera", "set", "move", "shoot"] as const;
export type TemplateKind = (typeof TEMPLATE_KINDS)[number];

/** The text of a new document, which uses the documents that the workspace has. Nothing is written. */
export const TEMPLATE_REQUEST = "movewright/template";
export interface TemplateParams {
  readonly kind: TemplateKind;
  /** Of the new document; its ending says the notation. */
  readonly uri: string;
  /** Also begins the documents that the new one needs and that the workspace lacks. Default false. */
  readonly together?: boolean;
}

export type TemplateResult =
  | {
      readonly state: "written";
      /** The new document, then those that are begun with it. None of them was known to the server. */
      readonly files: readonly TemplateFile[];
      /** Errors that the new document has as it stands, because of the documents that it uses: 0 nearly always. */
      readonly errors: number;
    }
  /** What the new document needs and the workspace lacks, and a sentence that says so. */
  | { readonly state: "missing"; readonly kinds: readonly TemplateKind[]; readonly reason: string };

export interface TemplateFile {
  readonly uri: string;
  readonly text: string;
  /** The first thing to fill in. */
  readonly cursor: TextPosition;
}
