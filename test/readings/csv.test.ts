import { describe, expect, it } from "vitest";
import { type CheckFrame, parseReadingsCsv } from "../../src/readings/index.ts";
import { FRAME, shortly, testWing, unevenWing } from "./wing.ts";

const wing = testWing();
const parse = (text: string, frame: CheckFrame = FRAME, on = wing) => parseReadingsCsv(text, on, frame);

/** What was read, and where something was found wrong. */
function seen(text: string, frame: CheckFrame = FRAME, on = wing) {
  const parsed = parse(text, frame, on);
  if (!parsed.ok)
    throw new Error(parsed.problems.map((problem) => `${problem.where}: ${problem.message}`).join("\n"));
  return { readings: shortly(parsed.value.readings), wrong: parsed.problems.map((problem) => problem.where) };
}

const clean = (readings: readonly string[]) => ({ readings, wrong: [] });

describe("a table with a row per tab", () => {
  it("is read with commas, semicolons or tabs", () => {
    for (const delimiter of [",", ";", "\t"]) {
      const text = ["tab,left [mm],right [mm]", "A1,6767,6765", "B1,6825,6826"]
        .join("\n")
        .replaceAll(",", delimiter);
      expect(seen(text)).toEqual(clean(["left A1 6767", "right A1 6765", "left B1 6825", "right B1 6826"]));
    }
  });

  it("is read with any line break, a byte order mark, and without a last line break", () => {
    for (const lineBreak of ["\r\n", "\n", "\r"]) {
      const text = `\uFEFF${["tab;left mm;right mm", "A1;6767;6765", "A2;6768;"].join(lineBreak)}`;
      expect(seen(text)).toEqual(clean(["left A1 6767", "right A1 6765", "left A2 6768"]));
      expect(seen(text + lineBreak)).toEqual(seen(text));
    }
  });

  it("takes empty cells and dashes as not measured, and rows without any reading as nothing", () => {
    const text = "tab;left mm;right mm\nA1;;6765\nA2;-;–\n\n;;\nheading of a block;;\nA3;6766\n";
    expect(seen(text)).toEqual(clean(["right A1 6765", "left A3 6766"]));
  });

  it("makes repeats of columns and of rows", () => {
    const text = "tab;left 1 [mm];left 2 [mm];right [mm]\nA1;6767;6769;6765\nB1;6825;;\nA1;6768;;6764\n";
    expect(seen(text)).toEqual(clean(["left A1 6767 6769 6768", "right A1 6765 6764", "left B1 6825"]));
  });

  it("may have one side only, in any column order, with notes", () => {
    const parsed = parse('note;rechts [mm];Tab\n"knot; seen ""twice""";6767;a 1\n');
    if (!parsed.ok) throw new Error();
    expect(parsed.value.readings).toEqual([
      { target: { kind: "tab", id: "A1", side: "right" }, valuesM: [6.767], note: 'knot; seen "twice"' },
    ]);
  });

  it("of single lines has the heading line", () => {
    expect(seen("line;L mm;R mm\nAM1;1950;1951\nAU1;360;361\n")).toEqual(
      clean(["left line AM1 1950", "right line AM1 1951", "left line AU1 360", "right line AU1 361"]),
    );
  });

  it("headed name takes tabs first, then lines; and tab and line columns may stand side by side", () => {
    expect(seen("name;left mm\nA1;6767\nAM1;1950\n")).toEqual(clean(["left A1 6767", "left line AM1 1950"]));
    expect(seen("tab;line;left mm\nA1;;6767\n;AM1;1950\n")).toEqual(
      clean(["left A1 6767", "left line AM1 1950"]),
    );
  });
});

describe("a table with a row per reading", () => {
  it("names the side in a cell, in several languages", () => {
    const text = "tab,side,mm\nA1,left,6767\nA1,R,6765\nB1,links,6825\nB1,droite,6826\nA1,L,6769\n";
    expect(seen(text)).toEqual(
      clean(["left A1 6767 6769", "right A1 6765", "left B1 6825", "right B1 6826"]),
    );
  });

  it("may have its unit in a column, its repeats numbered and notes", () => {
    const text =
      "line;side;value;unit;repeat;note\nAM1;left;195.1;cm;1;damp\nAM1;left;1952;mm;2;\nAL1;left;4.001;m;1;\n";
    const parsed = parse(text);
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual(["left line AM1 1951 1952", "left line AL1 4001"]);
    expect(parsed.value.readings[0]?.note).toBe("damp");
  });
});

