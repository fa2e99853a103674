import { afterEach, describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { deviations as deviationsOf, parseCheck } from "../../src/readings/index.ts";
import { readingUncertainty } from "../../src/readings/uncertainty.ts";
import { catalogueOf, type Language, type LengthUnit, localeOf, speak } from "../../src/words/index.ts";
import {
  cardOf,
  checkAfter,
  defaultChoices,
  EMPTY_BOOK,
  fileNameOf,
  findLines,
  finish,
  givenKind,
  kindAfterWith,
  kindFromName,
  kindName,
  LOOP_KINDS,
  lineLoops,
  loopReport,
  orderCsv,
  orderList,
  orderText,
  parseBook,
  planLoops,
  sayCardDifference,
  sayTrace,
  specifiedKind,
  startCard,
  swapSheets,
  takeUpFromLengths,
  tick,
  traceLine,
} from "../../src/workshop/index.ts";
import { wingOf } from "../plan/factory.ts";

/** Sets language and unit for the rest of a test. */
async function spoken(language: Language, unit: LengthUnit = "mm"): Promise<void> {
  speak({ language, unit, locale: localeOf(language), catalogue: await catalogueOf(language) });
}
afterEach(() => speak());

const wing = wingOf(DEMOS.school.plan);
const loops = lineLoops(wing, EMPTY_BOOK);
const parsed = parseCheck(DEMOS.school.check, wing);
if (!parsed.ok) throw new Error("the demo's check is faulty");
const check = parsed.value;
const deviations = deviationsOf(wing, check);
const uncertainties = readingUncertainty(wing, check, deviations);

function reportTexts(): readonly string[] {
  const texts = (choices: ReturnType<typeof defaultChoices>): readonly string[] => {
    const { best: plan } = planLoops(wing, deviations, loops, choices);
    const report = loopReport({ wing, deviations, uncertainties, loops, choices, plan });
    return [
      report.summary,
      ...report.sentences,
      ...report.followUp,
      ...report.reserve.map(({ sentence }) => sentence),
      ...report.cautions,
    ];
  };
  const all = defaultChoices(wing, loops);
  // Nothing may be tied, or nothing changed: the other reasons why a path stays out.
  return [all, { ...all, kinds: new Set<string>() }, { ...all, mayChange: new Set<string>() }].flatMap(texts);
}

/** One pair of each sort: on a maillon, middle, upper, brake below and above; with readings and without. */
const DAMAGED = ["left:CL2", "left:AM3", "left:A5", "left:BRL1", "left:BRM1"].filter((key) =>
  wing.lines.some((line) => line.key === key),
);

function swapTexts(): readonly string[] {
  const lengthOf = (key: string): number => wing.lines.find((line) => line.key === key)?.lengthM as number;
  const lengths = new Map(
    DAMAGED.map(
      (key, at) => [key, { oldM: lengthOf(key) - 0.009 - at / 1000, newM: lengthOf(key) }] as const,
    ),
  );
  return [
    { damagedKeys: DAMAGED },
    { damagedKeys: DAMAGED, lengths },
    { damagedKeys: DAMAGED, replacedKeys: DAMAGED, lengths },
    { damagedKeys: DAMAGED, lengths, deviations: undefined },
    { damagedKeys: ["left:CL2"], replacedKeys: ["right:CL2"] },
  ].flatMap((change) => {
    const input = { wing, deviations, uncertainties, loops, ...change };
    const sheets = swapSheets(input);
    const after = checkAfter({
      wing,
      sheets,
      deviations: input.deviations,
      checkDate: "2024-01-01",
      today: "2026-04-02",
    });
    return [
      ...sheets.flatMap(({ sides, warnings, steps, cautions }) => [
        ...sides.map(({ why }) => why),
        ...warnings,
        ...steps.map(({ text }) => text),
        ...cautions,
      ]),
      ...(after.first === undefined ? [] : [after.first]),
      after.conclusion,
      ...after.reasons.map(({ text }) => text),
      ...after.cautions,
    ];
  });
}

const ORDERED = ["left:CL2", "left:AM3", "left:A5", "left:BRL1"];
const order = () =>
  orderList(wing, ORDERED, {
    alone: new Set(["left:A5"]),
    lengths: new Map([
      ["left:CL2", { lengthM: 4.2135, basis: "old line", tensionN: 20.5 }],
      ["right:CL2", { lengthM: 4.2165, basis: "neighbours" }],
    ]),
  });
const orderTexts = (): readonly string[] => orderText(order()).split("\n");

function otherTexts(): readonly string[] {
  const card = startCard(loops, "C", "left");
  const [first, second] = card.order as [string, string];
  const back = tick(tick({ ...card, recorded: "2026-03-14" }, second, "girth"), first, "two-turns");
  const bench = takeUpFromLengths({
    plainM: [1.5],
    loopedM: [1.5125],
    plainTensionN: 50,
    loopedTensionN: 50,
  });
  const wrong = takeUpFromLengths({
    plainM: [],
    loopedM: [-0.0015],
    plainTensionN: 50,
    loopedTensionN: 20.5,
  });
  return [
    ...[...DAMAGED, "right:TL1"].map((key) => sayTrace(traceLine(wing, key))),
    ...finish(
      cardOf({ ...back, closed: back.backOn.map(({ lineKey }) => lineKey) }, new Map()),
    ).differences.map((difference) => sayCardDifference(wing, difference)),
    ...finish(back).differences.map((difference) => sayCardDifference(wing, difference)),
    ...[...bench.problems, ...wrong.problems].flatMap(({ where, message, remedy }) => [
      where,
      message,
      remedy,
    ]),
    ...bookProblems().flatMap(({ message, remedy }) => [message, remedy]),
  ];
}

function bookProblems() {
  const file = {
    format: "linewright-loops",
    version: 1,
    wing: "Another",
    present: [
      { line: "CL2", side: "left", loop: "plain eye", takeUpMm: 4.5 },
      { line: "CL1", side: "left", loop: "girth hitch" },
      { line: "CL1", side: "left", loop: "girth hitch" },
      { line: "A5", side: "right", loop: "girth hitch" },
      { line: "Q", side: "right", loop: "girth hitch" },
      { line: "BL1", side: "right", loop: "keeper knot" },
    ],
    benchTakeUps: [{ loop: "plain eye", barDiameterMm: 4.5, lineDiameterMm: 1.7, takeUpMm: 3 }],
    maillons: [
      { maillon: "Z", side: "left", order: ["AL1"], loops: ["girth hitch"] },
      { maillon: "A", side: "left", order: ["AL1", "AL2"], loops: ["girth hitch"] },
      { maillon: "A", side: "left", order: ["AL1", "AL1"], loops: ["girth hitch", "girth hitch"] },
      { maillon: "A", side: "left", order: ["AL1"], loops: ["girth hitch"], closed: ["AL2"] },
    ],
  };
  const read = parseBook(JSON.stringify(file), wing);
  const other = parseBook(JSON.stringify({ ...file, format: "else" }), wing);
  const newer = parseBook(JSON.stringify({ ...file, version: 9 }), wing);
  return [...read.problems, ...other.problems, ...newer.problems];
}

const SETS: readonly (readonly [string, () => readonly string[]])[] = [
  ["the loop report", reportTexts],
  ["the swap sheets and what comes after", swapTexts],
  ["the order list", orderTexts],
  ["traces, cards, bench and book", otherTexts],
];

/** Figures in mm or inches, in mm, in rising order: languages order a sentence's parts each their own way. */
function lengthsIn(text: string): readonly { readonly mm: number; readonly halfStep: number }[] {
  return [...text.matchAll(/([+−±-]?)(\d+(?:[.,](\d+))?)\s(mm|in)(?!\p{L})/gu)]
    .map(([, sign, size = "", decimals = "", unit]) => {
      const perUnit = unit === "in" ? 25.4 : 1;
      const mm = Number(size.replace(",", ".")) * perUnit * (sign === "−" || sign === "-" ? -1 : 1);
      return { mm, halfStep: (perUnit * 10 ** -decimals.length) / 2 };
    })
    .sort((a, b) => a.mm - b.mm);
}

/** Words of the plan and of files, which stay as they are. */
const DATA =
  /"[^"]*"|„[^“]*“|«[^»]*»|(?:aramid|HMPE) [\d.]+ sheathed|takeUpMm|common practice; a real wing's manual decides|From the riser's base[^.]*\.[^.]*\.|\b(?:red|white|green|blue|grey|orange|yellow)\b/g;
