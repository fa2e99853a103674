import { describe, expect, test } from "vitest";
import { SCHOOL_CHECK } from "../../src/demo/checks.ts";
import { DEMO_WORK, DEMOS } from "../../src/demo/index.ts";
import { makeWork } from "../../src/demo/make-work.ts";
import { SCHOOL_LOOPS, SCHOOL_WORK } from "../../src/demo/work.ts";
import { type Parsed, parsePlan } from "../../src/plan/index.ts";
import { type CheckFile, deviations, parseCheck, readingUncertainty } from "../../src/readings/index.ts";
import { bookFromFile, compareChecks, defaultChoices, lineLoops } from "../../src/workshop/index.ts";

const { plan, check } = DEMOS.school;
const sound = <T>(parsed: Parsed<T>): T => {
  expect(parsed.problems).toEqual([]);
  if (!parsed.ok) throw new Error("a file is faulty");
  return parsed.value;
};
const wing = sound(parsePlan(plan));
const work = DEMO_WORK.school as NonNullable<typeof DEMO_WORK.school>;
const stateOf = (file: CheckFile) => {
  const read = sound(parseCheck(file, wing));
  const found = deviations(wing, read);
  return { deviations: found, uncertainties: readingUncertainty(wing, read, found) };
};

describe("the school wing's loops", () => {
  const book = sound(bookFromFile(SCHOOL_LOOPS, wing));
  const lines = lineLoops(wing, book);

  test("are as specified but for the line with one turn too much, by as much as its paths are short", () => {
    expect(lines.filter((line) => line.presentRecorded).map((line) => line.lineKey)).toEqual(["left:BL2"]);
    for (const line of lines)
      expect(line.present === line.specified, line.lineKey).toBe(line.lineKey !== "left:BL2");
    const wrong = lines.find((line) => line.lineKey === "left:BL2");
    expect(wrong?.states[wrong.present]?.takeUpM).toBe(
      (SCHOOL_CHECK.ageing.wrongLoops[0]?.extraTakeUpMm as number) / 1000,
    );
  });

  test("have take-ups from the bench where the plan gives none", () => {
    const sources = new Set(
      lines.flatMap((line) =>
        line.states.slice(1).map((state) => `${line.row} ${state.kind.id} ${state.source}`),
      ),
    );
    for (const each of ["C girth plan", "C turn bench", "D two-turns plan", "D girth bench", "A turn bench"])
      expect(sources).toContain(each);
    expect(sources).toContain("A girth estimate");
  });

  test("leave the front row as it is, and are the usual choices besides", () => {
    const rowOf = new Map(lines.map((line) => [line.lineKey, line.row]));
    const { mayChange, ...rest } = book.choices as NonNullable<typeof book.choices>;
    const { mayChange: _, ...usual } = defaultChoices(wing, lines);
    expect(new Set([...mayChange].map((key) => rowOf.get(key)))).toEqual(new Set(["B", "C", "D", "tip"]));
    expect(rest).toEqual(usual);
  });
});

describe("the school wing after the work", () => {
  const comparison = compareChecks(wing, stateOf(check), stateOf(work.after), work.changes);

  test("was read some days later, after the rear rows' loops and the wrong one were to be taken out", () => {
    expect(work.after.date > check.date).toBe(true);
    expect(work.changes.map(({ lineKey }) => lineKey.replace(/^\w+:/, "")).sort()).toEqual(
      ["BL2", ...["CL1", "CL2", "CL3", "DL1", "DL2", "DL3"].flatMap((id) => [id, id])].sort(),
    );
    for (const { to } of work.changes) expect(to.takeUpM).toBe(0);
  });

  test("shows the one change that wasn't made, and no other", () => {
    const otherwise = comparison.changes.filter((change) => change.outcome === "otherwise");
    expect(otherwise.map((change) => change.lineKey)).toEqual(work.leftIn);
    expect(work.leftIn).toEqual(["right:DL2"]);
    expect(Math.abs(otherwise[0]?.didM as number)).toBeLessThan(0.003);
    expect(comparison.changes.filter((change) => change.outcome === "as promised")).toHaveLength(12);
    expect(comparison.movedTabKeys).toEqual([]);
  });

  test("shows the day's shift of the zero in the paths that nothing was done to", () => {
    expect(comparison.shiftRemoved).toBe(true);
    // Half a millimetre is the step of a robust mean of readings in whole millimetres.
    expect(
      Math.abs((comparison.shiftM as number) - (SCHOOL_WORK.after.dayShiftMm as number) / 1000),
    ).toBeLessThan(0.00051);
  });

  test("has its rear rows near the plan, and its brakes as short as before", () => {
    const row = (name: string) => comparison.rows.find((each) => each.row === name);
    for (const name of ["C", "D"]) {
      expect(row(name)?.beforeM).toBeLessThan(-0.011);
      expect(Math.abs(row(name)?.afterM as number)).toBeLessThan(0.004);
    }
    expect(row("brake")?.afterM).toBeLessThan(-0.06);
  });

  test("differs from the check before by the work alone where nothing scatters", () => {
    const quiet = { noiseMm: 0, dayShiftMm: 0, repeats: [] };
    const done = makeWork(plan, check, SCHOOL_LOOPS, {
      ...SCHOOL_WORK,
      takeUpScatterMm: 0,
      leftIn: [],
      after: { ...SCHOOL_WORK.after, ...quiet },
    });
    const undone = makeWork(plan, check, SCHOOL_LOOPS, {
      ...SCHOOL_WORK,
      leftIn: done.changes.map(({ lineKey }) => ({
        side: lineKey.startsWith("left:") ? "left" : "right",
        line: lineKey.replace(/^\w+:/, ""),
      })),
      after: { ...SCHOOL_WORK.after, ...quiet },
    });
    const [with_, without] = [stateOf(done.after), stateOf(undone.after)];
    for (const [tab, path] of wing.paths.entries()) {
      const after = with_.deviations.paths[tab]?.deviationM;
      if (after === undefined) continue;
      const made = done.changes
        .filter(({ lineKey }) => path.lineKeys.includes(lineKey))
        .reduce((sum, { changeM }) => sum + changeM, 0);
      expect(after - (without.deviations.paths[tab]?.deviationM as number)).toBeCloseTo(made, 9);
    }
  });

  test("can't have a loop left in that wasn't to be changed", () => {
    const spec = { ...SCHOOL_WORK, leftIn: [{ side: "left", line: "AL1" }] } as const;
    expect(() => makeWork(plan, check, SCHOOL_LOOPS, spec)).toThrow(/left:AL1/);
  });
});
