import { describe, expect, it } from "vitest";
import { parseCheck, parseCheckText } from "../../src/readings/index.ts";
import { shortly, testWing, unevenWing } from "./wing.ts";

const wing = testWing();
const file = (readings: unknown, frame: Record<string, unknown> = {}) => ({
  format: "linewright-check",
  version: 1,
  date: "2026-03-14",
  tensionN: 50,
  from: "riser",
  readings,
  ...frame,
});
const good = { tab: "A1", side: "left", mm: 6767 };

/** The only problem of an input whose frame is right. */
function onlyProblem(readings: readonly unknown[]) {
  const parsed = parseCheck(file(readings), wing);
  if (!parsed.ok) throw new Error("the frame should be right");
  expect(parsed.problems).toHaveLength(1);
  return { readings: shortly(parsed.value.readings), problem: parsed.problems[0] };
}

describe("a check file", () => {
  it("is read into metres, with its instrument and notes", () => {
    const parsed = parseCheck(
      file(
        [
          good,
          { tab: "B2", side: "right", mm: [6826, 6827], note: "second by hand" },
          { line: "AM1", side: "right", mm: 1950 },
        ],
        {
          wing: "Quiet Rook",
          instrument: { name: "laser on a rail", zeroMm: 2, resolutionMm: 1 },
          note: "after a wet week",
        },
      ),
      wing,
    );
    expect(parsed).toEqual({
      ok: true,
      problems: [],
      value: {
        wingName: "Quiet Rook",
        date: "2026-03-14",
        tensionN: 50,
        from: "riser",
        instrumentZeroM: 0.002,
        instrument: "laser on a rail",
        resolutionM: 0.001,
        note: "after a wet week",
        readings: [
          { target: { kind: "tab", id: "A1", side: "left" }, valuesM: [6.767], note: undefined },
          {
            target: { kind: "tab", id: "B2", side: "right" },
            valuesM: [6.826, 6.827],
            note: "second by hand",
          },
          { target: { kind: "line", id: "AM1", side: "right" }, valuesM: [1.95], note: undefined },
        ],
      },
    });
  });

  it("makes repeats of several entries for one tab, however its name is written", () => {
    const parsed = parseCheck(
      file([
        { ...good, note: "first" },
        { tab: "B1", side: "left", mm: 6825 },
        { tab: "a 01", side: "left", mm: [6765, 6766], note: "again" },
      ]),
      wing,
    );
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual(["left A1 6767 6765 6766", "left B1 6825"]);
    expect(parsed.value.readings[0]?.note).toBe("first; again");
  });

  it("needs no readings", () => {
    expect(parseCheck(file([]), wing)).toMatchObject({ ok: true, value: { readings: [] }, problems: [] });
  });

  it("of another wing is read with a warning", () => {
    const parsed = parseCheck(file([good], { wing: "Loud Crow" }), wing);
    expect(parsed).toMatchObject({ ok: true, problems: [{ severity: "warning", where: "wing" }] });
    expect(parseCheck(file([good], { wing: "quiet  rook" }), wing).problems).toEqual([]);
  });
});

