import { describe, expect, it } from "vitest";
import { parseReadingsCsv } from "../../../src/readings/index.ts";
import { identityFacts, wingTitle } from "../../../src/view/model/identity.ts";
import { incidenceText } from "../../../src/view/model/overview.ts";
import { rowEntries } from "../../../src/view/model/rowTable.ts";
import { suitableRangeM, tapeTicks } from "../../../src/view/model/tape.ts";
import { readingsTemplate } from "../../../src/view/model/template.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const wing = sampleWing();
const frame = checkOf(wing, () => 0);

describe("the empty sheet for readings", () => {
  const sheet = readingsTemplate(wing);
  const rows = sheet.split("\r\n").slice(5, -1);

  it("lists every tab once, with room for left and right", () => {
    expect(rows.map((row) => row.split(",")[0])).toEqual([...new Set(wing.tabs.map((tab) => tab.id))]);
    expect(rows.every((row) => row.endsWith(",,"))).toBe(true);
  });

  it("filled in, is read back tab by tab under the plan's tension and datum", () => {
    let number = 0;
    const filled = sheet.replaceAll(",,", () => {
      number += 1;
      return `,${7000 + number},${7100 + number}`;
    });
    const read = parseReadingsCsv(filled, wing, { ...frame, tensionN: 20, from: "maillon" });
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.value.readings).toHaveLength(wing.tabs.length);
    expect(read.value.tensionN).toBe(wing.reference.tensionN);
    expect(read.value.from).toBe(wing.reference.from);
    expect(read.value.date, "the sheet leaves the day open").toBe(frame.date);
    const first = read.value.readings.find(({ target }) => target.id === "A1" && target.side === "right");
    expect(first?.valuesM[0]).toBeCloseTo(7.101, 9);
  });
});

describe("the table of rows", () => {
  it("sets left against right and names the worst tab", () => {
    const off = (key: string): number => (key === "right:C2" ? -19 : key.startsWith("left:C") ? -4 : 1);
    const row = rowEntries(standIn(wing, checkOf(wing, off))).find((entry) => entry.row === "C");
    expect(row?.leftM).toBeCloseTo(-0.004, 9);
    expect(row?.leftMinusRightM).toBeCloseTo((row?.leftM ?? 0) - (row?.rightM ?? 0), 12);
    expect(row?.worstAt).toBe("C2 right");
    expect(row?.worstM).toBeCloseTo(-0.019, 9);
    expect(row?.outOfTolerance).toBe(1);
    expect(row?.marks).toHaveLength(row?.measured ?? 0);
  });

  it("has no figures for a row that wasn't read", () => {
    const row = rowEntries(standIn(wing, undefined))[0];
    expect(row?.meanM).toBeUndefined();
    expect(row?.leftMinusRightM).toBeUndefined();
    expect(row?.marks).toEqual([]);
  });
});

describe("the head of the screen", () => {
  it("says weight, day, tension, datum and how much was read", () => {
    const check = checkOf(wing, (key) => (key === "left:A1" ? undefined : 0));
    const text = identityFacts(wing, check, standIn(wing, check))
      .map(({ value }) => value)
      .join("; ");
    expect(text).toContain("14 March 2026");
    expect(text).toContain("at 50 N");
    expect(text).toContain(`${wing.tabs.length - 1} of ${wing.tabs.length} tabs`);
  });

  it("says that there are no readings", () => {
    expect(identityFacts(wing, undefined, undefined).map(({ value }) => value)).toContain("no readings yet");
  });

  it("says the size once", () => {
    expect(wingTitle({ ...wing, name: "Sedge 26", size: "26" })).toBe("Sedge 26");
    expect(wingTitle({ ...wing, name: "Sedge", size: "26" })).toBe("Sedge 26");
  });
});

describe("the incidence in words", () => {
  const check = checkOf(wing, () => 0);
  const say = (meanIncidenceRad: number) => incidenceText(standIn(wing, check, { meanIncidenceRad }));

  it("says which way the nose went, and that a hair's breadth is nothing", () => {
    expect(say(0.01)?.sense).toBe("nose up");
    expect(say(-0.01)?.sense).toBe("nose down");
    expect(say(0.0005)?.sense).toBe("unchanged");
  });

  it("says nothing without readings", () => {
    expect(incidenceText(standIn(wing, undefined))).toBeUndefined();
  });
});

describe("a tape", () => {
  it("has a minor mark a step, a longer one every fifth and the longest every tenth, counted from zero", () => {
    const ticks = tapeTicks(-20, 20, 1);
    expect(ticks).toHaveLength(41);
    expect(ticks.filter(({ grade }) => grade === "major").map(({ value }) => value)).toEqual([
      -20, -10, 0, 10, 20,
    ]);
    expect(ticks.filter(({ grade }) => grade === "half").map(({ value }) => value)).toEqual([-15, -5, 5, 15]);
    expect(ticks[20]?.at).toBeCloseTo(0.5, 12);
  });

  it("takes a colour range that holds nineteen of twenty readings", () => {
    const readings = [...new Array<number>(19).fill(-0.014), -0.09];
    expect(suitableRangeM(readings)).toBe(0.02);
    expect(suitableRangeM([...readings, -0.09])).toBe(0.12);
    expect(suitableRangeM([])).toBe(0.03);
    expect(suitableRangeM([0.5])).toBe(0.12);
  });
});
