import type { Connection } from "vscode-languageserver";
import type { Task } from "../core/base/task.ts";
import { PASSES_REQUEST, type PassesParams, type StagePasses } from "../protocol/stage-passes.ts";
import { REACH_REQUEST, type ReachParams, type ReachWish, type StageReach } from "../protocol/stage-reach.ts";
import { fromSolved } from "./from-solved.ts";
import { guarded } from "./guard.ts";
import { stagePasses } from "./service/stage/stage-passes.ts";
import { stageReach } from "./service/stage/stage-reach.ts";
import type { Solved } from "./service/view.ts";
import type { Session } from "./session.ts";

/** The requests for what overlays of the stage show on demand. The newest question of each kind is the one that counts. */
export function registerOverlays(connection: Connection, session: Session): void {
  const { log } = session;
  const turns = { reach: 0, passes: 0 };

  connection.onRequest(REACH_REQUEST, (params: ReachParams, token) =>
    guarded("what the camera can reach", log, token, () => {
      const { uri } = params;
      const wish = wishOf(params);
      if (!wish) return Promise.resolve({ uri, version: 0, wish: SHELL, problem: NO_WISH });
      const turn = (turns.reach += 1);
      const wanted = (): boolean => turn === turns.reach && !token.isCancellationRequested;
      const refused = (version: number, problem: string): StageReach => ({ uri, version, wish, problem });
      return answered(session, uri, wanted, refused, (version, solved) => stageReach(uri, version, solved, wish));
    }),
  );
  connection.onRequest(PASSES_REQUEST, ({ uri }: PassesParams, token) =>
    guarded("how passes play", log, token, () => {
      const turn = (turns.passes += 1);
      const wanted = (): boolean => turn === turns.passes && !token.isCancellationRequested;
      const refused = (version: number, problem: string): StagePasses => ({ uri, version, problem });
      return answered(session, uri, wanted, refused, (version, solved) => stagePasses(uri, version, solved));
    }),
  );
}

const SHELL: ReachWish = { kind: "shell" };
const NO_WISH = "A region is asked for as `shell`, or as `section` with a `height` in metres.";

function wishOf(params: ReachParams): ReachWish | undefined {
  if (params.kind === "shell") return SHELL;
  return params.kind === "section" && Number.isFinite(params.height)
    ? { kind: "section", height: params.height }
    : undefined;
}

/** Behind what a person waits for while editing. */
function answered<T>(
  session: Session,
  uri: string,
  wanted: () => boolean,
  refused: (version: number, problem: string) => T,
  make: (version: number, solved: Solved) => Task<T>,
): Promise<T> {
  return fromSolved<T>(session, uri, {
    ...{ urgency: "background", wanted, make },
    refuse: (why, version) =>
      refused(version, why === "unsolved" ? "The move can't be solved yet." : "Something newer was asked for."),
  });
}