describe("a row that can't be read", () => {
  it("is told by its physical line, header and comments counted, multi-line cells too; the good rows stay", () => {
    const text = [
      "# from the bench", // 1
      "tab;left [mm];right [mm];note", // 2
      "A1;6767;6765;", // 3
      '"A2";6766;6764;"wet, and', // 4
      "read in the", // 5
      'evening"', // 6
      "A9;6767;6765;", // 7
      "", // 8
      "# pause", // 9
      "A3;67x67;6763;", // 10
      "B1;6825;68256;", // 11
      "B2;6824;6823;", // 12
    ].join("\r\n");
    const parsed = parse(text);
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual([
      "left A1 6767",
      "right A1 6765",
      "left A2 6766",
      "right A2 6764",
      "right A3 6763",
      "left B1 6825",
      "left B2 6824",
      "right B2 6823",
    ]);
    expect(parsed.problems.map(({ severity, where, subject }) => [severity, where, subject])).toEqual([
      ["warning", 'file line 7, column "tab"', "A9"],
      ["warning", 'file line 10, column "left [mm]"', "A3"],
      ["warning", 'file line 11, column "right [mm]"', "B1"],
    ]);
    expect(parsed.problems.map((problem) => problem.message).join("\n")).toMatch(
      /"A9".*\n.*"67x67".*length.*\n.*"68256".*about 6825 mm/u,
    );
    expect(parsed.value.readings[2]?.note).toBe("wet, and\nread in the\nevening");
  });

  it.each([
    [
      "an unknown side",
      "tab,side,mm\nA1,left,6767\nA2,middle,6767\n",
      'file line 3, column "side"',
      /"middle"; expected left or right/u,
    ],
    ["no side", "tab,side,mm\nA1,left,6767\nA2,,6767\n", "file line 3", /no side/u],
    [
      "an unknown unit",
      "tab,side,value,unit\nA1,left,6767,mm\nA2,left,22,ft\n",
      'file line 3, column "unit"',
      /"ft"; expected mm, cm or m/u,
    ],
    ["no name", "tab,left mm\nA1,6767\n,6767\n", "file line 3", /without a name/u],
    [
      "two names",
      "tab,line,left mm\nA1,,6767\nA2,AM1,6767\n",
      'file line 3, column "tab"',
      /one name in a row/u,
    ],
    [
      "a line under tab",
      "tab,left mm\nA1,6767\nAM1,1950\n",
      'file line 3, column "tab"',
      /has a line of that name/u,
    ],
    ["a negative length", "tab,left mm\nA1,6767\nA2,-6767\n", 'file line 3, column "left mm"', /-6767/u],
    ["more cells than headings", "tab,left mm\nA1,6767\nA2,6767,5\n", "file line 3", /3 cells; expected 2/u],
    ["a quote that isn't closed", 'tab,left mm\nA1,6767\nA2,"6767\n', "file line 3", /isn’t closed/u],
    ["a formula's error", "tab,left mm\nA1,6767\nA2,#REF!\n", 'file line 3, column "left mm"', /"#REF!"/u],
  ])("for %s is reported, and the good row stays", (_what, text, where, message) => {
    const parsed = parse(text);
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.problems));
    expect(shortly(parsed.value.readings)).toEqual(["left A1 6767"]);
    expect(parsed.problems).toHaveLength(1);
    expect(parsed.problems[0]?.where).toBe(where);
    expect(parsed.problems[0]?.message).toMatch(message);
  });

  it("for a name that the plan has on neither side is reported once", () => {
    expect(seen("tab;left mm;right mm\nA1;6767;6765\nC1;6767;6765\n").wrong).toEqual([
      'file line 3, column "tab"',
    ]);
  });

  it("for a tab that the other side alone has keeps that side's reading", () => {
    const result = seen("tab;left mm;right mm\nA4;6767;6765\n", FRAME, unevenWing());
    expect(result).toEqual({ readings: ["left A4 6767"], wrong: ['file line 2, column "tab"'] });
  });

  it("a whole path under the heading line is explained, where tab and line share a name", () => {
    // Tabs and upper lines of one name are common on plans.
    const shared = {
      ...wing,
      lines: wing.lines.map((line) => (line.id === "AU1" ? { ...line, id: "A1" } : line)),
    };
    const parsed = parse("line;left mm\nAM1;1950\nA1;6767\n", FRAME, shared);
    expect(parsed.problems[0]?.remedy).toMatch(/fits the tab of that name \(6767 mm\)/u);
  });

  it("when none can be used is an error", () => {
    const parsed = parse("tab,left mm\nC1,6767\nC2,6767\n");
    expect(parsed).toMatchObject({
      ok: false,
      problems: [
        { severity: "error" },
        { where: 'file line 2, column "tab"' },
        { where: 'file line 3, column "tab"' },
      ],
    });
  });
});

