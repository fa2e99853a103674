import { PerspectiveCamera, Vector3 } from "three";
import { describe, expect, it } from "vitest";
import { clampWipe, fromBelow, isStacked, paneAt, panesOf } from "../../../src/view/stage/panes.ts";
import { nearestSegment, projectSegments } from "../../../src/view/stage/pick.ts";
import { coloursOf, differenceM } from "../../../src/view/stage/picture.ts";
import type { StagePicture, StateView } from "../../../src/view/stage/props.ts";

const area = ({ width, height }: { readonly width: number; readonly height: number }) => width * height;

describe("where two states are drawn", () => {
  it("is one picture with the second state in front where one is over the other", () => {
    const [only, ...more] = panesOf("over", true, 0.3, 900, 400);
    expect(more).toEqual([]);
    expect(only?.state).toBe(1);
    expect(only?.clip).toEqual({ x: 0, y: 0, width: 900, height: 400 });
  });

  it("is one picture for a single state, whatever way two would be drawn", () => {
    for (const how of ["over", "beside", "wipe"] as const) {
      const panes = panesOf(how, false, 0.3, 900, 400);
      expect(panes).toHaveLength(1);
      expect(panes[0]?.state).toBe(0);
    }
  });

  it("is two halves side by side on a wide canvas and one above the other on an upright one, of the same shape", () => {
    const wide = panesOf("beside", true, 0.5, 901, 400);
    expect(wide.map(({ view }) => [view.x, view.y, view.width, view.height])).toEqual([
      [0, 0, 450.5, 400],
      [450.5, 0, 450.5, 400],
    ]);
    const upright = panesOf("beside", true, 0.5, 390, 600);
    expect(upright.map(({ view }) => [view.x, view.y])).toEqual([
      [0, 0],
      [0, 300],
    ]);
    expect([isStacked(901, 400), isStacked(390, 600)]).toEqual([false, true]);
    for (const panes of [wide, upright])
      expect(panes.map(({ clip }) => clip)).toEqual(panes.map(({ view }) => view));
  });

  it("is one picture cut at the divider, the first state on the left, nothing left out and nothing twice", () => {
    for (const at of [0, 0.2, 0.5, 0.999, 1]) {
      const panes = panesOf("wipe", true, at, 800, 300);
      expect(panes.map(({ state }) => state)).toEqual([0, 1]);
      expect(panes.map(({ view }) => view.width)).toEqual([800, 800]);
      expect(panes[0]?.clip.width).toBeCloseTo(800 * at, 9);
      expect(panes.reduce((sum, { clip }) => sum + area(clip), 0)).toBeCloseTo(800 * 300, 6);
    }
  });

  it("keeps the divider on the picture", () => {
    expect([-0.4, 0, 0.31, 1, 7].map(clampWipe)).toEqual([0, 0, 0.31, 1, 1]);
    expect(clampWipe(Number.NaN)).toBe(0.5);
    expect(panesOf("wipe", true, 3, 800, 300)[1]?.clip.width).toBe(0);
  });

  it("is counted from the bottom for the renderer", () => {
    const [above, below] = panesOf("beside", true, 0.5, 300, 500).map(({ clip }) => fromBelow(clip, 500));
    expect([above?.y, below?.y]).toEqual([250, 0]);
  });
});

describe("the state under the pointer", () => {
  it("is that of the half, and the point is counted within it", () => {
    const panes = panesOf("beside", true, 0.5, 800, 300);
    expect(paneAt(panes, 100, 20)).toMatchObject({ pane: { state: 0 }, x: 100, y: 20 });
    expect(paneAt(panes, 500, 20)).toMatchObject({ pane: { state: 1 }, x: 100, y: 20 });
    expect(paneAt(panes, 800, 20)).toBeUndefined();
    const upright = panesOf("beside", true, 0.5, 300, 500);
    expect(paneAt(upright, 30, 260)).toMatchObject({ pane: { state: 1 }, x: 30, y: 10 });
  });

  it("changes at the divider, while the point stays where it is in the picture", () => {
    const panes = panesOf("wipe", true, 0.25, 800, 300);
    expect(paneAt(panes, 199, 20)).toMatchObject({ pane: { state: 0 }, x: 199 });
    expect(paneAt(panes, 201, 20)).toMatchObject({ pane: { state: 1 }, x: 201 });
  });

  it("has its line found by the place at which that half draws it", () => {
    const panes = panesOf("beside", true, 0.5, 800, 300);
    const camera = new PerspectiveCamera(30, 400 / 300, 0.1, 100);
    camera.position.set(0, 0, 12);
    camera.updateMatrixWorld();
    const ends = [0, 1, 2, 3];
    const points = [-1, -1, 0, -1, 1, 0, 1, -1, 0, 1, 1, 0];
    const matrix = camera.projectionMatrix.clone().multiply(camera.matrixWorldInverse);
    for (const pane of panes)
      for (const line of [0, 1]) {
        const middle = new Vector3(line === 0 ? -1 : 1, 0, 0).project(camera);
        const x = pane.view.x + (0.5 + 0.5 * middle.x) * pane.view.width;
        const y = pane.view.y + (0.5 - 0.5 * middle.y) * pane.view.height;
        const under = paneAt(panes, x, y);
        expect(under?.pane).toBe(pane);
        const out = new Float64Array(12);
        projectSegments(points, ends, matrix.elements, pane.view.width, pane.view.height, out);
        expect(nearestSegment(out, under?.x ?? -1, under?.y ?? -1, 2)).toBe(line);
      }
  });
});

describe("what two states differ by", () => {
  const view = (id: string, deviationM: StateView["deviationM"]): StateView => ({
    id,
    name: id,
    solved: {} as StateView["solved"],
    deviationM,
  });
  const specified = view("specified", undefined);
  const before = view(
    "before",
    new Map([
      ["A1", -0.012],
      ["A2", 0.004],
      ["A3", undefined],
    ]),
  );
  const after = view(
    "after",
    new Map([
      ["A1", -0.002],
      ["A2", undefined],
      ["A3", 0.001],
    ]),
  );

  it("is the second less the first, positive where the second is longer", () => {
    expect(differenceM(before, after)?.get("A1")).toBeCloseTo(0.01, 12);
    expect(differenceM(after, before)?.get("A1")).toBeCloseTo(-0.01, 12);
  });

  it("is the deviation itself against as specified, and its opposite the other way round", () => {
    expect(differenceM(specified, before)?.get("A1")).toBe(-0.012);
    expect(differenceM(before, specified)?.get("A1")).toBe(0.012);
    expect(differenceM(specified, specified)).toBeUndefined();
  });

  it("isn't known of a line that one of both checks left out", () => {
    expect(differenceM(before, after)?.get("A2")).toBeUndefined();
    expect(differenceM(before, after)?.get("A3")).toBeUndefined();
  });

  it("colours the second only, the first being what it is counted from", () => {
    const picture: StagePicture = {
      origin: specified.solved,
      first: before,
      second: after,
      how: "beside",
      colourOf: "difference",
    };
    const [first, second] = coloursOf(picture);
    expect(first).toBeUndefined();
    expect(second?.get("A1")).toBeCloseTo(0.01, 12);
    expect(coloursOf({ ...picture, colourOf: "own" })).toEqual([before.deviationM, after.deviationM]);
    expect(coloursOf({ ...picture, second: undefined })[0]).toBe(before.deviationM);
  });
});
