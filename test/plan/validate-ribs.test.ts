import { describe, expect, test } from "vitest";
import { only, placeOf, problemsAfter, tab } from "./broken.ts";

describe("tabs on the canopy", () => {
  test("two of one row on the same rib are told", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "B4"), { rib: 6 })));
    expect(found).toMatchObject({ severity: "error", subject: "B4", where: `${placeOf("tabs", "B4")}.rib` });
    expect(found.message).toContain("where tab B3 is already");
  });

  test("two tip tabs may share a rib if they lie apart along the chord", () => {
    expect(
      problemsAfter((_, half) => {
        Object.assign(tab(half, "T1"), { rib: 18, chordFraction: 0.2 });
        Object.assign(tab(half, "T2"), { rib: 18, chordFraction: 0.5 });
      }),
    ).toEqual([]);
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "T2"), { rib: 18 })));
    expect(found).toMatchObject({ severity: "error", subject: "T2" });
  });

  test("row fractions run from front to rear, told once and not again for every rib", () => {
    const found = only(
      problemsAfter((plan) => Object.assign(plan.canopy?.rowChordFractions ?? {}, { C: 0.25 })),
    );
    expect(found).toMatchObject({ severity: "error", subject: "C", where: "canopy.rowChordFractions.C" });
    expect(found.message).toContain("Row B lies at 0.3 of the chord and row C at 0.25");
  });

  test("a tab in front of the row before it on its rib is told", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "C5"), { chordFraction: 0.28 })));
    expect(found).toMatchObject({
      severity: "error",
      subject: "C5",
      where: `${placeOf("tabs", "C5")}.chordFraction`,
    });
    expect(found.message).toContain("On rib 10, tab B5 of row B lies at 0.3");
  });

  test("a front tab set too far back is the one that is named", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "A2"), { chordFraction: 0.3 })));
    expect(found).toMatchObject({ subject: "A2", where: `${placeOf("tabs", "A2")}.chordFraction` });
  });

  test("a brake tab lies behind the rear row", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "K2"), { chordFraction: 0.7 })));
    expect(found.subject).toBe("K2");
  });

  test("no rib lies beyond the tip", () => {
    const found = only(
      problemsAfter((_, half) => {
        Object.assign(tab(half, "T1"), { rib: 25 });
        Object.assign(tab(half, "T2"), { rib: 26 });
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "T1" });
    expect(found.message).toContain("46 cells has 24 ribs a side");
    expect(found.message).toContain("T1 on rib 25 and T2 on rib 26");
    // The outermost rib itself is one to hang on, with an even and with an odd number of cells.
    expect(problemsAfter((_, half) => Object.assign(tab(half, "T2"), { rib: 24 }))).toEqual([]);
    const odd = problemsAfter((plan, half) => {
      Object.assign(plan.canopy ?? {}, { cells: 47 });
      Object.assign(tab(half, "T2"), { rib: 24 });
    });
    expect(odd).toEqual([]);
  });
});
