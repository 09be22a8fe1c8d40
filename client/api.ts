import type { StageState } from "../protocol/stage.ts";

/** What the extension gives to other code in the editor, the tests among it. */
export interface MovewrightApi {
  /** Resolves when the language server answers. */
  readonly ready: Promise<void>;
  /** What the stage shows now; rejects when no stage is open or it does not answer. */
  stageReport(): Promise<StageState>;
}