describe("a decimal comma", () => {
  it("goes with semicolons and tabs, and quoted with commas", () => {
    expect(seen("tab;left mm;right mm\nA1;6767,5;6765,25\n")).toEqual(
      clean(["left A1 6767.5", "right A1 6765.25"]),
    );
    expect(seen("tab\tleft mm\nA1\t6767,5\n")).toEqual(clean(["left A1 6767.5"]));
    expect(seen('tab,left mm,right mm\nA1,"6767,5","6765,25"\n')).toEqual(
      clean(["left A1 6767.5", "right A1 6765.25"]),
    );
  });

  it("doesn't make a file with semicolons one with commas, however many there are", () => {
    const rows = Array.from({ length: 4 }, (_, index) => `A${index + 1};676,75;676,65;676,70`);
    expect(seen(["tab;left 1 cm;left 2 cm;right cm", ...rows].join("\n")).readings).toHaveLength(8);
  });

  it("that splits a cell in a file with commas is caught, and the cut value isn't kept", () => {
    for (const text of [
      "tab,left mm,right mm\nA2,6766,6764\nA1,6767,5,6765,2\n", // more cells than headings
      "tab,left mm,right mm\nA2,6766,6764\nA1,6767,5\n", // just as many
    ]) {
      expect(seen(text).readings).toEqual(["left A2 6766", "right A2 6764"]);
      expect(seen(text).wrong).toHaveLength(1);
    }
    const long = seen("tab,side,mm,note\nA2,left,6766,\nA1,left,6767,5\n");
    expect(long).toEqual({ readings: ["left A2 6766"], wrong: ['file line 3, column "note"'] });
  });

  it("and a point in one file are read each on its own, with a note", () => {
    const result = seen("tab;left mm;right mm\nA1;6767,5;6765.5\n");
    expect(result).toEqual({ readings: ["left A1 6767.5", "right A1 6765.5"], wrong: ["the whole file"] });
  });
});

describe("grouped thousands", () => {
  it("are taken as such where the digits or the unit leave no doubt", () => {
    expect(seen("tab;left mm;right mm\nA1;6.767,5;6 765\nA2;6 766,5;6'764\n").readings).toEqual([
      "left A1 6767.5",
      "right A1 6765",
      "left A2 6766.5",
      "right A2 6764",
    ]);
    // 6.767 mm can't be; 6767 m can't either.
    expect(seen("tab;left mm\nA1;6.767\n")).toEqual(clean(["left A1 6767"]));
    expect(seen("tab;left m\nA1;6.767\n")).toEqual(clean(["left A1 6767"]));
    expect(seen("tab;left m\nA1;6,767\n")).toEqual(clean(["left A1 6767"]));
  });

  it("that go against the file's own decimal mark are reported, not guessed", () => {
    const result = seen("tab;left mm\nA1;6767.5\nA2;6.767\n");
    expect(result).toEqual({ readings: ["left A1 6767.5"], wrong: ['file line 3, column "left mm"'] });
  });
});

