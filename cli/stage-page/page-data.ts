import { runToEnd } from "../../core/base/task.ts";
import type { FileId, Place } from "../../core/base/span.ts";
import { findingsOf, type Analysis } from "../../core/checks/analysis.ts";
import type { PlacedFinding } from "../../core/checks/finding.ts";
import type { Sources } from "../../core/model/sources.ts";
import type { Body } from "../../core/rig/resolved-rig.ts";
import type { AlonePage, AlonePlace } from "../../protocol/alone-page.ts";
import { packSmallTake, unpackTake } from "../../protocol/codec.ts";
import type { StageGhost } from "../../protocol/stage-ghost.ts";
import type { StageAnswer, StageTake } from "../../protocol/stage.ts";
import { placeOfKey } from "../../server/service/key-place.ts";
import { stageFiles } from "../../server/service/stage/stage-meshes.ts";
import { SERIES } from "../../protocol/stage-series.ts";
import { smallSeries, stageSeries } from "../../server/service/stage/stage-series.ts";
import { stageProblem, stageTake } from "../../server/service/stage/stage-take.ts";
import { solvedOf } from "../../server/service/view.ts";
import { Failure } from "../failure.ts";
import { fileNames } from "./file-names.ts";
import { pageMeshes } from "./page-meshes.ts";

/** Another move that the page's own is compared with, and what it is called. */
export interface Against {
  readonly analysis: Analysis;
  readonly label: string;
}

/**
 * All that a page of a move holds. Nothing of it hangs on where the files lie, on the time or on chance.
 *
 * @param findings Those of the move's document, in the order in which the page lists them.
 */
export function pageData(
  analysis: Analysis,
  findings: readonly PlacedFinding[],
  sources: Sources,
  version: string,
  against?: Against,
): AlonePage {
  const { file } = analysis;
  const solved = solvedOf(analysis);
  const texts = [file, ...analysis.inputs.filter((input) => input !== file)].flatMap((input) => {
    const source = sources.read(input);
    return source.state === "text" ? [{ file: input, text: source.text }] : [];
  });
  const files = solved ? stageFiles(solved.move) : [];
  const compared = against && solvedOf(against.analysis);
  const others = compared ? stageFiles(compared.move) : [];
  const nameOf = fileNames([...texts.map((one) => one.file), ...files, ...others]);
  const name = nameOf(file);
  const meshes = pageMeshes(files, sources, nameOf);
  const placeOf = (place: Place | undefined): AlonePlace | null => {
    const source = texts.findIndex((one) => one.file === place?.file);
    return place && source >= 0 ? { source, ...place.span } : null;
  };
  const answer: StageAnswer = solved
    ? {
        take: smallTake(
          runToEnd(
            stageTake(
              name,
              0,
              solved,
              findings,
              files.map((one) => ({ file: one, stamp: "page" })),
            ),
          ),
          nameOf,
        ),
      }
    : { problem: stageProblem(name, 0, findings) };
  return {
    answer,
    sources: texts.map((one) => ({ name: nameOf(one.file), text: one.text })),
    keys: solved ? solved.move.keys.map((_, key) => placeOf(placeOfKey(solved, key))) : [],
    findings: findings.map(({ place }) => placeOf(place)),
    meshes,
    series: solved
      ? SERIES.map((each) => smallSeries(runToEnd(stageSeries(name, 0, { ...solved, findings }, each))))
      : [],
    ...(against ? { ghost: pageGhost(against, nameOf) } : {}),
    version,
  };
}

/** The take of what is compared with. Throws `Failure` for a move that can't be solved. */
function pageGhost({ analysis, label }: Against, nameOf: (file: FileId) => string): StageGhost {
  const solved = solvedOf(analysis);
  if (!solved) throw new Failure(`--against ${label}: ${stageProblem(label, 0, findingsOf(analysis)).message}`);
  // Its findings are its own; meshes that the page's move has too are drawn, of others an outline.
  return { label, take: smallTake(runToEnd(stageTake(label, 0, solved, [])), nameOf), notes: [] };
}

/** A take whose samples take little room and whose meshes have the names of the page. */
function smallTake(take: StageTake, nameOf: (file: FileId) => string): StageTake {
  const named = (body: Body): Body =>
    body.solid.shape === "mesh" ? { ...body, solid: { ...body.solid, file: nameOf(body.solid.file) } } : body;
  const { plate, ...lens } = take.lens ?? {};
  return {
    ...take,
    rig: { ...take.rig, bodies: take.rig.bodies.map(named) },
    obstacles: take.obstacles.map(named),
    people: take.people.map(named),
    dressing: take.dressing?.map(named),
    lens: plate ? { ...lens, plate: { ...plate, file: nameOf(plate.file) } } : lens,
    meshes: take.meshes.map(({ file, stamp }) => ({ file: nameOf(file), stamp })),
    samples: packSmallTake(unpackTake(take.samples)),
  };
}
