import { Matrix4, PerspectiveCamera, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { nearestSegment, projectSegments, REACH_PX } from "../../../src/view/stage/pick.ts";

const WIDTH = 800;
const HEIGHT = 600;

function cameraAt(position: readonly [number, number, number], target: readonly [number, number, number]) {
  const camera = new PerspectiveCamera(30, WIDTH / HEIGHT, 0.1, 100);
  camera.up.set(0, 0, 1);
  camera.position.set(...position);
  camera.lookAt(...target);
  camera.updateMatrixWorld();
  return camera;
}

function projected(
  camera: PerspectiveCamera,
  points: readonly number[],
  ends: readonly number[],
): Float64Array {
  const matrix = new Matrix4().multiplyMatrices(camera.projectionMatrix, camera.matrixWorldInverse);
  const out = new Float64Array(3 * ends.length);
  projectSegments(points, ends, matrix.elements, WIDTH, HEIGHT, out);
  return out;
}

describe("projecting lines to the screen", () => {
  it("puts both ends where the renderer's own projection puts them", () => {
    const camera = cameraAt([-20, -6, 1], [0, 0, 4]);
    const points = [0.1, -0.2, 0, 0.4, 3, 6.5];
    const out = projected(camera, points, [0, 1]);
    for (const end of [0, 1]) {
      const ndc = new Vector3().fromArray(points, 3 * end).project(camera);
      expect(out[3 * end]).toBeCloseTo((0.5 + 0.5 * ndc.x) * WIDTH, 6);
      expect(out[3 * end + 1]).toBeCloseTo((0.5 - 0.5 * ndc.y) * HEIGHT, 6);
    }
  });

  it("cuts a line that runs past the eye, and drops one behind it", () => {
    const camera = cameraAt([-5, 0, 0], [0, 0, 0]);
    const points = [0, 0, 0, -9, 0.5, 0, -8, 1, 0];
    const out = projected(camera, points, [0, 1, 1, 2]);
    expect(out[0]).toBeCloseTo(WIDTH / 2, 6);
    expect(Number.isFinite(out[3] as number)).toBe(true);
    expect(out[5] as number).toBeGreaterThan(0);
    expect([...out.subarray(6, 12)].every(Number.isNaN)).toBe(true);
    expect(nearestSegment(out.subarray(6, 12), 400, 300, 1e6)).toBeUndefined();
  });
});

describe("the line under the pointer", () => {
  // Three upright lines on the screen: x 100, 104 and 300; the second is nearer to the eye.
  const screen = Float64Array.from([
    100,
    50,
    20,
    100,
    550,
    20, //
    104,
    50,
    10,
    104,
    550,
    10, //
    300,
    50,
    15,
    300,
    550,
    15,
  ]);

  it("is the nearest within reach", () => {
    expect(nearestSegment(screen, 297, 200, 7)).toBe(2);
    expect(nearestSegment(screen, 97, 200, 7)).toBe(0);
    expect(nearestSegment(screen, 108, 200, 7)).toBe(1);
  });

  it("is none on empty ground", () => {
    expect(nearestSegment(screen, 200, 200, 22)).toBeUndefined();
    expect(nearestSegment(new Float64Array(0), 200, 200, 22)).toBeUndefined();
  });

  it("ends where the line ends", () => {
    expect(nearestSegment(screen, 300, 560, 7)).toBeUndefined();
    expect(nearestSegment(screen, 300, 556, 7)).toBe(2);
  });

  it("is the one nearer to the eye where two are equally near to the pointer", () => {
    expect(nearestSegment(screen, 102, 300, 7)).toBe(1);
    expect(nearestSegment(screen, 101.5, 300, 7)).toBe(1);
    expect(nearestSegment(screen, 100.5, 300, 7)).toBe(0);
  });

  it("takes the depth at the pointer, not at the line's ends", () => {
    const crossing = Float64Array.from([
      0,
      0,
      5,
      100,
      100,
      40, //
      0,
      100,
      20,
      100,
      0,
      20,
    ]);
    // 1/w runs evenly: half-way along the first line, w = 2/(1/5 + 1/40) = 8.9, in front of 20.
    expect(nearestSegment(crossing, 50, 50, 7)).toBe(0);
  });

  it("leaves out what is filtered away", () => {
    expect(nearestSegment(screen, 104, 300, 7, (segment) => segment !== 1)).toBe(0);
  });

  it("doesn't depend on the order of the lines", () => {
    const reversed = Float64Array.from([
      ...screen.subarray(12, 18),
      ...screen.subarray(6, 12),
      ...screen.subarray(0, 6),
    ]);
    for (const x of [95, 100, 101, 102, 103, 110, 299]) {
      const there = nearestSegment(screen, x, 300, 7);
      const back = nearestSegment(reversed, x, 300, 7);
      expect(back).toBe(there === undefined ? undefined : 2 - there);
    }
  });

  it("has a wider reach for a finger than for a mouse", () => {
    expect(REACH_PX.touch as number).toBeGreaterThanOrEqual(2 * (REACH_PX.mouse as number));
  });
});
