import { describe, expect, it } from "vitest";
import { findingsOf } from "../../src/diagnosis/findings.ts";
import type { Finding } from "../../src/diagnosis/model.ts";
import { summariseRows } from "../../src/diagnosis/rows.ts";
import { uniformValue } from "../../src/diagnosis/uniform.ts";
import type { Path, Row, Wing } from "../../src/plan/model.ts";
import { deviations as deviationsOf } from "../../src/readings/deviations.ts";
import { type Check, defaultFrame } from "../../src/readings/index.ts";
import { meanWeights, readingUncertainty, standardUncertainty } from "../../src/readings/uncertainty.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { madeDeviations } from "./made.ts";

const wing = wingOf(samplePlan());

interface Turn {
  readonly left?: number;
  readonly right?: number;
}

function findings(
  ofPath: (path: Path, index: number) => number | undefined,
  turn: Turn = {},
  of: Wing = wing,
): Finding[] {
  const deviations = madeDeviations(of, ofPath);
  const { left = 0, right = 0 } = turn;
  return findingsOf(of, deviations, {
    rows: summariseRows(of, deviations, (row: Row) => (row === "D" ? 0.01 : 0)),
    meanIncidenceRad: (left + right) / 2,
    leftIncidenceRad: left,
    rightIncidenceRad: right,
  });
}
const kinds = (list: readonly Finding[]): string[] =>
  list.map((finding) => `${finding.severity} ${finding.kind}`);
const everyText = (list: readonly Finding[]): string =>
  list.map(({ headline, detail }) => `${headline}. ${detail}`).join("\n");

const AGED: Readonly<Record<Row, number>> = {
  A: 0.001,
  B: -0.003,
  C: -0.012,
  D: -0.02,
  tip: -0.004,
  brake: -0.07,
};
const CASES: [string, Finding[]][] = [
  ["an aged wing", findings((path) => AGED[path.row], { left: 0.01, right: 0.011 })],
  ["a wing in good order", findings((_, i) => (i % 2 === 0 ? 0.0015 : -0.0005))],
  [
    "a wing with its right side short",
    findings((path) => (path.side === "right" ? -0.008 : 0.0005), { right: 0.004 }),
  ],
  ["a wing with one wrong loop", findings((path) => (path.lineKeys[0] === "left:C2" ? -0.013 : 0))],
  ["a wing that is short all over", findings((path) => (path.row === "brake" ? 0 : -0.007))],
];

describe("what is said of a check", () => {
  it("is nothing where nothing was read", () => {
    expect(findings(() => undefined)).toEqual([]);
  });

  it.each(CASES)("comes ranked, what asks for action first: %s", (_, list) => {
    const rank = { act: 0, watch: 1, fine: 2 };
    const ranks = list.map((finding) => rank[finding.severity]);
    expect(list.length).toBeGreaterThan(0);
    expect(ranks).toEqual([...ranks].sort());
    expect(new Set(list.map((finding) => finding.id)).size).toBe(list.length);
  });

  it.each(CASES)("names only lines and tabs that the wing has: %s", (_, list) => {
    const lines = new Set(wing.lines.map((line) => line.key));
    const tabs = new Set(wing.tabs.map((tab) => tab.key));
    for (const finding of list) {
      for (const key of finding.lineKeys) expect(lines.has(key)).toBe(true);
      for (const key of finding.tabKeys) expect(tabs.has(key)).toBe(true);
      if (finding.kind !== "order") expect(finding.lineKeys.length).toBeGreaterThan(0);
    }
  });

  it.each(CASES)("is in whole figures with true minus signs, no number gone astray: %s", (_, list) => {
    const text = everyText(list);
    expect(text).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(text).not.toMatch(/-\d/);
  });

  it.each(CASES)("never clears a wing to fly: %s", (_, list) => {
    expect(everyText(list)).not.toMatch(
      /\b(safe|airworthy|cleared|approved|may be flown|ready to fly|fit to fly)\b/i,
    );
  });
});

