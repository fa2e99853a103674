import { describe, expect, test } from "vitest";
import type { PlanHalf } from "../../src/plan/index.ts";
import { line, only, placeOf, problemsAfter, type Sample, tab } from "./broken.ts";
import { wingOf } from "./factory.ts";

/** States every total as the members make it, so that a later change of a length shows. */
function stateTotals(plan: Sample, half: PlanHalf): void {
  const paths = new Map(wingOf(plan).paths.map((path) => [path.tabKey, path.specifiedM]));
  for (const one of half.tabs) one.pathMm = Math.round((paths.get(`left:${one.id}`) ?? 0) * 1000);
}

describe("a line's length", () => {
  test("in metres by mistake is told", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "A1"), { lengthMm: 4.6 })));
    expect(found).toMatchObject({
      severity: "error",
      subject: "A1",
      where: `${placeOf("lines", "A1")}.lengthMm`,
    });
    expect(found.remedy).toContain("metres");
  });

  test("above fifteen metres is told", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "D2"), { lengthMm: 47_300 })));
    expect(found).toMatchObject({ severity: "error", subject: "D2" });
    expect(found.message).toContain("47300 mm");
  });

  test("is more than its loop takes up", () => {
    const found = only(
      problemsAfter((plan, half) => {
        plan.maillons.push({ id: "A short", riser: "A" });
        half.lines.push({
          id: "A9",
          row: "A",
          tier: 1,
          hangsOn: "A short",
          lengthMm: 90,
          material: "bare 0.7",
          loop: { name: "three turns", takeUpMm: 90 },
        });
        half.tabs.push({ id: "A9", row: "A", rib: 17, line: "A9" });
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "A9" });
  });

  test("that has lost a digit is worth a look, though the total hardly shows it", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "B1.1.1"), { lengthMm: 45 })));
    expect(found).toMatchObject({ severity: "warning", subject: "B1.1.1" });
    expect(found.message).toContain("45 mm long; the middle one of those like it is 440 mm");
  });
});

describe("a total unlike its row's", () => {
  test("is told once for the line behind it, with all the tabs above", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "C2"), { lengthMm: 2460 })));
    expect(found).toMatchObject({
      severity: "warning",
      subject: "C2",
      where: `${placeOf("lines", "C2")}.lengthMm`,
    });
    expect(found.message).toContain("Tab C5 (also C6, C7 and C8)");
    expect(found.remedy).toContain("C2");
  });

  test("isn't made of the slope from the middle to the tip", () => {
    const found = problemsAfter((_, half) => {
      for (const row of ["A", "B", "C", "D"]) line(half, `${row}2`).lengthMm -= 900;
    });
    expect(found).toEqual([]);
  });
});

describe("a total that the plan states", () => {
  test("may be rounded to the millimetre", () => {
    expect(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        tab(half, "B3").pathMm = (tab(half, "B3").pathMm ?? 0) + 1;
      }),
    ).toEqual([]);
  });

  test("a few millimetres off is a warning with both figures", () => {
    const found = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        tab(half, "B3").pathMm = (tab(half, "B3").pathMm ?? 0) + 5;
      }),
    );
    expect(found).toMatchObject({
      severity: "warning",
      subject: "B3",
      where: `${placeOf("tabs", "B3")}.pathMm`,
    });
    expect(found.message).toContain("states a total of 7345 mm, its members make 7340 mm");
    expect(found.message).toContain("B1 + B1.2 + B1.2.1 + strap");
    expect(found.message).toContain("5 mm more");
  });

  test("further off is an error", () => {
    const found = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        tab(half, "A6").pathMm = (tab(half, "A6").pathMm ?? 0) - 20;
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "A6" });
    expect(found.message).toContain("− loop): 20 mm less");
  });

  test("off at all tabs of one line points at that line, once", () => {
    const lower = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        line(half, "D1").lengthMm += 30;
      }),
    );
    expect(lower).toMatchObject({
      severity: "error",
      subject: "D1",
      where: `${placeOf("lines", "D1")}.lengthMm`,
    });
    expect(lower.message).toContain("D1, D2, D3 and D4");
    const middle = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        line(half, "D1.2").lengthMm += 3;
      }),
    );
    expect(middle).toMatchObject({ severity: "warning", subject: "D1.2" });
  });

  test("off by the strap throughout points at the measuring point, once", () => {
    const found = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        plan.reference.from = "maillon";
      }),
    );
    expect(found).toMatchObject({ severity: "error", where: "reference.from" });
    expect(found.remedy).toContain('Set reference.from to "riser"');
  });

  test("isn't compared through a line whose length is absurd", () => {
    const found = only(
      problemsAfter((plan, half) => {
        stateTotals(plan, half);
        line(half, "B1").lengthMm = 4.55;
      }),
    );
    expect(found.subject).toBe("B1");
  });
});
