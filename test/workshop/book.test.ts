import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as z from "zod";
import {
  EMPTY_BOOK,
  type LoopBook,
  lineLoops,
  loopBookJsonSchema,
  loopBookSchema,
  parseBook,
  writeBook,
} from "../../src/workshop/index.ts";
import { line } from "../plan/broken.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const wing = wingOf(samplePlan());

/** A file with something in every place. */
const FULL = {
  format: "linewright-loops",
  version: 1,
  wing: "Morning Bench",
  present: [
    { line: "A1", side: "left", loop: "plain eye" },
    { line: "B2", side: "right", loop: "keeper knot", takeUpMm: 15.5 },
  ],
  benchTakeUps: [
    { loop: "girth hitch", barDiameterMm: 4.5, lineDiameterMm: 1.5, takeUpMm: 12.4, date: "2026-03-14" },
    {
      loop: "one extra turn",
      barDiameterMm: 4.5,
      lineDiameterMm: 1.5,
      takeUpMm: 9.1,
      standardUncertaintyMm: 0.3,
      note: "wet",
    },
  ],
  choices: {
    lines: [{ line: "A1" }, { line: "B1", side: "left" }],
    kinds: ["plain eye", "one extra turn", "keeper knot"],
    mostTakeUpMm: 25,
    reserveMm: 5,
    symmetry: "prefer",
    rowsTogether: false,
    aim: "tolerance",
    uniformFree: true,
    worthMm: 2.5,
    mostChanges: 12,
    rowWeights: { A: 2, D: 0.5 },
  },
  maillons: [
    {
      maillon: "A",
      side: "left",
      order: ["A2", "A1"],
      loops: ["girth hitch", "plain eye"],
      recorded: "2026-03-14",
      closed: ["A2"],
    },
  ],
  replacements: [
    {
      line: "A1.2",
      sides: ["left", "right"],
      date: "2026-03-15",
      oldMm: 1866,
      newMm: 1872.5,
      tensionN: 50,
      loop: "plain eye",
      note: "abraded",
    },
  ],
} as const;

const copy = (): Record<string, unknown> => JSON.parse(JSON.stringify(FULL)) as Record<string, unknown>;
function read(
  file: unknown,
  of = wing,
): { book: LoopBook; problems: ReturnType<typeof parseBook>["problems"] } {
  const parsed = parseBook(typeof file === "string" ? file : JSON.stringify(file), of);
  if (!parsed.ok) throw new Error(parsed.problems.map((each) => `${each.where}: ${each.message}`).join("\n"));
  return { book: parsed.value, problems: parsed.problems };
}

describe("the loop book's file", () => {
  it("is read in metres, keys and kinds, without a complaint", () => {
    const { book, problems } = read(FULL);
    expect(problems).toEqual([]);
    expect([...book.present]).toEqual([
      ["left:A1", "plain"],
      ["right:B2", "given:keeper knot"],
    ]);
    expect(book.presentTakeUpM.get("right:B2")).toBe(0.0155);
    expect(book.bench.map((each) => [each.kindId, each.takeUpM, each.standardUncertaintyM])).toEqual([
      ["girth", 0.0124, undefined],
      ["turn", 0.0091, 0.0003],
    ]);
    expect([...(book.choices?.mayChange ?? [])]).toEqual(["left:A1", "right:A1", "left:B1"]);
    expect([...(book.choices?.kinds ?? [])]).toEqual(["plain", "turn", "given:keeper knot"]);
    expect(book.choices).toMatchObject({
      mostTakeUpM: 0.025,
      reserveM: 0.005,
      worthM: 0.0025,
      mostChanges: 12,
    });
    expect(book.maillons[0]).toMatchObject({
      order: ["left:A2", "left:A1"],
      loops: ["girth", "plain"],
      closed: ["left:A2"],
    });
    expect(book.replacements[0]).toMatchObject({
      lineId: "A1.2",
      oldM: 1.866,
      newM: 1.8725,
      loopKindId: "plain",
    });
  });

  it("is written as it was read, and read back as it was written", () => {
    const { book } = read(FULL);
    expect(JSON.parse(writeBook(book))).toEqual(FULL);
    expect(read(writeBook(book)).book).toEqual(book);
  });

  it("of a wing of which nothing was kept is little more than its head", () => {
    expect(JSON.parse(writeBook(EMPTY_BOOK))).toEqual({ format: "linewright-loops", version: 1 });
    expect(read(writeBook(EMPTY_BOOK)).book).toEqual(EMPTY_BOOK);
  });

  it("reckons what it records: the present loop and the bench's take-ups reach the lines", () => {
    const loops = lineLoops(wing, read(FULL).book);
    const a1 = loops.find((each) => each.lineKey === "left:A1");
    expect(a1?.states[a1.present]?.kind.id).toBe("plain");
    const b1 = loops.find((each) => each.lineKey === "left:B1");
    expect(b1?.states.find((state) => state.kind.id === "girth")).toMatchObject({
      takeUpM: 0.0124,
      source: "bench",
    });
  });

  it("means every line of a row on a maillon where its choices name the row", () => {
    const file = copy();
    file.choices = { ...FULL.choices, rows: ["C"], lines: undefined };
    expect([...(read(file).book.choices?.mayChange ?? [])]).toEqual([
      "left:C1",
      "left:C2",
      "right:C1",
      "right:C2",
    ]);
  });
});

