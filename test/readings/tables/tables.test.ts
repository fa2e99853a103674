/** Tables of the small wing of wing.ts: A1 to A4, B1 to B4, K1 and K2, paths of 6.767 to 6.785 m, brakes of 6.3 m. */
import { describe, expect, it } from "vitest";
import {
  type Cell,
  type CellTable,
  fileCells,
  parseReadingsCsv,
  pastedCells,
  type RecognisedTable,
  readTable,
  recogniseTable,
  sheetCells,
  withSide,
} from "../../../src/readings/index.ts";
import { readXlsx } from "../../../src/readings/tables/xlsx.ts";
import { FRAME, plan, shortly, testWing, wingOf } from "../wing.ts";
import { workbook } from "./workbook.ts";

const wing = testWing();
const sheet = (rows: readonly (readonly Cell[])[], name = "Readings"): CellTable => sheetCells(name, rows);

function recognised(table: CellTable, on = wing) {
  const parsed = recogniseTable(table, on);
  if (!parsed.ok) throw new Error(parsed.problems.map((problem) => problem.message).join("\n"));
  return { recognition: parsed.value, problems: parsed.problems };
}

function read(
  table: CellTable,
  change: (recognition: RecognisedTable) => RecognisedTable = (same) => same,
  on = wing,
) {
  const parsed = readTable(table, on, FRAME, change(recognised(table, on).recognition));
  return {
    readings: parsed.ok ? shortly(parsed.value.readings) : [],
    check: parsed.ok ? parsed.value : undefined,
    problems: parsed.problems,
    said: parsed.problems
      .map((problem) => `${problem.where}: ${problem.message} ${problem.remedy}`)
      .join("\n"),
  };
}

const roles = (table: CellTable) =>
  recognised(table).recognition.sections[0]?.columns.map(({ label, role, side, row, repeat, unit }) =>
    [label, role, row, side, repeat, unit].filter((part) => part !== undefined).join(" "),
  );

