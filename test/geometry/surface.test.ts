import { describe, expect, it } from "vitest";
import { buildWingModel } from "../../src/geometry/build.ts";
import type { WingModel } from "../../src/geometry/model.ts";
import { type CanopySurface, canopySurface, surfacePositions } from "../../src/geometry/surface.ts";
import { at } from "../reference/networks.ts";
import { FOUR_ROW_WING, inventedWing } from "./invented-wing.ts";

const built = [FOUR_ROW_WING, {}].map((options): { model: WingModel; surface: CanopySurface } => {
  const model = buildWingModel(inventedWing(options));
  return { model, surface: canopySurface(model) };
});
type Point = [number, number, number];
const vertex = (of: Float32Array, v: number): Point => [
  of[3 * v] as number,
  of[3 * v + 1] as number,
  of[3 * v + 2] as number,
];
const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe.each(built)("the canopy's surface ($model.cells cells)", ({ model, surface }) => {
  const vertices = surface.rest.length / 3;
  const stations = 2 * model.cells + 1;
  const perStation = vertices / stations;

  it("has a section on every cell wall and one between, all of numbers", () => {
    expect(Number.isInteger(perStation)).toBe(true);
    expect(surface.rest.every(Number.isFinite)).toBe(true);
    expect(surface.weights.every(Number.isFinite)).toBe(true);
    for (const indices of [surface.triangles, surface.ribLines, surface.edgeLines, surface.intakeLines]) {
      expect(indices.length).toBeGreaterThan(0);
      expect(Math.max(...indices)).toBeLessThan(vertices);
    }
    expect(Math.max(...surface.nodes)).toBeLessThan(model.nodeName.length);
  });

  it("is symmetric at the specified state, left tip to right tip", () => {
    let worst = 0;
    for (let s = 0; s < stations; s++)
      for (let k = 0; k < perStation; k++) {
        const [x, y, z] = vertex(surface.rest, s * perStation + k);
        const [mx, my, mz] = vertex(surface.rest, (stations - 1 - s) * perStation + k);
        worst = Math.max(worst, Math.abs(x - mx), Math.abs(y + my), Math.abs(z - mz));
      }
    expect(worst).toBeLessThan(1e-5);
    expect(vertex(surface.rest, 0)[1]).toBeLessThan(0);
  });

  it("has the model's span and lies where the tabs are", () => {
    const ys = Array.from({ length: vertices }, (_, v) => vertex(surface.rest, v)[1]);
    expect(Math.max(...ys) - Math.min(...ys)).toBeGreaterThan(0.97 * 2 * model.outline.flatHalfSpanM * 0.785);
    for (const node of model.tabNode) {
      const tab = at(model.specified.positions, node);
      let nearest = Number.POSITIVE_INFINITY;
      for (let v = 0; v < vertices; v++)
        nearest = Math.min(nearest, Math.hypot(...minus(vertex(surface.rest, v), tab)));
      // A section has a point every tenth of the chord or so.
      expect(nearest).toBeLessThan(0.25);
    }
  });

  it("shows its outside: every triangle faces away from its section's middle", () => {
    const middles = Array.from({ length: stations }, (_, s) => {
      const sum: Point = [0, 0, 0];
      for (let k = 0; k < perStation; k++)
        for (let axis = 0; axis < 3; axis++)
          sum[axis] =
            (sum[axis] as number) + (vertex(surface.rest, s * perStation + k)[axis] as number) / perStation;
      return sum;
    });
    let volume = 0;
    let inward = 0;
    for (let t = 0; t < surface.triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((i) => surface.triangles[t + i] as number) as [number, number, number];
      const [pa, pb, pc] = [a, b, c].map((v) => vertex(surface.rest, v)) as [Point, Point, Point];
      const facing = cross(minus(pb, pa), minus(pc, pa));
      volume += dot(pa, cross(pb, pc)) / 6;
      const middle = middles[Math.floor(a / perStation)] as Point;
      // Chordwise position of the face within its section, for the convex front part alone.
      if (pa[0] < middle[0] && dot(facing, minus(pa, middle)) <= 0) inward++;
    }
    expect(inward).toBe(0);
    expect(volume).toBeGreaterThan(0);
  });

  it("moves each vertex by weights that add up to one", () => {
    for (let v = 0; v < vertices; v++) {
      let sum = 0;
      for (let j = 4 * v; j < 4 * v + 4; j++) sum += surface.weights[j] as number;
      expect(Math.abs(sum - 1)).toBeLessThan(1e-6);
    }
  });

  it("moves as one where all nodes move alike", () => {
    const displacement = new Float64Array(3 * model.nodeName.length);
    for (let i = 0; i < displacement.length; i++) displacement[i] = [0.4, -0.25, 0.125][i % 3] as number;
    const out = new Float32Array(surface.rest.length);
    surfacePositions(surface, displacement, out);
    let worst = 0;
    for (let i = 0; i < out.length; i++)
      worst = Math.max(
        worst,
        Math.abs((out[i] as number) - (surface.rest[i] as number) - ([0.4, -0.25, 0.125][i % 3] as number)),
      );
    expect(worst).toBeLessThan(1e-5);
  });

  it("is at rest where nothing is displaced", () => {
    const out = new Float32Array(surface.rest.length);
    surfacePositions(surface, new Float64Array(3 * model.nodeName.length), out);
    expect(out).toEqual(surface.rest);
  });

  it("goes down around a tab that is pulled down, and nowhere else", () => {
    const rib = model.ribs.find((each) => each.side === "right" && each.rib === 8);
    const tab = rib?.nodes[1];
    if (!rib || !tab) throw new Error("no rib 8");
    const displacement = new Float64Array(3 * model.nodeName.length);
    for (let axis = 0; axis < 3; axis++)
      displacement[3 * tab.node + axis] = -0.05 * (rib.normal[axis] as number);
    const out = new Float32Array(surface.rest.length);
    surfacePositions(surface, displacement, out);
    let deepest = 0;
    for (let v = 0; v < vertices; v++) {
      const moved = dot(minus(vertex(out, v), vertex(surface.rest, v)), [...rib.normal] as Point);
      deepest = Math.min(deepest, moved);
      if (Math.abs(vertex(surface.rest, v)[1] - rib.origin[1]) > 1.5) expect(moved).toBe(0);
    }
    expect(deepest).toBeLessThan(-0.04);
    expect(deepest).toBeGreaterThan(-0.06);
  });
});
