import { describe, expect, it } from "vitest";
import {
  type Check,
  checkFile,
  checkFileSchema,
  checkJsonSchema,
  parseCheckText,
  parseReadingsCsv,
  writeCheckJson,
  writeReadingsCsv,
} from "../../src/readings/index.ts";
import { check, FRAME, read, testWing } from "./wing.ts";

const wing = testWing();
const readings = [read("tab", "A1", "left", 6767)];
const stated: Check = check(readings, {
  uncertainty: { zeroM: 0.00125, scale: 115.5e-6, tensionN: 2.5, readingM: 0.0007 },
});

describe("what a check says of its readings' uncertainty", () => {
  it("stands with the instrument in the file, in millimetres, millionths and newtons", () => {
    expect(checkFile(stated).instrument).toEqual({
      zeroUncertaintyMm: 1.25,
      scaleUncertaintyPpm: 115.5,
      tensionUncertaintyN: 2.5,
      readingUncertaintyMm: 0.7,
    });
    expect(checkFileSchema.safeParse(checkFile(stated)).success).toBe(true);
  });

  it.each([
    ["all of it", stated.uncertainty],
    ["a part", { tensionN: 1 }],
    ["nothing uncertain at all", { zeroM: 0, scale: 0, tensionN: 0 }],
  ])("is the same when written and read again: %s", (_, uncertainty) => {
    const before = check(readings, { uncertainty });
    expect(parseCheckText(writeCheckJson(before), wing)).toEqual({ ok: true, value: before, problems: [] });
    for (const style of [
      { delimiter: ",", decimalMark: "." },
      { delimiter: ";", decimalMark: "," },
    ] as const)
      expect(parseReadingsCsv(writeReadingsCsv(before, style), wing, FRAME)).toEqual({
        ok: true,
        value: before,
        problems: [],
      });
  });

  it("is left out where nothing was said, as in every check before", () => {
    const silent = parseCheckText(writeCheckJson(check(readings)), wing);
    if (!silent.ok) throw new Error("A plain check was refused.");
    expect("uncertainty" in silent.value).toBe(false);
    expect(checkFile(check(readings))).not.toHaveProperty("instrument");
  });

  it.each([
    ["zeroUncertaintyMm", -1],
    ["scaleUncertaintyPpm", 20_000],
    ["tensionUncertaintyN", "2 N"],
    ["readingUncertaintyMm", 0],
  ])("is refused where it can't be one: %s %j", (field, value) => {
    const file = { ...checkFile(check(readings)), instrument: { [field]: value } };
    const parsed = parseCheckText(JSON.stringify(file), wing);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[0]?.where).toContain(`instrument.${field}`);
  });

  it.each([
    ["# zero uncertainty: 1", "zero uncertainty"],
    ["# scale uncertainty: 0.1 mm", "scale uncertainty"],
    ["# tension uncertainty: 500 N", "tension uncertainty"],
    ["# reading uncertainty: 0 mm", "reading uncertainty"],
  ])("in a table's comment %j is refused with what was expected", (comment, name) => {
    const parsed = parseReadingsCsv(`${comment}\ntab,left\nA1,6767\n`, wing, FRAME);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems.map((problem) => problem.message).join(" ")).toContain(`as in "# ${name}: `);
  });

  it("is told in a table in other units and spellings too", () => {
    const text =
      "# Zero uncertainty: 0.1 cm\n# tension  uncertainty: 0.2 daN\n# SCALE UNCERTAINTY: 100ppm\ntab,left\nA1,6767 mm\n";
    const parsed = parseReadingsCsv(text, wing, FRAME);
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
    expect(parsed.value.uncertainty).toEqual({ zeroM: 0.001, tensionN: 2, scale: 1e-4 });
  });

  it("is documented in the published schema", () => {
    const { properties } = checkJsonSchema() as unknown as {
      properties: { instrument: { properties: Record<string, { description: string }> } };
    };
    for (const field of [
      "zeroUncertaintyMm",
      "scaleUncertaintyPpm",
      "tensionUncertaintyN",
      "readingUncertaintyMm",
    ])
      expect(properties.instrument.properties[field]?.description).toMatch(
        /^Standard uncertainty of .*\[.+\]$/u,
      );
  });
});