describe("a sheet with a row per tab", () => {
  const rows: readonly (readonly Cell[])[] = [
    ["Morning at the hall"],
    ["# tension: 40 N"],
    ["Tab", "left 1 [mm]", "left 2 [mm]", "rechts [mm]", "Bemerkung", "Mean"],
    ["A1", 6767, 6769, 6765, "knot", 6768],
    ["B1", 6825, null, 6826, null, 6825],
  ];

  it("is recognised column by column, with repeats, units, notes and what isn’t used", () => {
    const { recognition, problems } = recognised(sheet(rows));
    expect(recognition).toMatchObject({
      layout: "names",
      orientation: "down",
      unit: "mm",
      unitFrom: "cells",
      sureness: "clear",
    });
    expect(recognition.sections[0]).toMatchObject({ headerRow: 2, firstRow: 3 });
    expect(roles(sheet(rows))).toEqual([
      "A tab",
      "B readings left 1 mm",
      "C readings left 2 mm",
      "D readings right mm",
      "E note",
      "F ignored",
    ]);
    expect(problems.map((problem) => `${problem.severity} ${problem.where} ${problem.message}`)).toEqual([
      expect.stringMatching(
        /^warning sheet Readings, row 3 Column F \("Mean"\): holds numbers and isn’t used/,
      ),
    ]);
  });

  it("is read, with the frame that its comments state", () => {
    const { readings, check } = read(sheet(rows));
    expect(readings).toEqual(["left A1 6767 6769", "right A1 6765", "left B1 6825", "right B1 6826"]);
    expect(check?.tensionN).toBe(40);
    expect(check?.readings[0]?.note).toBe("knot");
  });

  it("tells a wrong tab, text and a day in a number’s cell, each by its cell", () => {
    const wrong: readonly (readonly Cell[])[] = [
      ["tab", "left mm", "right mm"],
      ["A1", 6767, "see B1"],
      ["Z9", 6767, 6768],
      ["A2", new Date(Date.UTC(2026, 5, 7)), 6768],
      ["A3", "=6767", true],
      ["A4", 6.767, 6768],
    ];
    const { readings, problems } = read(sheet(wrong));
    expect(readings).toEqual(["left A1 6767", "right A2 6768", "right A4 6768"]);
    expect(problems.map((problem) => [problem.where, problem.message.split(";")[0]])).toEqual([
      ["sheet Readings, cell C2", 'Found "see B1"'],
      ["sheet Readings, cell A3", expect.stringContaining('Found "Z9"')],
      ["sheet Readings, cell B4", 'Found "the day 2026-06-07"'],
      ["sheet Readings, cell B5", 'Found "=6767"'],
      ["sheet Readings, cell C5", 'Found "TRUE"'],
      ["sheet Readings, cell B6", expect.stringContaining("6.767")],
    ]);
  });

  it("warns of a tab that stands twice, and of two columns that are headed alike", () => {
    const { said, readings } = read(
      sheet([
        ["tab", "left mm", "left mm", "right mm"],
        ["A1", 6767, 6769, 6765],
        ["A1", 6760, null, 6764],
      ]),
    );
    expect(readings).toEqual(["left A1 6767 6769 6760", "right A1 6765 6764"]);
    expect(said).toMatch(/row 1: Columns B \("left mm"\), C \("left mm"\): several columns of the same side/);
    expect(said).toMatch(
      /cell B3: Found a second reading of A1 on the left; the first is at sheet Readings, cell B2/,
    );
  });

  it("may name the tabs in two columns, row and number", () => {
    const table = sheet([
      ["Reihe", "Nr.", "links", "rechts"],
      ["A", 1, 6767, 6765],
      ["B", 2, 6825, "x"],
      ["K", "1", 6302, null],
    ]);
    expect(roles(table)).toEqual(["A row", "B number", "C readings left", "D readings right"]);
    const { readings, said } = read(table);
    expect(readings).toEqual(["left A1 6767", "right A1 6765", "left B2 6825", "left K1 6302"]);
    expect(said).toMatch(/sheet Readings, cell D3: Found "x"/);
  });

  it("may lie on its side", () => {
    const table = sheet([
      ["tab", "A1", "A2", "B1"],
      ["left [mm]", 6767, 6768, 6825],
      ["right [mm]", 6765, null, "?"],
    ]);
    expect(recognised(table).recognition).toMatchObject({ orientation: "across", layout: "names" });
    const { readings, said } = read(table);
    expect(readings).toEqual(["left A1 6767", "right A1 6765", "left A2 6768", "left B1 6825"]);
    expect(said).toMatch(/sheet Readings, cell D3: Found "\?"/);
  });

  it("without headings asks for the sides, and reads by what it is told", () => {
    const table = sheet([
      ["A1", 6767],
      ["A2", 6768],
      ["B1", 6825],
    ]);
    const asked = recognised(table);
    expect(asked.recognition.sureness).toBe("ask");
    expect(asked.problems).toMatchObject([
      { severity: "error", message: expect.stringContaining("which side") },
    ]);
    expect(read(table).check).toBeUndefined();
    expect(read(table, (found) => withSide(found, "right")).readings).toEqual([
      "right A1 6767",
      "right A2 6768",
      "right B1 6825",
    ]);
    const both = read(table, (found) => withSide(found, "both"));
    expect(both.readings).toContain("left A1 6767");
    expect(both.said).toMatch(/left and right can’t be told apart/);
  });

  it("that is no table of readings says what would be one", () => {
    const parsed = recogniseTable(
      sheet([
        ["shopping", "euro"],
        ["tea", 3],
      ]),
      wing,
    );
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[0]).toMatchObject({
      where: "sheet Readings",
      message: expect.stringContaining("tab numbers"),
    });
  });
});

