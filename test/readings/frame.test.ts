import { describe, expect, it } from "vitest";
import { defaultFrame, deviations, parseReadingsCsv } from "../../src/readings/index.ts";
import { FRAME, testWing } from "./wing.ts";

const wing = testWing();
const table = "tab;left mm\nA1;6769\n";

describe("the frame of a table", () => {
  it("is by default the plan's own tension and datum, and no zero", () => {
    expect(defaultFrame(testWing("maillon"), "2026-03-14")).toMatchObject({
      date: "2026-03-14",
      tensionN: 50,
      from: "maillon",
      instrumentZeroM: 0,
    });
  });

  it("is what the caller says where the file says nothing", () => {
    const parsed = parseReadingsCsv(table, wing, { ...FRAME, tensionN: 20, note: "bench" });
    expect(parsed).toMatchObject({ ok: true, value: { tensionN: 20, note: "bench", date: "2026-03-14" } });
  });

  it("is overridden by comment lines, before or after the table", () => {
    const text = `# date: 2026-04-01\n# Tension: 5 daN\n#from: riser\n# a remark: of no meaning\n${table}# zero: 2 mm\n# instrument: tape, steel\n# resolution: 0,5 mm\n# note: damp\n`;
    const parsed = parseReadingsCsv(text, wing, { ...FRAME, from: "maillon", tensionN: 20 });
    expect(parsed).toMatchObject({
      ok: true,
      problems: [],
      value: {
        date: "2026-04-01",
        tensionN: 50,
        from: "riser",
        instrumentZeroM: 0.002,
        instrument: "tape, steel",
        resolutionM: 0.0005,
        note: "damp",
      },
    });
    if (!parsed.ok) return;
    expect((deviations(wing, parsed.value).paths[0]?.deviationM ?? 1) * 1000).toBeCloseTo(0, 9);
  });

  it("is read from comments that a spreadsheet has quoted or filled up with delimiters", () => {
    const text = `# date: 2026-04-01;;;\n"# note: a; b";;\n# tension: 30 N;\n${table}`;
    expect(parseReadingsCsv(text, wing, FRAME)).toMatchObject({
      ok: true,
      value: { date: "2026-04-01", note: "a; b", tensionN: 30 },
    });
  });

  it.each([
    ["50 N", 50],
    ["50N", 50],
    ["5 daN", 50],
    ["5 kg", 49.03325],
    ["49.033 N", 49.033],
    ["4,5 daN", 45],
  ])("takes a tension of %s as %d N", (text, tensionN) => {
    const parsed = parseReadingsCsv(`# tension: ${text}\n${table}`, wing, FRAME);
    if (!parsed.ok) throw new Error();
    expect(parsed.value.tensionN).toBeCloseTo(tensionN, 9);
  });

  it.each([
    "date: 30.2.2026",
    "date: 2026-02-30",
    "tension: 50",
    "tension: firm",
    "tension: 0 N",
    "tension: 5000 N",
    "from: tree",
    "zero: 2",
    "zero: 9 m",
    "resolution: 1",
  ])("isn't guessed where a comment says %j: every deviation hangs on it", (comment) => {
    const parsed = parseReadingsCsv(`# a remark\n# ${comment}\n${table}`, wing, FRAME);
    expect(parsed).toMatchObject({ ok: false, problems: [{ severity: "error", where: "file line 2" }] });
    expect(parsed.problems[0]?.message).toContain(comment);
  });

  it("names another wing with a warning", () => {
    const parsed = parseReadingsCsv(`# wing: Loud Crow\n${table}`, wing, FRAME);
    expect(parsed).toMatchObject({
      ok: true,
      value: { wingName: "Loud Crow" },
      problems: [{ severity: "warning" }],
    });
  });
});
