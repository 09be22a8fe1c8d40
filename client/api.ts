import type { StageState } from "../protocol/stage.ts";
import type { MoveStatus } from "../protocol/status.ts";

/** What the status bar item shows. */
export interface StatusReport {
  /** The move in front; absent while the item is hidden. */
  readonly uri: string | undefined;
  readonly text: string;
  /** What a screen reader says. */
  readonly spoken: string;
  readonly tooltip: string;
  readonly status: MoveStatus | undefined;
}

/** What the extension gives to other code in the editor, the tests among it. */
export interface MovewrightApi {
  /** Resolves when the language server answers. */
  readonly ready: Promise<void>;
  /** What the stage shows now; rejects when no stage is open or it does not answer. */
  stageReport(): Promise<StageState>;
  statusReport(): StatusReport;
}
