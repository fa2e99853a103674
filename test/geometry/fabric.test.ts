import { describe, expect, it } from "vitest";
import {
  type CanopyNode,
  canopyNodes,
  DEFAULT_FABRIC,
  fabricBends,
  fabricTies,
} from "../../src/geometry/fabric.ts";
import { attachedStations } from "../../src/geometry/stations.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

/** Ribs written as rows with chord fractions; nodes numbered rib by rib. */
function ribsOf(...written: Readonly<Record<string, number>>[]): CanopyNode[][] {
  let node = 0;
  return written.map((rib) =>
    Object.entries(rib).map(([row, chordFraction]) => ({ node: node++, chordFraction, row })),
  );
}

const pairs = (ribs: readonly (readonly CanopyNode[])[]): string[] =>
  fabricTies(ribs).map(({ ends: [a, b], kind }) => `${Math.min(a, b)}-${Math.max(a, b)} ${kind}`);
const unkinded = (ties: readonly string[]): string[] => ties.map((tie) => tie.split(" ")[0] as string);

/** The ties of the mirrored canopy, in the node numbers of the canopy itself. */
const mirrored = (ribs: readonly (readonly CanopyNode[])[]): string[] => pairs([...ribs].reverse());

const FULL = { A: 0.1, B: 0.3, C: 0.52, D: 0.73, brake: 1 };
const CANOPIES: [string, CanopyNode[][]][] = [
  ["three ribs with the same rows", ribsOf(FULL, FULL, FULL)],
  ["a rib without its D tab", ribsOf(FULL, { A: 0.1, B: 0.3, C: 0.52, brake: 1 }, FULL)],
  ["a tip rib with rows of its own", ribsOf({ tip: 0.35, brake: 1 }, FULL, FULL, { tip: 0.35, brake: 1 })],
  ["a tip tab at the chord fraction of row B", ribsOf(FULL, { A: 0.1, tip: 0.3, brake: 1 })],
  ["brake tabs on ribs of their own", ribsOf(FULL, { brake: 1 }, FULL, { brake: 1 }, { brake: 1 }, FULL)],
  ["a brake tab outside the last lined rib", ribsOf({ brake: 1 }, FULL, FULL, { brake: 1 })],
];

describe("the fabric's ties", () => {
  it.each(CANOPIES)("are never made twice: %s", (_, ribs) => {
    const ties = unkinded(pairs(ribs));
    expect(new Set(ties).size).toBe(ties.length);
  });

  it.each(CANOPIES)("are the same seen from the other side: %s", (_, ribs) => {
    expect(mirrored(ribs).sort()).toEqual(pairs(ribs).sort());
  });

  it.each(CANOPIES)("leave no node out and hold the canopy together: %s", (_, ribs) => {
    const reached = new Set([0]);
    const ties = fabricTies(ribs);
    for (let round = 0; round < ribs.flat().length; round++)
      for (const { ends } of ties)
        if (ends.some((end) => reached.has(end))) for (const end of ends) reached.add(end);
    expect(reached.size).toBe(ribs.flat().length);
  });

  it("run along every rib and, row by row, across to the next, with crossed diagonals between", () => {
    const ties = pairs(ribsOf({ A: 0.1, B: 0.3 }, { A: 0.1, B: 0.3 }));
    expect(ties.sort()).toEqual([
      "0-1 chordwise",
      "0-2 spanwise",
      "0-3 shear",
      "1-2 shear",
      "1-3 spanwise",
      "2-3 chordwise",
    ]);
  });

  it("tie a rib with nothing but a brake tab to both lined ribs beside it", () => {
    const ties = pairs(ribsOf({ A: 0.1, B: 0.3, brake: 1 }, { brake: 1 }, { A: 0.1, B: 0.3, brake: 1 }));
    for (const tie of ["2-3 spanwise", "3-6 spanwise", "1-3 shear", "3-5 shear"]) expect(ties).toContain(tie);
  });

  it("are one tie per pair on a whole plan, its tip and brake ribs included", () => {
    const wing = wingOf(samplePlan());
    const stations = attachedStations(wing);
    const fractions = new Float64Array(wing.tabs.length);
    for (const station of stations) for (const tab of station.tabs) fractions[tab.tab] = tab.chordFraction;
    let bare = wing.tabs.length;
    const ribs = stations.map((station) => {
      const hasBrake = station.tabs.some((tab) => tab.row === "brake");
      return canopyNodes(station, fractions, (tab) => tab, hasBrake ? undefined : bare++);
    });
    const ties = pairs(ribs);
    expect(new Set(unkinded(ties)).size).toBe(ties.length);
    expect(mirrored(ribs).sort()).toEqual([...ties].sort());
    for (const rib of ribs) expect(rib[rib.length - 1]?.row).toBe("brake");
  });
});

describe("the fabric's bends", () => {
  it("join three neighbours along each rib and along each row, those that end at the trailing edge marked", () => {
    const bends = fabricBends(ribsOf(FULL, FULL, FULL), DEFAULT_FABRIC);
    const along = bends.filter((bend) => bend.nodes[1] - bend.nodes[0] === 1);
    expect(along.length).toBe(3 * 3);
    expect(bends.length - along.length).toBe(5);
    expect(bends.filter((bend) => bend.trailing).map((bend) => bend.nodes)).toEqual([
      [2, 3, 4],
      [7, 8, 9],
      [12, 13, 14],
      [4, 9, 14],
    ]);
    for (const bend of along) expect(bend.bendingNm2).toBe(DEFAULT_FABRIC.ribBendingNm2);
  });
});