describe("units and decimal marks", () => {
  const inMm = [6767, 6765, 6768, 6766];
  const list = (values: readonly Cell[], heading = ""): CellTable =>
    sheet([
      ["tab", `left ${heading}`, `right ${heading}`],
      ["A1", values[0] ?? null, values[1] ?? null],
      ["A2", values[2] ?? null, values[3] ?? null],
    ]);

  it.each([
    ["mm", 1],
    ["cm", 10],
    ["m", 1000],
    ["in", 25.4],
  ] as const)("%s is told by the heading, and by the plan where no heading says it", (unit, factor) => {
    const values = inMm.map((mm) => Number((mm / factor).toFixed(4)));
    for (const table of [list(values, `[${unit}]`), list(values)]) {
      const { recognition } = recognised(table);
      expect(recognition.unit).toBe(unit);
      const lengths = read(table).check?.readings.flatMap((reading) => reading.valuesM) ?? [];
      expect(lengths.length).toBe(4);
      for (const [place, lengthM] of lengths.entries())
        expect(lengthM * 1000).toBeCloseTo(inMm[place] ?? 0, 2);
    }
    expect(recognised(list(values)).recognition).toMatchObject({ unitFrom: "plan", sureness: "likely" });
    expect(read(list(values)).said).toMatch(/without a unit/);
  });

  it("a heading’s unit is its own column’s: what another column is in must fit the plan", () => {
    const table = sheet([
      ["tab", "left [mm]", "right"],
      ["A1", 6767, 676.5],
      ["A2", 6768, 676.6],
    ]);
    expect(read(table).readings).toEqual(["left A1 6767", "right A1 6765", "left A2 6768", "right A2 6766"]);
  });

  it("decimal commas in text cells are read as such", () => {
    const table = list(["6,767", "6,7655", "6,768", "6,766"]);
    expect(recognised(table).recognition).toMatchObject({ unit: "m", decimalMark: "," });
    expect(read(table).readings).toEqual([
      "left A1 6767",
      "right A1 6765.5",
      "left A2 6768",
      "right A2 6766",
    ]);
  });

  it("metres among millimetres are told, not converted", () => {
    const table = sheet([
      ["tab", "left", "right"],
      ["A1", 6767, 6765],
      ["A2", 6768, 6.766],
      ["A3", 6768, 6768],
    ]);
    const { readings, said } = read(table);
    expect(readings).not.toContain("right A2 6766");
    expect(said).toMatch(/cell C3: .*unit were 1000 times/);
  });
});

/** Numbers that differ from cell to cell, near the plan’s paths. */
const mm = { A: (n: number) => 6760 + n, B: (n: number) => 6820 + n, K: (n: number) => 6300 - n };

