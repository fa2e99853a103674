import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { deviations, parseCheckText } from "../../src/readings/index.ts";
import { leadText, planPoints, takeUpText } from "../../src/view/model/workshop-loops.ts";
import { takeUpGroups } from "../../src/view/model/workshop-loops-book.ts";
import { blockedTexts } from "../../src/view/model/workshop-loops-left.ts";
import { bothDates, doneOf } from "../../src/view/model/workshop-recheck.ts";
import {
  changesSentence,
  movedOf,
  rowsAxis,
  shiftSentence,
} from "../../src/view/model/workshop-recheck-tables.ts";
import {
  jobAtWork,
  jobName,
  lengthDoubt,
  readLength,
  replaceJobs,
  sayFoundBy,
  startReplacing,
} from "../../src/view/model/workshop-replace.ts";
import { bookBefore, sayLater, sayWithin } from "../../src/view/model/workshop-replace-swap.ts";
import { type Catalogue, catalogueOf, speak } from "../../src/words/index.ts";
import { defaultChoices, EMPTY_BOOK, lineLoops, planLoops, swapSheets } from "../../src/workshop/index.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { wingOf } from "../plan/factory.ts";

const wing = wingOf(DEMOS.school.plan);
const check = parseCheckText(JSON.stringify(DEMOS.school.check), wing);
if (!check.ok) throw new Error("The demo check is faulty.");
const read = deviations(wing, check.value);
const loops = lineLoops(wing, EMPTY_BOOK);
const plans = planLoops(wing, read, loops, { ...defaultChoices(wing, loops), worthM: 0.002 });
const toleranceM = wing.tolerances.pathM;
const states = loops.find(({ row }) => row === "C")?.states ?? [];
const [loop] = loops;
const line = wing.lines.find(({ key }) => key === "left:AL2");
if (line === undefined || loop === undefined) throw new Error("The demo lacks a line.");

const book = startReplacing(wing, EMPTY_BOOK, "left:AL2");
const job = jobAtWork(replaceJobs(wing, book), "left:AL2");
if (job === undefined) throw new Error("Nothing is replaced.");
const side = swapSheets({
  wing,
  // All lower lines have shrunk by 10 mm; the new one is 10 mm longer than the old.
  deviations: madeDeviations(wing, ({ row }) => (row === "tip" || row === "brake" ? 0 : -0.0103)),
  uncertainties: undefined,
  loops: lineLoops(wing, bookBefore(book, ["left:AL2", "right:AL2"])),
  damagedKeys: ["left:AL2"],
  replacedKeys: ["left:AL2", "right:AL2"],
  lengths: new Map([["left:AL2", { oldM: line.lengthM - 0.0103, newM: line.lengthM }]]),
})[0]?.sides[0];
if (side === undefined) throw new Error("There is no sheet.");

/** Everything that these screens are told in words. */
const texts = (): readonly string[] => [
  leadText(plans, toleranceM).head,
  leadText(plans, toleranceM).body,
  leadText({ ...plans, best: plans.present }, toleranceM).body,
  ...planPoints(plans, toleranceM).map(({ text }) => text),
  ...states.map(takeUpText),
  ...blockedTexts(wing, [{ lineKey: loop.lineKey, reason: "present beyond limit" }]),
  ...doneOf({
    wing,
    loops,
    book: EMPTY_BOOK,
    chosen: new Map([[loop.lineKey, states.at(-1)?.kind.id ?? ""]]),
    trialsMm: new Map([[loop.lineKey, 5]]),
  }).map(({ name, what }) => `${name}: ${what}`),
  shiftSentence({ shiftM: -0.0015, shiftRemoved: true }),
  movedOf(wing, { movedTabKeys: wing.tabs.slice(0, 20).map(({ key }) => key) }).sentence,
  jobName(job),
  lengthDoubt(line, "old", line.lengthM - 0.254) ?? "",
  sayFoundBy("tab above", line, ["A1", "A2"]),
  ...sayLater(side),
  sayWithin(0.0015),
];

let german: Catalogue;
let french: Catalogue;
beforeAll(async () => {
  [german, french] = await Promise.all([catalogueOf("de"), catalogueOf("fr")]);
});
afterEach(() => speak());

const FIGURE = /\d+(?:[.,]\d+)?/g;
/** The text's figures in the order of their size: languages order a sentence's parts in their own way. */
const figuresOf = (text: string): readonly number[] =>
  [...text.matchAll(FIGURE)].map(([figure]) => Number(figure.replace(",", "."))).sort((a, b) => a - b);