describe("the brakes", () => {
  const brakes = (short: number, rest = 0) => findings((path) => (path.row === "brake" ? short : rest));

  it("are said first where their free travel is used up, whatever else is wrong", () => {
    const list = findings((path) => AGED[path.row]);
    expect(list[0]).toMatchObject({ kind: "brake", severity: "act" });
    // 60 mm of travel less 70 mm.
    expect(list[0]?.detail).toContain("used up");
    expect(list[0]?.detail).toContain("10 mm");
  });

  it("ask for action as soon as less than the limit is left, the shortest tab deciding", () => {
    expect(brakes(-0.009)[0]).not.toMatchObject({ kind: "brake", severity: "act" });
    expect(brakes(-0.011)[0]).toMatchObject({ kind: "brake", severity: "act" });
    const one = findings((path) => (path.tabKey === "left:K3" ? -0.03 : path.row === "brake" ? 0.001 : 0));
    expect(one[0]).toMatchObject({ kind: "brake", severity: "act" });
    expect(one[0]?.detail).toContain("30 mm is left");
  });

  it("are let be where they are as specified, and noted where they're long", () => {
    expect(kinds(brakes(0)).join()).not.toContain("brake");
    const long = brakes(0.02).find((finding) => finding.kind === "brake");
    expect(long).toMatchObject({ severity: "watch" });
    expect(long?.headline).toContain("long");
  });

  it("aren't mentioned for a wing without any", () => {
    const bare = wingOf(samplePlan({ brakes: false }));
    expect(kinds(findings(() => -0.02, {}, bare)).join()).not.toContain("brake");
  });
});

describe("the rows", () => {
  const list = findings((path) => AGED[path.row]);
  const row = (name: Row) => list.find((finding) => finding.id === `row ${name}`);

  it("are said one by one, the one that is off most before the others, and only it is called so", () => {
    const rows = list.filter((finding) => finding.kind === "rows").map((finding) => finding.id);
    expect(rows[0]).toBe("row D");
    expect(
      list
        .filter((finding) => finding.headline.includes("the most of all rows"))
        .map((finding) => finding.id),
    ).toEqual(["row D"]);
  });

  it("make no average and no comparison of a single path", () => {
    const one = findings((path) => (path.tabKey === "left:A1" ? -0.012 : undefined));
    const said = one.find((finding) => finding.id === "row A")?.headline;
    expect(said).toMatch(/^Row A 12 mm.* short at the one path read$/);
  });

  it("ask for action beyond the user's limit, and to be watched near it", () => {
    expect(row("D")).toMatchObject({ severity: "act" });
    expect(row("C")).toMatchObject({ severity: "act" });
    expect(
      findings((path) => (path.row === "C" ? -0.007 : 0)).find((finding) => finding.id === "row C"),
    ).toMatchObject({ severity: "watch" });
    expect(
      findings((path) => (path.row === "C" ? -0.004 : 0)).find((finding) => finding.id === "row C"),
    ).toMatchObject({ severity: "fine" });
  });

  it("say how far apart they are and what each alone does to the profile", () => {
    expect(row("D")?.detail).toContain("Against row A that is −21 mm");
    expect(row("D")?.detail).toContain("nose-up by 0.57°");
  });

  it("show all of a row's tabs, both sides", () => {
    expect(row("D")?.tabKeys.length).toBe(16);
  });

  it("say so where only one side was read", () => {
    const half = findings((path) => (path.side === "left" ? AGED[path.row] : undefined));
    expect(half.find((finding) => finding.id === "row D")?.detail).toContain("one side only");
  });
});

describe("the sides", () => {
  it("ask for action beyond the user's limit, naming the shorter side, and mirror with the readings", () => {
    const right = findings((path) => (path.side === "right" && path.row === "C" ? -0.008 : 0), {
      right: 0.004,
    });
    const left = findings((path) => (path.side === "left" && path.row === "C" ? -0.008 : 0), { left: 0.004 });
    const sides = (list: readonly Finding[]) => list.find((finding) => finding.kind === "sides");
    expect(sides(right)).toMatchObject({ severity: "act", side: "right" });
    expect(sides(left)).toMatchObject({ severity: "act", side: "left" });
    expect(sides(right)?.headline).toContain("Right side shorter: 8.0 mm in row C");
    expect(sides(right)?.detail).toContain("right half flies 0.23° more incidence");
    expect(sides(left)?.detail).toContain("left half flies 0.23° more incidence");
  });

  it("aren't said to differ where they don't", () => {
    expect(kinds(findings((path) => AGED[path.row])).join()).not.toContain("sides");
  });
});

