import { afterEach, describe, expect, it } from "vitest";
import { EXAMPLE_DRAFT } from "../../../src/cli/build-help.ts";
import { draftDiagram, PATTERNS, parseDraft, planOfDraft } from "../../../src/plan/draft/index.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import { sheetCells } from "../../../src/readings/tables/cells.ts";
import { cellsOf, sheetOf, unitOf } from "../../../src/view/model/build-cells.ts";
import { sameDiagrams } from "../../../src/view/model/build-diagrams.ts";
import { formOf, withField, withStrap, withWeight } from "../../../src/view/model/build-form.ts";
import { linesAt, placeOfLine } from "../../../src/view/model/build-highlight.ts";
import { coverageOf, withTable } from "../../../src/view/model/build-lengths.ts";
import {
  assumptionsOf,
  markedLines,
  placedProblems,
  problemsMeanwhile,
  stated,
  withoutAssumed,
} from "../../../src/view/model/build-problems.ts";
import {
  BRAKE_UNITS,
  cascadeOf,
  ROW_UNITS,
  rowForms,
  spelledOut,
  withPattern,
  withRow,
} from "../../../src/view/model/build-rows.ts";
import { draftFromFile, draftFromWing, fileNameOf } from "../../../src/view/model/build-start.ts";
import {
  headed,
  offsetOf,
  placeAt,
  statementsIn,
  withStatement,
} from "../../../src/view/model/build-statements.ts";
import { previewOf } from "../../../src/view/model/build-table.ts";
import { catalogueOf, LANGUAGES, localeOf, speak } from "../../../src/words/index.ts";

afterEach(() => speak());

const lineWith = (text: string, piece: string): number =>
  text.split("\n").findIndex((line) => line.includes(piece)) + 1;

describe("a statement of a draft", () => {
  it("is written anew where it stood, and all else stays as it was typed", () => {
    const text = "# my wing\nname: Kite\n\nA:   2+2   2\nweight: 70-92\n";
    const now = withWeight(text, "75", "95");
    expect(now).toBe("# my wing\nname: Kite\n\nA:   2+2   2\nweight: 75-95\n");
    expect(withStatement(now, headed("weight"), undefined).text).toBe(
      "# my wing\nname: Kite\n\nA:   2+2   2\n",
    );
  });

  it("that is new goes where it belongs in the order of a plan", () => {
    expect(withField("A: 2\nB: 2\n", "name", "Kite")).toBe("name: Kite\nA: 2\nB: 2\n");
    expect(withStatement("name: K\nA: 2\nC: 2\ntotals A: 7000 7000\n", headed("b"), "B: 2").text).toBe(
      "name: K\nA: 2\nB: 2\nC: 2\ntotals A: 7000 7000\n",
    );
    expect(withField("", "name", "Kite")).toBe("name: Kite\n");
  });

  it("whose list went on in a further line becomes one", () => {
    const text = "A: 3\ntotals A: 7000\ntotals A: 7001 7002\n";
    expect(withStatement(text, headed("totals A"), "totals A: 1 2 3").text).toBe("A: 3\ntotals A: 1 2 3\n");
  });

  it("has its place as offset and as line and character", () => {
    const text = "name: K\nA: 2\n";
    for (let offset = 0; offset <= text.length; offset++) {
      const { line, character } = placeAt(text, offset);
      expect(offsetOf(text, line, character)).toBe(offset);
    }
    expect(statementsIn("  totals   A :  7421 7418")[0]).toEqual({
      line: 1,
      head: "totals a",
      body: "7421 7418",
      bodyAt: 16,
    });
  });
});