describe("a matrix of tab numbers and rows", () => {
  const expected = [1, 2, 3, 4].flatMap((n) => [
    `left A${n} ${mm.A(n)}`,
    `right A${n} ${mm.A(n) + 2}`,
    `left B${n} ${mm.B(n)}`,
    `right B${n} ${mm.B(n) + 3}`,
  ]);
  const brakes = [1, 2].flatMap((n) => [`left K${n} ${mm.K(n)}`, `right K${n} ${mm.K(n) + 4}`]);
  const all = [...expected, ...brakes].sort();
  const k = (n: number, more: number): Cell => (n <= 2 ? mm.K(n) + more : null);

  it("in English, a merged heading for each side, with a title and a footnote", () => {
    const table = sheet([
      ["Line check, all lengths in mm"],
      [],
      [null, "Left", null, null, "Right", null, null],
      ["No.", "A", "B", "Brake", "A", "B", "Brake"],
      ...[1, 2, 3, 4].map((n): Cell[] => [
        n,
        mm.A(n),
        n === 2 ? `${mm.B(n)}*` : mm.B(n),
        k(n, 0),
        mm.A(n) + 2,
        mm.B(n) + 3,
        n > 2 ? "–" : k(n, 4),
      ]),
      [],
      ["* read twice"],
    ]);
    const { recognition } = recognised(table);
    expect(recognition).toMatchObject({
      layout: "matrix",
      orientation: "down",
      unit: "mm",
      unitFrom: "heading",
      numbering: "outwards",
      sureness: "clear",
    });
    const { readings, problems, check } = read(table);
    expect([...readings].sort()).toEqual(all);
    expect(problems).toEqual([]);
    expect(check?.readings.find((one) => one.target.id === "B2" && one.target.side === "left")?.note).toMatch(
      /marked/,
    );
  });

  it("in German, blocks under one another, with specified lengths and differences beside", () => {
    const block = (side: string, more: readonly [number, number, number]): readonly (readonly Cell[])[] => [
      [side],
      ["Nr", "A Ist", "A Soll", "A Differenz", "B Ist", "Bremse Ist"],
      ...[1, 2, 3, 4].map((n): Cell[] => [
        n,
        mm.A(n) + more[0],
        6777,
        mm.A(n) + more[0] - 6777,
        mm.B(n) + more[1],
        k(n, more[2]),
      ]),
    ];
    const table = sheet([...block("Linke Seite", [0, 0, 0]), [], ...block("Rechte Seite", [2, 3, 4])]);
    const { recognition, problems } = recognised(table);
    expect(recognition.sections.length).toBe(2);
    expect([...read(table).readings].sort()).toEqual(all);
    expect(problems.map((problem) => problem.message).join("\n")).toMatch(
      /specified lengths; headed as differences/,
    );
  });

  it("in French, D for the right side beside the rows and D for no row", () => {
    const table = sheet([
      ["N°", "A G", "A D", "B G", "B D", "Frein G", "Frein D"],
      ...[1, 2, 3, 4].map((n): Cell[] => [n, mm.A(n), mm.A(n) + 2, mm.B(n), mm.B(n) + 3, k(n, 0), k(n, 4)]),
    ]);
    const { readings } = read(table);
    expect([...readings].sort()).toEqual(all);
  });

  it.each([
    [["#", "AL", "AR", "BL", "BR", "KL", "KR"]],
    [["#", "L A", "R A", "L B", "R B", "L Br", "R Br"]],
    [
      [
        "Nummer",
        "links A [mm]",
        "rechts A [mm]",
        "links B [mm]",
        "rechts B [mm]",
        "links F [mm]",
        "rechts F [mm]",
      ],
    ],
    [
      [
        "n°",
        "rang A gauche",
        "rang A droite",
        "rang B gauche",
        "rang B droite",
        "freins gauche",
        "freins droite",
      ],
    ],
  ])("with columns headed %j", (header) => {
    const table = sheet([
      header,
      ...[1, 2, 3, 4].map((n): Cell[] => [n, mm.A(n), mm.A(n) + 2, mm.B(n), mm.B(n) + 3, k(n, 0), k(n, 4)]),
    ]);
    expect([...read(table).readings].sort()).toEqual(all);
  });

  it("with the numbers in the middle, and lying on its side", () => {
    const middle: readonly (readonly Cell[])[] = [
      ["Left", null, null, null, "Right", null, null],
      ["Brake", "B", "A", "No", "A", "B", "Brake"],
      ...[1, 2, 3, 4].map((n): Cell[] => [k(n, 0), mm.B(n), mm.A(n), n, mm.A(n) + 2, mm.B(n) + 3, k(n, 4)]),
    ];
    expect([...read(sheet(middle)).readings].sort()).toEqual(all);
    const lying: readonly (readonly Cell[])[] = [
      ["", 1, 2, 3, 4],
      ["A left", 1, 2, 3, 4].map((n): Cell => (typeof n === "number" ? mm.A(n) : n)),
      ["A right", 1, 2, 3, 4].map((n): Cell => (typeof n === "number" ? mm.A(n) + 2 : n)),
    ];
    const lay = read(sheet(lying));
    expect(recognised(sheet(lying)).recognition.orientation).toBe("across");
    expect([...lay.readings].sort()).toEqual(expected.filter((one) => one.includes(" A")).sort());
  });

  it("without sides asks for them", () => {
    const table = sheet([["", "A", "B"], ...[1, 2, 3, 4].map((n): Cell[] => [n, mm.A(n), mm.B(n)])]);
    const { problems } = recognised(table);
    expect(problems).toMatchObject([
      { severity: "error", message: expect.stringMatching(/Columns B \("A"\), C \("B"\).*which side/) },
    ]);
    expect(read(table).check).toBeUndefined();
    expect(read(table, (found) => withSide(found, "left")).readings.length).toBe(8);
  });

  it("doesn’t let one word settle two blocks that nothing tells apart", () => {
    const table = sheet([
      ["", "A", "B", "A", "B"],
      [1, 6761, 6821, 6763, 6823],
      [2, 6762, 6822, 6764, 6824],
    ]);
    const { check, said } = read(table, (found) => withSide(found, "left"));
    expect(check).toBeUndefined();
    expect(said).toMatch(/nothing says which side/);
  });

  it("takes BR for the brake where no BL stands beside it", () => {
    expect(
      roles(
        sheet([
          ["Nr", "A", "B", "BR"],
          [1, 6761, 6821, 6299],
          [2, 6762, 6822, 6298],
        ]),
      ),
    ).toEqual(["A number", "B readings A", "C readings B", "D readings brake"]);
  });

  it("leaves out lengths of single lines, rows below the numbers, and a second table, and says so", () => {
    const matrix = read(
      sheet([
        ["", "A left", "A lower left"],
        [1, 6761, 4000],
        [2, 6762, 4000],
        ["Stabilo", 6100, null],
      ]),
    );
    expect(matrix.readings).toEqual(["left A1 6761", "left A2 6762"]);
    expect(matrix.said).toMatch(/Column C .*single lines.*\n.*outside the table, in rows 4;/);
    const list = read(sheet([["tab", "left mm"], ["A1", 6767], [], ["tab", "left mm"], ["A1", 6777]]));
    expect(list.readings).toEqual(["left A1 6767"]);
    expect(list.said).toMatch(/outside the table, in rows 5;/);
  });

  it("tells numbers that the plan hasn’t, text, and a row without a number, by cell", () => {
    const table = sheet([
      ["", "A left", "A right"],
      [1, 6761, 6763],
      [2, "broken", 6764],
      ["mean", 6761, null],
      [5, 6765, null],
    ]);
    const { readings, problems } = read(table);
    expect(readings).toEqual(["left A1 6761", "right A1 6763", "right A2 6764"]);
    expect(
      problems.filter((problem) => problem.where !== "the whole file").map((problem) => problem.where),
    ).toEqual(["sheet Readings, cell B3", "sheet Readings, cell B4", "sheet Readings, cell B5"]);
    expect(problems.map((problem) => problem.message).join()).toMatch(
      /number 5 of row A on the left; the plan has 4 tabs there/,
    );
  });

  it("of specified lengths isn’t taken for readings", () => {
    const rows = [["", "A left", "A right"], ...[1, 2, 3, 4].map((n): Cell[] => [n, mm.A(n), mm.A(n)])];
    for (const table of [sheet([["Specified lengths"], ...rows]), sheet(rows, "Soll")]) {
      expect(recognised(table).recognition.holds).toBe("specified");
      const { check, said } = read(table);
      expect(check).toBeUndefined();
      expect(said).toMatch(/specified lengths; readings were expected/);
      expect(read(table, (found) => ({ ...found, holds: "readings" })).readings.length).toBe(8);
    }
  });

  it("asks where the plan’s names count otherwise than outwards", () => {
    const file = plan();
    const renamed = structuredClone(file) as unknown as {
      sides: { mirrored: { tabs: { id: string; row: string }[] } };
    };
    for (const tab of renamed.sides.mirrored.tabs)
      if (tab.row === "A") tab.id = `A${5 - Number(tab.id.slice(1))}`;
    const other = wingOf(renamed);
    const table = sheet([["", "A left"], ...[1, 2, 3, 4].map((n): Cell[] => [n, mm.A(n)])]);
    const { recognition, problems } = recognised(table, other);
    expect(recognition).toMatchObject({ numbering: undefined, sureness: "ask" });
    expect(problems[0]?.message).toMatch(/Number 1 counted outwards in row A is the plan’s tab A4/);
    expect(read(table, undefined, other).check).toBeUndefined();
    expect(read(table, (found) => ({ ...found, numbering: "names" }), other).readings[0]).toBe(
      `left A1 ${mm.A(1)}`,
    );
    expect(read(table, (found) => ({ ...found, numbering: "outwards" }), other).readings[0]).toBe(
      `left A4 ${mm.A(1)}`,
    );
  });

  it("as a text file is read by the reader of text files too", () => {
    const text = "Nr;A links;A rechts\n1;6,761;6,763\n2;6,762;6,764\n";
    const parsed = parseReadingsCsv(text, wing, FRAME);
    expect(parsed.ok && shortly(parsed.value.readings)).toEqual([
      "left A1 6761",
      "right A1 6763",
      "left A2 6762",
      "right A2 6764",
    ]);
    const wrong = parseReadingsCsv("Nr;A;B\n1;6761;6821\n2;6762;6822\n", wing, FRAME);
    expect(wrong.ok).toBe(false);
    expect(wrong.problems[0]?.message).toMatch(/which side/);
  });
});

