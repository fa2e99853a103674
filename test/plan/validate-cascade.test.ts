import { describe, expect, test } from "vitest";
import { line, only, placeOf, problemsAfter, removeLine, removeTab, tab } from "./broken.ts";

describe("a line that hangs on nothing known", () => {
  test("is named, with the tabs that are cut off by it, and nothing else is said", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "C2"), { hangsOn: "X" })));
    expect(found).toMatchObject({
      severity: "error",
      subject: "C2",
      where: `${placeOf("lines", "C2")}.hangsOn`,
    });
    expect(found.message).toContain('hangs on "X"');
    expect(found.message).toContain("Tabs C5, C6, C7 and C8 have no path to a maillon");
    expect(found.remedy).toContain("maillons are A, B, C, D and B tip");
  });

  test("by a slip of the pen is told what may have been meant, and the line meant isn't called empty", () => {
    const found = only(
      problemsAfter((_, half) => {
        Object.assign(line(half, "A1.1.1"), { hangsOn: "A1.l" });
        Object.assign(line(half, "A1.1.2"), { hangsOn: "A1.l" });
        half.lines.splice(half.lines.indexOf(line(half, "A1.1.2")), 1);
        removeTab(half, "A2");
      }),
    );
    expect(found.subject).toBe("A1.1.1");
    expect(found.remedy).toContain("Did you mean A1.1?");
  });

  test("is looked for in the carries of the others", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "B2").carries = ["B2.1", "B2.2"];
        Object.assign(line(half, "B2.2"), { hangsOn: "?" });
      }),
    );
    expect(found.subject).toBe("B2.2");
    expect(found.remedy).toContain("Did you mean B2?");
  });
});

describe("lines that hang on each other in a circle", () => {
  test("are named in order, once, with the tabs above", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "A1"), { hangsOn: "A1.2.1" })));
    expect(found).toMatchObject({ severity: "error", subject: "A1" });
    expect(found.message).toContain("A1 → A1.2.1 → A1.2 → A1");
    expect(found.message).toContain("Tabs A1, A2, A3 and A4");
    expect(found.remedy).toContain("maillon");
  });

  test("are found where a line hangs on itself", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "D2"), { hangsOn: "D2" })));
    expect(found.subject).toBe("D2");
    expect(found.message).toContain("Line D2 hangs on itself;");
  });

  test("are found in whatever order the lines stand, those that merely hang on the circle left out", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "D1").hangsOn = "D1.1";
        half.lines.reverse();
      }),
    );
    expect(["D1", "D1.1"]).toContain(found.subject);
    expect(found.message).toMatch(/D1 → D1\.1 → D1;|D1\.1 → D1 → D1\.1;/);
    expect(found.message).toContain("Tabs D1, D2, D3 and D4");
  });

  test("are two problems where there are two circles", () => {
    const found = problemsAfter((_, half) => {
      Object.assign(line(half, "A1"), { hangsOn: "A1.1" });
      Object.assign(line(half, "B1"), { hangsOn: "B1.1" });
    });
    expect(found.map((one) => one.subject)).toEqual(["A1", "B1"]);
  });
});

describe("a line that carries nothing", () => {
  test("is named", () => {
    const found = only(
      problemsAfter((_, half) => {
        removeTab(half, "D3");
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "D1.2.1", where: placeOf("lines", "D1.2.1") });
    expect(found.message).toContain("carries nothing");
  });
});

describe("a tab", () => {
  test("whose line doesn't exist is named, with a line that may have been meant", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "B3"), { line: "B1.2,1" })));
    expect(found).toMatchObject({ severity: "error", subject: "B3", where: `${placeOf("tabs", "B3")}.line` });
    expect(found.message).toContain('line "B1.2,1"');
    expect(found.message).toContain("no path to a maillon");
    expect(found.remedy).toContain("Did you mean B1.2.1?");
  });

  test("whose line has quite another name is told the line of its row that carries nothing, which isn't told again", () => {
    const found = only(problemsAfter((_, half) => Object.assign(tab(half, "K1"), { line: "first" })));
    expect(found.subject).toBe("K1");
    expect(found.remedy).toContain("Did you mean K1.1.1?");
  });

  test("may share its line with another tab", () => {
    expect(
      problemsAfter((_, half) => {
        removeLine(half, "A2.2.2");
        tab(half, "A8").line = "A2.2.1";
      }),
    ).toEqual([]);
  });
});

describe("an id given twice", () => {
  test("among the lines is named with both places", () => {
    const found = only(problemsAfter((_, half) => half.lines.push({ ...line(half, "C1") })));
    expect(found).toMatchObject({ severity: "error", subject: "C1" });
    expect(found.message).toContain("given 2 times (lines 29, 67 of the list)");
  });

  test("among the tabs is named", () => {
    const found = only(problemsAfter((_, half) => half.tabs.push({ ...tab(half, "C1"), rib: 15 })));
    expect(found).toMatchObject({ severity: "error", subject: "C1", where: "sides.mirrored.tabs[38].id" });
  });

  test("to a line and a tab is allowed, as plans do it", () => {
    const found = problemsAfter((_, half) => expect(tab(half, "A1").id).toBe(line(half, "A1").id));
    expect(found).toEqual([]);
  });
});

