import { describe, expect, it } from "vitest";
import { run } from "./io.ts";
import { checkFile, readings, smallPlan, table } from "./wing.ts";

interface SideFigures {
  specifiedMm: number;
  measuredMm: number | null;
  deviationMm: number | null;
  repeats: number;
}

interface Comparison {
  ok: boolean;
  check: { date: string; tensionN: number; from: string; instrumentZeroMm: number };
  tabs: { tab: string; row: string; left: SideFigures; right: SideFigures; leftLessRightMm: number | null }[];
  lines: { line: string; deviationMm: number }[];
  rows: {
    row: string;
    measured: number;
    tabs: number;
    meanMm: number;
    leftMm: number;
    outOfTolerance: number;
  }[];
  incidenceChangeDeg: { mean: number; left: number; right: number };
  findings: { severity: string; headline: string }[];
  problems: { severity: string; message: string }[];
  caution: string;
}

const plan = JSON.stringify(smallPlan);
const exact = readings(() => 0);
/** Rear row 15 mm short on both sides, and one front tab on the left 8 mm shorter than its twin. */
const rearShort = readings(({ id, side, row }) =>
  row === "C" ? -15 : id === "A1" && side === "left" ? -8 : 0,
);

type Compared = Comparison & { code: number; err: string };
const done = new Map<string, Promise<Compared>>();

/** The comparison as JSON; the same one isn't made twice. */
function compared(file: string, ...options: string[]): Promise<Compared> {
  const make = async (): Promise<Compared> => {
    const { code, out, err } = await run(["compare", "plan.json", "file", "--json", ...options], {
      "plan.json": plan,
      file,
    });
    return { ...(JSON.parse(out) as Comparison), code, err };
  };
  const key = JSON.stringify([file, options]);
  const found = done.get(key) ?? make();
  done.set(key, found);
  return found;
}

const tab = (comparison: Comparison, id: string): Comparison["tabs"][number] =>
  comparison.tabs.find((each) => each.tab === id) as Comparison["tabs"][number];

