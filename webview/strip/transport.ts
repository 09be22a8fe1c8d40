import { element, setText } from "../element.ts";
import { SPEEDS } from "../state.ts";
import { icon, type IconName } from "./icons.ts";

export interface TransportEvents {
  toggle(): void;
  step(frames: number): void;
  toStart(): void;
  toEnd(): void;
  setLoop(loop: boolean): void;
  setSpeed(speed: number): void;
}

export interface Transport {
  readonly object: HTMLElement;
  update(shown: {
    readonly enabled: boolean;
    readonly playing: boolean;
    readonly loop: boolean;
    readonly speed: number;
    readonly timecode: string;
    readonly frame: string;
    readonly worst: string;
    readonly band: string;
  }): void;
}

export function createTransport(events: TransportEvents): Transport {
  const button = (name: IconName, label: string, keys: string, act: () => void): HTMLButtonElement => {
    const made = element(
      "button",
      { type: "button", class: "sign", "aria-label": label, title: `${label} (${keys})` },
      icon(name),
    );
    made.addEventListener("click", act);
    return made;
  };
  const start = button("start", "To the start", "Home", events.toStart);
  const back = button("back", "One frame back", ",", () => events.step(-1));
  const play = button("play", "Play", "Space", events.toggle);
  const forward = button("forward", "One frame forward", ".", () => events.step(1));
  const end = button("end", "To the end", "End", events.toEnd);
  const loop = button("loop", "Loop", "L", () => events.setLoop(loop.getAttribute("aria-pressed") !== "true"));
  play.classList.add("primary");
  const speed = element(
    "select",
    { "aria-label": "Playing speed", title: "Playing speed (S slower, Shift S faster)" },
    ...SPEEDS.map((one) => element("option", { value: one }, `${one} ×`)),
  );
  speed.addEventListener("change", () => events.setSpeed(Number(speed.value)));
  const timecode = element("output", { class: "timecode", "aria-live": "off", "aria-label": "Timecode" });
  const frame = element("span", { class: "frame" });
  const worst = element("span", { class: "worst" });
  const controls = [start, back, play, forward, end, loop, speed];
  const object = element(
    "div",
    { class: "transport", role: "group", "aria-label": "Playing" },
    element("div", { class: "controls" }, start, back, play, forward, end, loop, speed),
    element("div", { class: "clock" }, timecode, frame),
    worst,
  );
  let sign: IconName = "play";
  return {
    object,
    update(shown) {
      for (const control of controls) if (control.disabled === shown.enabled) control.disabled = !shown.enabled;
      const wanted = shown.playing ? "pause" : "play";
      if (wanted !== sign) {
        sign = wanted;
        play.replaceChildren(icon(sign));
        const label = shown.playing ? "Pause" : "Play";
        play.setAttribute("aria-label", label);
        play.title = `${label} (Space)`;
      }
      if (loop.getAttribute("aria-pressed") !== String(shown.loop))
        loop.setAttribute("aria-pressed", String(shown.loop));
      if (speed.value !== String(shown.speed)) speed.value = String(shown.speed);
      setText(timecode, shown.timecode);
      setText(frame, shown.frame);
      setText(worst, shown.worst);
      const name = `worst share-${shown.band}`;
      if (worst.className !== name) worst.className = name;
    },
  };
}