describe("an entry that can't be placed", () => {
  const STRAY: readonly (readonly [string, string, unknown, string])[] = [
    [
      "a line that the wing doesn't have",
      "present",
      { line: "Z9", side: "left", loop: "girth hitch" },
      "line",
    ],
    [
      "a line that hangs on no maillon",
      "present",
      { line: "A1.1", side: "left", loop: "girth hitch" },
      "line",
    ],
    [
      "a plain eye that takes up",
      "present",
      { line: "C1", side: "left", loop: "plain", takeUpMm: 3 },
      "takeUpMm",
    ],
    [
      "a key that isn't known",
      "present",
      { line: "C1", side: "left", loop: "plain", colour: "red" },
      "colour",
    ],
    [
      "a take-up of a plain eye",
      "benchTakeUps",
      { loop: "plain eye", barDiameterMm: 4.5, lineDiameterMm: 1.5, takeUpMm: 1 },
      "loop",
    ],
    [
      "a take-up in metres",
      "benchTakeUps",
      { loop: "girth hitch", barDiameterMm: 0.0045, lineDiameterMm: 1.5, takeUpMm: 1 },
      "barDiameterMm",
    ],
    [
      "a maillon that there isn't",
      "maillons",
      { maillon: "E", side: "left", order: ["A1"], loops: ["plain"] },
      "maillon",
    ],
    [
      "too few loops on a maillon",
      "maillons",
      { maillon: "A", side: "left", order: ["A1", "A2"], loops: ["plain"] },
      "loops",
    ],
    [
      "a line twice on a maillon",
      "maillons",
      { maillon: "A", side: "left", order: ["A1", "A1"], loops: ["plain", "plain"] },
      "order",
    ],
    [
      "a tick off the maillon",
      "maillons",
      { maillon: "A", side: "left", order: ["A1"], loops: ["plain"], closed: ["A2"] },
      "closed",
    ],
    ["a replaced line that there isn't", "replacements", { line: "Q", sides: ["left"] }, "line"],
    ["no object at all", "replacements", 7, ""],
  ];

  it.each(STRAY)(
    "(%s) is a warning with its place; the others count, and it is written back",
    (_, list, entry, field) => {
      const file = copy();
      const before = file[list] as unknown[];
      file[list] = [entry, ...before];
      const { book, problems } = read(file);
      expect(problems).toHaveLength(1);
      expect(problems[0]?.severity).toBe("warning");
      expect(problems[0]?.where).toMatch(
        new RegExp(`^${list}\\[0\\]${field === "" ? "" : `\\.${field}`}.*\\(line \\d+\\)$`),
      );
      expect(problems[0]?.message).toMatch(/expected|it has|takes up nothing|isn’t known here/);
      expect(problems[0]?.remedy).toContain("kept in the file");
      const sound = read(FULL).book;
      expect({ ...book, unplaced: sound.unplaced }).toEqual(sound);
      const written = JSON.parse(writeBook(book)) as Record<string, unknown>;
      expect(written).toEqual({ ...FULL, [list]: [...before, entry] });
      expect(read(written).book).toEqual(book);
    },
  );

  it("a second present loop of one line doesn't replace the first, and isn't lost", () => {
    const file = copy();
    const again = { line: "A1", side: "left", loop: "girth hitch" };
    file.present = [...FULL.present, again];
    const { book, problems } = read(file);
    expect(problems.map((each) => each.subject)).toEqual(["A1"]);
    expect(book.present.get("left:A1")).toBe("plain");
    expect(book.unplaced.present).toEqual([again]);
  });

  it("an unknown line among the choices costs that line only", () => {
    const file = copy();
    file.choices = { ...FULL.choices, lines: [{ line: "Z9" }, ...FULL.choices.lines] };
    const { book, problems } = read(file);
    expect(problems.map((each) => each.subject)).toEqual(["Z9"]);
    expect(book.choices?.mayChange.size).toBe(3);
    expect(JSON.parse(writeBook(book)).choices.lines).toEqual([...FULL.choices.lines, { line: "Z9" }]);
  });

  it("choices that can't be read are kept until there are others", () => {
    const file = copy();
    file.choices = { ...FULL.choices, aim: "best" };
    const { book, problems } = read(file);
    expect(problems[0]?.where).toMatch(/^choices\.aim/);
    expect(book.choices).toBeUndefined();
    expect(JSON.parse(writeBook(book)).choices).toEqual(file.choices);
    const chosen = { ...book, choices: read(FULL).book.choices };
    expect(JSON.parse(writeBook(chosen)).choices).toEqual(FULL.choices);
  });

  it("a loop that nobody knows the take-up of is told, and stays recorded", () => {
    const file = copy();
    file.present = [{ line: "B1", side: "left", loop: "odd knot" }];
    const { book, problems } = read(file);
    expect(problems.map((each) => each.where)).toEqual([expect.stringMatching(/^present\[0\]\.loop/)]);
    expect(book.present.get("left:B1")).toBe("given:odd knot");
  });
});

