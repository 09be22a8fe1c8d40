import { frameAt } from "../core/base/rate.ts";
import { formatTimecode } from "../core/base/timecode.ts";
import type { StageAnswer, StageFinding, StageState, ToStage } from "../protocol/stage.ts";
import type { Bridge } from "./bridge.ts";
import { element, setText } from "./element.ts";
import { createDivider } from "./layout.ts";
import { readPalette, watchTheme } from "./palette.ts";
import { createPictures } from "./pictures.ts";
import { createPlayer, type Clock } from "./player.ts";
import { bindShortcuts } from "./shortcuts.ts";
import { readState, type KeptState, type Side } from "./state.ts";
import { createGraphs } from "./strip/graphs.ts";
import { createHelp } from "./strip/help.ts";
import { createFindingList, createKeyList } from "./strip/lists.ts";
import { createScrub } from "./strip/scrub.ts";
import { createTabs } from "./strip/tabs.ts";
import { createTransport } from "./strip/transport.ts";
import { createValues } from "./strip/values.ts";
import { createViewsBar } from "./strip/views-bar.ts";
import { createMoment, momentAt, type Moment } from "./take/moment.ts";
import { openTake, type OpenTake } from "./take/open-take.ts";
import { shareReading } from "./take/reading.ts";
import { bandOf, ORDERS, worstAt } from "./take/share.ts";
import { sampleBefore } from "./take/sampling.ts";
import { keyPassed, neighbourKey } from "./take/timeline.ts";

/** While playing, what is read rather than looked at changes at most this often [ms]. */
const READING_PAUSE = 100;
/** What is kept for a restart is written this long after the last change [ms]. */
const KEEP_PAUSE = 250;

const WAITING = "Waiting for a move.";
const NO_WEBGL =
  "This editor cannot draw in 3D here: WebGL 2 is missing. Playing, graphs, values and findings work without it.";
const LOST_WEBGL =
  "The graphics were lost. The picture comes back as soon as the editor gives them back; all else goes on.";

