import { Group, type Scene } from "three";
import type { MeshStore } from "../mesh/mesh-store.ts";
import type { GhostState } from "../../protocol/stage-ghost.ts";
import type { Palette } from "../palette.ts";
import { createCameraModel } from "../stage/camera-model.ts";
import type { Dots } from "../stage/dots.ts";
import { STAGE_ONLY } from "../stage/eye.ts";
import { createKeyMarks } from "../stage/key-marks.ts";
import { createRigModel } from "../stage/rig-model.ts";
import type { Moment } from "../take/moment.ts";
import type { OpenTake } from "../take/open-take.ts";
import { createGhostMaterials } from "./ghost-materials.ts";
import { createGhostPath } from "./ghost-path.ts";

/** What is compared with, in the scene: its path dashed, its keys hollow, its rig as an outline. None of it shows through the lens. */
export interface GhostScene {
  /** Builds it when it is another take; `undefined` takes it out of the scene. */
  load(ghost: OpenTake | undefined): void;
  show(shown: boolean): void;
  /** @param ratio Device px a CSS px. */
  update(moment: Moment, ratio: number): void;
  paint(palette: Palette): void;
  /** Places that are drawn; empty while it is not shown. */
  drawn(): Pick<GhostState, "keys" | "links">;
}

export function createGhostScene(scene: Scene, meshes: MeshStore): GhostScene {
  const materials = createGhostMaterials();
  let built: (Built & { readonly meshes: unknown }) | undefined;
  let palette: Palette | undefined;
  let isShown = true;
  const drop = (): void => {
    if (!built) return;
    scene.remove(built.object);
    built.dispose();
    built = undefined;
  };
  return {
    load(ghost) {
      const made = ghost && meshes.signature(ghost.stage.rig.bodies);
      if (built?.of === ghost && built?.meshes === made) return;
      drop();
      if (!ghost) return;
      built = { ...build(ghost, materials, meshes), meshes: made };
      built.object.visible = isShown;
      if (palette) built.keys.paint(palette);
      scene.add(built.object);
    },
    show(shown) {
      isShown = shown;
      if (built) built.object.visible = shown;
    },
    update(moment, ratio) {
      if (!built || !isShown) return;
      for (const part of built.posed) part.update(moment);
      built.keys.setRatio(ratio);
    },
    paint(next) {
      palette = next;
      materials.paint(next);
      built?.keys.paint(next);
    },
    drawn: () =>
      built && isShown ? { keys: [...built.keys.places], links: [...built.joints.places] } : { keys: [], links: [] },
  };
}

interface Built {
  readonly of: OpenTake;
  readonly object: Group;
  readonly keys: Dots;
  readonly joints: Dots;
  readonly posed: readonly { update(moment: Moment): void }[];
  dispose(): void;
}

function build(ghost: OpenTake, materials: ReturnType<typeof createGhostMaterials>, meshes: MeshStore): Built {
  const { stage, take, base } = ghost;
  const rig = createRigModel(stage.rig, base, materials, meshes.shape);
  const camera = createCameraModel(stage.optics, stage.deliver, materials);
  const path = createGhostPath(take.position, materials);
  const keys = createKeyMarks(ghost, "hollow");
  rig.joints.object.visible = false;
  const object = new Group();
  object.add(rig.object, camera.object, path.object, keys.object);
  object.traverse((child) => child.layers.set(STAGE_ONLY));
  return {
    ...{ of: ghost, object, keys, joints: rig.joints, posed: [rig, camera] },
    dispose: () => [rig, camera, path, keys].forEach((part) => part.dispose()),
  };
}
