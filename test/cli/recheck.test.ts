import { describe, expect, it } from "vitest";
import { DEMO_WORK, DEMOS } from "../../src/demo/index.ts";
import { run } from "./io.ts";
import { checkFile, readings, smallPlan, smallWing } from "./wing.ts";

interface Kept {
  promisedMm: number;
  didMm: number | null;
  standardUncertaintyMm: number | null;
  outcome: "as promised" | "otherwise" | "not read";
}
interface Answer {
  format: string;
  ok: boolean;
  shift: { valueMm: number | null; removed: boolean };
  changes: (Kept & { line: string; tabs: string[] })[];
  rows: { row: string; beforeMm: number; plannedMm: number; afterMm: number }[];
  moved: string[];
  paths: (Kept & { tab: string })[];
  caution: string;
}

const lowerOf = new Map(smallWing.paths.map((path) => [path.tabKey, path.lineKeys[0] as string]));
const below = (tab: { id: string; side: string }): string => lowerOf.get(`${tab.side}:${tab.id}`) as string;
const before = checkFile(readings(({ row }) => (row === "C" ? -13 : 0)));
/** Both lower lines of row C on the left 13 mm longer, those on the right not; the instrument 2 mm off that day. */
const after = checkFile(
  readings((tab) => 2 + (tab.row === "C" ? (below(tab).startsWith("left:") ? 0 : -13) : 0)),
);
const files = { "plan.json": JSON.stringify(smallPlan), before, after };
const command = ["recheck", "plan.json", "before", "after"];
const rechecked = (...options: string[]) => run([...command, ...options], files);
async function asJson(...options: string[]): Promise<Answer> {
  const { code, out } = await rechecked("--json", ...options);
  expect(code).toBe(0);
  return JSON.parse(out) as Answer;
}

