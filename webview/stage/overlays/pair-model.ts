import type { Mesh } from "three";
import { matrixFromQuat, quatAbout } from "../../../core/base/quat.ts";
import type { Body } from "../../../core/rig/resolved-rig.ts";
import { composePoses, IDENTITY_POSE } from "../../../core/base/pose.ts";
import type { StageFinding } from "../../../protocol/stage.ts";
import type { Moment } from "../../take/moment.ts";
import type { OpenTake } from "../../take/open-take.ts";
import type { Label } from "../labels.ts";
import { mergeSolids, type ShapeOf } from "../solids.ts";
import type { OverlayPart } from "./overlay-part.ts";
import { createStrokes } from "./strokes.ts";

/** The two bodies that a chosen finding is about: outlined over everything, and named. */
export interface PairModel extends OverlayPart {
  readonly object: Mesh;
  load(open: OpenTake): void;
  choose(finding: StageFinding | undefined): void;
  /** Names of those that are drawn, and how many strokes outline them. */
  told(): { readonly names: readonly string[]; readonly strokes: number };
  dispose(): void;
}

/** A body to be outlined: edges in its own carrier's frame, shape (n, 2, 3) [m], and what carries it. */
interface Outlined {
  readonly name: string;
  readonly edges: ArrayLike<number>;
  readonly middle: readonly number[];
  /** Joint index of its link, -1 for the base, `set` or the index of a turntable. */
  readonly on: { readonly link: number } | { readonly table: number } | "set";
}

/** Lines of one body: of a fine mesh the rest is left out. */
const MOST_EDGES = 3000;
const RANK = 250;

export function createPairModel(first: OpenTake, shapeOf: ShapeOf): PairModel {
  // The part and what it is too near to differ by their lines.
  const strokes = createStrokes(
    2 * MOST_EDGES,
    [
      { colour: "share-over", width: 2.5 },
      { colour: "share-over", width: 2.5, dash: [0.05, 0.6] },
    ],
    29,
  );
  let open = first;
  let finding: StageFinding | undefined;
  let bodies: readonly (Outlined | undefined)[] = [];
  let shown: readonly Outlined[] = [];
  const places = new Float32Array(6);
  const rotation = new Float64Array(9);
  const position = new Float64Array(3);
  const drawn = new Float64Array(6);

  const look = (): void => {
    const names = finding?.bodies;
    bodies = names ? [names.part, names.target].map((name) => outlined(open, name, shapeOf)) : [];
  };
  const enter = ({ on }: Outlined, moment: Moment): void => {
    rotation.set([1, 0, 0, 0, 1, 0, 0, 0, 1]);
    position.fill(0);
    if (on === "set") return;
    if ("table" in on) {
      const { at, along } = open.stage.turntables[on.table];
      const axis = open.stage.axes.findIndex(({ turntable }) => turntable === on.table);
      matrixFromQuat(quatAbout(along, axis < 0 ? 0 : moment.values[axis]), rotation);
      position.set(at);
    } else if (on.link < 0) {
      rotation.set(open.base.rotation);
      position.set(open.base.position);
    } else {
      rotation.set(moment.pose.rotations.subarray(9 * on.link, 9 * on.link + 9));
      position.set(moment.pose.positions.subarray(3 * on.link, 3 * on.link + 3));
    }
  };
  const toSet = (from: ArrayLike<number>, at: number, out: Float64Array | Float32Array, to: number): void => {
    for (let k = 0; k < 3; k++) {
      out[to + k] =
        rotation[3 * k] * from[at] +
        rotation[3 * k + 1] * from[at + 1] +
        rotation[3 * k + 2] * from[at + 2] +
        position[k];
    }
  };

  return {
    object: strokes.object,
    load(next) {
      open = next;
      look();
    },
    choose(next) {
      finding = next;
      look();
    },
    update(moment) {
      const time = finding?.time;
      const isNow = time === undefined || (time.from - 1e-6 <= moment.t && moment.t <= time.to + 1e-6);
      if (!isNow || bodies.length === 0) {
        if (shown.length > 0) {
          shown = [];
          strokes.begin();
          strokes.end();
        }
        return;
      }
      strokes.begin();
      shown = bodies.flatMap((body) => body ?? []);
      bodies.forEach((body, kind) => {
        if (!body) return;
        enter(body, moment);
        const most = Math.min(body.edges.length, 6 * MOST_EDGES);
        for (let i = 0; i + 5 < most; i += 6) {
          toSet(body.edges, i, drawn, 0);
          toSet(body.edges, i + 3, drawn, 3);
          strokes.add(drawn[0], drawn[1], drawn[2], drawn[3], drawn[4], drawn[5], kind);
        }
        toSet(body.middle, 0, places, 3 * shown.indexOf(body));
      });
      strokes.end();
    },
    paint: strokes.paint,
    setPicture: strokes.setPicture,
    labels(pixelsOf) {
      const pixels = pixelsOf(places);
      return shown.map(({ name }, i): Label => ({ text: name, kind: "part", rank: RANK, x: pixels[2 * i], y: pixels[2 * i + 1] })); // prettier-ignore
    },
    told: () => ({
      names: shown.map(({ name }) => name),
      strokes: shown.length === 0 ? 0 : strokes.places().length / 6,
    }),
    dispose: strokes.dispose,
  };
}

/** The body of a name as findings use it; `undefined` for what has no outline, such as the floor. */
function outlined({ stage }: OpenTake, name: string, shapeOf: ShapeOf): Outlined | undefined {
  const { rig, optics, obstacles, people } = stage;
  const standing = [...obstacles, ...people].find((body) => body.name === name);
  if (standing) return of(standing, standing.table === undefined ? "set" : { table: standing.table });
  const own = rig.bodies.find((body) => body.name === name);
  if (own) return of(own, { link: own.link });
  const last = { link: rig.joints.length - 1 };
  const attachment = optics.attachments.find((one) => one.name === name);
  const placed = (
    solid: Body["solid"],
    at: readonly [number, number, number],
    turn = IDENTITY_POSE.turn,
  ): Outlined | undefined =>
    // prettier-ignore
    of({ name, solid, pose: composePoses(rig.mount, { at, turn }) }, last);
  if (attachment) return placed({ shape: "box", size: attachment.box }, attachment.at);
  if (name === optics.lensName && optics.front) {
    const { diameter, length } = optics.front;
    return placed({ shape: "cylinder", radius: diameter / 2, height: length }, [length / 2, 0, 0], quatAbout([0, 1, 0], Math.PI / 2)); // prettier-ignore
  }
  // As big as the camera is at least: a line from its sensor to the pupil.
  if (name === "the camera") return placed({ shape: "box", size: [0.1, 0.05, 0.05] }, [0, 0, 0]);
  return undefined;

  function of(body: Pick<Body, "name" | "solid" | "pose">, on: Outlined["on"]): Outlined | undefined {
    const merged = mergeSolids([body], shapeOf);
    const edges = merged?.edges.getAttribute("position")?.array ?? [];
    merged?.faces.dispose();
    merged?.edges.dispose();
    return edges.length === 0 ? undefined : { name: body.name, edges, middle: body.pose.at, on };
  }
}
