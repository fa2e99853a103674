import { describe, expect, test } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { formCascade } from "../../src/geometry/cascade-form.ts";
import { fitCanopy } from "../../src/geometry/fit.ts";
import { hangLines, lineTree, type MemberDraft, roomFor } from "../../src/geometry/hang-lines.ts";
import { cascadeOf, layOut } from "../../src/geometry/lay-out.ts";
import { ribFrame } from "../../src/geometry/outline.ts";
import { ribFrames } from "../../src/geometry/rib-frames.ts";
import { attachedStations } from "../../src/geometry/stations.ts";
import type { Vector } from "../../src/geometry/vector.ts";
import { wingOf } from "../plan/factory.ts";

/** Four tabs of a bent canopy over one lower line; loads along its normals, unequal. */
const TABS: readonly Vector[] = [
  [-0.8, 0.6, 7.2],
  [-0.8, 1.2, 7.15],
  [-0.75, 1.8, 7.0],
  [-0.7, 2.4, 6.75],
];
const LOADS: readonly Vector[] = [0.05, 0.13, 0.25, 0.4].map((bank, i) => [
  0,
  (60 - 8 * i) * Math.sin(bank),
  (60 - 8 * i) * Math.cos(bank),
]);

describe("lines hung under their tabs", () => {
  // Lengths from an equilibrium found by Newton's method on all junctions at once.
  const formed = formCascade(
    { hangsOn: [-1, 0, 0, 1, 1, 2, 2], tab: [-1, -1, -1, 0, 1, 2, 3], wantedM: [5.1, 1.1, 1.1, 0, 0, 0, 0] },
    TABS,
    LOADS,
    [0, 0.22, 0],
  );
  const members: MemberDraft[] = [-1, 0, 0, 1, 1, 2, 2].map((below, m) => ({
    below,
    lengthM: formed.lengthsM[m] as number,
    root: [0, 0.22, 0],
    tabs: m >= 3 ? [m - 3] : [],
  }));
  const tree = lineTree(members);
  const hang = (passes: number) => {
    const room = roomFor(tree);
    const misfitM = new Float64Array(4);
    hangLines(tree, Float64Array.from(TABS.flat()), Float64Array.from(LOADS.flat()), room, misfitM, passes);
    return { room, misfitM };
  };

  test("reach every tab to a twentieth of a millimetre after three passes; aimed at the tabs' mean they miss by millimetres", () => {
    expect(formed.converged).toBe(true);
    expect(Math.max(...hang(3).misfitM.map(Math.abs))).toBeLessThan(5e-5);
    expect(Math.max(...hang(0).misfitM.map(Math.abs))).toBeGreaterThan(1e-3);
  });

  test("stand where the equilibrium has its junctions, ever closer with more passes", () => {
    const off = (passes: number): number =>
      Math.max(
        ...[0, 1, 2].flatMap((m) =>
          [0, 1, 2].map((a) =>
            Math.abs((hang(passes).room.upper[3 * m + a] as number) - (formed.upperEnds[m]?.[a] as number)),
          ),
        ),
      );
    expect(off(12)).toBeLessThan(1e-6);
    expect(off(3)).toBeLessThan(off(1));
  });

  test("don't change when all loads are doubled, and do when one is", () => {
    const room = roomFor(tree);
    const misfitM = new Float64Array(4);
    const tabs = Float64Array.from(TABS.flat());
    hangLines(
      tree,
      tabs,
      Float64Array.from(LOADS.flat(), (load) => 2 * load),
      room,
      misfitM,
    );
    expect([...misfitM].map((misfit) => misfit.toFixed(12))).toEqual(
      [...hang(3).misfitM].map((misfit) => misfit.toFixed(12)),
    );
    hangLines(
      tree,
      tabs,
      Float64Array.from(LOADS.flat(), (load, i) => (i < 3 ? 2 * load : load)),
      room,
      misfitM,
    );
    expect(Math.abs((misfitM[0] as number) - (hang(3).misfitM[0] as number))).toBeGreaterThan(1e-4);
  });

  test("refuse a member before the one that it hangs on", () => {
    expect(() => lineTree([{ below: 1, lengthM: 1, root: [0, 0, 0], tabs: [0] }])).toThrow(RangeError);
  });

  test("are laid out alike on both sides of a symmetric wing", () => {
    const wing = wingOf(DEMOS.second.plan);
    const cascade = cascadeOf(wing);
    const { tabs, weights, frames, laidOut } = fitCanopy(wing, cascade, attachedStations(wing));
    expect(frames.length).toBe(attachedStations(wing).length);
    wing.tabs.forEach((tab, i) => {
      const mirror = wing.tabs.findIndex((each) => each.key === tab.mirrorKey);
      expect(laidOut.misfitM[i]).toBeCloseTo(laidOut.misfitM[mirror] as number, 12);
    });
    // Without normals the layout aims at the means and is off by more.
    const aimed = layOut(cascade, tabs, weights).misfitM;
    const main = wing.tabs.flatMap((tab, i) => (tab.row === "brake" ? [] : [i]));
    const off = (misfit: Float64Array): number => Math.max(...main.map((i) => Math.abs(misfit[i] as number)));
    expect(off(aimed)).toBeGreaterThan(2 * off(laidOut.misfitM));
  });
});

describe("the frames of many ribs at once", () => {
  test("are those of each rib alone", () => {
    const sigmas = [-1, -0.93, -0.4, -0.09, 0.002, 0.09, 0.17, 0.4, 0.61, 0.93, 1];
    const frames = ribFrames(sigmas);
    for (const [arcExponent, arcTipShare, planformExponent] of [
      [1.15, 0, 0.5],
      [0.8, 0.3, 0.9],
      [2, -0.2, 0.4],
    ] as const) {
      const outline = {
        flatHalfSpanM: 5.8,
        rootChordM: 2.7,
        tipChordM: 0.6,
        tipBankRad: 1.2,
        arcExponent,
        arcTipShare,
        planformExponent,
        sweepFraction: 0.35,
        twistTipRad: 0.03,
      };
      for (let again = 0; again < 2; again++)
        frames.at(outline).forEach((frame, i) => {
          const alone = ribFrame(outline, sigmas[i] as number);
          expect(frame.chordM).toBeCloseTo(alone.chordM, 12);
          for (const key of ["origin", "chordDirection", "normal", "spanDirection"] as const)
            for (const axis of [0, 1, 2] as const) expect(frame[key][axis]).toBeCloseTo(alone[key][axis], 8);
        });
    }
  });
});