describe("linewright recheck", () => {
  it("tells the changes that did what they promised from those that didn't", async () => {
    const answer = await asJson("--done", "row:C=+13");
    expect(answer).toMatchObject({ format: "linewright-recheck", ok: true, moved: [] });
    for (const { line, outcome, didMm, promisedMm } of answer.changes) {
      expect(promisedMm).toBe(13);
      expect([line, outcome]).toEqual([line, line.startsWith("left:") ? "as promised" : "otherwise"]);
      expect(didMm).toBeCloseTo(line.startsWith("left:") ? 13 : 0, 2);
    }
    expect(answer.changes).toHaveLength(4);
    expect(answer.shift.valueMm).toBeCloseTo(2, 2);
    expect(answer.shift.removed).toBe(true);
    const rear = answer.rows.find(({ row }) => row === "C");
    expect(rear).toMatchObject({ beforeMm: -13, plannedMm: 0 });
    expect(answer.caution).toMatch(/not a clearance to fly/);
  });

  it("names paths that moved though nothing was done to them", async () => {
    const answer = await asJson("--done", "C1=0");
    const left = smallWing.paths
      .filter(({ row, side }) => row === "C" && side === "left")
      .map(({ tabKey }) => tabKey);
    const untouched = left.filter((key) => !lowerOf.get(key)?.endsWith(":C1"));
    for (const key of untouched) expect(answer.moved).toContain(key);
    for (const key of answer.moved) expect(left).toContain(key);
  });

  it("takes a loop's name for what was done, and one side's figure before both sides'", async () => {
    const book = JSON.stringify({
      format: "linewright-loops",
      version: 1,
      present: [{ line: "C1", side: "left", loop: "girth hitch", takeUpMm: 12.5 }],
    });
    const argv = [
      "--json",
      "--book",
      "book",
      "--done",
      "C2=+13",
      "--done",
      "right:C2=0",
      "--done",
      "left:C1=plain",
    ];
    const { out } = await run([...command, ...argv], { ...files, book });
    const promised = (JSON.parse(out) as Answer).changes.map(({ line, promisedMm }) => [line, promisedMm]);
    expect(promised).toEqual([
      ["left:C2", 13],
      ["right:C2", 0],
      ["left:C1", 12.5],
    ]);
  });

  it("follows a loop plan of this program's own, and finds the one loop that was left in", async () => {
    const { plan, check, loops } = DEMOS.school;
    const school = {
      "plan.json": JSON.stringify(plan),
      before: JSON.stringify(check),
      after: JSON.stringify(DEMO_WORK.school?.after),
      book: JSON.stringify(loops),
    };
    const planned = await run(["loops", "plan.json", "before", "--book", "book", "--json"], school);
    const all = { ...school, changes: planned.out };
    const json = await run([...command, "--changes", "changes", "--json"], all);
    const answer = JSON.parse(json.out) as Answer;
    expect(answer.changes).toHaveLength(13);
    expect(answer.changes.filter(({ outcome }) => outcome !== "as promised").map(({ line }) => line)).toEqual(
      ["right:DL2"],
    );
    const { code, out, err } = await run([...command, "--changes", "changes"], all);
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^right:DL2 +\+20\.0 .* OTHERWISE$/m);
    expect(out).toMatch(/No path moved that nothing was done to/);
    expect(out).toMatch(/clearance to fly/);
    const mended = await run([...command, "--changes", "changes", "--done", "right:DL2=0", "--json"], all);
    expect((JSON.parse(mended.out) as Answer).changes.every(({ outcome }) => outcome === "as promised")).toBe(
      true,
    );
    const stray = await run(["recheck", "plan.json", "before", "after", "--changes", "changes"], {
      ...files,
      changes: planned.out,
    });
    expect(stray.code).toBe(1);
    expect(stray.err).toMatch(/best\.changes\[0\]\.line[\s\S]*these\s+are\s+changes\s+of\s+"Tidewrack 28"/);
  });

  it("warns of two checks in the wrong order, and of a loop plan of another wing", async () => {
    const early = after.replace("2026-03-14", "2026-03-13");
    const changes = JSON.stringify({
      format: "linewright-loop-plan",
      version: 1,
      wing: "Another",
      best: { changes: [{ line: "left:C1", changeMm: 13, standardUncertaintyMm: 0.5 }] },
    });
    const { code, err } = await run([...command, "--changes", "changes"], {
      ...files,
      after: early,
      changes,
    });
    expect(code).toBe(0);
    expect(err).toMatch(/earlier date than the one before/);
    expect(err).toMatch(/changes of "Another"/);
    expect((await rechecked("--done", "C1=+13")).err).toBe("");
  });

  it("says nothing of a change whose paths weren't read on both days", async () => {
    const some = checkFile(readings(() => 0).filter((tab) => below(tab) !== "left:C1"));
    const { out } = await run([...command, "--done", "left:C1=13"], { ...files, after: some });
    expect(out).toMatch(/^left:C1 +\+13\.0 +- +- +0 +not read$/m);
    expect(out).toMatch(/Not read on both days: left:C1/);
  });

  it.each([
    ["plan", { "plan.json": "{}" }],
    ["readings before", { before: "{}" }],
    ["readings after", { after: "{}" }],
    ["changes", { changes: '{"format": "linewright-comparison"}' }],
    ["readings after", { after: checkFile([]), before: checkFile(readings(() => 0)) }],
  ])("refuses %s that can't be used", async (input, other) => {
    const changes = JSON.stringify({
      format: "linewright-loop-plan",
      version: 1,
      wing: "",
      best: { changes: [] },
    });
    const argv = [...command, "--changes", "changes", "--json"];
    const { code, out } = await run(argv, { ...files, changes, ...other });
    expect(code).toBe(1);
    expect(JSON.parse(out)).toMatchObject({ ok: false, input });
  });

  it.each([
    [[], /say what was done/],
    [["--done", "C1"], /isn’t of the form LINE=MM or LINE=LOOP/],
    [["--done", "Z9=3"], /--done: the plan has no line "Z9"/],
    [
      ["--done", "C1=bowline"],
      /"bowline" is no loop whose take-up is known for left:C1; there are plain eye/,
    ],
    [["--done", "C1.1=plain"], /has no loop; give the change of its length in mm/],
    [["--done", "C1=+x"], /is not a number of mm/],
  ])("calls %j wrong usage", async (options, message) => {
    const { code, out, err } = await rechecked(...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});
