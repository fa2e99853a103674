import { describe, expect, it } from "vitest";
import {
  type DraftSource,
  draftDiagram,
  PATTERNS,
  parseDraft,
  planOfDraft,
} from "../../../src/plan/draft/index.ts";
import { parsePlan, type Wing } from "../../../src/plan/index.ts";
import { randomFrom } from "../random.ts";

const SOUND = `name: Paper Kite
weight: 80-105
from: riser
risers: A 480, B 480
A: 2+2 3
B: 2+2 3
totals A: 7420 7415 7410 7400 7300 7290 7280
totals B: 7320 7315 7310 7300 7200 7190 7180
`;
const built = (text: string): Wing => {
  const made = planOfDraft(parseDraft(text));
  expect(made.problems.filter((problem) => problem.severity === "error")).toEqual([]);
  const parsed = parsePlan(made.plan);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return parsed.value;
};

describe("a draft as text", () => {
  it("names lines and tabs outwards, by row and tier", () => {
    const { lines, tabs, problems } = parseDraft(SOUND);
    expect(problems).toEqual([]);
    expect(lines.filter((line) => line.row === "A").map((line) => line.name)).toEqual(
      "AL1 AM1 A1 A2 AM2 A3 A4 AL2 A5 A6 A7".split(" "),
    );
    expect(tabs.filter((tab) => tab.row === "B").map((tab) => tab.rib)).toEqual([2, 4, 6, 8, 10, 12, 14]);
  });

  it("becomes a plan whose totals are the table's, lengths inferred and marked", () => {
    const wing = built(SOUND);
    expect(wing.lines.every((line) => line.lengthAssumed)).toBe(true);
    expect(wing.materials.every((material) => material.stiffnessAssumed)).toBe(true);
    const totals = wing.paths
      .filter((path) => path.side === "left" && path.row === "A")
      .map((path) => 1000 * path.specifiedM);
    [7420, 7415, 7410, 7400, 7300, 7290, 7280].forEach((mm, i) => {
      expect(totals[i]).toBeCloseTo(mm, 3);
    });
  });

  it("says what it took as usual", () => {
    const { assumed } = planOfDraft(parseDraft(SOUND));
    expect(assumed.join(" ")).toMatch(/rows A and B on every second rib.*50 N.*Stiffness/s);
  });

  it("takes lengths of some lines and totals for the rest", () => {
    const wing = built(`${SOUND}lower A: 4900\nupper A: - - 700\n`);
    const line = (id: string) => wing.lines.find((each) => each.key === `left:${id}`);
    expect([line("AL1")?.lengthM, line("AL1")?.lengthAssumed]).toEqual([4.9, false]);
    expect([line("A3")?.lengthM, line("A3")?.lengthAssumed]).toEqual([0.7, false]);
    expect(line("A4")?.lengthAssumed).toBe(true);
  });

  it("takes lengths alone", () => {
    const wing = built(`weight: 80-105
risers: A 480, B 480
A: 2+1
B: 2+1
lower A: 5000
middle A: 1200
upper A: 700 710 1900
lower B: 5000
middle B: 1200
upper B: 700 710 1900
`);
    expect(wing.lines.some((line) => line.lengthAssumed)).toBe(false);
    expect(1000 * (wing.paths[2]?.specifiedM ?? 0)).toBeCloseTo(480 + 5000 + 1900, 6);
  });

  it("goes on with a row in a further line, on another maillon too", () => {
    const draft = parseDraft(
      `risers: A 480, B 480\nmaillons: A on A, A2 on A bar 4.5, B on B\nA: 2+2\nA on A2: 3\nT on B: 1\ntotals A: 7000 7001\ntotals A: 7002`,
    );
    expect(draft.problems).toEqual([]);
    expect(draft.lines.filter((line) => line.tier === 1).map((line) => [line.name, line.anchor])).toEqual([
      ["AL1", "A"],
      ["AL2", "A2"],
      ["T1", "B"],
    ]);
    expect(draft.tabs.map((tab) => tab.totalMm).slice(0, 4)).toEqual([7000, 7001, 7002, undefined]);
    expect(draft.rig.maillons[1]).toEqual({ id: "A2", riser: "A", barDiameterMm: 4.5 });
  });

  it("joins two rows on one lower line, and the plan allows it", () => {
    const wing = built(`weight: 80-105\nrisers: A 480, B 480, C 480\nA: 2 2\nB: 2 2\nC: 2+D2
totals A: 7420 7415 7410 7400\ntotals B: 7320 7315 7310 7300\ntotals C: 7380 7370\ntotals D: 7480 7470`);
    const below = wing.lines.find((line) => line.key === "left:DM1");
    expect(below?.hangsOn).toEqual({ kind: "line", lineKey: "left:CL1" });
    expect(wing.tabs.filter((tab) => tab.side === "left" && tab.row === "D").map((tab) => tab.id)).toEqual([
      "D1",
      "D2",
    ]);
  });

  it("spreads brake tabs to the outermost rib and several tip tabs along theirs", () => {
    const { tabs } = parseDraft("A: 3x2+2\nT on A: 3\nBR: 2*(2+2)");
    expect(tabs.filter((tab) => tab.row === "brake").map((tab) => tab.rib)).toEqual([
      17, 18, 19, 20, 21, 22, 23, 24,
    ]);
    expect(tabs.filter((tab) => tab.row === "tip").map((tab) => [tab.rib, tab.chordFraction])).toEqual([
      [25, 0.17],
      [25, 0.5],
      [25, 0.83],
    ]);
  });

  it.each(PATTERNS.map((pattern) => pattern.id))("starts from the pattern %s", (id) => {
    const draft = parseDraft(`pattern: ${id}\nrisers: A 480, B 480, C 480, D 480`);
    expect(draft.problems).toEqual([]);
    expect(draftDiagram(draft).length).toBeGreaterThan(2);
    expect(draft.tabs.filter((tab) => tab.row === "A")).toHaveLength(
      Number(/(\d+) tabs/.exec(id)?.[1] ?? 12),
    );
    const own = parseDraft(`pattern: ${id}\nA: 1`);
    expect(own.tabs.filter((tab) => tab.row === "A")).toHaveLength(1);
  });
});