describe.each([
  ["German", "de", "de-DE"],
  ["French", "fr", "fr-FR"],
] as const)("the workshop’s texts in %s", (_, language, locale) => {
  const own = () => speak({ language, locale, catalogue: language === "de" ? german : french });

  it("have the figures that the English ones have", () => {
    const english = texts();
    own();
    const said = texts();
    expect(said.map(figuresOf)).toEqual(english.map(figuresOf));
    expect(english.join().match(FIGURE)?.length).toBeGreaterThan(90);
  });

  it("have a comma before decimals, and no English in them", () => {
    own();
    const said = texts().join("\n");
    expect(said).toMatch(/\d,\d mm/);
    expect(said).not.toMatch(/\d\.\d/);
    // Words that English alone has; the demo's names are letters and figures.
    expect(said).not.toMatch(
      /\b(?:the|of|and|with|is|are|left|right|line|lines|path|paths|row|loop|loops|change|changes|beyond|hitch|turn|turns|eye|once|its)\b/i,
    );
  });
});

describe("lengths in inches", () => {
  it("are those in millimetres, by 25.4", () => {
    const millimetres = texts();
    speak({ unit: "in" });
    const inches = texts();
    const lengths = (said: readonly string[], unit: string) =>
      said.flatMap((text) =>
        [...text.matchAll(new RegExp(`(\\d+\\.\\d+) (?:± \\d\\.\\d+ )?${unit}\\b`, "g"))].map(([, figure]) =>
          Number(figure),
        ),
      );
    expect(inches.join()).not.toMatch(/\bmm\b/);
    // Only those with decimals in millimetres too: the others' figures are written without.
    const metric = lengths(millimetres, "mm");
    const imperial = lengths(inches, "in").map((figure) => figure * 25.4);
    expect(metric.length).toBeGreaterThan(20);
    for (const figure of metric)
      expect(Math.min(...imperial.map((other) => Math.abs(other - figure)))).toBeLessThanOrEqual(0.064);
  });

  it("are read as they are typed, and held to the same bounds", () => {
    expect(readLength("4210,5")).toEqual({ lengthM: 4.2105 });
    speak({ unit: "in" });
    expect(readLength("165,5")).toHaveProperty("lengthM", expect.closeTo(165.5 * 0.0254, 12));
    expect(readLength("4210")).toEqual({ wrong: "2 to 787 in" });
    expect(readLength("a")).toEqual({ wrong: "a number of inches, like 165 or 165.8" });
  });

  it("end an axis at round figures of the unit", () => {
    const row = { row: "C", name: "C", beforeM: -0.012, plannedM: 0, afterM: 0.001 } as const;
    const ends = (per: number): readonly number[] => rowsAxis([row]).map((valueM) => valueM * per);
    expect(ends(1000)).toEqual([-15, 5].map((end) => expect.closeTo(end, 9)));
    speak({ unit: "in" });
    expect(ends(1000 / 25.4)).toEqual([-0.6, 0.2].map((end) => expect.closeTo(end, 9)));
  });

  it("make a formula whose figures give its estimate, in the language’s marks", () => {
    speak({ language: "de", locale: "de-DE", catalogue: german, unit: "in" });
    const [group] = takeUpGroups(wing, loops, []);
    const turn = group?.rows.find(({ kind }) => kind.id === "turn");
    const [, bar = "", thick = ""] = /^π × \(([\d,]+) \+ ([\d,]+)\) \/ 2$/.exec(turn?.formula ?? "") ?? [];
    const estimateIn = (Math.PI * (Number(bar.replace(",", ".")) + Number(thick.replace(",", ".")))) / 2;
    expect(estimateIn * 0.0254).toBeCloseTo(turn?.estimate?.takeUpM ?? 0, 4);
  });
});

describe("the dates of two checks", () => {
  it("share what they can in each language’s order", () => {
    speak({ language: "de", locale: "de-DE", catalogue: german });
    expect(bothDates("2026-03-14", "2026-03-21")).toBe("14. und 21. März 2026");
    expect(bothDates("2026-03-14", "2026-03-14")).toBe("14. März 2026, zweimal");
    speak({ language: "fr", locale: "fr-FR", catalogue: french });
    expect(bothDates("2026-03-30", "2026-04-02")).toBe("30 mars et 2 avril 2026");
    speak({ locale: "en-US" });
    expect(bothDates("2026-03-14", "2026-03-21")).toBe("March 14, 2026 and March 21, 2026");
  });
});

describe("what became of the changes", () => {
  const row = (mark: "kept" | "open" | "otherwise" | "unread", name: string) => ({
    lineKey: name,
    name,
    what: "",
    promised: "",
    did: "",
    known: "",
    mark,
    verdict: "",
    looksUndone: false,
    paths: 2,
  });

  it("is one sentence, with one and with several", () => {
    const rows = [row("kept", "C1"), row("otherwise", "C2"), row("unread", "C3"), row("open", "C4")];
    expect(changesSentence(rows)).toBe(
      "1 of 4 changes did what they promised; C2 came out otherwise: look at its loop and read its paths again; 1 promised too little to be told from nothing; 1 wasn’t read on both days.",
    );
    expect(changesSentence([row("kept", "C1")])).toBe("1 of 1 change did what it promised.");
    speak({ language: "de", locale: "de-DE", catalogue: german });
    expect(changesSentence([...rows, row("otherwise", "C5")])).toContain("C2 und C5 kamen anders heraus");
  });
});
