import type { StageState } from "../protocol/stage.ts";
import type { Ghosting } from "./ghost/ghosting.ts";
import type { Pictures } from "./pictures.ts";
import type { Player } from "./player.ts";
import type { Shown } from "./shown.ts";
import type { Strip } from "./strip/strip.ts";
import { frameOf, timecodeOf } from "./take/words.ts";

/** What the stage answers when it is asked what it shows. */
export function stateOf(
  { uri, version, open, moment, findings }: Shown,
  player: Player,
  pictures: Pictures,
  strip: Strip,
  ghosting: Ghosting,
): StageState {
  const compared = ghosting.report();
  return {
    uri,
    version,
    time: player.time,
    playing: player.playing,
    frame: open ? frameOf(open, player.time) : 0,
    timecode: open ? timecodeOf(open, player.time) : "",
    webgl: pictures.surface() === "alive",
    message: pictures.message(),
    pictures: pictures.count(),
    keys: open?.keyTimes.length ?? 0,
    findings: findings.length,
    links: moment ? [...moment.pose.positions] : [],
    picture: pictures.report(),
    ghost: compared && { ...compared, ...pictures.ghostDrawn() },
    graphs: strip.report(),
  };
}
