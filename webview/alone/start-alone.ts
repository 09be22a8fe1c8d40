import { CARE, PLAIN_ID, PLAIN_WHY_ID, type AlonePage } from "../../protocol/alone-page.ts";
import type { FromStage, ToStage } from "../../protocol/stage.ts";
import { formatTimecode } from "../../core/base/timecode.ts";
import { frameAt } from "../../core/base/rate.ts";
import { element } from "../element.ts";
import type { Clock } from "../player.ts";
import { startStage } from "../stage-app.ts";
import { createAloneBridge, type AloneBridge } from "./alone-bridge.ts";
import type { LineNote } from "./text-view.ts";
import { createTextPane, NARROW } from "./text-pane.ts";
import { followTheme } from "./theme.ts";
import { unpackPage } from "./unpack.ts";

declare global {
  interface Window {
    /** What an editor would say to the stage, and the stage's answers to `report`: for tests of the page. */
    movewrightStage?: { say(message: ToStage): void; readonly told: FromStage[] };
  }
}

/** Builds the page that stands alone from its data, or says why that can't be. */
export async function startAlone(
  packed: string,
  clock: Clock,
  tellFaults: (tell: (message: FromStage) => void) => void,
): Promise<void> {
  try {
    const page = await unpackPage(packed);
    followTheme(document.body);
    tellFaults(buildPage(page, clock).send);
    document.getElementById(PLAIN_ID)?.remove();
  } catch (error) {
    sayPlainly(`The stage can't be shown, so this file is damaged (${String(error)}). The findings are listed below.`);
  }
}

function buildPage(page: AlonePage, clock: Clock): AloneBridge {
  const told: FromStage[] = [];
  const fault = element("p", { class: "fault", role: "alert", hidden: true });
  const fail = (message: string): void => {
    fault.hidden = false;
    fault.textContent = `The stage: ${message}`;
  };
  const bridge = createAloneBridge(page, {
    keyRevealed: (key) => reveal(page.keys[key]),
    findingRevealed: (id) => reveal(page.findings[id]),
    failed: fail,
    told: (message) => void told.push(message),
  });
  const stage = element("div", { class: "alone-stage" });
  const toggle = element("button", { type: "button", "aria-controls": "text-pane" }, "Text");
  const pane = createTextPane(page.sources, (source) => notesOf(page, source, bridge), showOpen);
  const foot = element(
    "footer",
    { class: "foot" },
    element("p", {}, `Made by Movewright ${page.version} from ${page.sources[0].name}. ${CARE}`),
    toggle,
  );
  document.body.append(stage, pane.object, fault, foot);
  toggle.addEventListener("click", () => (pane.isOpen() ? pane.close() : pane.open()));
  NARROW.addEventListener("change", () => showOpen(pane.isOpen()));
  showOpen(pane.isOpen());
  window.movewrightStage = { say: bridge.say, told };
  startStage(stage, bridge, clock);
  return bridge;

  function showOpen(open: boolean): void {
    document.body.dataset.text = open ? "shown" : "hidden";
    toggle.setAttribute("aria-expanded", String(open));
    // What lies under the text is not to be reached by keys either.
    stage.inert = open && NARROW.matches;
  }

  function reveal(place: AlonePage["keys"][number] | undefined): void {
    if (place) pane.reveal(place);
  }
}

/** Keys and findings of a source, beside its lines: each leads to its moment. */
function notesOf({ answer, keys, findings }: AlonePage, source: number, bridge: AloneBridge): LineNote[] {
  const take = "take" in answer ? answer.take : undefined;
  const told = "take" in answer ? answer.take.findings : answer.problem.findings;
  const goTo = (time: number, key: number) => () => bridge.say({ type: "playhead", time, key });
  const ofKeys = (take?.keys ?? []).flatMap(({ label, time }, key): LineNote[] => {
    const place = keys[key];
    if (place?.source !== source || !take) return [];
    const words = `${label} ${formatTimecode(take.startFrame + frameAt(take.rate, time), take.rate)}`;
    return [{ at: place.start, kind: "key", words, go: goTo(time, key) }];
  });
  const ofFindings = told.flatMap(({ severity, code, message, time, peak }, id): LineNote[] => {
    const place = findings[id];
    if (place?.source !== source) return [];
    const go = take && time ? goTo(peak ?? time.from, -1) : undefined;
    return [{ at: place.start, kind: severity, words: `${code}: ${message}`, go }];
  });
  return [...ofKeys, ...ofFindings];
}

function sayPlainly(words: string): void {
  const why = document.getElementById(PLAIN_WHY_ID);
  if (!why) return;
  why.hidden = false;
  why.textContent = words;
}
