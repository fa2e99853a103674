import { describe, expect, it } from "vitest";
import { SCHOOL_CHECK } from "../../src/demo/checks.ts";
import { DEMOS } from "../../src/demo/index.ts";
import { type Run, run } from "./io.ts";

interface State {
  kind: string;
  takeUpMm: number;
  standardUncertaintyMm: number;
  source: string;
}
interface Plan {
  changes: { line: string; from: State; to: State; changeMm: number; standardUncertaintyMm: number }[];
  sharedMm: number;
  rmsMm: number;
  worstMm: number;
  beyond: number;
  reached: number;
}
interface Answer {
  format: string;
  ok: boolean;
  choices: Record<string, unknown>;
  loops: {
    line: string;
    row: string;
    recorded: boolean;
    present: State;
    specified: State;
    states: State[];
  }[];
  best: Plan;
  frontier: Plan[];
  runnersUp: Plan[];
  blocked: { line: string; reason: string }[];
  paths: {
    tab: string;
    presentMm: number;
    changeMm: number;
    leftMm: number;
    standardUncertaintyMm: number;
  }[];
  unreachable: { tab: string; leftMm: number; reason: string; sentence: string }[];
  reserve: { row: string; leastMm: number }[];
  cautions: string[];
}

const { plan, check, loops } = DEMOS.school;
const files = {
  "plan.json": JSON.stringify(plan),
  "check.json": JSON.stringify(check),
  "loops.json": JSON.stringify(loops),
};
const planned = (...options: string[]): Promise<Run> =>
  run(["loops", "plan.json", "check.json", "--book", "loops.json", ...options], files);
async function asJson(...options: string[]): Promise<Answer> {
  const { code, out } = await planned("--json", ...options);
  expect(code).toBe(0);
  return JSON.parse(out) as Answer;
}
const lines = (answer: Answer): string[] => answer.best.changes.map(({ line }) => line);

