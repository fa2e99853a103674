import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { cautionFull, cautionShort } from "../../src/diagnosis/caution.ts";
import { DECISION_RULES, decide, ruleSentence } from "../../src/diagnosis/conformity.ts";
import { findingsOf } from "../../src/diagnosis/findings.ts";
import {
  datumSentence,
  disagreeSentence,
  type Scope,
  shiftSentence,
  sidesSentence,
  slipSentence,
  stepSentence,
  swapSentence,
  unexplainedSentence,
  wrongTabSentence,
} from "../../src/diagnosis/mistakes/sentences.ts";
import { summariseRows } from "../../src/diagnosis/rows.ts";
import { doubtReason } from "../../src/diagnosis/session/reasons.ts";
import { sayTravelApart } from "../../src/diagnosis/wording.ts";
import { type Path, ROWS, type Row } from "../../src/plan/model.ts";
import { defaultFrame } from "../../src/readings/index.ts";
import type { Target } from "../../src/readings/model.ts";
import type { Better } from "../../src/readings/session/model.ts";
import { readingUncertainty } from "../../src/readings/uncertainty.ts";
import { forceText, lengthText, rowPhrase } from "../../src/view/model/format.ts";
import { limitsText, plausibleText, valueText } from "../../src/view/model/judging-words.ts";
import { axisStepM } from "../../src/view/model/spanSeries.ts";
import {
  type Catalogue,
  catalogueOf,
  inUnit,
  type LengthUnit,
  localeOf,
  speak,
} from "../../src/words/index.ts";
import { madeDeviations } from "../diagnosis/made.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";

const catalogues = new Map<"en" | "de" | "fr", Catalogue>();
beforeAll(async () => {
  for (const language of ["en", "de", "fr"] as const) catalogues.set(language, await catalogueOf(language));
});
afterEach(() => speak());

/** What is said in a language, and English in millimetres again after. */
function said<T>(language: "en" | "de" | "fr", what: () => T, unit: LengthUnit = "mm"): T {
  speak({ language, locale: localeOf(language), unit, catalogue: catalogues.get(language) as Catalogue });
  try {
    return what();
  } finally {
    speak();
  }
}

const wing = wingOf(samplePlan());
const AGED: Readonly<Record<Row, number>> = {
  A: 0.001,
  B: -0.003,
  C: -0.0124,
  D: -0.0207,
  tip: -0.0041,
  brake: -0.071,
};
const WINGS: readonly [string, (path: Path, index: number) => number | undefined][] = [
  ["an aged wing", ({ row, side }) => AGED[row] + (side === "right" && row === "C" ? -0.008 : 0)],
  ["a wing in good order", (_, i) => (i % 2 === 0 ? 0.0015 : -0.0005)],
  ["a wing with one wrong loop", (path) => (path.lineKeys[0] === "left:C2" ? -0.0132 : 0)],
  ["a wing with two odd paths", (_, i) => (i === 3 ? 0.0111 : i === 12 ? -0.0111 : 0)],
  [
    "a wing whose tip tabs are apart from the plan, one up, one down",
    ({ row, tabKey }) => (row === "tip" ? (tabKey.endsWith("T1") ? 0.0152 : -0.0152) : 0),
  ],
  ["a wing short all over, its brakes long", ({ row }) => (row === "brake" ? 0.02 : -0.0071)],
];

/** All that is said of a check whose paths deviate so. */
function findings(ofPath: (path: Path, index: number) => number | undefined): string {
  const deviations = madeDeviations(wing, ofPath);
  const check = { ...defaultFrame(wing, "2026-03-14"), readings: [] };
  const known = {
    rows: summariseRows(wing, deviations, (row: Row) => ({ A: 0, C: -0.004, D: 0.01 })[row as string] ?? 0),
    meanIncidenceRad: 0.009,
    leftIncidenceRad: 0.002,
    rightIncidenceRad: 0.011,
  };
  return findingsOf(wing, deviations, known, readingUncertainty(wing, check, deviations))
    .map(({ headline, detail }) => `${headline}. ${detail}`)
    .join("\n");
}