describe("a paste from a spreadsheet", () => {
  it("keeps cells with line breaks and quotes, and counts its own rows", () => {
    const text =
      'tab\tleft mm\tright mm\tnote\r\nA1\t6767\t6765\t"knot,\nseen ""twice"""\r\n\r\nA2\tx\t6766\t\r\n';
    const { check, problems } = read(pastedCells(text));
    expect(check?.readings[0]?.note).toBe('knot,\nseen "twice"');
    expect(problems.map((problem) => problem.where)).toEqual(["pasted table, cell B4"]);
  });
});

/** Reproducible draws (mulberry32). */
function draws(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

describe("the same table", () => {
  it("gives the same check as CSV, as a paste and as XLSX, whatever its shape and unit", async () => {
    for (let seed = 1; seed <= 24; seed++) {
      const next = draws(seed);
      const factor = [1, 10, 1000][Math.floor(next() * 3)] ?? 1;
      const value = (base: number): Cell =>
        next() < 0.15 ? null : Number(((base + Math.round(next() * 400) / 10 - 20) / factor).toFixed(4));
      const rows: readonly (readonly Cell[])[] =
        next() < 0.5
          ? [
              ["tab", "left", "right", "note"],
              ...["A1", "A2", "A3", "B1", "B4", "K2"].map((id): Cell[] => [
                id,
                value(id[0] === "K" ? 6287 : 6790),
                value(id[0] === "K" ? 6287 : 6790),
                next() < 0.3 ? 'a "knot", low' : null,
              ]),
            ]
          : [
              [null, "Left", null, "Right", null],
              ["No", "A", "B", "A", "B"],
              ...[1, 2, 3, 4].map((n): Cell[] => [n, value(6790), value(6790), value(6790), value(6790)]),
            ];
      const text = (delimiter: string): string =>
        rows
          .map((row) =>
            row
              .map((cell) => {
                const plain = cell === null ? "" : String(cell);
                return /[",;\t\n]/u.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
              })
              .join(delimiter),
          )
          .join("\r\n");
      const sheets = await readXlsx(workbook({ name: "Readings", rows, merged: ["B1:C1"] }));
      const xlsx = sheets.ok ? sheets.value[0] : undefined;
      if (xlsx === undefined) throw new Error("no sheet");
      const checks = [
        xlsx,
        sheetCells("Readings", rows),
        pastedCells(text("\t")),
        fileCells(text(";")),
        fileCells(text(",")),
      ].map((table) => read(table).check?.readings);
      expect(checks[0]?.length).toBeGreaterThan(3);
      for (const other of checks.slice(1)) expect(other).toEqual(checks[0]);
      const csv = parseReadingsCsv(text(";"), wing, FRAME);
      expect(csv.ok && csv.value.readings).toEqual(checks[0]);
    }
  });
});
