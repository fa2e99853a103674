import { describe, expect, it } from "vitest";
import { DECISION_RULES, ruleSentence } from "../../../src/diagnosis/conformity.ts";
import { applyCorrection } from "../../../src/diagnosis/mistakes/index.ts";
import type { Suspicion } from "../../../src/diagnosis/mistakes/model.ts";
import { evenColumns } from "../../../src/view/judging/HalfSpanPanels.tsx";
import { readNumber } from "../../../src/view/judging/NumberField.tsx";
import { correctionEffect, suspicionEntry } from "../../../src/view/model/judging-mistakes.ts";
import { gainText, lineDoubtEntry, nextEntries } from "../../../src/view/model/judging-next.ts";
import { expandedText, limitsText, plausibleText, valueText } from "../../../src/view/model/judging-words.ts";
import { checkOf, sampleWing } from "../stand-in.ts";

describe("figures with their uncertainty", () => {
  it("show the expanded uncertainty, twice the standard one", () => {
    expect(expandedText(0.0013)).toBe("±2.6");
    expect(valueText(-0.0042, 0.0006)).toBe("−4.2 ±1.2 mm");
  });

  it("write limits as the user set them", () => {
    expect(limitsText({ lower: -0.01, upper: 0.01 })).toBe("±10 mm");
    expect(limitsText({ lower: -0.0075, upper: 0.0075 })).toBe("±7.5 mm");
    expect(limitsText({ lower: 0.05 })).toBe("at least 50 mm");
    expect(limitsText({ lower: -0.005, upper: 0.01 })).toBe("−5 to +10 mm");
  });
});

describe("the rule in a sentence", () => {
  it("names its own margin", () => {
    expect(ruleSentence(DECISION_RULES.drawing)).toContain("0.83 U");
    expect(ruleSentence(DECISION_RULES.full)).toMatch(/at least U,/);
    expect(ruleSentence(DECISION_RULES.probable)).toContain("95 %");
    expect(ruleSentence(DECISION_RULES.simple)).toContain("one in two");
  });
});

describe("plausibility in words", () => {
  it("grows with the odds and gives no digits", () => {
    const words = [0.5, 1.2, 2.5, 5].map((odds) => plausibleText(odds));
    expect(new Set(words).size).toBe(4);
    expect(words[2]).toBe("Far more likely than a true length");
    expect(words.join()).not.toMatch(/\d/);
    expect(plausibleText(5, "several")).toContain("true lengths like these");
  });
});

describe("a suspicion on the screen", () => {
  const wing = sampleWing();
  const check = checkOf(wing, () => 0);
  const target = { kind: "tab", id: "A1", side: "left" } as const;
  const readM = check.readings.find((reading) => reading.target.id === "A1" && reading.target.side === "left")
    ?.valuesM[0] as number;
  const suspicion: Suspicion = {
    id: "digit slip: tab left A1",
    kind: "digit slip",
    concerns: [{ target, readM, insteadM: readM + 0.1, belongsTo: target, expectedM: readM + 0.1 }],
    log10Odds: 2.4,
    probability: 0.95,
    offer: "correct",
    stepM: undefined,
    sentence: "…",
    correction: { kind: "edits", edits: [{ target, readM, to: { target, valueM: readM + 0.1 } }] },
    alternatives: [],
  };

  it("says what was read, what it would have been, and which line it leads to", () => {
    const entry = suspicionEntry(wing, suspicion);
    expect(entry.concerns[0]?.name).toBe("A1 left");
    expect(Number(entry.concerns[0]?.instead) - Number(entry.concerns[0]?.read)).toBeCloseTo(100, 6);
    expect(entry.concerns[0]?.belongsTo).toBeUndefined();
    expect(entry.lineKeys).toEqual([wing.tabs.find(({ key }) => key === "left:A1")?.lineKey]);
  });

  it("shows before and after without changing the check", () => {
    const before = structuredClone(check);
    expect(correctionEffect(wing, check, suspicion)).toEqual([
      { key: "left:A1", name: "A1 left", beforeM: expect.closeTo(0, 6), afterM: expect.closeTo(0.1, 6) },
    ]);
    expect(check).toEqual(before);
  });

  it("offers nothing once its reading is gone, or where only reading again helps", () => {
    const corrected = applyCorrection(check, suspicion);
    expect(correctionEffect(wing, corrected, suspicion)).toBeUndefined();
    expect(correctionEffect(wing, check, { id: "x", correction: undefined })).toBeUndefined();
  });
});

describe("what to read next", () => {
  const wing = sampleWing();
  const [line] = wing.lines;

  it("says how much of the doubt would go", () => {
    expect(gainText({ beforeM: 0.004, afterM: 0.002 })).toBe("would halve the doubt about it");
    expect(gainText({ beforeM: 0.004, afterM: 0.001 })).toBe("would all but settle it");
    expect(gainText({ beforeM: 0.004, afterM: 0.004 })).toBe("would hardly change the doubt about it");
  });

  it("names the line with its side and its figures", () => {
    const gain = { lineKey: line?.key ?? "", reductionM2: 1, share: 0.12, beforeM: 0.0039, afterM: 0.001 };
    const [entry] = nextEntries(wing, { unknownM2: 1, ranked: [gain], best: [gain] });
    expect(entry?.name).toBe(`${line?.id} ${line?.side}`);
    expect(entry?.figures).toBe("±3.9 → ±1.0 mm");
    expect(entry?.others).toContain("12 %");
  });

  it("tells a line that can't be told apart from its partners by their names", () => {
    const partner = wing.lines.find((each) => each.side === line?.side && each.key !== line.key);
    const entry = lineDoubtEntry(wing, {
      lineKey: line?.key ?? "",
      changeM: -0.0042,
      deviationM: 0.0011,
      priorDeviationM: 0.005,
      knowledge: "not told apart",
      partners: [{ lineKey: partner?.key ?? "", correlation: -0.95 }],
    });
    expect(entry.change).toBe("−4.2 ±1.1");
    expect(entry.partners).toEqual([{ lineKey: partner?.key, name: partner?.id }]);
  });
});

describe("a number as typed", () => {
  it("is taken with a point or a comma and within its range, and never half", () => {
    expect(readNumber("7,5", 0, 50)).toBe(7.5);
    expect(readNumber(" 12. ", 0, 50)).toBe(12);
    for (const text of ["", "-3", "1e3", "51", "5mm", "NaN"]) expect(readNumber(text, 0, 50)).toBeUndefined();
  });
});

describe("plots beside each other", () => {
  it("fill their lines evenly", () => {
    expect(evenColumns(6, 4)).toBe(3);
    expect(evenColumns(5, 4)).toBe(3);
    expect(evenColumns(5, 9)).toBe(5);
    expect(evenColumns(4, 1)).toBe(1);
  });
});