describe("a name shared by a maillon and a line", () => {
  test("is fine where the line is the one that hangs on that maillon", () => {
    expect(
      problemsAfter((plan, half) => {
        plan.maillons.push({ id: "T1", riser: "B" });
        line(half, "T1").hangsOn = "T1";
        for (const id of ["T1.1", "T1.2"]) Object.assign(line(half, id), { hangsOn: "T1" });
        // The two uppers now sit on the maillon, as their tier says.
        for (const id of ["T1.1", "T1.2"]) Object.assign(line(half, id), { tier: 1, lengthMm: 6200 });
        half.lines.splice(half.lines.indexOf(line(half, "T1")), 1);
        plan.maillons = plan.maillons.filter((maillon) => maillon.id !== "B tip");
      }),
    ).toEqual([]);
  });

  test("is an error where a line's tier says that the line is meant", () => {
    const found = only(
      problemsAfter((plan) => {
        plan.maillons.push({ id: "B1", riser: "B" });
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "B1.1" });
    expect(found.message).toContain("both a maillon and a line");
    expect(found.remedy).toContain("Rename");
  });
});

describe("the tier", () => {
  test("that disagrees with what a line hangs on is told with the right one, once", () => {
    const found = only(problemsAfter((_, half) => Object.assign(line(half, "C1.1"), { tier: 3 })));
    expect(found).toMatchObject({
      severity: "error",
      subject: "C1.1",
      where: `${placeOf("lines", "C1.1")}.tier`,
    });
    expect(found.message).toContain("given tier 3");
    expect(found.message).toContain("tier 2 was expected");
  });

  test("of a lower line said to hang on another line is told once, and not again for all that hangs on it", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "A2").hangsOn = "A1";
        for (const one of half.tabs) if (one.row === "A") one.pathMm = 7000;
        for (const one of half.tabs) if (/^A[1-4]$/.test(one.id)) delete one.pathMm;
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "A2" });
    expect(found.message).toContain("given tier 1, but hangs on line A1 of tier 1");
  });

  test("goes no higher than four", () => {
    const found = only(
      problemsAfter((_, half) => {
        const material = "bare 0.7";
        half.lines.push({ id: "A1x4", row: "A", tier: 4, hangsOn: "A1.1.1", lengthMm: 300, material });
        half.lines.push({ id: "A1x5", row: "A", tier: 4, hangsOn: "A1x4", lengthMm: 300, material });
        half.lines.push({ id: "A1x6", row: "A", tier: 4, hangsOn: "A1x5", lengthMm: 300, material });
        tab(half, "A1").line = "A1x6";
      }),
    );
    expect(found).toMatchObject({ severity: "error", subject: "A1x5" });
    expect(found.message).toContain("A1 → A1.1 → A1.1.1 → A1x4 → A1x5");
  });

  test("four is allowed", () => {
    expect(
      problemsAfter((_, half) => {
        half.lines.push({
          id: "A1x4",
          row: "A",
          tier: 4,
          hangsOn: "A1.1.1",
          lengthMm: 100,
          material: "bare 0.7",
        });
        tab(half, "A1").line = "A1x4";
      }),
    ).toEqual([]);
  });
});

describe("what a line says it carries", () => {
  test("is accepted where it agrees, lines and tabs alike, in any order", () => {
    expect(
      problemsAfter((_, half) => {
        line(half, "A1").carries = ["A1.2", "A1.1"];
        line(half, "A1.1.1").carries = ["A1"];
      }),
    ).toEqual([]);
  });

  test("is compared with what really hangs there", () => {
    const found = only(
      problemsAfter((_, half) => {
        line(half, "A1").carries = ["A1.1", "A2.1", "ghost"];
      }),
    );
    expect(found).toMatchObject({
      severity: "error",
      subject: "A1",
      where: `${placeOf("lines", "A1")}.carries`,
    });
    expect(found.message).toContain("A2.1 (which hangs on A2)");
    expect(found.message).toContain("ghost (which the plan doesn’t have)");
    expect(found.message).toContain("leaves out A1.2");
  });
});

describe("several faults at once", () => {
  test("are all reported, errors before warnings", () => {
    const found = problemsAfter((plan, half) => {
      line(half, "A1").material = "string";
      line(half, "B1").hangsOn = "nowhere";
      line(half, "C1.1").tier = 4;
      removeTab(half, "D8");
      plan.wing.allUpWeightKg = { min: 105, max: 80 };
      plan.brakes = { pulleyRiser: "D", pulleyHeightMm: 200, freeTravelMm: 20 };
    });
    expect(found.map((one) => one.subject)).toEqual([undefined, "B1", "D2.2.2", "C1.1", "A1", undefined]);
    expect(found.map((one) => one.severity)).toEqual([...Array(5).fill("error"), "warning"]);
  });
});