const ENGLISH_WORDS =
  /\b(?:the|of|and|with|its|is|are|left|right|line|lines|loop|loops|path|paths|eye|turn|turns|short|long|row|wing|measure|plain|nothing|side|pieces|length|below|above)\b/i;

describe.each(SETS)("%s", (_, texts) => {
  describe.each([
    ["de", "mm"],
    ["fr", "mm"],
    ["en", "in"],
    ["de", "in"],
    ["fr", "in"],
  ] as const)("in %s and %s", (language, unit) => {
    it("has the figures that English has in millimetres", async () => {
      await spoken("en");
      const english = texts();
      await spoken(language, unit);
      const said = texts();
      expect(said).toHaveLength(english.length);
      let figures = 0;
      for (const [at, text] of said.entries()) {
        const [one, other] = [lengthsIn(english[at] as string), lengthsIn(text)];
        expect(other, text).toHaveLength(one.length);
        for (const [place, { mm, halfStep }] of other.entries()) {
          const known = one[place] as (typeof one)[number];
          expect(Math.abs(mm - known.mm), text).toBeLessThanOrEqual(halfStep + known.halfStep + 1e-9);
          figures += 1;
        }
        if (unit === "in") expect(text.replace(DATA, "")).not.toMatch(/\d\smm\b/);
        if (language !== "en") expect(text.replace(DATA, "")).not.toMatch(/\d\.\d/);
      }
      expect(figures).toBeGreaterThan(0);
    });
  });

  it.each(["de", "fr"] as const)("leaves nothing in English in %s", async (language) => {
    await spoken("en");
    const english = texts();
    const own = (text: string): string => text.replace(DATA, "");
    expect(english.filter((text) => ENGLISH_WORDS.test(own(text))).length).toBeGreaterThan(
      english.length / 2,
    );
    await spoken(language);
    const said = texts();
    expect(said.filter((text) => ENGLISH_WORDS.test(own(text)))).toEqual([]);
    expect(said.filter((text, at) => own(text).length > 40 && text === english[at])).toEqual([]);
  });
});

