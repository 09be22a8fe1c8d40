import {
  DirectionalLight,
  HemisphereLight,
  BufferGeometry,
  BufferAttribute,
  LineSegments,
  Scene,
  Vector3,
  Group,
} from "three";
import type { MeshStore } from "../mesh/mesh-store.ts";
import type { Overlay, Overlays } from "../overlays.ts";
import type { Palette } from "../palette.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { boundsOf, type TakeBounds } from "./bounds.ts";
import { createCameraModel, type CameraModel } from "./camera-model.ts";
import { createDressingModel } from "./dressing-model.ts";
import { createDots, type Dots } from "./dots.ts";
import { STAGE_ONLY } from "./eye.ts";
import { createFloor, type Floor } from "./floor.ts";
import { createKeyMarks } from "./key-marks.ts";
import { createMaterials, type Materials } from "./materials.ts";
import { createParts } from "./parts.ts";
import type { Label } from "./labels.ts";
import type { OverlayPart, PixelsOf, Pointer } from "./overlays/overlay-part.ts";
import { createRigOverlays, type OverlayEvents, type RigOverlays } from "./overlays/rig-overlays.ts";
import { createSharpnessOverlay } from "./overlays/sharpness-overlay.ts";
import { createPathModel, type PathModel } from "./path-model.ts";
import { createRigModel, type RigModel } from "./rig-model.ts";
import { createSetModel, type SetModel } from "./set-model.ts";
import type { StageSegment } from "../../protocol/stage.ts";
import type { StagePicturedOverlays } from "../../protocol/stage-overlays.ts";
import type { Bounds } from "./viewpoint.ts";
import { createWayModel, type WayModel } from "./way-model.ts";

/** All that is drawn of a take. It knows nothing of the page or of who looks at it. */
export interface StageScene {
  readonly scene: Scene;
  load(open: OpenTake): void;
  clear(): void;
  update(moment: Moment): void;
  paint(palette: Palette): void;
  chooseKey(key: number): void;
  /** What is drawn beyond the rig, the set and the path from now on. */
  setOverlays(overlays: Overlays): void;
  setPicture(width: number, height: number, ratio: number): void;
  /** Places of the keys' marks and of the joints as drawn, shape (count, 3) in the set; empty before a take. */
  keyPlaces(): Float32Array;
  jointPlaces(): Float32Array;
  /** Names of what overlays show, in a pane. */
  labels(pixelsOf: PixelsOf, pointer: Pointer | undefined): readonly Label[];
  /** What overlays show now, for tests. */
  overlayReport(pixelsOf: PixelsOf): StagePicturedOverlays;
  /** The overlays that are about the rig: what they are told and what they say. */
  readonly rig: Omit<RigOverlays, "load" | "clear" | "changed" | "report">;
  /** Shortest ways that are drawn now. */
  ways(): readonly StageSegment[];
  /** What the views are fitted to. */
  bounds(): Bounds;
  /** Parts built so far. */
  built(): number;
}

interface Shot {
  readonly floor: Floor;
  readonly rig: RigModel;
  readonly camera: CameraModel;
  readonly set: SetModel;
  readonly path: PathModel;
  readonly keys: Dots & { readonly object: Dots["object"] };
  readonly targets: Dots;
  readonly sight: Sight;
  readonly ways: WayModel;
  readonly overlays: Partial<Record<Overlay, OverlayPart>>;
}

const ROOM: Bounds = { low: [-1, -1, 0], high: [2, 1, 1.5] };
const EMPTY: TakeBounds = { action: ROOM, all: ROOM };

