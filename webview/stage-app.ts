import type { StageAnswer, ToStage } from "../protocol/stage.ts";
import type { Bridge } from "./bridge.ts";
import { element } from "./element.ts";
import { createGoing } from "./going.ts";
import { createKeeper } from "./keeper.ts";
import { createDivider } from "./layout.ts";
import { overlayReasons } from "./overlays.ts";
import { readPalette, watchTheme } from "./palette.ts";
import { createArranging } from "./panes/arranging.ts";
import { createMeshStore } from "./mesh/mesh-store.ts";
import { createPictures } from "./pictures.ts";
import { createPlayer, type Clock } from "./player.ts";
import { createSaving } from "./save/saving.ts";
import { createShaping } from "./shape/shaping.ts";
import { bindShortcuts } from "./shortcuts.ts";
import type { Shown } from "./shown.ts";
import { createSpeaker } from "./speaker.ts";
import { stateOf } from "./stage-state.ts";
import type { KeptState } from "./state.ts";
import { ghostInTime } from "./ghost/ghost-in-time.ts";
import { createGhosting } from "./ghost/ghosting.ts";
import { createHelp } from "./strip/help.ts";
import { createStrip } from "./strip/strip.ts";
import { createViewsBar } from "./strip/views-bar.ts";
import { createMoment, momentAt } from "./take/moment.ts";
import { openTake, type OpenTake } from "./take/open-take.ts";
import { keyPassed, neighbourKey } from "./take/timeline.ts";
import { instantWords, worstOf, worstWords } from "./take/words.ts";

/** While playing, what is read rather than looked at changes at most this often [ms]. */
const READING_PAUSE = 100;

const WAITING = "Waiting for a move.";
const NO_WEBGL =
  "This editor cannot draw in 3D here: WebGL 2 is missing. Playing, graphs, values and findings work without it.";
const LOST_WEBGL =
  "The graphics were lost. The picture comes back as soon as the editor gives them back; all else goes on.";