describe("one bad reading", () => {
  it.each([
    ["an unknown tab", { tab: "C1", side: "left", mm: 6767 }, "readings[1].tab", "C1", /no such tab/u],
    [
      "a line called a tab",
      { tab: "AM1", side: "left", mm: 1950 },
      "readings[1].tab",
      "AM1",
      /has a line of that name/u,
    ],
    ["an unknown line", { line: "ZZ", side: "left", mm: 1950 }, "readings[1].line", "ZZ", /no such line/u],
    [
      "a wrong side",
      { tab: "A2", side: "middle", mm: 6767 },
      "readings[1].side",
      "A2",
      /"middle".*"left" or "right"/u,
    ],
    ["a missing side", { tab: "A2", mm: 6767 }, "readings[1].side", "A2", /missing/u],
    ["a text for a length", { tab: "A2", side: "left", mm: "6767" }, "readings[1].mm", "A2", /"6767"/u],
    ["a negative length", { tab: "A2", side: "left", mm: -6767 }, "readings[1].mm", "A2", /-6767/u],
    ["a text among repeats", { tab: "A2", side: "left", mm: [6767, "x"] }, "readings[1].mm[1]", "A2", /"x"/u],
    ["an empty list", { tab: "A2", side: "left", mm: [] }, "readings[1].mm", "A2", /empty list/u],
    [
      "a length in centimetres",
      { tab: "A2", side: "left", mm: 676.7 },
      "readings[1].mm",
      "A2",
      /676\.7 mm.*about 6767 mm/u,
    ],
    [
      "a slip among repeats",
      { tab: "A2", side: "left", mm: [6767, 66] },
      "readings[1].mm[1]",
      "A2",
      /66 mm/u,
    ],
    [
      "the line's length under the tab's name",
      { tab: "A2", side: "left", mm: 360 },
      "readings[1].mm",
      "A2",
      /360 mm/u,
    ],
    ["an unknown key", { tab: "A2", side: "left", mm: 6767, cm: 1 }, "readings[1].cm", "A2", /"cm"/u],
    [
      "both tab and line",
      { tab: "A2", line: "AM1", side: "left", mm: 6767 },
      "readings[1]",
      undefined,
      /Both/u,
    ],
    ["neither tab nor line", { side: "left", mm: 6767 }, "readings[1]", undefined, /Neither/u],
    ["no object", 6767, "readings[1]", undefined, /6767/u],
    ["nothing", null, "readings[1]", undefined, /null/u],
  ])("with %s is reported by its index, and the good ones stay", (_what, bad, where, subject, message) => {
    const { readings, problem } = onlyProblem([good, bad, { tab: "B1", side: "right", mm: 6825 }]);
    expect(readings).toEqual(["left A1 6767", "right B1 6825"]);
    expect(problem).toMatchObject({ severity: "warning", where, subject });
    expect(problem?.message).toMatch(message);
    expect(problem?.remedy).toMatch(/left out/u);
  });

  it("of a tab that only the other side has is reported", () => {
    const parsed = parseCheck(
      file([
        { tab: "A4", side: "right", mm: 6767 },
        { tab: "A4", side: "left", mm: 6767 },
      ]),
      unevenWing(),
    );
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual(["left A4 6767"]);
    expect(parsed.problems[0]?.message).toMatch(/only on the left/u);
  });

  it("is judged by the datum, tension and zero of its check: a strap more or less is no slip", () => {
    const fromMaillon = parseCheck(file([{ tab: "A1", side: "left", mm: 6297 }], { from: "maillon" }), wing);
    expect(fromMaillon.problems).toEqual([]);
    // An upper line of 360 mm on a rail that shows 350 mm at zero length.
    const rail = { instrument: { zeroMm: 350 } };
    expect(parseCheck(file([{ line: "AU1", side: "left", mm: 712 }], rail), wing).problems).toEqual([]);
    expect(parseCheck(file([{ line: "AU1", side: "left", mm: 360 }], rail), wing).problems).toHaveLength(1);
  });

  it("that is far out but possible stays: it is for the diagnosis to judge", () => {
    expect(parseCheck(file([{ tab: "A1", side: "left", mm: 6667 }]), wing).problems).toEqual([]);
  });
});

describe("a wrong frame", () => {
  it.each([
    ["format", { format: "linewright-plan" }],
    ["version", { version: 2 }],
    ["date", { date: "2026-02-30" }],
    ["date", { date: "14.3.2026" }],
    ["date", { date: undefined }],
    ["tensionN", { tensionN: 0 }],
    ["tensionN", { tensionN: "50 N" }],
    ["tensionN", { tensionN: 50_000 }],
    ["from", { from: "carabiner" }],
    ["instrument.zeroMm", { instrument: { zeroMm: 1e9 } }],
    ["instrument.colour", { instrument: { colour: "red" } }],
    ["readings", { readings: {} }],
    ["tension", { tension: 50 }],
  ])("in %s is an error", (where, frame) => {
    const parsed = parseCheck(file([good], frame), wing);
    expect(parsed).toMatchObject({ ok: false, problems: [{ severity: "error", where }] });
  });

  it.each([undefined, null, 7, "check", []])("such as %j is an error, not a crash", (input) => {
    expect(parseCheck(input, wing)).toMatchObject({ ok: false, problems: [{ severity: "error" }] });
  });

  it("says everything that is wrong at once", () => {
    const parsed = parseCheck(file([good], { date: "soon", from: "tree" }), wing);
    expect(parsed.problems.map((problem) => problem.where)).toEqual(["date", "from"]);
  });
});

describe("a check file's text", () => {
  it("may begin with a byte order mark", () => {
    expect(parseCheckText(`\uFEFF${JSON.stringify(file([good]))}`, wing).ok).toBe(true);
  });

  it("that isn't JSON is told by line and column", () => {
    expect(parseCheckText('{\n  "format": linewright\n}', wing)).toMatchObject({
      ok: false,
      problems: [{ where: "line 2, column 13" }],
    });
  });

  it("has the line behind a problem's path", () => {
    const text = JSON.stringify(file([good, { tab: "C1", side: "left", mm: 6767 }]), null, 2);
    const line = text.split("\n").findIndex((each) => each.includes('"C1"')) + 1;
    const parsed = parseCheckText(text, wing);
    expect(parsed).toMatchObject({ ok: true, problems: [{ where: `readings[1].tab (line ${line})` }] });
  });
});
