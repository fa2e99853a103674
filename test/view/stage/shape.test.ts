import { describe, expect, it } from "vitest";
import type { Equilibrium, WingModel } from "../../../src/geometry/model.ts";
import type { StateView } from "../../../src/view/stage/props.ts";
import {
  addDisplacement,
  drawnDisplacement,
  fillLengths,
  fillSegments,
  vertexNormals,
} from "../../../src/view/stage/shape.ts";
import { stageTopology } from "../../../src/view/stage/topology.ts";
import { easeInOut, makeTween, startTween, stepTween } from "../../../src/view/stage/tween.ts";
import { stageCaption } from "../../../src/view/stage/words.ts";

const state = (...positions: number[]) =>
  ({ positions: Float64Array.from(positions) }) as unknown as Equilibrium;

describe("the displacement drawn", () => {
  const specified = state(0, 0, 0, 1, 2, 3);
  const measured = state(0, 0, 0, 1, 2, 2.98);
  const out = new Float64Array(6);

  it("is the exaggeration times measured − specified at trim", () => {
    drawnDisplacement(specified, specified, measured, 10, out);
    expect(out[5]).toBeCloseTo(-0.2, 12);
    drawnDisplacement(specified, specified, specified, 40, out);
    expect([...out]).toEqual([0, 0, 0, 0, 0, 0]);
  });

  it("has what the rigging does in true size, and only the rest multiplied", () => {
    const rigged = state(0, 0, 0, 1.1, 2, 3);
    const riggedMeasured = state(0, 0, 0, 1.1, 2, 2.98);
    drawnDisplacement(specified, rigged, riggedMeasured, 10, out);
    expect(out[3]).toBeCloseTo(0.1, 12);
    expect(out[5]).toBeCloseTo(-0.2, 12);
  });

  it("is added to the specified positions", () => {
    const positions = new Float64Array(3);
    addDisplacement(Float64Array.from([1, 2, 3]), Float64Array.from([0, 0, -0.2]), positions);
    expect(positions[2]).toBeCloseTo(2.8, 12);
  });
});

const view = (name: string, deviationM: StateView["deviationM"]): StateView => ({
  id: name,
  name,
  solved: state(0, 0, 0),
  deviationM,
});
const specified = view("As specified", undefined);
const measured = view("As measured", new Map());
const tried = view("As tried", new Map());
const captionOf = (first: StateView, second: StateView | undefined, factor: number, rigged = false) =>
  stageCaption({ first, second, how: "over" }, factor, rigged);

describe("the caption", () => {
  it("always states the scale where a shape change is drawn, true scale included", () => {
    expect(captionOf(measured, undefined, 12).scale).toBe("shape change drawn ×12");
    expect(captionOf(specified, measured, 2.5).scale).toBe("shape change drawn ×2.5");
    expect(captionOf(measured, undefined, 1).scale).toBe("shape change drawn true, ×1");
    expect(captionOf(measured, specified, 7).scale).toBe("shape change drawn ×7");
  });

  it("claims no shape change where none is drawn", () => {
    expect(captionOf(specified, undefined, 12).scale).toBeUndefined();
  });

  it("says what is multiplied and what isn't under a rigging", () => {
    expect(captionOf(measured, undefined, 10, true).scale).toBe("shape change drawn ×10, rigging drawn true");
    expect(captionOf(specified, undefined, 10, true).scale).toBe("rigging drawn true");
  });

  it("names both states, and where each is", () => {
    expect(captionOf(measured, tried, 10).state).toBe("As tried, over as measured");
    const two = { first: measured, second: tried };
    expect(stageCaption({ ...two, how: "beside" }, 10).state).toBe("As measured, and beside it as tried");
    expect(stageCaption({ ...two, how: "wipe" }, 10).state).toBe(
      "As measured left of the divider, as tried right of it",
    );
  });
});

describe("the arrays drawn", () => {
  it("hold both ends of every segment, from the given place on", () => {
    const out = new Float32Array(18);
    fillSegments([0, 1, 2, 3, 4, 5, 6, 7, 8], [0, 2, 2, 1], out, 1);
    expect([...out]).toEqual([0, 0, 0, 0, 0, 0, 0, 1, 2, 6, 7, 8, 6, 7, 8, 3, 4, 5]);
    const lengths = new Float32Array(3);
    fillLengths(out, lengths);
    expect(lengths[0]).toBe(0);
    expect(lengths[1]).toBeCloseTo(Math.sqrt(108), 5);
  });

  it("have normals of length 1 that point outwards for triangles seen counter-clockwise", () => {
    const positions = Float32Array.from([0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0, 1, 9, 9, 9]);
    const normals = new Float32Array(15);
    vertexNormals(positions, Uint32Array.from([0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3]), normals);
    const centre = [0.25, 0.25, 0.25];
    for (let v = 0; v < 4; v++) {
      const n = [0, 1, 2].map((k) => normals[3 * v + k] as number);
      expect(Math.hypot(...n)).toBeCloseTo(1, 6);
      const outward = n.reduce(
        (s, x, k) => s + x * ((positions[3 * v + k] as number) - (centre[k] as number)),
        0,
      );
      expect(outward).toBeGreaterThan(0);
    }
    expect([...normals.subarray(12)]).toEqual([0, 0, 1]);
  });
});

describe("sorting a model's members by what they are drawn as", () => {
  // Carabiner 0, maillon 1, junction 2, tabs 3 and 4, pulley 5; the riser's ends are given upside down.
  const model = {
    network: { ends: Int32Array.from([1, 0, 1, 2, 2, 3, 3, 4, 5, 4]) },
    memberKind: ["riser", "line", "line", "fabric", "line"],
    memberLine: [undefined, "left:A1", "left:a1", undefined, "left:K"],
    nodeKind: ["carabiner", "maillon", "junction", "tab", "tab", "pulley"],
  } as unknown as WingModel;
  const topology = stageTopology(model);

  it("draws each line once, and no fabric", () => {
    expect(topology.keys).toEqual(["left:A1", "left:a1", "left:K"]);
    expect([...topology.lineEnds]).toEqual([1, 2, 2, 3, 5, 4]);
    expect(topology.place.get("left:K")).toBe(2);
  });

  it("finds straps from the carabiner up, links and pulleys", () => {
    expect([...topology.straps]).toEqual([0, 1]);
    expect([...topology.maillons]).toEqual([1, 0]);
    expect([...topology.carabiners]).toEqual([0, 1]);
    expect([...topology.pulleys]).toEqual([5]);
  });
});

describe("gliding", () => {
  it("starts and ends flat, and passes the middle half-way", () => {
    expect([easeInOut(0), easeInOut(0.5), easeInOut(1)]).toEqual([0, 0.5, 1]);
    expect(easeInOut(0.01)).toBeLessThan(0.001);
  });

  it("goes from where it is to where it should be, and stops there", () => {
    const tween = makeTween(2);
    tween.to.set([10, -4]);
    startTween(tween, 1000, 400);
    expect(stepTween(tween, 1200)).toBe(true);
    expect([...tween.values]).toEqual([5, -2]);
    tween.to.set([0, 0]);
    startTween(tween, 1200, 400);
    stepTween(tween, 1600);
    expect([...tween.values]).toEqual([0, 0]);
    expect(tween.running).toBe(false);
    expect(stepTween(tween, 1700)).toBe(false);
  });

  it("jumps where no motion is wanted", () => {
    const tween = makeTween(1);
    tween.to[0] = 3;
    startTween(tween, 50, 0);
    stepTween(tween, 50);
    expect(tween.values[0]).toBe(3);
  });
});
