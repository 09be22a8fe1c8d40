import assert from "node:assert/strict";
import {
  BoxGeometry,
  Color,
  Group,
  LineSegments,
  Mesh,
  MeshStandardMaterial,
  Vector3,
  type BufferGeometry,
} from "three";
import type { Body } from "../../core/rig/resolved-rig.ts";
import { boxTriangles, gltfBuffer, gltfFile, gltfJson } from "../../test/stage/mesh-files.ts";
import { smallTake } from "../../test/stage/small-take.ts";
import { shapeOfObject } from "../mesh/mesh-shape.ts";
import { openGltf } from "../mesh/gltf-document.ts";
import { createMoment } from "../take/moment.ts";
import { openTake } from "../take/open-take.ts";
import { createDressingModel } from "./dressing-model.ts";
import { createMaterials } from "./materials.ts";

const body = (name: string, solid: Body["solid"], at: [number, number, number], table?: number): Body => ({
  name,
  link: -1,
  pose: { at, turn: [0, 0, 0, 1] },
  solid,
  origin: 0,
  ...(table === undefined ? {} : { table }),
});

describe("dressing in the scene", () => {
  const materials = createMaterials();

  it("is see-through and throws no shadow, other than obstacles", () => {
    const stage = smallTake({ dressing: [body("shelf", { shape: "box", size: [1, 1, 0.1] }, [3, 0, 1])] });
    const model = createDressingModel(stage, materials, () => undefined);
    const mesh = model.object.children.find((child) => child instanceof Mesh) as Mesh;
    assert.equal(mesh.material, materials.dressing);
    assert.ok(materials.dressing.transparent && materials.dressing.opacity < 1 && !materials.set.transparent);
    assert.equal(mesh.castShadow, false);
    assert.ok(model.object.children.some((child) => child instanceof LineSegments));
  });

  it("turns with the turntable that it stands on", () => {
    const table = { name: "plate", at: [2, 1, 0.9], along: [0, 0, 1], limits: {}, origins: { self: 0, range: 0, speed: 0, accel: 0, jerk: 0 } } as const; // prettier-ignore
    const small = smallTake();
    const axis = { ...small.axes[1], name: "plate", joint: -1, turntable: 0, role: "turntable" as const };
    const stage = { ...small, turntables: [table], axes: [...small.axes, axis] };
    const model = createDressingModel(
      { ...stage, dressing: [body("cup", { shape: "sphere", radius: 0.05 }, [0.3, 0, 0], 0)] },
      materials,
      () => undefined,
    );
    const moment = { ...createMoment(openTake(small)), values: Float64Array.of(0, 0, Math.PI / 2) };
    model.update(moment);
    model.object.updateMatrixWorld(true);
    const faces = model.object.children[0].children[0] as Mesh<BufferGeometry>;
    faces.geometry.computeBoundingSphere();
    const middle = faces.geometry.boundingSphere!.center.clone().applyMatrix4(faces.matrixWorld);
    // A quarter turn takes 0.3 m along x to 0.3 m along y.
    assert.ok(middle.distanceTo(new Vector3(2, 1.3, 0.9)) < 1e-3, middle.toArray().join());
  });

  it("keeps the base colours of a glTF file, whatever else the file says of its looks", async () => {
    const triangles = boxTriangles([0, 0, 0], [1, 1, 1]);
    const json = {
      ...gltfJson(triangles, "side.bin"),
      materials: [{ pbrMetallicRoughness: { baseColorFactor: [0.8, 0.1, 0.2, 1], baseColorTexture: { index: 0 } } }],
    };
    const opened = await openGltf(gltfFile(json), async (name) => {
      assert.equal(name, "side.bin");
      return gltfBuffer(triangles);
    });
    assert.deepEqual(opened.json.materials, [{ pbrMetallicRoughness: { baseColorFactor: [0.8, 0.1, 0.2, 1] } }]);
    assert.equal((opened.json as { images?: unknown }).images, undefined);
    for (const bad of [[1, 1], ["red", 0, 0, 1], [-1, 0, 0, 1], "red"]) {
      const odd = { ...json, materials: [{ pbrMetallicRoughness: { baseColorFactor: bad } }] };
      const { json: read } = await openGltf(gltfFile(odd), async () => gltfBuffer(triangles));
      assert.deepEqual(read.materials, [{}], JSON.stringify(bad));
    }

    const whole = new Group();
    const red = new MeshStandardMaterial({ color: new Color(0.8, 0.1, 0.2) });
    whole.add(new Mesh(new BoxGeometry(1, 1, 1), red), new Mesh(new BoxGeometry(1, 1, 1), new MeshStandardMaterial()));
    const shape = shapeOfObject(whole);
    const corners = shape.faces.getAttribute("position").count;
    assert.equal(shape.colours?.length, 3 * corners);
    assert.deepEqual([...shape.colours.subarray(0, 3)].map((part) => Math.round(part * 100)), [80, 10, 20]); // prettier-ignore
    assert.deepEqual([...shape.colours.subarray(3 * corners - 3)], [1, 1, 1]);
    const stage = smallTake({
      dressing: [body("vase", { shape: "mesh", file: "vase.glb", scale: [1, 1, -1] }, [3, 0, 1])],
    });
    const model = createDressingModel(stage, materials, () => shape);
    const mesh = model.object.children[0] as Mesh<BufferGeometry>;
    assert.equal(mesh.material, materials.dressingOwn);
    assert.equal(mesh.geometry.getAttribute("color").count, mesh.geometry.getAttribute("position").count);
    model.dispose();
    const bare = shapeOfObject(new Group().add(new Mesh(new BoxGeometry(1, 1, 1), new MeshStandardMaterial())));
    assert.equal(bare.colours, undefined);
  });
});
