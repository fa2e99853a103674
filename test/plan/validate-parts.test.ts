import { describe, expect, test } from "vitest";
import { line, only, placeOf, problemsAfter, problemsOfSides } from "./broken.ts";

describe("the wing and its canopy", () => {
  test("an all-up weight from heavy to light is turned round", () => {
    const found = only(
      problemsAfter((plan) => Object.assign(plan.wing, { allUpWeightKg: { min: 105, max: 80 } })),
    );
    expect(found).toMatchObject({ severity: "error", where: "wing.allUpWeightKg" });
    expect(found.message).toContain("105 kg to 80 kg");
  });

  test("the projected span isn't larger than the flat span", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.canopy ?? {}, { projectedSpanM: 12 })));
    expect(found).toMatchObject({ severity: "error", where: "canopy.projectedSpanM" });
    expect(found.message).toContain("12 m and the flat span 11.6 m");
  });

  test("the projected area isn't larger than the flat area", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.canopy ?? {}, { projectedAreaM2: 27 })));
    expect(found.where).toBe("canopy.projectedAreaM2");
  });

  test("the chord tapers to the tip", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.canopy ?? {}, { tipChordM: 3 })));
    expect(found.where).toBe("canopy.tipChordM");
  });

  test("an aspect ratio that no wing has is worth a look", () => {
    const found = only(
      problemsAfter((plan) => Object.assign(plan.canopy ?? {}, { flatAreaM2: 120, projectedAreaM2: 100 })),
    );
    expect(found).toMatchObject({ severity: "warning", where: "canopy" });
  });

  test("a plan may say nothing of the canopy", () => {
    expect(problemsAfter((plan) => delete plan.canopy)).toEqual([]);
  });
});

describe("materials", () => {
  test("that the plan doesn't have are told once, with all the lines of them", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "B1").material = "sheathed 1.6";
        line(half, "B2").material = "sheathed 1.6";
      }),
    );
    expect(found).toMatchObject({
      severity: "error",
      subject: "B1",
      where: `${placeOf("lines", "B1")}.material`,
    });
    expect(found.message).toContain("also B2");
    expect(found.remedy).toContain("Did you mean sheathed 1.5");
  });

  test("may stand unused", () => {
    expect(problemsAfter((plan) => plan.materials.push({ id: "spare", diameterMm: 2 }))).toEqual([]);
  });

  test("have one entry each", () => {
    const found = only(problemsAfter((plan) => plan.materials.push({ id: "bare 0.7", diameterMm: 0.8 })));
    expect(found).toMatchObject({ severity: "error", subject: "bare 0.7", where: "materials[3].id" });
  });
});

describe("risers and maillons", () => {
  test("a maillon on a riser that the plan doesn't have is named", () => {
    const found = only(problemsAfter((plan) => plan.maillons.splice(2, 1, { id: "C", riser: "C'" })));
    expect(found).toMatchObject({ severity: "error", subject: "C", where: "maillons[2].riser" });
    expect(found.remedy).toContain("Did you mean C?");
  });

  test("have one entry each", () => {
    expect(only(problemsAfter((plan) => plan.risers.push({ id: "A", lengthMm: 480 }))).where).toBe(
      "risers[4].id",
    );
    expect(only(problemsAfter((plan) => plan.maillons.push({ id: "A", riser: "A" }))).where).toBe(
      "maillons[5].id",
    );
  });

  test("a maillon that holds nothing is worth a look", () => {
    const found = only(problemsAfter((plan) => plan.maillons.push({ id: "A outer", riser: "A" })));
    expect(found).toMatchObject({ severity: "warning", subject: "A outer", where: "maillons[5]" });
  });

  test("an empty maillon isn't reported beside the line whose wrong name left it empty", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "T1"), { hangsOn: "B-tip" })));
    expect(found.subject).toBe("T1");
    expect(found.remedy).toContain("Did you mean B tip?");
  });

  test("none is called after the pulley", () => {
    const found = problemsAfter((plan) => plan.maillons.push({ id: "pulley", riser: "D" }));
    expect(only(found)).toMatchObject({ severity: "error", subject: "pulley", where: "maillons[5].id" });
  });
});

describe("brakes", () => {
  test("are described where there are brake lines", () => {
    const found = only(problemsAfter((plan) => delete plan.brakes));
    expect(found).toMatchObject({ severity: "error", subject: "K1", where: "brakes" });
    expect(found.remedy).toContain("freeTravelMm");
  });

  test("described without any brake line are worth a look", () => {
    const found = only(
      problemsAfter(
        (plan) =>
          Object.assign(plan, { brakes: { pulleyRiser: "D", pulleyHeightMm: 200, freeTravelMm: 60 } }),
        {
          brakes: false,
        },
      ),
    );
    expect(found).toMatchObject({ severity: "warning", where: "brakes" });
  });

  test("have their pulley on a riser that exists", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.brakes ?? {}, { pulleyRiser: "E" })));
    expect(found).toMatchObject({ severity: "error", subject: "E", where: "brakes.pulleyRiser" });
  });

  test("with the pulley above the end of the strap are worth a look", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.brakes ?? {}, { pulleyHeightMm: 600 })));
    expect(found).toMatchObject({ severity: "warning", where: "brakes.pulleyHeightMm" });
  });

  test("with less free travel than the limit are worth a look", () => {
    const found = only(problemsAfter((plan) => Object.assign(plan.brakes ?? {}, { freeTravelMm: 49 })));
    expect(found).toMatchObject({ severity: "warning", where: "brakes.freeTravelMm" });
    expect(found.message).toContain("49 mm of free travel; at least 50 mm");
    expect(
      problemsAfter((plan) => {
        Object.assign(plan.brakes ?? {}, { freeTravelMm: 49 });
        plan.tolerances = { minBrakeFreeTravelMm: 40, source: "manual" };
      }),
    ).toEqual([]);
  });
});

describe("rows", () => {
  test("two, three and four are all wings", () => {
    for (const rows of [
      ["A", "B"],
      ["A", "B", "C"],
      ["A", "B", "C", "D"],
    ] as const) {
      expect(problemsAfter(() => undefined, { rows })).toEqual([]);
    }
  });

  test("follow each other from the front", () => {
    const found = only(problemsAfter(() => undefined, { rows: ["A", "B", "D"] }));
    expect(found).toMatchObject({ severity: "error", subject: "C" });
    expect(found.message).toContain("A, B and D, but no row C");
    expect(only(problemsAfter(() => undefined, { rows: ["B", "C"] })).subject).toBe("A");
  });

  test("a single one holds no profile", () => {
    const found = only(problemsAfter(() => undefined, { rows: ["A"], tip: false }));
    expect(found).toMatchObject({ severity: "error", subject: "A" });
    expect(found.message).toContain("row A only");
  });

  test("are counted over both sides together", () => {
    const found = problemsOfSides((left) => {
      left.lines = left.lines.filter((one) => one.row !== "D");
      left.tabs = left.tabs.filter((one) => one.row !== "D");
    });
    expect(found.every((one) => one.severity === "warning")).toBe(true);
  });
});