/** Words that only English has. */
const ENGLISH_WORDS =
  /\b(the|and|than|row|side|short|shorter|longer|is|are|was|of|left|right|lines?|with|readings?|paths?|average|limit|again|to|at|by|about)\b/i;

/** Figures with their unit, in the order of their size: the order in a sentence is a language's own. */
function figures(
  text: string,
): readonly { readonly value: number; readonly unit: string; readonly places: number }[] {
  return [...text.matchAll(/([+−]?\d+(?:[.,](\d+))?)(?: (mm|in)\b|(°))/g)]
    .map(([, number = "", decimals = "", unit, degree]) => ({
      value: Number(number.replace("−", "-").replace(",", ".")),
      unit: unit ?? degree ?? "",
      places: decimals.length,
    }))
    .sort((a, b) => a.unit.localeCompare(b.unit) || a.value - b.value);
}

describe.each(WINGS)("what is said of %s", (_, ofPath) => {
  const english = (): string => findings(ofPath);

  it.each(["de", "fr"] as const)("in %s has the figures of the English, with a decimal comma", (language) => {
    const text = said(language, english);
    expect(figures(text)).toEqual(figures(english()));
    expect(figures(text).length).toBeGreaterThan(1);
    expect(text).not.toMatch(/\d\.\d/);
    expect(text).not.toMatch(/NaN|undefined|\[object|[{}]/);
  });

  it.each(["de", "fr"] as const)("in %s has no English left in it", (language) => {
    expect(said(language, english)).not.toMatch(ENGLISH_WORDS);
    expect(said(language, english)).not.toContain("common practice");
  });

  it("in inches has the lengths of the millimetres, of 25.4 to the inch, and the same angles", () => {
    const inMm = figures(english());
    const inInches = figures(said("en", english, "in"));
    const lengths = (all: typeof inMm) => all.filter(({ unit }) => unit !== "°");
    expect(lengths(inInches)).toHaveLength(lengths(inMm).length);
    expect(lengths(inInches).every(({ unit }) => unit === "in")).toBe(true);
    lengths(inMm).forEach(({ value, places }, i) => {
      const other = lengths(inInches)[i];
      // Half a step of rounding each.
      const step = 10 ** -places / 2 + (25.4 * 10 ** -(other?.places ?? 0)) / 2;
      expect(Math.abs((other?.value ?? 0) * 25.4 - value)).toBeLessThanOrEqual(step + 1e-9);
    });
    expect(inInches.filter(({ unit }) => unit === "°")).toEqual(inMm.filter(({ unit }) => unit === "°"));
  });
});

it("the wings that are spoken of bring up every kind of finding", () => {
  const all = WINGS.map(([, ofPath]) => findings(ofPath)).join("\n");
  for (const part of [
    /^Brake lines/m,
    /^Row D/m,
    /^The tip lines/m,
    /^Right side shorter/m,
    /^C1 on the left/m,
    /^Tab A4 on the left/m,
    /paths beyond the limit/,
    /^All main lines together/m,
    /^In order against/m,
  ])
    expect(all).toMatch(part);
});

describe("that nothing here is a clearance to fly", () => {
  it.each([
    ["de", /keine Freigabe zum Fliegen/, /am Boden aufziehen/, /prüfen lassen/],
    ["fr", /ni (un contrôle ni )?une autorisation de vol/i, /gonfler au sol/, /faire contrôler/],
  ] as const)("is said in %s as in English", (language, clearance, ground, checked) => {
    expect(said(language, cautionShort)).toMatch(clearance);
    const full = said(language, () => cautionFull().join(" "));
    expect(full).toMatch(language === "de" ? /Freigabe zum Fliegen/ : clearance);
    expect(full).toMatch(ground);
    expect(full).toMatch(checked);
    expect(said(language, () => findings(() => 0))).toMatch(
      language === "de" ? clearance : /pas une autorisation de vol/,
    );
  });
});

const A3: Target = { kind: "tab", id: "A3", side: "left" };
const A4: Target = { kind: "tab", id: "A4", side: "right" };
const AM1: Target = { kind: "line", id: "AM1", side: "right" };
const SCOPES: readonly Scope[] = [
  ...ROWS.flatMap((row): Scope[] => [
    { scope: "row", row, side: "left" },
    { scope: "both", row },
  ]),
  { scope: "side", side: "right" },
  { scope: "mainSide", side: "left" },
  { scope: "main" },
  { scope: "all" },
];

/** Every sentence that a suspicion can have. */
function suspicions(): readonly string[] {
  return [
    ...(["digit slip", "digits transposed", "keystroke", "misheard"] as const).map((kind) =>
      slipSentence(A3, kind, 7.5215, 7.4215, 7.4204),
    ),
    slipSentence(AM1, "keystroke", 0.742, undefined, 7.42),
    unexplainedSentence(A3, 7.9, 7.42),
    disagreeSentence(A3, [7.42, 7.5215], 7.42),
    swapSentence(A3, A4, 7.4, 7.5),
    wrongTabSentence(A3, 7.4, A4, true),
    wrongTabSentence(A3, 7.4, AM1, false),
    shiftSentence(A3, A4, 5, true),
    shiftSentence(A3, A4, 5, false),
    ...SCOPES.flatMap((scope) => [
      stepSentence(scope, A3, -0.0456, undefined),
      stepSentence(scope, A3, 0.47, "riser"),
      stepSentence(scope, A3, 0.2, "pulley"),
    ]),
    datumSentence("riser", A3),
    datumSentence("maillon", A3),
    ...[...ROWS, "all" as const].map((of) => sidesSentence(of)),
  ];
}

const KINDS: readonly Better["kind"][] = [
  "digit",
  "hundred off",
  "transposed",
  "keystroke",
  "misheard",
  "mirror",
  "neighbour",
  "other row",
  "elsewhere",
  "short form",
];

describe("suspected mistakes", () => {
  it.each(["de", "fr"] as const)(
    "are told in %s with the same figures, nothing left in English",
    (language) => {
      const english = suspicions();
      said(language, suspicions).forEach((sentence, i) => {
        expect(sentence).not.toMatch(ENGLISH_WORDS);
        expect(sentence).not.toMatch(/[{}]|undefined/);
        expect(figures(sentence)).toEqual(figures(english[i] as string));
      });
    },
  );

  it("tell readings from the riser's base from those from the maillon, in every language", () => {
    for (const language of ["en", "de", "fr"] as const) {
      const both = said(language, () => [datumSentence("riser", A3), datumSentence("maillon", A3)]);
      expect(both[0]).not.toBe(both[1]);
    }
    expect(datumSentence("riser", A3)).toContain(
      "read from the riser’s base, but the figures fit readings from the maillon",
    );
  });

  it("have the words of the trade for a row's step", () => {
    const step = () => stepSentence({ scope: "row", row: "C", side: "left" }, A3, -0.0456, "riser");
    expect(step()).toMatch(/^All readings of row C on the left are read about 46 mm too short together/);
    expect(said("de", step)).toMatch(
      /^Alle Messwerte der C-Ebene links sind gemeinsam um etwa 46 mm zu kurz/,
    );
    expect(said("fr", step)).toMatch(
      /^Tous les relevés du rang C à gauche sont ensemble trop courts d’environ 46 mm/,
    );
  });

  it("are asked about while reading, in each language", () => {
    const expected = { valueM: 7.42, lowM: 7.4, highM: 7.44 };
    const reasons = (): readonly string[] => [
      ...KINDS.map((kind) => doubtReason(A3, 7.52, expected, { kind, valueM: 7.42, target: A4 }).text),
      doubtReason(A3, 7.52, expected, undefined).text,
      doubtReason(A3, 7.32, expected, undefined).text,
    ];
    const english = reasons();
    for (const language of ["de", "fr"] as const)
      said(language, reasons).forEach((reason, i) => {
        expect(reason).not.toBe(english[i]);
        expect(reason).not.toMatch(/Read |again/);
      });
  });
});

describe("decisions", () => {
  it("say the figure, the limit and the rule in each language", () => {
    const decision = () =>
      decide(-0.0085, 0.001, { lower: -0.01, upper: 0.01 }, DECISION_RULES.drawing).sentence;
    expect(said("de", decision)).toBe(
      "Unentschieden: −8,5 mm, Standardunsicherheit 1,0 mm, gegen die gesetzte Grenze von −10,0 mm bis +10,0 mm; Wahrscheinlichkeit der Konformität 93,3 %. Regel: Sicherheitsband von 0,83 U mit U = 2u, hier 1,7 mm zu beiden Seiten einer Grenze.",
    );
    expect(said("en", decision, "in")).toContain("Undecided: −0.335 in, standard uncertainty 0.039 in");
    for (const rule of Object.values(DECISION_RULES))
      for (const language of ["de", "fr"] as const)
        expect(said(language, () => ruleSentence(rule))).not.toMatch(ENGLISH_WORDS);
  });

  it("are the same decisions whatever is spoken", () => {
    const decided = () => decide(0.0091, 0.001, { lower: -0.01, upper: 0.01 });
    const { sentence: _, ...english } = decided();
    for (const language of ["de", "fr"] as const) {
      const { sentence: __, ...other } = said(language, decided, "in");
      expect(other).toEqual(english);
    }
  });
});

describe("figures beside the charts", () => {
  it("are in the unit and with the mark that are set", () => {
    expect(said("de", () => valueText(-0.0042, 0.0006))).toBe("−4,2 ±1,2 mm");
    expect(said("de", () => valueText(-0.0042, 0.0006), "in")).toBe("−0,165 ±0,047 in");
    expect(said("fr", () => limitsText({ lower: 0.05 }))).toBe("50 mm au moins");
    expect(said("en", () => limitsText({ lower: -0.0254, upper: 0.0254 }), "in")).toBe("±1 in");
    expect(said("de", () => forceText(123.4))).toBe("12,3\u202fdaN");
    expect(said("en", () => lengthText(0.254), "in")).toBe("10.00\u202fin");
    expect(said("fr", () => rowPhrase("C"))).toBe("rang C");
  });

  it("end on even figures of either unit", () => {
    expect(inUnit(axisStepM())).toBe(5);
    expect(said("en", () => inUnit(axisStepM()), "in")).toBeCloseTo(0.2, 12);
  });

  it("say odds in words without digits in every language", () => {
    for (const language of ["de", "fr"] as const)
      for (const odds of [0.5, 1.2, 2.5, 5])
        for (const of of ["one", "several"] as const) {
          const text = said(language, () => plausibleText(odds, of));
          expect(text).not.toMatch(/\d/);
          expect(text).not.toMatch(ENGLISH_WORDS);
        }
  });
});

describe("the brakes' free travel", () => {
  it("is told in both its ways of counting, in each language", () => {
    const both = (): string =>
      [
        sayTravelApart("lines", { left: 0.027, right: -0.004 }),
        sayTravelApart("model", { left: 0.008, right: 0.0001 }),
      ].join(" ");
    for (const language of ["de", "fr"] as const) {
      const text = said(language, both);
      expect(figures(text)).toEqual(figures(both()));
      expect(text).not.toMatch(ENGLISH_WORDS);
      expect(said(language, () => sayTravelApart("lines"))).not.toMatch(/ :? ?:|undefined/);
    }
  });
});
