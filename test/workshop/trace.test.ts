import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { findLines } from "../../src/workshop/find-lines.ts";
import { sayTrace, traceLine } from "../../src/workshop/trace.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const school = wingOf(DEMOS.school.plan);
const ids = (lines: readonly { readonly id: string }[]): string[] => lines.map(({ id }) => id);
const keysFor = (query: string, wing = school): string[] =>
  findLines(wing, query).map(({ line }) => line.key);

describe("tracing a damaged line", () => {
  it("leads from an upper line down to the riser", () => {
    const trace = traceLine(school, "left:A5");
    expect(ids(trace.below)).toEqual(["AM3", "AL2"]);
    expect(trace.foot).toEqual({
      kind: "maillon",
      maillonId: "A",
      barDiameterM: 0.0045,
      riserId: "A",
      riserLengthM: 0.48,
    });
    expect(ids(trace.carriesTabs)).toEqual(["A5"]);
    expect(trace.twin?.key).toBe("right:A5");
    expect(ids(trace.siblings)).toEqual(["A6", "A7"]);
  });

  it("leads from a lower line up to all its tabs", () => {
    const trace = traceLine(school, "right:AL2");
    expect(trace.below).toEqual([]);
    expect(ids(trace.carriesLines)).toEqual(["AM3", "AM4"]);
    expect(ids(trace.above)).toEqual(["AM3", "A5", "A6", "A7", "AM4", "A8", "A9"]);
    expect(ids(trace.tabs)).toEqual(["A5", "A6", "A7", "A8", "A9"]);
    expect(trace.above.every(({ side }) => side === "right")).toBe(true);
  });

  it("names all that hangs on the maillon, lines of other rows too, on this side only", () => {
    const trace = traceLine(school, "left:B1");
    expect(ids(trace.onFoot)).toEqual(["BL1", "BL2", "BL3", "TL1"]);
    expect(trace.onFoot.every(({ side }) => side === "left")).toBe(true);
  });

  it("ends at the pulley for a brake line", () => {
    expect(traceLine(school, "left:BRL1").foot).toEqual({ kind: "pulley", riserId: "D" });
  });

  it("is told in sentences", () => {
    expect(sayTrace(traceLine(school, "left:AM3"))).toBe(
      "AM3 left is a middle line of row A. It hangs on AL2, that on maillon A of riser A. It carries A5, A6 and A7, and above tabs A5, A6 and A7. Its mirror twin is AM3 right.",
    );
  });

  it("refuses a line that the wing doesn't have", () => {
    expect(() => traceLine(school, "left:Z9")).toThrow(RangeError);
  });
});

describe("finding a line", () => {
  it("takes its name first, then the lines under the tab of that name, next to it first", () => {
    expect(keysFor("A3 left")).toEqual(["left:A3", "left:AM2", "left:AL1"]);
  });

  it("finds it by the tab that it carries", () => {
    expect(keysFor("tab A3 left")).toEqual(["left:A3", "left:AM2", "left:AL1"]);
    expect(keysFor("right lower tab c1")).toEqual(["right:CL1"]);
  });

  it("spells leniently", () => {
    for (const query of ["al2 left", "AL-2 left", "left AL 2", "al02, LEFT"])
      expect(keysFor(query)[0], query).toBe("left:AL2");
  });

  it("finds by row and side, and doesn't take a row's letter for a beginning", () => {
    const found = findLines(school, "row D right main").map(({ line }) => line.key);
    expect(found).toEqual(["right:DL1", "right:DL2", "right:DL3"]);
    expect(findLines(school, "A left").every(({ line }) => line.row === "A" && line.side === "left")).toBe(
      true,
    );
    expect(findLines(school, "stabilo").every(({ line }) => line.row === "tip")).toBe(true);
  });

  it("finds by colour, material and tier", () => {
    const found = findLines(school, "green lower hmpe");
    expect(new Set(found.map(({ line }) => line.id))).toEqual(new Set(["CL1", "CL2", "CL3"]));
  });

  it("finds all for an empty query, and none for what isn't there", () => {
    expect(findLines(school, " ")).toHaveLength(school.lines.length);
    expect(findLines(school, "tab Z9")).toEqual([]);
    expect(findLines(school, "A3 purple")).toEqual([]);
  });

  it("tells a tab from a line of the same name", () => {
    // Here A1 is a lower line, and tab A1 hangs at the end of A1.1.1.
    const wing = wingOf(samplePlan());
    expect(keysFor("A1 left", wing)[0]).toBe("left:A1");
    expect(keysFor("tab A1 left", wing)).toEqual(["left:A1.1.1", "left:A1.1", "left:A1"]);
  });
});