/** Builds the page in `body`, tells the extension that it is ready and answers it from then on. */
export function startStage(body: HTMLElement, bridge: Bridge, clock: Clock): void {
  let kept: KeptState = readState(bridge.kept());
  let open: OpenTake | undefined;
  let moment: Moment | undefined;
  let message = WAITING;
  let version = 0;
  let findings: readonly StageFinding[] = [];
  let drawing: number | undefined;
  let readAt = -Infinity;
  let keeping: number | undefined;

  const player = createPlayer(clock, (cause) => showTime(cause));
  const pictures = createPictures({
    stale: () => request(),
    keyClicked: (key) => chooseKey(key, true),
    viewChanged: () => keep({ viewpoints: pictures.views() }),
    surfaceChanged: () => showMessage(),
  });
  const bar = createViewsBar({
    side: setSide,
    pictures: (shown) => show({ pictures: shown }),
    fit,
    help: () => help.open(),
  });
  const transport = createTransport({
    toggle: () => (player.playing ? player.pause() : player.play()),
    step: (frames) => player.step(frames),
    toStart: () => player.seek(0),
    toEnd: () => player.seek(Infinity),
    setLoop: (loop) => player.setLoop(loop),
    setSpeed: (speed) => player.setSpeed(speed),
  });
  const scrub = createScrub({ seek: (time) => player.seek(time), keyClicked: (key) => chooseKey(key, true) });
  const graphs = createGraphs({
    seek: (time) => player.seek(time),
    chosen: (axis, orders) => show({ axis, orders }),
  });
  const values = createValues();
  const keyList = createKeyList((key) => chooseKey(key, true));
  const findingList = createFindingList(chooseFinding);
  const tabs = createTabs(
    [
      { name: "graphs", title: "Graphs", panel: graphs.object },
      { name: "values", title: "Values", panel: values.object },
      { name: "keys", title: "Keys", panel: keyList.object },
      { name: "findings", title: "Findings", panel: findingList.object },
    ],
    (tab) => show({ tab }),
  );
  const help = createHelp();
  const layout = createDivider((strip) => show({ strip }));
  const spoken = element("div", { class: "unseen", role: "status", "aria-live": "polite" });
  body.append(
    bar.object,
    element(
      "main",
      {},
      pictures.root,
      layout.divider,
      element("section", { class: "strip", "aria-label": "Time" }, transport.object, scrub.object, tabs.object),
    ),
    spoken,
    help.object,
  );

  function keep(changes: Partial<KeptState>): void {
    kept = { ...kept, ...changes };
    window.clearTimeout(keeping);
    keeping = window.setTimeout(() => bridge.keep(kept), KEEP_PAUSE);
  }

  /** Takes over changed choices and shows them. */
  function show(changes: Partial<KeptState>): void {
    keep(changes);
    bar.choose(kept.side, kept.pictures);
    if (changes.pictures) pictures.show(kept.pictures);
    if (changes.strip !== undefined) layout.setStrip(kept.strip);
    if (changes.tab) tabs.open(kept.tab);
    if ("axis" in changes || changes.orders) graphs.choose(kept.axis, kept.orders);
    request();
  }

  function setSide(side: Side): void {
    pictures.setSide(side);
    show({ side });
  }

  function fit(): void {
    pictures.fit();
    request();
  }

  /** Draws once, soon. Nothing is drawn while nothing changes. */
  function request(): void {
    drawing ??= clock.request(() => {
      drawing = undefined;
      drawNow();
    });
  }

  function drawNow(): void {
    if (open && moment) pictures.draw(moment);
  }

  function showTime(cause: "tick" | "moved" | "setting"): void {
    if (open === undefined || moment === undefined) {
      showTransport(undefined, "");
      return;
    }
    const now = performance.now();
    const reads = cause !== "tick" || now - readAt >= READING_PAUSE;
    momentAt(open, player.time, moment);
    if (cause === "tick") drawNow();
    else request();
    graphs.playhead(player.time);
    const worst = worstAt(open, nearestSample(open, player.time));
    const words = worst
      ? `${open.stage.axes[worst.axis].name} ${ORDERS[worst.order]} ${shareReading(worst.share)}`
      : "no limits stated";
    showTransport(worst?.share, words);
    scrub.update(player.time, kept.key, `${timecodeOf(player.time)}, frame ${frameOf(player.time)}`);
    if (!reads) return;
    readAt = now;
    values.update(moment);
    if (cause === "tick") return;
    keep({ time: player.time, speed: player.speed, loop: player.loop });
    const state = cause === "setting" && player.playing ? "Playing. " : "";
    setText(spoken, `${state}${timecodeOf(player.time)}, frame ${frameOf(player.time)}. Highest share: ${words}.`);
  }

  function showTransport(share: number | undefined, words: string): void {
    transport.update({
      enabled: open !== undefined,
      playing: player.playing,
      loop: player.loop,
      speed: player.speed,
      timecode: open ? timecodeOf(player.time) : "--:--:--:--",
      frame: open ? `frame ${frameOf(player.time)} · ${player.time.toFixed(3)} s` : "",
      worst: share === undefined ? words : `${bandOf(share) === "over" ? "▲ " : ""}${words}`,
      band: bandOf(share ?? NaN),
    });
  }

  function frameOf(time: number): number {
    return open ? open.stage.startFrame + frameAt(open.stage.rate, time) : 0;
  }

  function timecodeOf(time: number): string {
    return open ? formatTimecode(frameOf(time), open.stage.rate) : "";
  }

  function chooseKey(key: number, reveal: boolean): void {
    if (open === undefined || open.keyTimes[key] === undefined) return;
    keep({ key });
    pictures.chooseKey(key);
    keyList.choose(key);
    if (player.playing) player.pause();
    player.seek(open.keyTimes[key]);
    if (reveal) bridge.send({ type: "reveal-key", key });
  }

  function chooseFinding(finding: StageFinding): void {
    if (open && finding.time) {
      if (player.playing) player.pause();
      player.seek(finding.time.from);
    }
    if (open && finding.axis !== undefined && open.stage.axes.some((axis) => axis.name === finding.axis)) {
      show({ axis: finding.axis });
    }
    bridge.send({ type: "reveal-finding", id: finding.id });
  }

  function showMessage(): void {
    const surface = pictures.surface();
    const graphics = surface === "none" ? NO_WEBGL : surface === "lost" ? LOST_WEBGL : "";
    pictures.notice(message || graphics, message ? "all" : "scene");
    request();
  }

  function take(answer: StageAnswer): void {
    if ("problem" in answer) {
      player.pause();
      open = undefined;
      moment = undefined;
      version = answer.problem.version;
      message = answer.problem.message;
      findings = answer.problem.findings;
      keep({ uri: answer.problem.uri });
      bar.title("Stage", false);
    } else {
      const stage = answer.take;
      const time = open === undefined ? kept.time : player.time;
      const other = kept.uri !== undefined && kept.uri !== stage.uri;
      open = openTake(stage);
      moment = createMoment(open);
      version = stage.version;
      message = "";
      findings = stage.findings;
      if (other) {
        keep({ time: 0, key: -1, viewpoints: {} });
        pictures.restoreViews(kept.side, {});
      }
      keep({ uri: stage.uri, key: kept.key < stage.keys.length ? kept.key : -1 });
      bar.title(stage.title, stage.stale);
      player.load(stage.duration, stage.rate, other ? 0 : time);
    }
    pictures.load(open);
    pictures.chooseKey(kept.key);
    scrub.load(open);
    graphs.load(open);
    values.load(open);
    keyList.load(keyRows());
    keyList.choose(kept.key);
    findingList.load(findings, spanOf);
    tabs.name("keys", `Keys ${open?.stage.keys.length ?? 0}`);
    tabs.name("findings", `Findings ${findings.length}`);
    showMessage();
    showTime("setting");
  }

  function keyRows(): { label: string; timecode: string; worst: string }[] {
    const shown = open;
    if (shown === undefined) return [];
    return shown.stage.keys.map((key) => {
      const worst = worstAt(shown, nearestSample(shown, key.time));
      const words = worst
        ? `${shown.stage.axes[worst.axis].name} ${ORDERS[worst.order]} ${shareReading(worst.share)}`
        : "";
      return { label: key.label, timecode: timecodeOf(key.time), worst: words };
    });
  }

  function spanOf(finding: StageFinding): string {
    if (open === undefined || finding.time === undefined) return "";
    const { from, to } = finding.time;
    return from === to ? timecodeOf(from) : `${timecodeOf(from)} to ${timecodeOf(to)}`;
  }

  function report(): StageState {
    return {
      uri: open?.stage.uri,
      version,
      time: player.time,
      playing: player.playing,
      frame: frameOf(player.time),
      timecode: timecodeOf(player.time),
      webgl: pictures.surface() === "alive",
      message: pictures.root.querySelector(".notice:not([hidden])")?.textContent ?? "",
      pictures: pictures.drawnCount(),
      keys: open?.stage.keys.length ?? 0,
      findings: findings.length,
      links: moment ? [...moment.pose.positions] : [],
      picture: pictures.report(),
    };
  }

  function receive(received: ToStage): void {
    if (received.type === "take") take(received.answer);
    else if (received.type === "report") bridge.send({ type: "state", id: received.id, state: report() });
    else if (open) {
      if (player.playing) player.pause();
      keep({ key: received.key });
      pictures.chooseKey(received.key);
      keyList.choose(received.key);
      player.seek(received.time);
    }
  }

  bindShortcuts({
    player,
    toStart: () => player.seek(0),
    toEnd: () => player.seek(Infinity),
    goToKey(towards) {
      const key = open ? neighbourKey(player.time, open.keyTimes, towards) : -1;
      if (key >= 0) chooseKey(key, false);
    },
    revealKey() {
      const key = open ? keyPassed(player.time, open.keyTimes) : -1;
      if (key >= 0) chooseKey(key, true);
    },
    side: setSide,
    fit,
    shown: () => kept.pictures,
    show: (shown) => show({ pictures: shown }),
    help: () => help.open(),
  });
  // A click on a control leaves the focus where it was, so that the keys of the stage go on meaning the stage.
  document.addEventListener("mousedown", (event) => {
    if (event.target instanceof Element && event.target.closest("button")) event.preventDefault();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) player.pause();
    else request();
  });
  const repaint = (): void => {
    const palette = readPalette();
    pictures.paint(palette);
    scrub.paint(palette);
    graphs.paint(palette);
    request();
  };
  watchTheme(repaint);
  repaint();

  player.setSpeed(kept.speed);
  player.setLoop(kept.loop);
  pictures.restoreViews(kept.side, kept.viewpoints);
  show({ side: kept.side, pictures: kept.pictures, tab: kept.tab, strip: kept.strip, axis: kept.axis });
  showMessage();
  bridge.listen(receive);
  bridge.send(kept.uri === undefined ? { type: "ready" } : { type: "ready", uri: kept.uri });
}

function nearestSample(open: OpenTake, time: number): number {
  const { t, count } = open.take;
  const before = sampleBefore(t, time);
  if (before + 1 >= count) return before;
  return time - t[before] > t[before + 1] - time ? before + 1 : before;
}