describe("linewright loops", () => {
  it("takes out the loops of the rows that have shrunk, and the wrong one", async () => {
    const answer = await asJson();
    expect(answer).toMatchObject({ format: "linewright-loop-plan", ok: true });
    const [wrong] = SCHOOL_CHECK.ageing.wrongLoops;
    expect(lines(answer)).toContain(`${wrong?.side}:${wrong?.line}`);
    for (const { line, from, to, changeMm } of answer.best.changes) {
      expect(line).toMatch(/^(left:BL2|(left|right):[CD]L\d)$/);
      expect(changeMm).toBeCloseTo(from.takeUpMm - to.takeUpMm, 6);
      expect(changeMm).toBeGreaterThan(0);
    }
    expect(answer.best.beyond).toBe(0);
    expect(answer.frontier[0]?.changes).toEqual([]);
    expect(answer.frontier[0]?.beyond).toBeGreaterThan(0);
    expect(answer.best.rmsMm).toBeLessThan((answer.frontier[0]?.rmsMm as number) / 2);
    expect(answer.cautions.join(" ")).toMatch(/Loops only within what the maker allows/);
  });

  it("tells each line's present loop with where its take-up is from", async () => {
    const answer = await asJson();
    const of = (key: string) => answer.loops.find(({ line }) => line === key);
    expect(of("left:BL2")).toMatchObject({
      recorded: true,
      present: { kind: "turn", takeUpMm: 10, source: "bench" },
      specified: { kind: "plain" },
    });
    expect(of("left:CL1")).toMatchObject({ recorded: false, present: { takeUpMm: 13, source: "plan" } });
    const bare = JSON.parse((await run(["loops", "plan.json", "check.json", "--json"], files)).out) as Answer;
    expect(bare.loops.every(({ recorded }) => !recorded)).toBe(true);
    const turn = bare.loops
      .find(({ line }) => line === "left:AL1")
      ?.states.find(({ kind }) => kind === "turn");
    expect(turn?.source).toBe("estimate");
  });

  it("predicts a path by the change below it, counted from the shared part", async () => {
    const answer = await asJson();
    const changes = new Map(answer.best.changes.map(({ line, changeMm }) => [line, changeMm]));
    const path = answer.paths.find(({ tab }) => tab === "left:B6");
    expect(path?.changeMm).toBe(changes.get("left:BL2"));
    expect(path?.leftMm).toBeCloseTo(
      (path?.presentMm ?? 0) + (path?.changeMm ?? 0) - answer.best.sharedMm,
      2,
    );
    for (const { tab, reason } of answer.unreachable)
      expect([tab, reason]).toEqual([expect.stringContaining("BR"), "brake"]);
    expect(answer.unreachable).toHaveLength(30);
  });

  it("lets the command line's choices go before the book's", async () => {
    expect(lines(await asJson("--rows", "c")).every((line) => /:CL/.test(line))).toBe(true);
    expect(lines(await asJson("--keep", "left:BL2", "--symmetry", "free"))).not.toContain("left:BL2");
    expect((await asJson("--most-changes", "4")).best.changes.length).toBeLessThanOrEqual(4);
    const reserved = await asJson("--reserve", "5");
    for (const { to } of reserved.best.changes) expect(to.takeUpMm).toBeGreaterThanOrEqual(5);
    const kinds = new Set((await asJson("--kinds", "one extra turn")).best.changes.map(({ to }) => to.kind));
    expect([...kinds]).toEqual(["turn"]);
    const limited = await asJson("--most-take-up", "15", "--rows", "A,B", "--symmetry", "free");
    for (const { to } of limited.best.changes) expect(to.takeUpMm).toBeLessThanOrEqual(15);
    expect((await asJson("--shared", "count")).best.sharedMm).toBe(0);
    expect((await asJson("--worth", "50")).best.changes).toEqual([]);
    expect((await asJson("--aim", "tolerance", "--rows-together", "yes")).choices).toMatchObject({
      aim: "tolerance",
      rowsTogether: true,
    });
  });

  it("keeps whole rows together where that is asked for", async () => {
    const together = lines(await asJson("--rows-together", "yes", "--rows", "C,D"));
    for (const row of ["C", "D"])
      expect([0, 6]).toContain(together.filter((key) => key.includes(`:${row}`)).length);
    expect(together.length).toBeGreaterThan(0);
  });

  it("prints for people what to do, what it leaves, what loops can't reach, and the cautions", async () => {
    const { code, out, err } = await planned();
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^B +one extra turn +10\.0 +0\.5 +bench +recorded +left:BL2$/m);
    expect(out).toMatch(/^DL2 +right +two extra turns +plain eye +\+20\.0/m);
    expect(out).toMatch(/^0 .*as it is$/m);
    expect(out).toMatch(/^13 .*100 % +best$/m);
    expect(out).toMatch(/^B6 +−11\.0 +\+10\.0/m);
    expect(out).toMatch(/a brake\s+line is no loop’s matter/);
    expect(out).toMatch(/may not change, by\s+your choice/);
    expect(out).toMatch(/clearance to fly/);
    expect(out).not.toContain("\u001b");
  });

  it("warns of an entry of the book that it can't place, and plans without it", async () => {
    const strange = { ...loops, present: [{ line: "ZZ9", side: "left", loop: "girth hitch" }] };
    const { code, out, err } = await run(["loops", "plan.json", "check.json", "--book", "book"], {
      ...files,
      book: JSON.stringify(strange),
    });
    expect(code).toBe(0);
    expect(err).toContain("present[0].line");
    expect(out).toContain("Best changes");
  });

  it.each([
    ["plan", { "plan.json": "{}" }],
    [
      "readings",
      {
        "check.json": JSON.stringify({
          ...check,
          readings: check.readings.filter((reading) => "line" in reading),
        }),
      },
    ],
    ["book", { "loops.json": '{"format": "linewright-loops", "version": 9}' }],
  ])("refuses a %s that is of no use", async (input, other) => {
    const argv = ["loops", "plan.json", "check.json", "--book", "loops.json"];
    expect(await run(argv, { ...files, ...other })).toMatchObject({ code: 1, out: "" });
    const json = await run([...argv, "--json"], { ...files, ...other });
    expect(json.code).toBe(1);
    expect(JSON.parse(json.out)).toMatchObject({ ok: false, input });
  });

  it.each([
    [["--rows", "A,X"], /--rows: "X" has no lines with loops; A, B, C, D, tip have/],
    [["--rows", "brake"], /--rows: "brake" has no lines with loops/],
    [["--kinds", "bowline"], /--kinds: "bowline" is no loop whose take-up is known; there are plain, turn/],
    [["--keep", "Z9"], /--keep: the plan has no line "Z9"/],
    [["--symmetry", "alike"], /--symmetry: "alike" is none of same, prefer, free/],
    [["--aim", "best"], /--aim: "best" is none of mean, tolerance/],
    [["--shared", "maybe"], /--shared/],
    [["--rows-together", "often"], /--rows-together: "often" is none of yes, no/],
    [["--reserve", "-1"], /--reserve must be 0 mm or more/],
    [["--most-changes", "2.5"], /--most-changes must be a whole number/],
    [["--worth", "much"], /--worth: "much" is not a number of mm/],
  ])("calls %j wrong usage", async (options, message) => {
    const { code, out, err } = await planned(...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});