describe("a row in the form", () => {
  it("is the notation for as many tabs as are given, the outermost lower line carrying what is left", () => {
    const unit = (id: string) => ROW_UNITS.find((each) => each.id === id) ?? ROW_UNITS[0];
    const of = (id: string, tabs: number) => cascadeOf(unit(id) as (typeof ROW_UNITS)[number], tabs, "A");
    expect(of("2+2", 12)).toBe("3x2+2");
    expect(of("2+2", 11)).toBe("2x2+2 2+1");
    expect(of("2+2", 10)).toBe("2x2+2 2");
    expect(of("3", 7)).toBe("2x3 1");
    expect(of("3+2", 13)).toBe("2x3+2 3");
    expect(of("(2+2)+(2+2)", 12)).toBe("(2+2)+(2+2) 2+2");
    const brake = BRAKE_UNITS.find(({ id }) => id === "*(2+2)");
    expect(cascadeOf(brake as (typeof BRAKE_UNITS)[number], 12, "brake")).toBe("3*(2+2)");
  });

  it("is found again in the draft that it wrote, for every unit and number of tabs", () => {
    for (const [row, units] of [
      ["B", ROW_UNITS],
      ["brake", BRAKE_UNITS],
    ] as const)
      for (const unit of units)
        for (let tabs = 1; tabs <= 24; tabs++) {
          const draft = parseDraft(withRow("", row, cascadeOf(unit, tabs, row)));
          expect(draft.unread).toEqual([]);
          const form = rowForms(draft).find((each) => each.row === row);
          expect(form).toMatchObject({ state: "unit", tabs });
          // Few tabs look alike by several units; the notation is the same then.
          const found = units.find(({ id }) => id === form?.unit) as typeof unit;
          expect(cascadeOf(found, tabs, row)).toBe(cascadeOf(unit, tabs, row));
        }
  });

  it("keeps what it hangs on, and says where its tabs are carried by another row", () => {
    expect(withRow("T on B: 2\n", "tip", "3")).toBe("T on B: 3\n");
    expect(withRow("T on B: 2\n", "tip", "3", "A")).toBe("T on A: 3\n");
    const forms = rowForms(parseDraft("A: 2\nB: 2\nC: 6x2+D2\n"));
    expect(forms.find(({ row }) => row === "D")).toMatchObject({ state: "on", tabs: 12, carriedBy: ["C"] });
    expect(forms.find(({ row }) => row === "C")).toMatchObject({ state: "hand" });
  });

  it("of a usual pattern takes the place of the rows and leaves the rest", () => {
    for (const { id } of PATTERNS) {
      const text = withPattern("name: K\nA: 1 1 1\nA on A2: 2\nweight: 70-90\n", id);
      expect(text.startsWith("name: K\n")).toBe(true);
      expect(text).toContain("weight: 70-90");
      expect(parseDraft(text).source.rows).toEqual(PATTERNS.find((each) => each.id === id)?.rows);
    }
    const named = "pattern: 3 rows 12 tabs\nC: 4x3\n";
    expect(
      parseDraft(spelledOut(named))
        .tabs.map(({ name }) => name)
        .sort(),
    ).toEqual(
      parseDraft(named)
        .tabs.map(({ name }) => name)
        .sort(),
    );
  });
});

describe("the form's other fields", () => {
  it("show what the text says, however it was written", () => {
    const text = "name:  Paper Kite\nweight: 70 – 92 kg\nfrom: maillon\nA: 2\nB: 2\nrisers: A 490, B 495.5\n";
    expect(formOf(parseDraft(text), text)).toMatchObject({
      name: "Paper Kite",
      lightest: "70",
      heaviest: "92",
      from: "maillon",
      straps: [
        { id: "A", lengthMm: "490" },
        { id: "B", lengthMm: "495.5" },
      ],
    });
  });

  it("write one strap and leave the others", () => {
    const text = "A: 2\nB: 2\nC: 2\n";
    const { straps } = formOf(parseDraft(text), text);
    const one = withStrap(text, straps, "B", "485");
    expect(one).toBe("risers: A, B 485, C\nA: 2\nB: 2\nC: 2\n");
    const back = withStrap(one, formOf(parseDraft(one), one).straps, "B", "");
    expect(back).toBe(text);
  });
});

describe("a place in the text and the lines in the drawing", () => {
  const text = EXAMPLE_DRAFT;
  const draft = parseDraft(text);
  const at = (piece: string, character: number) => linesAt(draft, text, lineWith(text, piece), character);

  it("belong together: a lower line with what it carries, the path of a total", () => {
    // A: 2+2 2+2 2 is A: 2+2 2 in the example: AL1 carries four tabs, AL2 two.
    expect([...at("A: 2+2 2", 4)].sort()).toEqual(["A1", "A2", "A3", "A4", "AL1", "AM1", "AM2"]);
    expect([...at("A: 2+2 2", 8)].sort()).toEqual(["A5", "A6", "AL2"]);
    expect(at("A: 2+2 2", 1).size).toBe(10);
    const totals = text.split("\n")[lineWith(text, "totals A") - 1] as string;
    expect([...at("totals A", totals.indexOf("6025") + 2)].sort()).toEqual(["A3", "AL1", "AM2"]);
    expect(at("name:", 3).size).toBe(0);
  });

  it("lead back: each line to the piece that draws it", () => {
    for (const { id } of draft.lines) {
      const place = placeOfLine(draft, text, id);
      expect(place).toBeDefined();
      const found = linesAt(draft, text, place?.line ?? 0, place?.character ?? 0);
      expect(found.has(id)).toBe(true);
    }
    expect(placeOfLine(parseDraft("pattern: 3 rows 12 tabs"), "pattern: 3 rows 12 tabs", "A1")).toEqual({
      line: 1,
      character: 10,
      length: 14,
    });
  });

  it("leave the diagrams of other rows as they were", () => {
    const before = draftDiagram(draft);
    const now = sameDiagrams(before, draftDiagram(parseDraft(text.replace("B: 2+2 2", "B: 2+2 3"))));
    expect(now.map((diagram, index) => diagram === before[index])).toEqual([true, false, true, true]);
  });
});

