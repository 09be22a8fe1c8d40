import type { StageFinding, StageGraphs } from "../../protocol/stage.ts";
import type { SeriesName } from "../../protocol/stage-series.ts";
import { element } from "../element.ts";
import type { Palette } from "../palette.ts";
import type { Player } from "../player.ts";
import type { Tab } from "../state.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { bandOf } from "../take/share.ts";
import { frameOf, instantWords, spanWords, timecodeOf, worstOf, worstWords } from "../take/words.ts";
import type { GraphChoice } from "./graph-names.ts";
import { createGraphs, type Graphs } from "./graphs.ts";
import { createFindingList, createKeyList } from "./lists.ts";
import { createScrub } from "./scrub.ts";
import { createTabs } from "./tabs.ts";
import type { TimeWindow } from "./time-window.ts";
import { createTransport } from "./transport.ts";
import { createValues } from "./values.ts";

export interface StripEvents {
  keyClicked(key: number): void;
  findingClicked(finding: StageFinding): void;
  keyDragged(key: number, time: number): void;
  /** An axis of the chosen key is wanted further by this than the text has it [m, rad]. */
  nudged(axis: number, by: number): void;
  /** What was dragged or nudged is let go of, or put back. */
  dropped(): void;
  dragCancelled(): void;
  tabOpened(tab: Tab): void;
  graphsChosen(choice: GraphChoice): void;
  /** The graphs show another stretch of time; `undefined`: all of it. */
  windowed(window: TimeWindow | undefined): void;
  seriesWanted(name: SeriesName, version: number): void;
}

/** Time and what can be read of it: transport, slider, graphs, values, keys and findings. */
export interface Strip {
  readonly object: HTMLElement;
  load(open: OpenTake | undefined, findings: readonly StageFinding[]): void;
  /** Another course of the same move, while somebody shapes it: the graphs follow once it is written. */
  tryOut(open: OpenTake): void;
  /** What changes with each picture. */
  follow(): void;
  /** What is read rather than looked at, and need not change with each picture. */
  read(moment: Moment): void;
  openTab(tab: Tab): void;
  readonly graphs: Pick<Graphs, "choose" | "setWindow" | "receive" | "peak" | "loadGhost" | "timeAt" | "xOf">;
  /** What is read of the graphs, for who is at them; else empty. */
  words(): string;
  report(): StageGraphs | undefined;
  chooseKey(key: number): void;
  paint(palette: Palette): void;
}

const NO_TIMECODE = "--:--:--:--";

export function createStrip(player: Player, events: StripEvents): Strip {
  const transport = createTransport({
    toggle: () => (player.playing ? player.pause() : player.play()),
    step: (frames) => player.step(frames),
    toStart: () => player.seek(0),
    toEnd: () => player.seek(Infinity),
    setLoop: (loop) => player.setLoop(loop),
    setSpeed: (speed) => player.setSpeed(speed),
  });
  const seek = (time: number): void => player.seek(time);
  const scrub = createScrub({
    seek,
    keyClicked: events.keyClicked,
    keyDragged: events.keyDragged,
    keyDropped: events.dropped,
    dragCancelled: events.dragCancelled,
  });
  const graphs = createGraphs({
    seek,
    keyClicked: events.keyClicked,
    chosen: events.graphsChosen,
    windowed: events.windowed,
    wanted: events.seriesWanted,
  });
  const values = createValues({ nudged: events.nudged, released: events.dropped, cancelled: events.dragCancelled });
  const keys = createKeyList(events.keyClicked);
  const findings = createFindingList(events.findingClicked);
  const tabs = createTabs<Tab>(
    [
      { name: "graphs", title: "Graphs", panel: graphs.object },
      { name: "values", title: "Values", panel: values.object },
      { name: "keys", title: "Keys", panel: keys.object },
      { name: "findings", title: "Findings", panel: findings.object },
    ],
    events.tabOpened,
  );
  let open: OpenTake | undefined;
  let chosenKey = -1;
  return {
    object: element("section", { class: "strip", "aria-label": "Time" }, transport.object, scrub.object, tabs.object),
    load(next, found) {
      open = next;
      scrub.load(next);
      graphs.load(next);
      values.load(next);
      keys.load(
        (next?.stage.keys ?? []).map((key) => ({
          label: key.label,
          timecode: next ? timecodeOf(next, key.time) : "",
          worst: next ? worstWords(next, worstOf(next, key.time)) : "",
        })),
      );
      findings.load(found, (finding) => spanWords(next, finding));
      tabs.name("keys", `Keys ${next?.stage.keys.length ?? 0}`);
      tabs.name("findings", `Findings ${found.length}`);
    },
    tryOut(next) {
      open = next;
      scrub.load(next);
      values.load(next);
    },
    follow() {
      const { playing, loop, speed, time } = player;
      const shown = { playing, loop, speed };
      if (open === undefined) {
        const nothing = { timecode: NO_TIMECODE, frame: "", worst: "", band: "calm" } as const;
        transport.update({ ...shown, ...nothing, enabled: false });
        return;
      }
      const worst = worstOf(open, time);
      const band = bandOf(worst?.share ?? NaN);
      transport.update({
        ...shown,
        enabled: true,
        timecode: timecodeOf(open, time),
        frame: `frame ${frameOf(open, time)} · ${time.toFixed(3)} s`,
        worst: `${band === "over" ? "▲ " : ""}${worstWords(open, worst)}`,
        band,
      });
      scrub.update(time, chosenKey, instantWords(open, time));
      graphs.playhead(time);
    },
    read(moment) {
      values.update(moment);
      graphs.read();
    },
    graphs,
    words: () => graphs.words(),
    report: () => graphs.report(),
    openTab: (tab) => tabs.open(tab),
    chooseKey(key) {
      chosenKey = key;
      keys.choose(key);
    },
    paint(palette) {
      scrub.paint(palette);
      graphs.paint(palette);
    },
  };
}