describe("a wing in good order", () => {
  it("is told so first, with its worst path, the limit and that this is no clearance", () => {
    const [first] = findings((_, i) => (i === 5 ? -0.003 : 0.0005));
    expect(first).toMatchObject({ kind: "order", severity: "fine" });
    expect(first?.detail).toContain("3 mm");
    expect(first?.detail).toContain("10 mm");
    expect(first?.detail).toContain("no clearance to fly");
  });

  it("is not what a wing is called of which something asks for action or watching", () => {
    for (const [name, list] of CASES) {
      if (name === "a wing in good order") continue;
      if (list.some((finding) => finding.severity !== "fine"))
        expect(kinds(list).join()).not.toContain("order");
    }
  });

  it("is not what a wing is called that has a path beyond the user's limit, though row means and trends look well", () => {
    // A's tabs scatter up to 12 mm, as after repairs with new and old lines mixed: the mean is nothing, and no single one stands apart.
    const scatter = [0.012, -0.009, 0.005, -0.012, 0.008, -0.004, 0.011, -0.011];
    const list = findings((path) =>
      path.row === "A" ? (scatter[Number(path.tabKey.slice(-1)) - 1] as number) : 0,
    );
    expect(kinds(list).join()).not.toContain("order");
    expect(list.some((finding) => finding.severity !== "fine")).toBe(true);
  });

  it("is not what a wing is called whose two tip tabs are 15 mm apart from the plan, one up, one down", () => {
    const list = findings((path) => (path.row === "tip" ? (path.tabKey.endsWith("T1") ? 0.015 : -0.015) : 0));
    expect(kinds(list).join()).not.toContain("order");
  });
});

describe("lines that stand apart, and what all share", () => {
  it("are one finding for a lower line, with all that hangs on it", () => {
    const three = wingOf(samplePlan({ lowersPerRow: 3, tip: false, brakes: false }));
    const list = findings((path) => (path.lineKeys[0] === "left:C2" ? -0.013 : 0), {}, three);
    const single = list.filter((finding) => finding.kind === "single");
    expect(single.length).toBe(1);
    expect(single[0]).toMatchObject({ id: "single left:C2", side: "left", severity: "act" });
    expect(single[0]?.tabKeys.length).toBe(4);
    expect(single[0]?.headline).toContain("13 mm shorter");
  });

  it("a change that all main lines share is shown as fine, and said to be perhaps the datum's", () => {
    const list = findings((path) => (path.row === "brake" ? 0 : -0.005));
    const uniform = list.find((finding) => finding.kind === "uniform");
    expect(uniform).toMatchObject({ severity: "fine" });
    expect(uniform?.headline).toContain("−5.0 mm");
    expect(uniform?.detail).toMatch(/measuring point/);
  });
});

describe("one reading slipped by 100 mm", () => {
  const check = (slipMm: number): Check => ({
    ...defaultFrame(wing, "2026-03-14"),
    readings: wing.tabs.map(({ id, side, row, key }, tab) => ({
      target: { kind: "tab", id, side },
      valuesM: [
        (wing.paths[tab] as Path).specifiedM +
          ((row === "C" ? -12 : 0) + (tab % 3) - 1 + (key === "left:C3" ? slipMm : 0)) / 1000,
      ],
      note: undefined,
    })),
  });
  const said = (slipMm: number) => {
    const of = check(slipMm);
    const read = deviationsOf(wing, of);
    const uncertainties = readingUncertainty(wing, of, read);
    const known = {
      rows: summariseRows(wing, read, () => undefined),
      meanIncidenceRad: undefined,
      leftIncidenceRad: undefined,
      rightIncidenceRad: undefined,
    };
    return { list: findingsOf(wing, read, known, uncertainties), read, uncertainties };
  };
  const sound = said(0);
  const slipped = said(-100);
  const rowC = ({ list }: typeof sound) => list.find(({ id }) => id === "row C");

  it("hardly moves what is said of its row, and is said itself", () => {
    expect(Math.abs((rowC(slipped)?.valueM as number) - (rowC(sound)?.valueM as number))).toBeLessThan(
      0.0015,
    );
    expect(slipped.list.some(({ id, valueM }) => id.startsWith("single") && (valueM as number) < -0.08)).toBe(
      true,
    );
  });

  it("makes no difference of the sides, which one slip of 100 mm in eight would put at 12 mm", () => {
    expect(slipped.list.some(({ kind }) => kind === "sides")).toBe(false);
  });

  it("hardly moves what all rows share", () => {
    const shared = (of: typeof sound): number => uniformValue(of.read) as number;
    expect(Math.abs(shared(slipped) - shared(sound))).toBeLessThan(0.0005);
  });

  it("leaves a row's uncertainty that of a robust mean: a little more than the plain mean's", () => {
    const weights = meanWeights(sound.read.paths.flatMap(({ row }, tab) => (row === "C" ? [tab] : [])));
    const plain = standardUncertainty(sound.uncertainties, weights);
    const stated = rowC(sound)?.standardUncertaintyM as number;
    expect(stated).toBeGreaterThan(plain);
    expect(stated).toBeLessThan(plain / Math.sqrt(3 / Math.PI));
  });
});
