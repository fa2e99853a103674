/** Small round marks of a fixed size on the screen: line ends of what is lit (solid), of its twin and pulleys (hollow). */
import { BufferAttribute, BufferGeometry, Color, Points, ShaderMaterial } from "three";
import { GROUND_HEX } from "../../diagnosis/colour.ts";
import { linearOf } from "./look.ts";

export interface Mark {
  readonly node: number;
  readonly colour: { readonly r: number; readonly g: number; readonly b: number };
  readonly diameterPx: number;
  readonly hollow: boolean;
}

export interface Marks {
  readonly object: Points;
  /** Replaces what is marked; more than fits is left out. */
  set(marks: readonly Mark[], nodePositions: Float64Array): void;
  /** Moves the marks with their nodes. */
  move(nodePositions: Float64Array): void;
  setPixelRatio(ratio: number): void;
  dispose(): void;
}

const VERTEX = /* glsl */ `
  attribute vec3 tint;
  attribute vec2 shape; // diameter [CSS px], hollow 0 or 1
  uniform float pixelRatio;
  varying vec3 vTint;
  varying float vHollow;
  varying float vSize;
  void main() {
    vTint = tint;
    vHollow = shape.y;
    vSize = (shape.x + 3.0) * pixelRatio;
    gl_PointSize = vSize;
    gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0);
  }
`;

const FRAGMENT = /* glsl */ `
  uniform vec3 ground;
  uniform float pixelRatio;
  varying vec3 vTint;
  varying float vHollow;
  varying float vSize;
  void main() {
    float r = length(gl_PointCoord - 0.5) * vSize;
    float rim = 0.5 * vSize - 1.5 * pixelRatio;
    float outside = smoothstep(0.5 * vSize - 1.0, 0.5 * vSize, r);
    float ring = 1.0 - smoothstep(rim - 0.5, rim + 0.5, r);
    float hole = vHollow * (1.0 - smoothstep(rim - 1.9 * pixelRatio - 0.5, rim - 1.9 * pixelRatio + 0.5, r));
    gl_FragColor = vec4(mix(ground, vTint, ring * (1.0 - hole)), 1.0 - outside);
    #include <colorspace_fragment>
  }
`;

export function marks(capacity: number, renderOrder: number): Marks {
  const positions = new BufferAttribute(new Float32Array(3 * capacity), 3);
  const tints = new BufferAttribute(new Float32Array(3 * capacity), 3);
  const shapes = new BufferAttribute(new Float32Array(2 * capacity), 2);
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", positions);
  geometry.setAttribute("tint", tints);
  geometry.setAttribute("shape", shapes);
  geometry.setDrawRange(0, 0);
  const material = new ShaderMaterial({
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    uniforms: { ground: { value: new Color(GROUND_HEX) }, pixelRatio: { value: 1 } },
    transparent: true,
    depthTest: false,
    depthWrite: false,
  });
  const object = new Points(geometry, material);
  object.frustumCulled = false;
  object.renderOrder = renderOrder;
  let shown: readonly Mark[] = [];

  function move(nodePositions: Float64Array): void {
    shown.forEach(({ node }, i) => {
      positions.setXYZ(
        i,
        nodePositions[3 * node] as number,
        nodePositions[3 * node + 1] as number,
        nodePositions[3 * node + 2] as number,
      );
    });
    positions.needsUpdate = true;
  }

  return {
    object,
    move,
    set(next, nodePositions) {
      shown = next.slice(0, capacity);
      shown.forEach(({ colour, diameterPx, hollow }, i) => {
        tints.setXYZ(i, linearOf(colour.r), linearOf(colour.g), linearOf(colour.b));
        shapes.setXY(i, diameterPx, hollow ? 1 : 0);
      });
      tints.needsUpdate = true;
      shapes.needsUpdate = true;
      geometry.setDrawRange(0, shown.length);
      move(nodePositions);
    },
    setPixelRatio(ratio) {
      (material.uniforms.pixelRatio as { value: number }).value = ratio;
    },
    dispose() {
      geometry.dispose();
      material.dispose();
    },
  };
}
