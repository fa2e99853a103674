/** The canopy: one veil of pale, softly shaded fabric, through which lines and cell walls behind it stay visible. */
import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DoubleSide,
  DynamicDrawUsage,
  Group,
  Mesh,
  ShaderMaterial,
  Vector3,
} from "three";
import { vertexNormals } from "./shape.ts";

export interface Fabric {
  readonly object: Group;
  /** 3v vertex positions [m]; write, then `positionsChanged`. */
  readonly positions: Float32Array;
  positionsChanged(): void;
  dispose(): void;
}

const VERTEX = /* glsl */ `
  varying vec3 vNormal;
  varying vec3 vToEye;
  void main() {
    vNormal = normal;
    vToEye = cameraPosition - position;
    gl_Position = projectionMatrix * viewMatrix * vec4(position, 1.0);
  }
`;

// Paper-like shading: light from above, ahead and to the left; edges seen at a grazing angle are inked a little and
// are less transparent, which draws the profile's contour.
const FRAGMENT = /* glsl */ `
  uniform vec3 lit;
  uniform vec3 shade;
  uniform vec3 ink;
  uniform vec3 light;
  varying vec3 vNormal;
  varying vec3 vToEye;
  void main() {
    vec3 eye = normalize(vToEye);
    vec3 normal = normalize(vNormal);
    float facing = dot(normal, eye);
    if (facing < 0.0) normal = -normal;
    float lightness = smoothstep(0.05, 0.95, 0.5 + 0.5 * dot(normal, light));
    float grazing = pow(1.0 - abs(facing), 3.0);
    vec3 colour = mix(mix(shade, lit, lightness), ink, 0.6 * grazing);
    gl_FragColor = vec4(colour, mix(0.55, 0.88, grazing));
    #include <colorspace_fragment>
  }
`;

/**
 * Two draws: the first writes depth only, the second shades the nearest layer, so that overlapping cells don't add up.
 * Both are pushed back a little, so that cell walls and edges lying on the fabric are drawn in full.
 */
export function fabric(rest: Float32Array, triangles: Uint32Array, renderOrder: number): Fabric {
  const positions = Float32Array.from(rest);
  const normals = new Float32Array(rest.length);
  vertexNormals(positions, triangles, normals);
  const geometry = new BufferGeometry();
  const positionAttribute = new BufferAttribute(positions, 3).setUsage(DynamicDrawUsage);
  const normalAttribute = new BufferAttribute(normals, 3).setUsage(DynamicDrawUsage);
  geometry.setAttribute("position", positionAttribute);
  geometry.setAttribute("normal", normalAttribute);
  geometry.setIndex(new BufferAttribute(triangles, 1));

  const shared = {
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT,
    uniforms: {
      lit: { value: new Color("#fdfefc") },
      shade: { value: new Color("#9fb0ae") },
      ink: { value: new Color("#51625f") },
      light: { value: new Vector3(-0.45, -0.35, 0.82).normalize() },
    },
    side: DoubleSide,
    transparent: true,
    polygonOffset: true,
    polygonOffsetFactor: 3,
    polygonOffsetUnits: 12,
  };
  const depthOnly = new ShaderMaterial({ ...shared, colorWrite: false, depthWrite: true });
  const shaded = new ShaderMaterial({ ...shared, depthWrite: false });
  const first = new Mesh(geometry, depthOnly);
  const second = new Mesh(geometry, shaded);
  first.renderOrder = renderOrder;
  second.renderOrder = renderOrder + 0.5;
  const object = new Group();
  for (const mesh of [first, second]) {
    mesh.frustumCulled = false;
    object.add(mesh);
  }
  return {
    object,
    positions,
    positionsChanged() {
      vertexNormals(positions, triangles, normals);
      positionAttribute.needsUpdate = true;
      normalAttribute.needsUpdate = true;
    },
    dispose() {
      geometry.dispose();
      depthOnly.dispose();
      shaded.dispose();
    },
  };
}
