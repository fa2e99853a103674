import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { draftOfPlan, draftText, parseDraft, planOfDraft } from "../../../src/plan/draft/index.ts";
import { parsePlan, type Wing } from "../../../src/plan/index.ts";
import { wingOf } from "../factory.ts";
import { randomFrom, randomPlan } from "../random.ts";

/** The wing that a draft of a wing makes again, by way of text or of the structured draft. */
function again(wing: Wing, by: "text" | "value"): Wing {
  const { source } = draftOfPlan(wing);
  const draft = parseDraft(by === "text" ? draftText(source) : source);
  expect(draft.problems).toEqual([]);
  const made = planOfDraft(draft);
  const parsed = parsePlan(made.plan);
  if (!parsed.ok || made.plan === undefined) throw new Error(made.problems[0]?.message);
  return parsed.value;
}

const lefts = (wing: Wing): Wing["lines"] => wing.lines.filter((line) => line.side === "left");

describe("the draft of a plan", () => {
  it.each(["school", "second"] as const)("makes the demo's %s wing again, to the last figure", (name) => {
    const wing = wingOf(DEMOS[name].plan);
    expect(draftOfPlan(wing).lost).toEqual([]);
    expect(again(wing, "text")).toEqual(wing);
    expect(again(wing, "value")).toEqual(wing);
  });

  it("makes random plans again, whatever their cascades, names, materials, loops and colours", () => {
    const random = randomFrom(4711);
    let mirrored = 0;
    for (let i = 0; i < 120; i++) {
      const plan = randomPlan(random);
      const wing = wingOf(plan);
      const { lost } = draftOfPlan(wing);
      for (const by of ["text", "value"] as const) {
        const made = again(wing, by);
        if ("mirrored" in plan.sides) {
          expect(lost).toEqual([]);
          expect(made).toEqual(wing);
          mirrored++;
        } else {
          expect(lost.length).toBeGreaterThan(0);
          const plain = (lines: Wing["lines"]) => lines.map(({ mirrorKey: _, ...line }) => line);
          expect(plain(lefts(made))).toEqual(plain(lefts(wing)));
        }
      }
    }
    expect(mirrored).toBeGreaterThan(40);
  });

  it("says what it can't tell of unequal sides", () => {
    const half = DEMOS.second.plan.sides;
    if (!("mirrored" in half)) throw new Error("the demo's half is given once");
    const right = {
      ...half.mirrored,
      lines: half.mirrored.lines.map((line) =>
        line.id === "A1" ? { ...line, lengthMm: line.lengthMm + 3 } : line,
      ),
    };
    const wing = wingOf({ ...DEMOS.second.plan, sides: { left: half.mirrored, right } });
    const { lost } = draftOfPlan(wing);
    expect(lost.map((problem) => problem.message).join("\n")).toMatch(
      /the left one was taken[\s\S]*Line A1 differs/,
    );
    const other = draftOfPlan(wing, "right").source.lengths ?? [];
    const own = draftOfPlan(wing).source.lengths ?? [];
    expect(
      (other.find((each) => each.kind === "upper")?.mm ?? 0) -
        (own.find((each) => each.kind === "upper")?.mm ?? 0),
    ).toBe(3);
  });

  it("says so of a line that ends at several tabs", () => {
    const half = DEMOS.second.plan.sides;
    if (!("mirrored" in half)) throw new Error("the demo's half is given once");
    const tabs = [...half.mirrored.tabs, { id: "A99", row: "A" as const, rib: 21, line: "A10" }];
    const { lost } = draftOfPlan(
      wingOf({ ...DEMOS.second.plan, sides: { mirrored: { ...half.mirrored, tabs } } }),
    );
    expect(lost.map((problem) => problem.subject)).toEqual(["A10"]);
    expect(lost[0]?.message).toMatch(/ends at several tabs: A10 and A99/);
  });
});

describe("a wing of 200 lines", () => {
  /** Four rows of 13, a tip line of 5 and brakes of 16, 104 lines a side, with all totals. */
  const wing = wingOf(DEMOS.school.plan);
  const { source } = draftOfPlan(wing);
  const typed = draftText({
    format: source.format,
    version: 1,
    wing: { allUpWeightKg: wing.allUpWeightKg },
    risers: source.risers ?? [],
    rows: source.rows,
    ...(source.totals === undefined ? {} : { totals: source.totals }),
  });

  it("is typed in fewer than 700 characters, of which the cascades take fewer than 100", () => {
    const { plan } = planOfDraft(parseDraft(typed));
    const made = wingOf(plan as never);
    expect(made.lines.length).toBeGreaterThan(200);
    expect(made.lines).toHaveLength(wing.lines.length);
    const cascades = source.rows.map((row) => row.cascade).join("\n");
    expect(cascades.length).toBeLessThan(100);
    expect(typed.length).toBeLessThan(700);
    wing.paths.forEach((path) => {
      const of = made.paths.find((each) => each.tabKey === path.tabKey);
      expect(1000 * (of?.specifiedM ?? 0)).toBeCloseTo(1000 * path.specifiedM, 3);
    });
    console.info(
      `typed: ${typed.length} characters for ${made.lines.length} lines, cascades ${cascades.length}`,
    );
  });
});
