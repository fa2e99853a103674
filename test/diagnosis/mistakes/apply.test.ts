import { describe, expect, it } from "vitest";
import { applyCorrection } from "../../../src/diagnosis/mistakes/index.ts";
import type { Edit } from "../../../src/diagnosis/mistakes/model.ts";
import { check, read, shortly } from "../../readings/wing.ts";

const edit = (id: string, mm: number, to?: { id: string; mm: number; side?: "left" | "right" }): Edit => ({
  target: { kind: "tab", id, side: "left" },
  readM: mm / 1000,
  to: to && { target: { kind: "tab", id: to.id, side: to.side ?? "left" }, valueM: to.mm / 1000 },
});
const edits = (...of: readonly Edit[]) => ({
  id: "tried",
  correction: { kind: "edits" as const, edits: of },
});
const made = check([
  read("tab", "A1", "left", 6770, 6771),
  { ...read("tab", "A2", "left", 6760), note: "windy" },
  read("tab", "A4", "left", 6740),
]);

describe("a correction", () => {
  it("puts one value right and leaves its repeats, in a new check", () => {
    const corrected = applyCorrection(made, edits(edit("A1", 6771, { id: "A1", mm: 6717 })));
    expect(shortly(corrected.readings)).toEqual(["left A1 6770 6717", "left A2 6760", "left A4 6740"]);
    expect(shortly(made.readings)).toEqual(["left A1 6770 6771", "left A2 6760", "left A4 6740"]);
  });

  it("moves a value with its note to a tab without one, behind where it stood", () => {
    const corrected = applyCorrection(made, edits(edit("A2", 6760, { id: "A3", mm: 6760 })));
    expect(shortly(corrected.readings)).toEqual(["left A1 6770 6771", "left A3 6760", "left A4 6740"]);
    expect(corrected.readings[1]?.note).toBe("windy");
  });

  it("makes a moved value a repeat of what was read there", () => {
    const corrected = applyCorrection(made, edits(edit("A2", 6760, { id: "A4", mm: 6760 })));
    expect(shortly(corrected.readings)).toEqual(["left A1 6770 6771", "left A4 6760 6740"]);
  });

  it("exchanges two, back to the same check when done twice", () => {
    const there = applyCorrection(
      made,
      edits(edit("A2", 6760, { id: "A4", mm: 6760 }), edit("A4", 6740, { id: "A2", mm: 6740 })),
    );
    expect(shortly(there.readings)).toEqual(["left A1 6770 6771", "left A2 6740", "left A4 6760"]);
    const back = applyCorrection(
      there,
      edits(edit("A2", 6740, { id: "A4", mm: 6740 }), edit("A4", 6760, { id: "A2", mm: 6760 })),
    );
    expect(back).toEqual(made);
  });

  it("sets a value aside where what it should be isn't known", () => {
    expect(shortly(applyCorrection(made, edits(edit("A4", 6740))).readings)).toEqual([
      "left A1 6770 6771",
      "left A2 6760",
    ]);
  });

  it("changes where a check was read from, and no figure", () => {
    const corrected = applyCorrection(made, { id: "tried", correction: { kind: "datum", from: "maillon" } });
    expect(corrected).toEqual({ ...made, from: "maillon" });
  });

  it("is refused where there is none, or the check hasn't the value", () => {
    expect(() => applyCorrection(made, { id: "a row", correction: undefined })).toThrow(/reading again/u);
    expect(() => applyCorrection(made, edits(edit("A4", 6741)))).toThrow(
      "no reading of 6741 mm for tab A4 on the left",
    );
  });
});