// Each builds a model or starts a program: slow where the machine is busy.
describe("linewright compare", { timeout: 60_000 }, () => {
  it("finds no deviation where every path reads as specified", async () => {
    const comparison = await compared(checkFile(exact));
    expect(comparison.code).toBe(0);
    expect(comparison.tabs.length).toBe(exact.length / 2);
    for (const { left, right, leftLessRightMm } of comparison.tabs) {
      expect(left.deviationMm).toBeCloseTo(0, 3);
      expect(right.deviationMm).toBeCloseTo(0, 3);
      expect(leftLessRightMm).toBeCloseTo(0, 3);
    }
    expect(comparison.rows.every((row) => row.outOfTolerance === 0 && row.measured === row.tabs)).toBe(true);
    expect(comparison.incidenceChangeDeg.mean).toBeCloseTo(0, 3);
    expect(comparison.caution).toMatch(/not a clearance to fly/);
  });

  it("tells short rear lines by tab, side and row, and that they raise the incidence", async () => {
    const comparison = await compared(checkFile(rearShort));
    expect(tab(comparison, "C1").left.deviationMm).toBeCloseTo(-15, 3);
    expect(tab(comparison, "A1").left.deviationMm).toBeCloseTo(-8, 3);
    expect(tab(comparison, "A1").leftLessRightMm).toBeCloseTo(-8, 3);
    const rear = comparison.rows.find((row) => row.row === "C");
    expect(rear?.meanMm).toBeCloseTo(-15, 3);
    expect(rear?.outOfTolerance).toBe(rear?.tabs);
    expect(comparison.incidenceChangeDeg.mean).toBeGreaterThan(0.2);
    expect(comparison.findings.length).toBeGreaterThan(0);
    expect(comparison.findings[0]?.severity).not.toBe("fine");
  });

  it("says the same of a table as of a check file", async () => {
    const fromTable = await compared(
      table(rearShort),
      "--date",
      "2026-03-14",
      "--tension",
      "50",
      "--from",
      "riser",
    );
    const fromFile = await compared(checkFile(rearShort));
    expect(fromTable.check).toEqual(fromFile.check);
    for (const { tab: id, left } of fromFile.tabs) {
      expect(tab(fromTable, id).left.deviationMm).toBeCloseTo(left.deviationMm as number, 0);
    }
    expect(fromTable.rows.map((row) => row.outOfTolerance)).toEqual(
      fromFile.rows.map((row) => row.outOfTolerance),
    );
  });

  it("says what it took for a table that doesn't state it", async () => {
    const comparison = await compared(table(exact));
    expect(comparison.check).toMatchObject({
      date: "2026-05-01",
      tensionN: 50,
      from: "riser",
      instrumentZeroMm: 0,
    });
    expect(comparison.err).toMatch(
      /taken as of 2026-05-01, under 50 N, from the riser, instrument zero 0 mm/,
    );
  });

  it("lets the options go before what the file states", async () => {
    const stated = `# tension: 40 N\n${table(exact)}`;
    expect((await compared(stated)).check.tensionN).toBe(40);
    expect((await compared(stated, "--tension", "50")).check.tensionN).toBe(50);
    expect((await compared(checkFile(exact), "--tension", "45", "--date", "2026-04-01")).check).toMatchObject(
      {
        tensionN: 45,
        date: "2026-04-01",
      },
    );
  });

  it("subtracts the instrument's zero, and adds the stretch that a slacker reading lacks", async () => {
    const shifted = await compared(checkFile(exact), "--zero", "-5");
    expect(tab(shifted, "B2").right.deviationMm).toBeCloseTo(5, 3);
    const slacker = tab(await compared(checkFile(exact), "--tension", "20"), "A1").left.deviationMm as number;
    // Σ L0/EA of a path of 4.6 m at 40 kN, 1.9 m at 25 kN and 0.6 to 0.8 m at 14 kN, times 30 N: some 7 mm.
    expect(slacker).toBeGreaterThan(5);
    expect(slacker).toBeLessThan(10);
  });

  it("leaves out what wasn't read, and averages what was read twice", async () => {
    const some = exact.filter(({ id, side }) => !(id === "B1" && side === "left"));
    const twice = some.find(({ id, side }) => id === "A2" && side === "right");
    if (twice === undefined) throw new Error("the plan has a tab A2");
    const comparison = await compared(checkFile([...some, { ...twice, mm: twice.mm + 4 }]));
    expect(tab(comparison, "B1")).toMatchObject({
      left: { measuredMm: null, deviationMm: null },
      leftLessRightMm: null,
    });
    expect(tab(comparison, "A2").right).toMatchObject({ repeats: 2 });
    expect(tab(comparison, "A2").right.deviationMm).toBeCloseTo(2, 3);
  });

  it("prints tables for people that end with the caution, and no colour codes", async () => {
    const { code, out, err } = await run(
      ["compare", "plan.json", "-"],
      { "plan.json": plan },
      checkFile(rearShort),
    );
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Morning Bench 26, check of 2026-03-14: 50 N from the riser/);
    expect(out).toMatch(/^A1 .* −8 .* 0 +−8$/m);
    expect(out).toMatch(/^C +\d+ of \d+ +−15\.0 +−15\.0 +−15\.0/m);
    expect(out).toMatch(/row against row 10 mm/);
    expect(out.trimEnd().split("\n\n").at(-1)?.replace(/\s+/g, " ")).toMatch(
      /^Approximate model\. .*not a clearance to fly.*inflate on the ground first.*\.$/,
    );
    expect(out).not.toContain("\u001b");
  });

  it("warns of a reading it can't use, and compares the rest", async () => {
    const comparison = await compared(checkFile([...exact, { id: "Z9", side: "left", row: "A", mm: 7000 }]));
    expect(comparison.code).toBe(0);
    expect(comparison.problems.some((problem) => problem.severity === "warning")).toBe(true);
    expect(tab(comparison, "A1").left.deviationMm).toBeCloseTo(0, 3);
  });

  it.each([
    ["readings", { "plan.json": plan, file: '{"format": "linewright-check", "version": 1}' }],
    ["plan", { "plan.json": "{}", file: checkFile(exact) }],
  ])("refuses %s with errors, as text and as JSON", async (input, files) => {
    const text = await run(["compare", "plan.json", "file"], files);
    expect([text.code, text.out]).toEqual([1, ""]);
    expect(text.err).toMatch(/^Errors/);
    const json = await run(["compare", "plan.json", "file", "--json"], files);
    expect(json.code).toBe(1);
    expect(JSON.parse(json.out)).toMatchObject({ ok: false, input });
  });

  it.each([
    [["--date", "14.3.2026"], /--date: "14.3.2026" is not a day written YYYY-MM-DD/],
    [["--date", "2026-02-31"], /--date/],
    [["--tension", "0"], /--tension must be above 0 N/],
    [["--tension", "hard"], /--tension: "hard" is not a number of N/],
    [["--from", "pulley"], /--from: "pulley" is neither riser nor maillon/],
  ])("refuses %j", async (options, message) => {
    const { code, err } = await run(["compare", "plan.json", "file", ...options], {
      "plan.json": plan,
      file: checkFile(exact),
    });
    expect(code).toBe(2);
    expect(err).toMatch(message);
  });
});