describe("a mistake in a draft", () => {
  const replaced = (from: string, to: string): string => {
    expect(SOUND).toContain(from);
    return SOUND.replace(from, to);
  };
  it.each<[string, string, string, RegExp]>([
    ["an open bracket", replaced("A: 2+2 3", "A: 2+2 (3"), "line 5, character 8", /isn’t closed/],
    [
      "a sign that isn't the notation's",
      replaced("A: 2+2 3", "A: 2+2 ? 3"),
      "line 5, character 8",
      /found "\?"/,
    ],
    ["an empty row", replaced("A: 2+2 3", "A:"), "line 5, character 3", /found no line/],
    ["an unknown statement", `${SOUND}colur A: red`, "line 9, character 1", /Found "colur A"/],
    ["a line without a colon", `${SOUND}hello`, "line 9, character 1", /Found "hello"/],
    [
      "a total too many",
      replaced("7280", "7280 7270"),
      "line 7, character 46",
      /tab 8 of row A: the row has only 7/,
    ],
    ["a total too few", replaced(" 7280", ""), "line 7, character 36", /Row A, tab 7: found no total/],
    ["a total in metres", replaced("7415", "7.415"), "line 7, character 16", /found 7.415/],
    ["a total that is no number", replaced("7415", "74l5"), "line 7, character 16", /found "74l5"/],
    ["a length for a line that isn't there", `${SOUND}third A: 900`, "line 9, character 10", /no third line/],
    [
      "a row without totals",
      replaced("totals B", "# B"),
      "line 6, character 4",
      /Row B, all tabs: found no total/,
    ],
    [
      "a riser without its strap",
      replaced("B 480", "B"),
      "line 4, character 9",
      /length of riser B is missing/,
    ],
    [
      "a maillon that isn't there",
      replaced("B: 2+2", "B on Q: 2+2"),
      "line 6, character 1",
      /hangs on maillon "Q"/,
    ],
    ["a row without its riser", replaced(", B 480", ""), "line 6, character 4", /hangs on maillon "B"/],
    ["a maillon on no riser", `${SOUND}maillons: A on A, B on X`, "line 9, character 19", /riser "X"/],
    [
      "no weight",
      replaced("weight: 80-105", ""),
      "the whole draft (wing.allUpWeightKg)",
      /weight is missing/,
    ],
    ["a weight that is no range", replaced("80-105", "heavy"), "line 2, character 9", /a range such as/],
    [
      "ribs for other tabs than there are",
      `${SOUND}ribs A: 2-12/2`,
      "line 9, character 9",
      /found 6 for 7 tabs/,
    ],
    ["a rib that can't be", `${SOUND}ribs A: 0-12/2`, "line 9, character 9", /found 0/],
    ["a list that can't be read", `${SOUND}ribs A: 2..14`, "line 9, character 9", /found "2..14"/],
    ["a chord beyond the trailing edge", `${SOUND}chord A: 109`, "line 9, character 10", /found 109/],
    [
      "chord places for other tabs",
      `${SOUND}chord A: 9 9`,
      "line 9, character 10",
      /found 2 places for 7 tabs/,
    ],
    ["a material that isn't there", `${SOUND}use A: rope`, "line 9, character 8", /Material "rope"/],
    ["a line that isn't there", `${SOUND}use AL9: rope`, "line 9, character 10", /"AL9": found neither/],
    [
      "a loop on an upper line",
      `${SOUND}loop A1: 13 girth hitch`,
      "line 9, character 10",
      /a loop is set at a maillon/,
    ],
    ["a loop without figure", `${SOUND}loop A: girth`, "line 9, character 9", /take-up in mm/],
    ["a diameter in metres", `${SOUND}diameters: 0.0015`, "line 9, character 12", /diameters from 0.2/],
    [
      "a material without diameter",
      `${SOUND}material aramid: EA 40000`,
      "line 9, character 18",
      /no diameter/,
    ],
    ["a brake line on a row", replaced("A: 2+2 3", "A: 2+BR2 3"), "line 5, character 6", /share no line/],
    [
      "a figure that the canopy hasn't",
      `${SOUND}canopy: flat area 25, colour 3`,
      "line 9, character 23",
      /found "colour 3"/,
    ],
    [
      "a setting of another kind",
      `${SOUND}setting magic a b: A 1`,
      "line 9, character 1",
      /trimmer or speed/,
    ],
    [
      "two lines of one name",
      `${SOUND}line AL1: first\nline AL2: first`,
      "line 10, character 11",
      /called first/,
    ],
    ["a name for a line that isn't there", `${SOUND}line AQ1: first`, "line 9, character 11", /no such line/],
    ["a pattern that isn't there", `${SOUND}pattern: 9 rows`, "line 9, character 10", /known ones are/],
    ["a pulley on no riser", `${SOUND}pulley: X 200`, "line 9, character 9", /riser "X"/],
    [
      "a start of totals that isn't one",
      replaced("from: riser", "from: moon"),
      "line 3, character 7",
      /riser or maillon/,
    ],
    ["a total for a row that isn't there", `${SOUND}totals E: 7000`, "line 9, character 1", /a row \(A, B/],
    ["nothing behind the colon", `${SOUND}diameters:`, "line 9, character 11", /nothing behind the colon/],
    ["totals for a row without tabs", `${SOUND}totals T: 7000`, "line 9, character 11", /no tab/],
  ])("is told with its place: %s", (_name, text, where, message) => {
    const { problems } = planOfDraft(parseDraft(text));
    const found = problems.find((problem) => problem.where === where && message.test(problem.message));
    expect(found, JSON.stringify(problems, null, 1)).toBeDefined();
    expect(found?.severity).toBe("error");
    expect(found?.remedy.length).toBeGreaterThan(5);
  });

  it("in a structured draft is told by its field, and the rest is drawn", () => {
    const source: DraftSource = {
      format: "linewright-draft",
      version: 1,
      rows: [{ row: "A", cascade: "2+2 (3" }],
    };
    const draft = parseDraft(source);
    expect(draft.problems.map((problem) => problem.where)).toContain("rows[0].cascade, character 5");
    expect(draft.tabs).toHaveLength(7);
    const broken = parseDraft(
      JSON.stringify({
        ...source,
        totals: [
          { row: "A", number: 1, mm: "long" },
          { row: "A", number: 2, mm: 7000 },
        ],
      }),
    );
    expect(broken.problems.map((problem) => problem.where)).toContain("totals[0].mm");
    expect(broken.tabs[1]?.totalMm).toBe(7000);
    const twice = [7000, 7001].map((mm) => ({ row: "A" as const, number: 1, mm }));
    const double = parseDraft({ ...source, totals: twice }).problems.find(
      (problem) => problem.where === "totals[1]",
    );
    expect(double?.message).toMatch(/Total of tab A1 is given twice/);
    expect(parseDraft("{ broken").problems).toHaveLength(1);
  });

  it("doesn't stop what can be drawn, at any keystroke of typing a wing", () => {
    let tabs = 0;
    for (let end = 0; end <= SOUND.length; end++) {
      const draft = parseDraft(SOUND.slice(0, end));
      draftDiagram(draft);
      planOfDraft(draft);
      tabs = Math.max(tabs, draft.tabs.length);
    }
    expect(tabs).toBe(14);
  });

  it("never makes it throw, whatever is typed", () => {
    const random = randomFrom(99);
    for (let i = 0; i < 1500; i++) {
      const from = random.whole(0, SOUND.length);
      const noise = Array.from({ length: random.whole(1, 4) }, () =>
        random.pick([...'():+,"x9-/\n ABT{}']),
      ).join("");
      const draft = parseDraft(SOUND.slice(0, from) + noise + SOUND.slice(from + random.whole(0, 3)));
      draftDiagram(draft);
      planOfDraft(draft);
    }
  });
});
