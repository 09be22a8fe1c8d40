import type { StageFinding } from "../protocol/stage.ts";
import type { Bridge } from "./bridge.ts";
import type { Keeper } from "./keeper.ts";
import type { Pictures } from "./pictures.ts";
import type { Player } from "./player.ts";
import type { Shown } from "./shown.ts";
import type { KeptState } from "./state.ts";
import { graphOfFinding } from "./strip/graph-names.ts";
import type { Strip } from "./strip/strip.ts";
import { keyPassed } from "./take/timeline.ts";

export interface GoingParts {
  readonly player: Player;
  readonly keeper: Keeper;
  readonly pictures: Pictures;
  readonly strip: Strip;
  readonly bridge: Bridge;
  shown(): Shown;
  choose(changes: Partial<KeptState>): void;
}

/** Ways to a place of the move: a time, a key, a finding. */
export interface Going {
  /** Puts the playhead somewhere [s], at rest. */
  goTo(time: number): void;
  /** Somebody asked for it: it plays where motion is to be reduced, too. */
  playFrom(time: number): void;
  chooseKey(key: number): void;
  /** Chooses a key and goes to its time, where there is such a key. */
  goToKey(key: number): boolean;
  /** Goes to a key, and shows it in the text. */
  revealKey(key: number): void;
  /** Goes to where a finding is worst, shows its graph and axis, and shows it in the text. */
  revealFinding(finding: StageFinding): void;
}

export function createGoing({ player, keeper, pictures, strip, bridge, shown, choose }: GoingParts): Going {
  function goTo(time: number): void {
    if (player.playing) player.pause();
    player.seek(time);
  }

  function playFrom(time: number): void {
    const { open } = shown();
    if (!open) return;
    goTo(time);
    chooseKey(keyPassed(player.time, open.keyTimes));
    // From the end there is nothing left to play; the player would begin again.
    if (player.time < open.stage.duration) player.play();
  }

  function chooseKey(key: number): void {
    keeper.keep({ key });
    pictures.chooseKey(key);
    strip.chooseKey(key);
  }

  function goToKey(key: number): boolean {
    const time = shown().open?.keyTimes[key];
    if (time === undefined) return false;
    chooseKey(key);
    goTo(time);
    return true;
  }

  function revealKey(key: number): void {
    if (goToKey(key)) bridge.send({ type: "reveal-key", key });
  }

  function revealFinding(finding: StageFinding): void {
    pictures.chooseFinding(finding);
    if (shown().open && finding.time)
      goTo(finding.segment && finding.peak !== undefined ? finding.peak : finding.time.from);
    const graph = graphOfFinding(finding.code);
    const { graphs } = keeper.now();
    if (graph && !graphs.includes(graph)) choose({ graphs: [...graphs, graph] });
    const axis = shown().open?.stage.axes.find(({ name }) => name === finding.axis);
    if (axis) choose({ axes: [axis.name] });
    bridge.send({ type: "reveal-finding", id: finding.id });
  }

  return { goTo, playFrom, chooseKey, goToKey, revealKey, revealFinding };
}