describe("a table of lengths", () => {
  const rows = "A: 2+2 2\nB: 2+2 2\nT on B: 2\nBR: 2+2\n";
  const draft = parseDraft(rows);
  const MM = { of: "total", unit: "mm" } as const;
  const A = [7421, 7400, 7390, 7380, 7300, 7250];
  const B = A.map((mm) => mm - 20);
  const both = { totals: [...A.map((mm, i) => ["A", i + 1, mm]), ...B.map((mm, i) => ["B", i + 1, mm])] };
  const found = (cells: (string | number)[][], settings: Parameters<typeof previewOf>[2] = MM) => {
    const preview = previewOf(
      cells.map((row) => row.map(String)),
      draft,
      settings,
    );
    const totals = preview.table.totals
      .map(({ row, number, mm }) => [row, number, mm])
      .sort((one, other) => String(one[0]).localeCompare(String(other[0])));
    return { ...preview, totals };
  };

  it("is understood whichever way round it stands", () => {
    const upright = A.map((mm, i) => [i + 1, mm, B[i] as number]);
    const ways: (string | number)[][][] = [
      [["number", "A", "B"], ...upright],
      [["", "A", "B"], ...upright],
      [["Nr.", "A-Ebene", "Ebene B"], ...upright],
      [["n°", "Rang A (mm)", "Rang B (mm)"], ...upright],
      [["A", "B"], ...A.map((mm, i) => [mm, B[i] as number])],
      [
        ["", 1, 2, 3, 4, 5, 6],
        ["A", ...A],
        ["B", ...B],
      ],
      [
        ["A", ...A],
        ["B", ...B],
      ],
      [...A.map((mm, i) => [`A${i + 1}`, mm]), ...B.map((mm, i) => [`B${i + 1}`, mm])],
      [["tab", "mm"], ...A.map((mm, i) => [`A${i + 1}`, mm]), ...B.map((mm, i) => [`b${i + 1}`, mm])],
      [["row", "number", "mm"], ...both.totals],
      upright,
    ];
    for (const cells of ways) {
      const { totals, matched, problems } = found(cells);
      expect(totals, JSON.stringify(cells.slice(0, 2))).toEqual(both.totals);
      expect(matched).toBe(12);
      expect(problems).toEqual([]);
    }
    expect(found(upright).ordered).toBe(true);
  });

  it("may be in other units, with decimal commas and gaps between thousands", () => {
    const cells = [
      ["", "A", "B"],
      ["1", "7,421", "7,401"],
      ["2", "7.4", "7,38"],
    ];
    expect(found(cells, { of: "total", unit: "m" }).totals).toEqual([
      ["A", 1, 7421],
      ["A", 2, 7400],
      ["B", 1, 7401],
      ["B", 2, 7380],
    ]);
    expect(
      found([
        ["", "A"],
        ["1", "7 421,5"],
        ["2", "7’400 mm"],
      ]).totals,
    ).toEqual([
      ["A", 1, 7421.5],
      ["A", 2, 7400],
    ]);
  });

  it("may give lengths of single lines, by heading or by choice", () => {
    const cells = [
      ["number", "A lower", "A middle"],
      ["1", "4210", "1510"],
      ["2", "4205", "1500"],
    ];
    expect(found(cells).table.lengths).toEqual([
      { row: "A", kind: "lower", number: 1, mm: 4210 },
      { row: "A", kind: "middle", number: 1, mm: 1510 },
      { row: "A", kind: "lower", number: 2, mm: 4205 },
      { row: "A", kind: "middle", number: 2, mm: 1500 },
    ]);
    const chosen = found(
      [
        ["", "A", "B"],
        ["1", "4210", "4200"],
      ],
      { of: "lower", unit: "mm" },
    );
    expect(chosen.table.lengths).toHaveLength(2);
    expect(chosen.missing).toEqual(["AL2", "BL2"]);
    expect(
      found([
        ["AL1", "4210"],
        ["AM1", "1510"],
        ["A1", "7421"],
      ]).table,
    ).toMatchObject({
      lengths: [
        { row: "A", kind: "lower", number: 1, mm: 4210 },
        { row: "A", kind: "middle", number: 1, mm: 1510 },
      ],
      totals: [{ row: "A", number: 1, mm: 7421 }],
    });
  });

  it("may be copied from a page, parted by blanks, or come as one of several sheets", () => {
    expect(cellsOf("1 7421 7401\n2  7400 7380\n")).toEqual([
      ["1", "7421", "7401"],
      ["2", "7400", "7380"],
      [""],
    ]);
    expect(found(cellsOf("1 7421 7401\n2  7400 7380\n").map((row) => [...row])).matched).toBe(4);
    expect(cellsOf("\tA\tB\r\n1\t7421\t7401\r\n").slice(0, 2)).toEqual([
      ["", "A", "B"],
      ["1", "7421", "7401"],
    ]);
    expect(
      sheetOf([
        sheetCells("notes", [["x"]]),
        sheetCells("lines", [
          [null, "A"],
          [1, 7421.5],
        ]),
      ]),
    ).toEqual([
      ["", "A"],
      ["1", "7421.5"],
    ]);
    expect(sheetOf([sheetCells("empty", [[null]])])).toBeUndefined();
    expect(
      unitOf([
        ["", "A"],
        ["1", "7,421"],
        ["2", "7,400"],
        ["3", "7,39"],
      ]),
    ).toBe("m");
    expect(
      unitOf([
        ["", "A"],
        ["1", "7421"],
        ["2", "7400.5"],
      ]),
    ).toBe("mm");
  });

  it("shows each mistake in its cell, and what is missing", () => {
    const preview = found([
      ["", "A", "B"],
      ["1", "74z1", "7401"],
      ["2", "7400", "7"],
      ["7", "7300", ""],
    ]);
    const wrong = preview.cells.flatMap((row, at) =>
      row.flatMap(({ problem, text }, column) => (problem === undefined ? [] : [[at, column, text]])),
    );
    expect(wrong).toEqual([
      [1, 1, "74z1"],
      [2, 2, "7"],
      [3, 1, "7300"],
    ]);
    expect(preview.matched).toBe(2);
    expect(preview.missing).toEqual(["A1", "A3", "A4", "A5", "A6", "B2", "B3", "B4", "B5", "B6"]);
    expect(preview.cells[2]?.[1]?.subject).toBe("A2");
    expect(
      found([
        ["hello", "world"],
        ["x", "y"],
      ]).matched,
    ).toBe(0);
    expect(
      found([
        ["hello", "world"],
        ["x", "y"],
      ]).problems.length,
    ).toBeGreaterThan(0);
  });

  it("goes into the draft's statements; lengths of other tabs stay as typed", () => {
    const typed = `${rows}totals A: 1111 - - - - 6666\n`;
    const before = parseDraft(typed);
    const { table } = previewOf(
      [
        ["", "A"],
        ["1", "7421"],
        ["2", "7400"],
      ],
      before,
      MM,
    );
    const text = withTable(typed, before, table);
    expect(text).toBe(`${rows}totals A: 7421 7400 3x- 6666\n`);
    expect(coverageOf(parseDraft(text))[0]).toEqual({ row: "A", given: 3, tabs: 6 });
  });
});

