import { element, setText } from "../element.ts";
import { createLegend } from "../stage/legend.ts";

/** What is said once of the scene, however many panes show it: what its colours mean, and which meshes are missing. */
export interface SceneNotes {
  /** In the pane that they stand in now; `undefined` hides them. */
  standIn(place: HTMLElement | undefined): void;
  say(problems: readonly string[]): void;
}

/** @param panel What is said of overlays, with their choices. */
export function createSceneNotes(panel: HTMLElement): SceneNotes {
  const legend = createLegend();
  const notes = element("p", { class: "mesh-notes", role: "status", hidden: true });
  return {
    standIn(place) {
      if (place === undefined) {
        legend.remove();
        panel.remove();
        notes.remove();
      } else if (legend.parentElement !== place) place.append(legend, panel, notes);
    },
    say(problems) {
      setText(notes, problems.join(" "));
      notes.hidden = problems.length === 0;
    },
  };
}
