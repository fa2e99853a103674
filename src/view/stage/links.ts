/** Maillons and main carabiners as small links; never smaller on the screen than can be seen. */
import {
  InstancedMesh,
  Matrix4,
  MeshBasicMaterial,
  type PerspectiveCamera,
  TorusGeometry,
  Vector3,
} from "three";
import type { StageTopology } from "./topology.ts";

export interface Links {
  readonly object: InstancedMesh;
  /** Turns every link about its long axis to the camera and keeps it at its least size on the screen, times `leastShare`. */
  place(nodePositions: Float64Array, camera: PerspectiveCamera, heightPx: number, leastShare: number): void;
  dispose(): void;
}

/** True lengths [m], and least lengths on the screen [CSS px]. Common sizes of such hardware, no source. */
const MAILLON = { lengthM: 0.045, leastPx: 8 };
const CARABINER = { lengthM: 0.1, leastPx: 15 };

export function links(topology: StageTopology, colour: string, renderOrder: number): Links {
  const count = (topology.maillons.length + topology.carabiners.length) / 2;
  // An oval ring of length 1 along y, in the x–y plane.
  const geometry = new TorusGeometry(0.4, 0.1, 8, 28).scale(0.62, 1, 0.62);
  const material = new MeshBasicMaterial({ color: colour, transparent: true });
  const object = new InstancedMesh(geometry, material, count);
  object.frustumCulled = false;
  object.renderOrder = renderOrder;
  const along = new Vector3();
  const across = new Vector3();
  const toEye = new Vector3();
  const at = new Vector3();
  const other = new Vector3();
  const matrix = new Matrix4();

  return {
    object,
    place(nodePositions, camera, heightPx, leastShare) {
      const pxPerMetreAt1m = heightPx / (2 * Math.tan((camera.fov * Math.PI) / 360));
      let i = 0;
      for (const [pairs, size] of [
        [topology.maillons, MAILLON],
        [topology.carabiners, CARABINER],
      ] as const) {
        for (let p = 0; p < pairs.length; p += 2) {
          at.fromArray(nodePositions, 3 * (pairs[p] as number));
          other.fromArray(nodePositions, 3 * (pairs[p + 1] as number));
          toEye.subVectors(camera.position, at);
          const length = Math.max(
            size.lengthM,
            (leastShare * size.leastPx * toEye.length()) / pxPerMetreAt1m,
          );
          along.subVectors(other, at).normalize();
          across.crossVectors(along, toEye).normalize();
          toEye.crossVectors(across, along);
          matrix
            .makeBasis(across, along, toEye)
            .scale(other.set(length, length, length))
            .setPosition(at);
          object.setMatrixAt(i++, matrix);
        }
      }
      object.instanceMatrix.needsUpdate = true;
    },
    dispose() {
      geometry.dispose();
      material.dispose();
      object.dispose();
    },
  };
}