describe("a unit", () => {
  it("stands in the heading, a column, or the cell, which goes before the others", () => {
    const same = ["left A1 6767", "right A1 6765"];
    expect(seen("tab;left (m);right [cm]\nA1;6.7670;676.5\n")).toEqual(clean(same));
    expect(seen("tab;left;right;unit\nA1;676.7;676.5;cm\n")).toEqual(clean(same));
    expect(seen("tab;left mm;right mm\nA1;676.7 cm;6.765 m\n")).toEqual(clean(same));
    expect(seen("tab;side;m\nA1;left;6.767\nA1;right;6.765\n")).toEqual(clean(same));
  });

  it.each([
    ["mm", "6767", "6825"],
    ["cm", "676.7", "682.5"],
    ["m", "6.7670", "6.8250"],
    ["cm", "676,7", "682,5"],
  ])("that isn't given is inferred from the plan's lengths as %s, with a note", (unit, one, other) => {
    const parsed = parse(`tab;left;right\nA1;${one};\nB1;${other};${other}\n`);
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual(["left A1 6767", "left B1 6825", "right B1 6825"]);
    expect(parsed.problems).toHaveLength(1);
    expect(parsed.problems[0]).toMatchObject({
      severity: "warning",
      message: expect.stringContaining(`read as ${unit}`),
    });
  });

  it("inferred takes 6.767 as what it must be, as metres or with a grouping point", () => {
    expect(seen("tab;left\nA1;6.767\nB1;6.825\n").readings).toEqual(["left A1 6767", "left B1 6825"]);
  });

  it("inferred leaves a value out that doesn't fit it", () => {
    const result = seen("tab;left\nA1;676.7\nA2;676.6\nA3;676.5\nA4;6767\nB1;682.5\n");
    expect(result.readings).toEqual(["left A1 6767", "left A2 6766", "left A3 6765", "left B1 6825"]);
    expect(result.wrong).toEqual(["the whole file", 'file line 5, column "left"']);
  });

  it("isn't inferred where the values don't agree, or fit the plan in none", () => {
    for (const text of ["tab;left\nA1;676.7\nA2;6767\n", "tab;left\nA1;22.2\nA2;22.1\n"]) {
      const parsed = parse(text);
      expect(parsed.ok).toBe(false);
      expect(parsed.problems.map((problem) => problem.message).join()).toMatch(/without a unit.*left out/u);
    }
  });

  it("that is wrong in the heading is caught by the plan", () => {
    const parsed = parse("tab;left [mm]\nA1;676.7\nA2;676.6\n");
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[1]).toMatchObject({
      where: 'file line 2, column "left [mm]"',
      remedy: expect.stringMatching(/10 times larger/u),
    });
  });
});

describe("headings", () => {
  it("that mean nothing are an error that lists what was found and what is expected", () => {
    const parsed = parse("Leine;Soll;Ist\nA1;6767;6767\n");
    expect(parsed).toMatchObject({ ok: false, problems: [{ severity: "error", where: "file line 1" }] });
    expect(parsed.problems[0]?.message).toMatch(
      /"Leine", "Soll", "Ist".*expected tab, line or name, with left and right, or with side and value/u,
    );
  });

  it.each([
    ["no side", "tab;value\nA1;6767\n", /side/u],
    ["no readings", "tab;side\nA1;left\n", /No column holds readings/u],
    ["no name", "left;right\n6767;6767\n", /which tab or line/u],
    ["the side twice over", "tab;side;L\nA1;right;6767\n", /one way only/u],
    ["nothing at all", "", /no rows/u],
    ["only a quote that isn't closed", '"tab;left', /closed/u],
  ])("with %s are an error that says so", (_what, text, message) => {
    const parsed = parse(text);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[0]?.message).toMatch(message);
  });

  it("may stand below a title, which is said", () => {
    const result = seen("Quiet Rook, checked;;\n;;\ntab;left mm;right mm\nA1;6767;6765\nC1;1;1\n");
    expect(result.readings).toEqual(["left A1 6767", "right A1 6765"]);
    expect(result.wrong).toEqual(["file line 3", 'file line 5, column "tab"']);
  });

  it("that aren't used are named, so that no reading is lost without a word", () => {
    const parsed = parse("tab;specified;left mm;left deviation\nA1;6767;6765;-2\n");
    if (!parsed.ok) throw new Error();
    expect(shortly(parsed.value.readings)).toEqual(["left A1 6765"]);
    expect(parsed.problems[0]?.message).toMatch(/"specified", "left deviation"/u);
  });

  it("without a reading below them give an empty check and a note", () => {
    expect(parse("tab;left;right\nA1;;\n")).toMatchObject({
      ok: true,
      value: { readings: [] },
      problems: [{ severity: "warning" }],
    });
  });
});

it("a first line sep=; is the delimiter's own statement", () => {
  expect(seen("sep=;\r\ntab;left mm\r\nA1;6767\r\nC1;1\r\n")).toEqual({
    readings: ["left A1 6767"],
    wrong: ['file line 4, column "tab"'],
  });
});