describe("what is the matter and what is assumed", () => {
  it("has its line in the text, in every language", async () => {
    const text = EXAMPLE_DRAFT.replace("B: 2+2 2", "B: 2+2 2+").replace("5356", "53560");
    for (const language of LANGUAGES) {
      speak({ language, locale: localeOf(language), catalogue: await catalogueOf(language) });
      const draft = parseDraft(text);
      const drafted = planOfDraft(draft);
      const placed = placedProblems(draft, drafted.problems);
      const lines = placed.map(({ line }) => line);
      expect(lines, language).toContain(lineWith(text, "B: 2+2 2+"));
      expect(lines, language).toContain(lineWith(text, "totals C"));
      expect(markedLines(placed).get(lineWith(text, "B: 2+2 2+"))).toBe("error");
      for (const [missing, field] of [
        ["weight", "weight"],
        ["risers", "straps"],
        ["totals A", "lengths"],
      ]) {
        const without = withStatement(EXAMPLE_DRAFT, headed(missing as string), undefined).text.replace(
          "from: maillon\n",
          "",
        );
        const lacking = parseDraft(without);
        const fields = placedProblems(lacking, planOfDraft(lacking).problems).map((each) => each.field);
        expect(fields, `${language} ${missing}`).toContain(field);
      }
    }
  });

  it("is found by the line and total that a check of the whole plan names", () => {
    const text = EXAMPLE_DRAFT.replace("6025", "7925");
    const draft = parseDraft(text);
    const placed = placedProblems(draft, withoutAssumed(planOfDraft(draft).problems));
    expect(placed.length).toBeGreaterThan(0);
    expect(placed.map(({ line }) => line)).toContain(lineWith(text, "totals A"));
  });

  it("stands still from key to key until the plan is worked out anew", () => {
    const before = parseDraft(EXAMPLE_DRAFT.replace("weight: 70-92\n", "").replace("C: 2+2 2", "C: 2+2 2+"));
    const drafted = planOfDraft(before);
    const now = parseDraft(`${EXAMPLE_DRAFT.replace("weight: 70-92\n", "")}colour A: red\n`);
    const meanwhile = problemsMeanwhile(now, before, drafted);
    expect(meanwhile.map(({ field }) => field)).toEqual(["weight"]);
    expect(problemsMeanwhile(before, before, drafted)).toEqual(
      placedProblems(before, withoutAssumed(drafted.problems)),
    );
  });

  it("can each be stated, and is assumed no longer then", async () => {
    const bare =
      "name: K\nweight: 70-92\nrisers: A 490, B 490, C 490\nA: 2+2 2\nB: 2+2 2\nC: 2+2 2\nT on B: 2\nBR: 2+2\n".concat(
        EXAMPLE_DRAFT.split("\n")
          .filter((line) => line.startsWith("totals"))
          .join("\n"),
        "\ntotals T: 5600 5500\n",
      );
    for (const language of LANGUAGES) {
      speak({ language, locale: localeOf(language), catalogue: await catalogueOf(language) });
      const draft = parseDraft(bare);
      const drafted = planOfDraft(draft);
      expect(drafted.plan).toBeDefined();
      const assumptions = assumptionsOf(draft, drafted);
      expect(assumptions.length).toBe(drafted.assumed.length + 1);
      expect(assumptions.filter(({ statement }) => statement === undefined)).toEqual([]);
      for (const { text, statement = "" } of assumptions) {
        // What ends in a blank waits for the figure that only the person knows.
        if (statement.endsWith(" ")) continue;
        const now = stated(bare, statement);
        const after = parseDraft(now.text);
        expect(after.unread, statement).toEqual([]);
        const left = assumptionsOf(after, planOfDraft(after)).map((each) => each.text);
        expect(left, statement).not.toContain(text);
        expect(placeAt(now.text, now.offset).line).toBe(lineWith(now.text, statement));
      }
    }
  });
});

describe("a start", () => {
  it("from a wing gives the same wing again, and says what a draft can't", () => {
    const { plan } = planOfDraft(parseDraft(EXAMPLE_DRAFT));
    const wing = parsePlan(plan);
    if (!wing.ok) throw new Error("The example is no plan.");
    const { text, lost } = draftFromWing(wing.value);
    expect(lost).toEqual([]);
    const again = parsePlan(planOfDraft(parseDraft(text)).plan);
    expect(again.ok && again.value.lines).toEqual(wing.value.lines);
    expect(draftFromFile(JSON.stringify(plan))?.text).toBe(text);
  });

  it("from a file takes the text as it is, and nothing of what is neither draft nor plan", () => {
    expect(draftFromFile("\uFEFFname: K\r\nA: 2\r\n")?.text).toBe("name: K\nA: 2\n");
    expect(draftFromFile("{")).toBeUndefined();
    expect(draftFromFile('{"format":"something"}')).toBeUndefined();
    expect(fileNameOf("Süße Brise 24", "plan.json")).toBe("suße-brise-24.plan.json");
    expect(fileNameOf(undefined, "draft.txt")).toBe("wing.draft.txt");
  });
});
