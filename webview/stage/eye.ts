import { Matrix4, OrthographicCamera, PerspectiveCamera, Vector3 } from "three";
import type { Side, Viewpoint } from "../panes/pane-kind.ts";
import { basisOf, distanceOf, OPENING } from "./viewpoint.ts";

/** Layer of what the stage shows and the view through the lens does not: path, marks, frustum. */
export const STAGE_ONLY = 1;

/** The two cameras that the stage is looked at with. */
export interface Eye {
  /** The one set last. */
  current(): PerspectiveCamera | OrthographicCamera;
  /** @param aspect Width over height of the picture. */
  set(side: Side, view: Viewpoint, aspect: number): void;
}

export function createEye(): Eye {
  const perspective = new PerspectiveCamera();
  const parallel = new OrthographicCamera();
  const basis = new Matrix4();
  const [right, up, back] = [new Vector3(), new Vector3(), new Vector3()];
  let current: PerspectiveCamera | OrthographicCamera = perspective;
  for (const camera of [perspective, parallel]) {
    camera.layers.enable(STAGE_ONLY);
    camera.matrixAutoUpdate = false;
  }
  return {
    current: () => current,
    set(side, view, aspect) {
      const axes = basisOf(view);
      right.set(...axes.right);
      up.set(...axes.up);
      back.set(...axes.back);
      const distance = side === "free" ? distanceOf(view) : view.span * 2 + 50;
      basis.makeBasis(right, up, back);
      basis.setPosition(back.multiplyScalar(distance).add(new Vector3(...view.centre)));
      if (side === "free") {
        perspective.fov = (OPENING * 180) / Math.PI;
        perspective.aspect = aspect;
        perspective.near = Math.max(distance / 400, 0.002);
        perspective.far = distance * 4 + 200;
        current = perspective;
      } else {
        parallel.top = view.span / 2;
        parallel.bottom = -parallel.top;
        parallel.right = parallel.top * aspect;
        parallel.left = -parallel.right;
        parallel.near = 0.01;
        parallel.far = distance * 2 + 100;
        current = parallel;
      }
      current.matrix.copy(basis);
      current.matrix.decompose(current.position, current.quaternion, current.scale);
      current.updateProjectionMatrix();
      current.updateMatrixWorld(true);
    },
  };
}
