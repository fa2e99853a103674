import { describe, expect, test } from "vitest";
import { line, only, placeOf, problemsOfSides, removeLine, removeTab, tab } from "./broken.ts";

describe("left against right", () => {
  test("equal sides have nothing said about them", () => {
    expect(problemsOfSides(() => undefined)).toEqual([]);
  });

  test("a line without a partner is a warning, and its tab isn't told again", () => {
    const found = only(
      problemsOfSides((_, right) => {
        removeLine(right, "A1.1.2");
        removeTab(right, "A2");
      }),
    );
    expect(found).toMatchObject({
      severity: "warning",
      subject: "A1.1.2",
      where: placeOf("lines", "A1.1.2", "left"),
    });
    expect(found.message).toContain("the right side has no line A1.1.2");
  });

  test("a tab without a partner is a warning", () => {
    const found = only(
      problemsOfSides((left) => left.tabs.push({ id: "A9", row: "A", rib: 17, line: "A2.2.2" })),
    );
    expect(found).toMatchObject({ severity: "warning", subject: "A9", where: "sides.left.tabs[38]" });
  });

  test("a row on one side only is one warning", () => {
    const found = only(
      problemsOfSides((_, right) => {
        right.lines = right.lines.filter((one) => one.row !== "D");
        right.tabs = right.tabs.filter((one) => one.row !== "D");
      }),
    );
    expect(found).toMatchObject({ severity: "warning", subject: "D1" });
    expect(found.message).toContain("Row D is on the left only");
  });

  test("partners may differ by half a millimetre before it is said", () => {
    expect(problemsOfSides((_, right) => Object.assign(line(right, "B1"), { lengthMm: 4550.5 }))).toEqual([]);
    const found = only(problemsOfSides((_, right) => Object.assign(line(right, "B1"), { lengthMm: 4550.6 })));
    expect(found).toMatchObject({
      severity: "warning",
      subject: "B1",
      where: placeOf("lines", "B1", "right"),
    });
    expect(found.message).toContain("length 4550 mm against 4550.6 mm");
  });

  test("all that differs between partners is told in one sentence", () => {
    const found = only(
      problemsOfSides((_, right) => {
        Object.assign(line(right, "A1"), { material: "sheathed 1.1", loop: { name: "plain", takeUpMm: 0 } });
      }),
    );
    expect(found.message).toContain("loop take-up 13 mm against 0 mm");
    expect(found.message).toContain("material sheathed 1.5 against sheathed 1.1");
  });

  test("a tab on another rib than its partner is told", () => {
    const found = only(problemsOfSides((_, right) => Object.assign(tab(right, "B8"), { rib: 17 })));
    expect(found).toMatchObject({ severity: "warning", subject: "B8" });
    expect(found.message).toContain("rib 16 against 17");
  });

  test("a fault on one side is told for that side, and not again as a difference", () => {
    const found = only(problemsOfSides((_, right) => Object.assign(line(right, "C2"), { hangsOn: "X" })));
    expect(found).toMatchObject({
      severity: "error",
      subject: "C2",
      where: `${placeOf("lines", "C2", "right")}.hangsOn`,
    });
    expect(found.message).toMatch(/^Right line C2 hangs on "X"/);
  });
});