/** Builds the page in `body`, tells the extension that it is ready and answers it from then on. */
export function startStage(body: HTMLElement, bridge: Bridge, clock: Clock): void {
  const keeper = createKeeper(bridge);
  let shown: Shown = { uri: undefined, version: 0, message: WAITING, findings: [] };
  let drawing: number | undefined;
  let readAt = -Infinity;

  const player = createPlayer(clock, showTime);
  const shaping = createShaping({
    bridge,
    player,
    shown: () => shown.open,
    chosenKey: () => keeper.now().key,
    show: tryOut,
    back: showTake,
    say: (words) => speaker.say(words),
  });
  // A page that stands alone hands files to the browser: nobody is there to answer what is found on demand.
  const hasServer = bridge.download === undefined;
  const meshes = createMeshStore((mesh) => bridge.send({ type: "mesh", mesh }), meshChanged, request);
  const pictures = createPictures(
    {
      stale: request,
      keyClicked: (_, key) => going.revealKey(key),
      viewChanged: () => arranging.keepViewpoints(),
      hand: shaping.pane,
      kindChosen: (pane, kind) => arranging.setKind(kind, pane),
      activated: (pane) => arranging.activate(pane),
      fit: (pane) => arranging.fit(pane),
      surfaceChanged: showMessage,
      overlayAsked: hasServer ? (question) => bridge.send(question) : undefined,
    },
    meshes,
  );
  const arranging = createArranging(keeper, pictures, ({ panes }) => {
    bar.choose(panes.length);
    request();
  });
  const speaker = createSpeaker();
  const saving = createSaving({
    ...{ bridge, pictures, panes: arranging.now, say: speaker.say, stale: request },
    open: () => shown.open,
    time: () => player.time,
  });
  let isCompared = false;
  const ghosting = createGhosting(bridge, {
    changed(play) {
      isCompared = play !== undefined;
      pictures.setGhost(play);
      strip.graphs.loadGhost(play && ghostInTime(play));
      bar.overlays(keeper.now().overlays, overlayReasons(shown.open, isCompared, hasServer));
      if (shown.moment) showTime("setting");
    },
    compared: () => void (shown.moment && ghosting.read(shown.moment)),
    went: (time) => going.goTo(time),
  });
  const help = createHelp();
  const bar = createViewsBar(
    { count: arranging.setCount, overlays: (overlays) => choose({ overlays }), help: help.open },
    ghosting.menu,
    saving.menu,
  );
  const strip = createStrip(player, {
    keyClicked: (key) => going.revealKey(key),
    keyDragged(key, time) {
      if (key !== keeper.now().key) going.chooseKey(key);
      shaping.dragKey(key, time);
    },
    nudged: shaping.nudge,
    dropped: shaping.release,
    dragCancelled: shaping.cancel,
    findingClicked: (finding) => going.revealFinding(finding),
    tabOpened: (tab) => choose({ tab }),
    graphsChosen: ({ graphs, axes }) => choose({ graphs, axes }),
    windowed: (window) => keeper.keep({ window }),
    seriesWanted: (name, version) => bridge.send({ type: "series", name, version }),
  });
  const going = createGoing({ player, keeper, pictures, strip, bridge, shown: () => shown, choose });
  const layout = createDivider((share) => choose({ strip: share }));
  pictures.root.append(shaping.object);
  const main = element("main", {}, pictures.root, layout.divider, strip.object);
  body.append(bar.object, ghosting.bar, main, speaker.object, help.object, saving.dialog);

  /** Takes over changed choices, keeps and shows them. */
  function choose(changes: Partial<KeptState>): void {
    keeper.keep(changes);
    const kept = keeper.now();
    if (changes.overlays) pictures.setOverlays(new Set(kept.overlays));
    if (changes.strip !== undefined) layout.setStrip(kept.strip);
    if (changes.tab) strip.openTab(kept.tab);
    if (changes.axes || changes.graphs) strip.graphs.choose(kept);
    request();
  }

  /** Draws once, soon. Nothing is drawn while nothing changes. */
  function request(): void {
    drawing ??= clock.request(() => {
      drawing = undefined;
      if (shown.moment) pictures.draw(shown.moment);
    });
  }

  function showTime(cause: "tick" | "moved" | "setting"): void {
    const { open, moment } = shown;
    if (open && moment) {
      momentAt(open, player.time, moment);
      ghosting.follow(moment);
      if (cause === "tick") pictures.draw(moment);
      else request();
    }
    strip.follow();
    const now = performance.now();
    if (open === undefined || moment === undefined || (cause === "tick" && now - readAt < READING_PAUSE)) return;
    readAt = now;
    strip.read(moment);
    ghosting.read(moment);
    if (cause === "tick") return;
    keeper.keep({ time: player.time, speed: player.speed, loop: player.loop });
    const state = player.playing ? "Playing. " : "";
    const read = strip.words() || `Highest share: ${worstWords(open, worstOf(open, player.time))}.`;
    speaker.say(`${state}${instantWords(open, player.time)}. ${read}`);
  }

  /** What is made of the mesh is built anew, the rest stays. */
  function meshChanged(): void {
    if (shown.open) pictures.load(shown.open);
    request();
  }

  function showMessage(): void {
    const surface = pictures.surface();
    const graphics = surface === "none" ? NO_WEBGL : surface === "lost" ? LOST_WEBGL : "";
    pictures.notice(shown.message || graphics, shown.message ? "all" : "scene");
    saving.update();
    request();
  }

  function take(answer: StageAnswer): void {
    const before = shown.open;
    const { uri, version, findings } = "take" in answer ? answer.take : answer.problem;
    const kept = keeper.now();
    const other = kept.uri !== undefined && kept.uri !== uri;
    if ("take" in answer) {
      const open = openTake(answer.take);
      shown = { uri, version, findings, message: "", open, moment: createMoment(open) };
      bar.title(answer.take.title, answer.take.stale);
    } else {
      shown = { uri, version, findings, message: answer.problem.message };
      bar.title("Stage", false);
    }
    const { open } = shown;
    if (other) {
      keeper.keep({ time: 0, key: -1, window: undefined });
      strip.graphs.setWindow(undefined);
      arranging.forgetViewpoints();
    }
    keeper.keep({ uri });
    pictures.load(open);
    bar.overlays(kept.overlays, overlayReasons(open, isCompared, hasServer));
    strip.load(open, findings);
    ghosting.load(open);
    if (open) {
      const { time, key } = keeper.now();
      going.chooseKey(key < open.keyTimes.length ? key : -1);
      player.load(open.stage.duration, open.stage.rate, before && !other ? player.time : time);
    } else player.load(0, { num: 25, den: 1, nominal: 25, drop: false }, 0);
    showMessage();
    showTime("setting");
    shaping.load(open);
    // After the first picture is on its way: meshes come into it when they are here.
    meshes.load(open?.stage.meshes ?? [], open?.stage.lens?.plate);
  }

  /** Shows how the move would go, at a time of it; lists and graphs follow once it is written. */
  function tryOut(open: OpenTake, time: number): void {
    shown = { ...shown, open, moment: createMoment(open) };
    pictures.load(open);
    strip.tryOut(open);
    player.load(open.stage.duration, open.stage.rate, time);
    showTime("setting");
  }

  /** Shows the move as its text has it, after something was tried out. */
  function showTake(open: OpenTake): void {
    tryOut(open, player.time);
    strip.load(open, shown.findings);
  }

  function receive(message: ToStage): void {
    if (message.type === "take") take(message.answer);
    else if (message.type === "mesh") meshes.receive(message.mesh);
    else if (message.type === "shape") shaping.receive(message.answer);
    else if (message.type === "series") strip.graphs.receive(message.series);
    else if (message.type === "reach" || message.type === "passes") pictures.receive(message);
    else if (message.type === "ghost") ghosting.receive(message.ghost);
    else if (message.type === "report")
      bridge.send({ type: "state", id: message.id, state: stateOf(shown, player, pictures, strip, ghosting) });
    else if (message.type === "save-next" || message.type === "saved") saving.receive(message);
    else if (message.type === "play") going.playFrom(message.time);
    else if (message.type === "playhead" && shown.open) {
      going.chooseKey(message.key);
      going.goTo(message.time);
    }
  }

  bindShortcuts({
    player,
    toStart: () => player.seek(0),
    toEnd: () => player.seek(Infinity),
    goToKey: (towards) => void going.goToKey(neighbourKey(player.time, shown.open?.keyTimes ?? [], towards)),
    revealKey: () => going.revealKey(keyPassed(player.time, shown.open?.keyTimes ?? [])),
    kind: (kind) => arranging.setKind(kind),
    fit: () => arranging.fit(),
    nextCount: arranging.nextCount,
    peak: (step) => strip.graphs.peak(step),
    help: help.open,
    shapeKey: shaping.stepKey,
    shaped: shaping.release,
    unshape: shaping.cancel,
  });
  // A click on a control leaves the focus where it was, so that the keys of the stage go on meaning the stage.
  document.addEventListener("mousedown", (event) => {
    if (event.target instanceof Element && event.target.closest("button, summary")) event.preventDefault();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) player.pause();
    else request();
  });
  const repaint = (): void => {
    const palette = readPalette();
    pictures.paint(palette);
    strip.paint(palette);
    request();
  };
  watchTheme(repaint);
  repaint();

  const { speed, loop, overlays, tab, strip: share, graphs, window: shownTime } = keeper.now();
  player.setSpeed(speed);
  player.setLoop(loop);
  arranging.arrange(keeper.now());
  bar.overlays(overlays, overlayReasons(undefined));
  choose({ overlays, tab, strip: share, graphs });
  strip.graphs.setWindow(shownTime);
  showMessage();
  const { uri } = keeper.now();
  bridge.listen(receive);
  bridge.send(uri === undefined ? { type: "ready" } : { type: "ready", uri });
}