describe("a file that can't be read", () => {
  it.each([
    ["of another kind", { ...FULL, format: "linewright-check" }, "format"],
    ["of another version", { ...FULL, version: 2 }, "version"],
    ["with a key that isn't known", { ...FULL, presents: [] }, "presents"],
    ["whose list isn't one", { ...FULL, present: {} }, "present"],
  ])("%s is refused, with what was expected and what to do", (_, file, where) => {
    const parsed = parseBook(JSON.stringify(file), wing);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems.map((each) => each.where.replace(/ \(line.*/, ""))).toEqual([where]);
    expect(parsed.problems[0]?.remedy).not.toBe("");
  });

  it("that isn't JSON is told by line and column", () => {
    const parsed = parseBook('{ "format": linewright }', wing);
    expect(parsed.ok).toBe(false);
    expect(parsed.problems[0]?.where).toBe("line 1, column 13");
  });

  it("of another wing is a warning", () => {
    const { problems } = read({ ...FULL, wing: "Other Hill" });
    expect(problems.map((each) => [each.severity, each.where])).toEqual([["warning", "wing (line 1)"]]);
  });
});

describe("names that a program could trip over", () => {
  it("a line called __proto__ has its loops like any other", () => {
    const plan = samplePlan();
    const { lines, tabs } = plan.sides.mirrored;
    const a1 = line(plan.sides.mirrored, "A1");
    for (const each of lines) if (each.hangsOn === a1.id) each.hangsOn = "__proto__";
    for (const tab of tabs) if (tab.line === a1.id) tab.line = "__proto__";
    a1.id = "__proto__";
    const odd = wingOf(plan);
    const file = {
      format: "linewright-loops",
      version: 1,
      present: [{ line: "__proto__", side: "left", loop: "constructor", takeUpMm: 7 }],
    };
    const { book, problems } = read(file, odd);
    expect(problems).toEqual([]);
    expect(book.present.get("left:__proto__")).toBe("given:constructor");
    const loops = lineLoops(odd, book).find((each) => each.lineKey === "left:__proto__");
    expect(loops?.states[loops.present]).toMatchObject({ takeUpM: 0.007, source: "bench" });
    expect(loops?.mirrorKey).toBe("right:__proto__");
    expect(JSON.parse(writeBook(book))).toEqual(file);
  });

  it("a key called __proto__ changes no prototype", () => {
    const text = JSON.stringify(FULL).replace('"rowWeights":{', '"rowWeights":{"__proto__":{"B":9},');
    const parsed = parseBook(text, wing);
    expect(parsed.ok && parsed.value.choices?.rowWeights.B).toBeFalsy();
    expect(({} as Record<string, unknown>).B).toBeUndefined();
  });
});

describe("the published JSON Schema of the loop book", () => {
  it("is the one that the program makes (else run `npm run schemas`)", () => {
    const published = readFileSync(
      new URL("../../public/linewright-loops.schema.json", import.meta.url),
      "utf8",
    );
    expect(published).toBe(`${JSON.stringify(loopBookJsonSchema(), null, 2)}\n`);
  });

  it("takes what the program writes, and refuses an unknown key", () => {
    const schema = z.fromJSONSchema(loopBookJsonSchema() as Parameters<typeof z.fromJSONSchema>[0]);
    expect(schema.safeParse(JSON.parse(writeBook(read(FULL).book))).success).toBe(true);
    expect(loopBookSchema.safeParse(FULL).success).toBe(true);
    expect(schema.safeParse({ ...FULL, presents: [] }).success).toBe(false);
  });

  it("explains every field", () => {
    const bare: string[] = [];
    const walk = (node: unknown, path: string): void => {
      if (typeof node !== "object" || node === null) return;
      const { properties } = node as { properties?: Record<string, { description?: string; $ref?: string }> };
      for (const [name, field] of Object.entries(properties ?? {}))
        if (field.description === undefined && field.$ref === undefined) bare.push(`${path}.${name}`);
      for (const [name, child] of Object.entries(node)) walk(child, `${path}.${name}`);
    };
    walk(loopBookJsonSchema(), "book");
    expect(bare).toEqual([]);
  });
});
