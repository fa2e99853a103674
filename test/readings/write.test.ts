import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import {
  type Check,
  checkFileSchema,
  parseCheckText,
  parseReadingsCsv,
  writeCheckJson,
  writeReadingsCsv,
} from "../../src/readings/index.ts";
import { check, FRAME, read, testWing } from "./wing.ts";

const wing = testWing();
const STYLES = [
  { delimiter: ",", decimalMark: "." },
  { delimiter: ";", decimalMark: "," },
  { delimiter: ";", decimalMark: "." },
  { delimiter: "\t", decimalMark: "," },
] as const;

const full: Check = check(
  [
    {
      ...read("tab", "A1", "left", 6767.125, 6767.5, 6768),
      note: 'read three times; last by\nhand, with a "tape"',
    },
    read("tab", "K1", "right", 6270.1),
    { ...read("line", "AU1", "right", 360.125), note: "=HYPERLINK(1)" },
    { ...read("line", "AM2", "left", 1950), note: "'=already guarded" },
  ],
  {
    tensionN: 49.033,
    from: "maillon",
    instrumentZeroM: -0.0015,
    instrument: "=cmd; rail",
    resolutionM: 0.0005,
    note: "ends with a delimiter;",
  },
);
/** From the maillon, so that the readings are plausible. */
const sound: Check = {
  ...full,
  readings: full.readings.map((reading) =>
    reading.target.id === "A1"
      ? { ...reading, valuesM: reading.valuesM.map((value) => value - 0.47) }
      : reading,
  ),
};

describe("a check written and read again", () => {
  it("is the same as a check file", () => {
    expect(parseCheckText(writeCheckJson(sound), wing)).toEqual({ ok: true, value: sound, problems: [] });
    const bare = check([read("tab", "A1", "left", 6767)]);
    expect(parseCheckText(writeCheckJson(bare), wing)).toEqual({ ok: true, value: bare, problems: [] });
  });

  it.each(STYLES)("is the same as a table with %j", (style) => {
    const parsed = parseReadingsCsv(writeReadingsCsv(sound, style), wing, {
      ...FRAME,
      tensionN: 1,
      date: "1999-01-01",
    });
    expect(parsed.problems).toEqual([]);
    if (!parsed.ok) throw new Error();
    expect(parsed.value.readings.map((reading) => reading.target)).toEqual(
      sound.readings.map((reading) => reading.target),
    );
    for (const [index, reading] of parsed.value.readings.entries()) {
      for (const [repeat, valueM] of reading.valuesM.entries())
        expect(valueM).toBeCloseTo(sound.readings[index]?.valuesM[repeat] ?? 0, 12);
      expect(reading.note).toBe(sound.readings[index]?.note);
    }
    expect({ ...parsed.value, readings: [] }).toEqual({ ...sound, readings: [] });
  });
});

describe("a written check file", () => {
  it("fits its schema, in plain millimetres", () => {
    const file: unknown = JSON.parse(
      writeCheckJson(check([read("tab", "A1", "left", 7421.3), read("tab", "A2", "left", 7415, 7416)])),
    );
    expect(checkFileSchema.safeParse(file).success).toBe(true);
    expect(file).toMatchObject({
      readings: [
        { tab: "A1", side: "left", mm: 7421.3 },
        { tab: "A2", mm: [7415, 7416] },
      ],
    });
  });
});

describe("a written table", () => {
  it("holds no cell that a spreadsheet would run", () => {
    const evil = ["=1+1", "+1", "-1", "@SUM(1)", "\t=1", "\n=1", " =1", "＝1", "harmless,=1+1", 'x";=1'];
    const danger = check(
      evil.map((note, index) => ({ ...read("tab", `A${(index % 4) + 1}`, "left", 6767), note })),
      { note: "a,=1+1", instrument: "b;=1+1", wingName: "\t=1" },
    );
    for (const style of STYLES) {
      const text = writeReadingsCsv(
        {
          ...danger,
          readings: [...danger.readings, { ...read("line", "=A1", "left", 360), note: undefined }],
        },
        style,
      );
      const cells = Papa.parse<string[]>(text, { delimiter: style.delimiter }).data.flat();
      expect(cells.length).toBeGreaterThan(50);
      expect(cells.filter((cell) => /^\s*[=+\-@＝]/u.test(cell) || /^[\t\r\n]/u.test(cell))).toEqual([]);
    }
  });

  it("needs a delimiter that isn't its decimal mark", () => {
    expect(() => writeReadingsCsv(full, { delimiter: ",", decimalMark: "," })).toThrow(/","/u);
  });
});
