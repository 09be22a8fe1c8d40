import type { OpenTake } from "../take/open-take.ts";
import type { GhostPlay } from "./ghost-play.ts";

/**
 * The take that is compared with, over the played time of the move that it is set against: by equal shares of both it is
 * stretched to the move's length. Values stay what they are, speeds too.
 */
export function ghostInTime({ open, ghost, alignment }: GhostPlay): OpenTake {
  const { duration } = ghost.stage;
  if (alignment === "time" || duration <= 0) return ghost;
  const stretch = open.stage.duration / duration;
  const { stage, take } = ghost;
  return {
    ...ghost,
    stage: {
      ...stage,
      duration: open.stage.duration,
      keys: stage.keys.map((key) => ({ ...key, time: key.time * stretch })),
      aims: stage.aims.map((aim) => ({ ...aim, from: aim.from * stretch, to: aim.to * stretch })),
    },
    take: { ...take, t: take.t.map((t) => t * stretch) },
    keyTimes: ghost.keyTimes.map((t) => t * stretch),
  };
}