export function createStageScene(meshes: MeshStore, events: OverlayEvents): StageScene {
  const scene = new Scene();
  scene.matrixWorldAutoUpdate = false;
  const materials = createMaterials();
  const parts = createParts(scene);
  const rigOverlays = createRigOverlays(parts, meshes, events);
  const sun = createSun(scene);
  let shot: Shot | undefined;
  let palette: Palette | undefined;
  let picture = [1, 1, 1] as const as readonly [number, number, number];
  let bounds = EMPTY;
  let chosen = -1;
  let drawnParts: readonly OverlayPart[] = [];
  let overlays: Overlays = new Set();

  const overlayParts = (): readonly (readonly [string, OverlayPart])[] => Object.entries(shot?.overlays ?? {});
  const applyOverlays = (): void => {
    for (const [name, part] of overlayParts()) {
      const on = overlays.has(name as Overlay);
      part.object.visible = on;
      part.show?.(on);
    }
  };
  const applyPicture = (): void => {
    if (shot === undefined) return;
    shot.path.setPicture(...picture);
    for (const part of drawnParts) part.setPicture?.(...picture);
    for (const dots of [shot.keys, shot.targets, shot.rig.joints, shot.ways.ends]) dots.setRatio(picture[2]);
  };
  const applyPalette = (): void => {
    if (palette === undefined) return;
    materials.paint(palette);
    if (shot === undefined) return;
    for (const part of [shot.floor, shot.rig, shot.path, shot.keys, shot.targets, shot.ways.ends]) part.paint(palette);
    for (const part of drawnParts) part.paint?.(palette);
  };

  return {
    scene,
    rig: rigOverlays,
    load(open) {
      bounds = boundsOf(open, meshes.shape);
      sun.cover(bounds.all);
      const { stage } = open;
      const around = [...bounds.all.low, ...bounds.all.high].map(Math.round);
      shot = {
        floor: parts.keep("floor", [around, stage.floor], () => createFloor(bounds.all, stage.floor, materials)),
        rig: parts.keep("rig", [stage.rig, stage.base, meshes.signature(stage.rig.bodies)], () =>
          createRigModel(stage.rig, open.base, materials, meshes.shape),
        ),
        camera: parts.keep("camera", [stage.optics, stage.deliver], () =>
          createCameraModel(stage.optics, stage.deliver, materials),
        ),
        set: parts.keep(
          "set",
          [
            ...[stage.obstacles, stage.people, stage.turntables, stage.targets, stage.marks, stage.axes.length],
            meshes.signature([...stage.obstacles, ...stage.people]),
          ],
          () => createSetModel(stage, materials, meshes.shape),
        ),
        path: parts.keep("path", [stage.samples.position, stage.samples.share], () =>
          createPathModel(open.take.position, open.take.share),
        ),
        keys: parts.keep("keys", [stage.keys, stage.samples.position], () => createKeyMarks(open)),
        targets: parts.keep("targets", stage.targets.length, () =>
          createDots(stage.targets.length, { shape: "disc", size: 9, colour: "target", chosen: "aimed", order: 20 }),
        ),
        sight: parts.keep("sight", 0, () => createSight(materials)),
        ways: parts.keep(
          "ways",
          stage.findings.filter(({ segment }) => segment),
          () => createWayModel(stage.findings, materials),
        ),
        overlays: {
          ...rigOverlays.load(open),
          dressing: parts.keep(
            "dressing",
            [stage.dressing, stage.turntables, stage.axes.length, meshes.signature(stage.dressing ?? [])],
            () => createDressingModel(stage, materials, meshes.shape),
          ),
          sharpness: parts.keep("sharpness", stage.optics, () =>
            createSharpnessOverlay(stage.optics, materials.sharpness),
          ),
        },
      };
      drawnParts = [...Object.values(shot.overlays), rigOverlays.pair()].filter((part) => part !== undefined);
      applyOverlays();
      rigOverlays.changed();
      shot.keys.choose(chosen);
      applyPalette();
      applyPicture();
    },
    clear() {
      parts.clear();
      rigOverlays.clear();
      drawnParts = [];
      shot = undefined;
      bounds = EMPTY;
    },
    update(moment) {
      if (shot === undefined) return;
      shot.rig.update(moment);
      shot.camera.update(moment);
      shot.set.update(moment);
      shot.targets.places.set(moment.targets);
      shot.targets.moved();
      shot.targets.choose(moment.aimed);
      shot.sight.update(moment);
      shot.ways.update(moment);
      for (const part of drawnParts) if (part.object.visible) part.update?.(moment);
      // Once for all panes.
      scene.updateMatrixWorld();
    },
    paint(next) {
      palette = next;
      applyPalette();
    },
    chooseKey(key) {
      chosen = key;
      shot?.keys.choose(key);
    },
    setOverlays(next) {
      overlays = next;
      applyOverlays();
      rigOverlays.changed();
    },
    setPicture(width, height, ratio) {
      picture = [width, height, ratio];
      applyPicture();
    },
    keyPlaces: () => shot?.keys.places ?? new Float32Array(0),
    jointPlaces: () => shot?.rig.joints.places ?? new Float32Array(0),
    labels: (pixelsOf, pointer) =>
      drawnParts.flatMap((part) => (part.object.visible ? (part.labels?.(pixelsOf, pointer) ?? []) : [])),
    overlayReport: (pixelsOf) => (shot ? rigOverlays.report(pixelsOf) : {}),
    ways: () => shot?.ways.shown() ?? [],
    bounds: () => bounds.action,
    built: () => parts.built(),
  };
}

interface Sight {
  readonly object: LineSegments;
  update(moment: Moment): void;
  dispose(): void;
}

/** The line from the entrance pupil to what is aimed at. */
function createSight(materials: Materials): Sight {
  const geometry = new BufferGeometry();
  const place = new BufferAttribute(new Float32Array(6), 3);
  geometry.setAttribute("position", place);
  const object = new LineSegments(geometry, materials.viewFaint);
  object.frustumCulled = false;
  object.layers.set(STAGE_ONLY);
  return {
    object,
    update(moment) {
      const to = moment.aimed < 0 ? moment.pupil : moment.targets.subarray(3 * moment.aimed, 3 * moment.aimed + 3);
      place.array.set(moment.pupil, 0);
      place.array.set(to, 3);
      place.needsUpdate = true;
    },
    dispose: () => geometry.dispose(),
  };
}

/** Soft light from above and one lamp that throws the shadows which say where things stand on the floor. */
function createSun(scene: Scene): { cover(bounds: Bounds): void } {
  const sky = new HemisphereLight(0xffffff, 0xb8b4ac, 1.9);
  sky.position.set(0, 0, 1);
  const lamp = new DirectionalLight(0xffffff, 1.7);
  lamp.castShadow = true;
  lamp.shadow.mapSize.set(2048, 2048);
  lamp.shadow.bias = -0.0004;
  lamp.shadow.normalBias = 0.01;
  lamp.shadow.radius = 3;
  const lights = new Group();
  lights.add(sky, lamp, lamp.target);
  scene.add(lights);
  return {
    cover(bounds) {
      const [low, high] = [new Vector3(...bounds.low), new Vector3(...bounds.high)];
      const radius = Math.max(1, high.distanceTo(low) / 2);
      lamp.target.position.copy(low.add(high).multiplyScalar(0.5));
      lamp.position
        .copy(lamp.target.position)
        .add(new Vector3(-0.45, -0.5, 1.4).normalize().multiplyScalar(radius * 2));
      const box = lamp.shadow.camera;
      [box.left, box.right, box.top, box.bottom] = [-radius, radius, radius, -radius];
      [box.near, box.far] = [radius * 0.5, radius * 4];
      box.updateProjectionMatrix();
    },
  };
}