describe("the order list for programs", () => {
  it("has the same headings, codes and millimetres in every language and unit", async () => {
    const table = (): readonly string[] =>
      orderCsv(order())
        .split("\r\n")
        .filter((row) => row !== "" && !row.startsWith("#") && !row.startsWith('"#'));
    const english = table();
    expect(english[0]).toBe(
      "line,side,pieces,row,tier,material,fibre,diameter mm,length mm,length is,at tension N,lower end,upper end,colour,loop specified",
    );
    await spoken("de", "in");
    const german = table();
    expect(german[0]).toBe(english[0]);
    const codes = (row: string): string => row.split(",").slice(0, 11).join(",");
    expect(german.map(codes)).toEqual(english.map(codes));
    expect(german.some((row) => row.includes("4213.5"))).toBe(true);
  });
});

describe("the kinds of loop", () => {
  it.each(["en", "de", "fr"] as const)(
    "are read back by the names that they have in %s",
    async (language) => {
      await spoken(language);
      for (const kind of LOOP_KINDS) {
        expect(kindFromName(kindName(kind))?.id).toBe(kind.id);
        expect(kindFromName(kindAfterWith(kind))?.id).toBeDefined();
      }
      expect(LOOP_KINDS.map(({ id }) => fileNameOf(id))).toEqual([
        "plain eye",
        "one extra turn",
        "girth hitch",
        "two extra turns",
      ]);
    },
  );

  it("keep the name that a plan gives, and say a take-up that has none", async () => {
    const nameless = specifiedKind(undefined, 0.0135);
    expect(kindName(nameless)).toBe("13.5 mm of take-up");
    await spoken("de");
    expect(kindName(givenKind("keeper knot"))).toBe("keeper knot");
    expect(kindName(nameless)).toBe("13,5 mm Verkürzung");
    expect(specifiedKind(undefined, 0.0135).id).toBe(nameless.id);
    expect(fileNameOf(nameless.id)).toBe("13.5 mm of take-up");
    await spoken("fr", "in");
    expect(kindName(nameless)).toBe("0,531 in de raccourcissement");
  });

  it("stand behind “with” as the language inflects them", async () => {
    const said = () => LOOP_KINDS.map((kind) => kindAfterWith(kind));
    expect(said()).toEqual(["a plain eye", "one extra turn", "a girth hitch", "two extra turns"]);
    await spoken("de");
    expect(said()).toEqual([
      "einem einfachen Auge",
      "einer Zusatzwindung",
      "einem Ankerstich",
      "zwei Zusatzwindungen",
    ]);
    expect(kindAfterWith(givenKind("keeper knot"))).toBe("„keeper knot“");
  });
});

describe("finding a line", () => {
  const found = (query: string): readonly string[] => findLines(wing, query).map(({ line }) => line.key);

  it.each([
    ["de", "A-Ebene links untere", "row A left lower"],
    ["de", "Ebene B rechts", "row B right"],
    ["de", "Aufhängung A3 links", "tab A3 left"],
    ["de", "Leinen Stabilo", "lines tip"],
    ["de", "Leinenschloss C links", "maillon C left"],
    ["fr", "rang A gauche basse", "row A left lower"],
    ["fr", "patte A3 gauche", "tab A3 left"],
    ["fr", "suspentes frein droite", "lines brake right"],
  ] as const)("takes what is typed in %s, and English too: %s", async (language, query, english) => {
    const expected = found(english);
    expect(expected.length).toBeGreaterThan(0);
    await spoken(language);
    expect(found(query)).toEqual(expected);
    expect(found(english)).toEqual(expected);
  });
});
