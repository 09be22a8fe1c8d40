import type { StageState } from "../protocol/stage.ts";
import type { MoveStatus } from "../protocol/status.ts";
import type { ReviewRow } from "./review/review-rows.ts";

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

/** What the view of changed moves shows. */
export interface ReviewReport {
  readonly description: string | undefined;
  readonly message: string | undefined;
  readonly rows: readonly ReviewRow[];
  /** Why there are none, as sentences. */
  readonly problems: readonly string[];
}

/** What the extension gives to other code in the editor, the tests among it. */
export interface MovewrightApi {
  /** Resolves when the language server answers. */
  readonly ready: Promise<void>;
  /** What the stage shows now; rejects when no stage is open or it does not answer. */
  stageReport(): Promise<StageState>;
  statusReport(): StatusReport;
  reviewReport(): ReviewReport;
}
