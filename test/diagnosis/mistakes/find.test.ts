import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { applyCorrection, findMistakes } from "../../../src/diagnosis/mistakes/index.ts";
import { deviationsAt, layOut } from "../../../src/diagnosis/mistakes/layout.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import { deviations, parseCheck } from "../../../src/readings/index.ts";
import type { Check } from "../../../src/readings/model.ts";
import { CASES, firstValue, madeCheck, withValues } from "./made-checks.ts";
import { sameReadings } from "./rates.ts";

const [school, light] = CASES;
if (!school || !light) throw new Error("No wings.");

function put(check: Check, of: Readonly<Record<string, number>>): Check {
  return withValues(check, ({ target, valuesM }) => {
    const mm = of[`${target.side} ${target.id}`];
    return mm === undefined ? valuesM : [mm / 1000];
  });
}

/** A check of the four-row wing without missing or repeated readings near what is tried. */
const made = madeCheck(9, [], school);
const mm = (id: string, side: "left" | "right" = "left"): number =>
  Math.round((firstValue(made.check, id, side) as number) * 1000);

describe("suspicions about a check", () => {
  it("aren't raised against the two demo checks, rear rows short, wrong loop, used-up brakes and all", () => {
    for (const { plan, check } of [DEMOS.school, DEMOS.second]) {
      const wing = parsePlan(plan);
      if (!wing.ok) throw new Error("faulty plan");
      const parsed = parseCheck(check, wing.value);
      if (!parsed.ok) throw new Error("faulty check");
      expect(findMistakes(wing.value, parsed.value)).toEqual([]);
    }
  });

  it("say what was read, what it would have been, and leave the check as it was", () => {
    const slipped = put(made.check, { "left B7": mm("B7") + 100 });
    const before = structuredClone(slipped);
    const [first, ...rest] = findMistakes(school.wing, slipped);
    expect(slipped).toEqual(before);
    expect(rest).toEqual([]);
    expect(first?.kind).toBe("digit slip");
    expect(first?.concerns[0]?.insteadM).toBeCloseTo(mm("B7") / 1000, 9);
    expect(Math.abs((first?.concerns[0]?.expectedM as number) - mm("B7") / 1000)).toBeLessThan(0.008);
    expect(first?.log10Odds).toBeGreaterThan(0.5);
    expect(first?.sentence).toContain(`B7 on the left was entered as ${mm("B7") + 100} mm`);
    expect(first?.sentence).toContain("Read it again");
    expect(sameReadings(applyCorrection(slipped, first as NonNullable<typeof first>), made.check)).toBe(true);
  });

  it("find several mistakes in one check, each reading in one offer, and nothing once all are put right", () => {
    let check = put(made.check, {
      "left A5": mm("A6"),
      "left A6": mm("A5"),
      "right D3": mm("D3", "right") - 300,
      "right C9": 7,
    });
    check = withValues(check, ({ target, valuesM }) =>
      target.id === "C9" && target.side === "right" ? [0.704] : valuesM,
    );
    const all = findMistakes(school.wing, check);
    expect(new Set(all.map((one) => one.kind))).toEqual(
      new Set(["neighbours swapped", "digit slip", "keystroke"]),
    );
    const concerned = all.flatMap((one) => one.concerns.map(({ target }) => `${target.side} ${target.id}`));
    expect(new Set(concerned).size).toBe(concerned.length);
    expect(all.map((one) => one.log10Odds)).toEqual(
      [...all.map((one) => one.log10Odds)].sort((a, b) => b - a),
    );
    for (let round = 0; round < 3; round++) {
      const [next] = findMistakes(school.wing, check);
      if (next?.correction) check = applyCorrection(check, next);
    }
    expect(findMistakes(school.wing, check)).toEqual([]);
  });

  it("list the other tales about the same reading below the best, none of them more likely", () => {
    // The B row hangs about 100 mm below the A row: the next row's tab and a slip of a hundred look alike.
    const check = put(made.check, { "left B1": mm("A1") });
    const [best] = findMistakes(school.wing, check);
    expect(best?.offer).toBe("read again");
    expect([best?.kind, ...(best?.alternatives ?? []).map((one) => one.kind)]).toEqual(
      expect.arrayContaining(["digit slip", "wrong tab"]),
    );
    for (const other of best?.alternatives ?? [])
      expect(other.probability).toBeLessThanOrEqual((best?.probability as number) + 1e-9);
  });

  it("name repeats that can't all be right", () => {
    const check = withValues(made.check, ({ target, valuesM }) =>
      target.id === "A8" && target.side === "left"
        ? [valuesM[0] as number, (valuesM[0] as number) + 0.047]
        : valuesM,
    );
    const [first] = findMistakes(school.wing, check);
    expect(first?.concerns.every(({ target }) => target.id === "A8")).toBe(true);
    // Two that agree outvote no row, but they are no slip either: the line really is so.
    const agreeing = withValues(made.check, ({ target, valuesM }) =>
      target.id === "A8" && target.side === "left"
        ? [1, 2].map((n) => (valuesM[0] as number) - 0.03 + n / 1000)
        : valuesM,
    );
    expect(findMistakes(school.wing, agreeing)).toEqual([]);
  });

  it("say so where a reading is beyond any line and no known slip explains it", () => {
    const check = put(made.check, { "left A8": mm("A8") - 1873 });
    const [first] = findMistakes(school.wing, check);
    expect(first).toMatchObject({ kind: "unexplained", offer: "read again" });
  });

  it("find a slip in a line that was read on its own", () => {
    const line = school.wing.lines.find((one) => one.tier === 1 && one.row === "B");
    if (!line) throw new Error("no line");
    const target = { kind: "line" as const, id: line.id, side: line.side };
    const check = {
      ...made.check,
      readings: [...made.check.readings, { target, valuesM: [line.lengthM + 0.2], note: undefined }],
    };
    const [first] = findMistakes(school.wing, check);
    expect(first?.concerns[0]).toMatchObject({ target });
    expect(first?.concerns[0]?.insteadM).toBeCloseTo(line.lengthM, 9);
  });

  it("mirror with the check", () => {
    const wrong = put(made.check, { "left C4": mm("C4") + 200, "left A9": mm("A10"), "left A10": mm("A9") });
    const other = { left: "right", right: "left" } as const;
    const mirrored = {
      ...wrong,
      readings: wrong.readings.map((one) => ({
        ...one,
        target: { ...one.target, side: other[one.target.side] },
      })),
    };
    const here = findMistakes(school.wing, wrong);
    const there = findMistakes(school.wing, mirrored);
    expect(there.map((one) => [one.kind, one.log10Odds.toFixed(6)])).toEqual(
      here.map((one) => [one.kind, one.log10Odds.toFixed(6)]),
    );
    expect(there.length).toBeGreaterThanOrEqual(2);
  });

  it("don't hang on the order in which readings stand in the file", () => {
    const wrong = put(made.check, { "left C4": mm("C4") + 200 });
    const turned = { ...wrong, readings: [...wrong.readings].reverse() };
    expect(findMistakes(school.wing, turned)[0]).toEqual(findMistakes(school.wing, wrong)[0]);
  });

  it("follow the order of calling that is stated: called left and right in turn, neighbours are the pair", () => {
    const callingOrder = school.wing.tabs.flatMap((tab) =>
      tab.side === "left"
        ? (["left", "right"] as const).map((side) => ({ kind: "tab" as const, id: tab.id, side }))
        : [],
    );
    const wrong = put(made.check, { "left C4": mm("C5"), "left C5": mm("C4") });
    const kinds = [{}, { callingOrder }].map((options) => findMistakes(school.wing, wrong, options)[0]);
    expect(kinds.map((one) => one?.kind)).toEqual(["neighbours swapped", "tabs swapped"]);
    expect(kinds[1]?.log10Odds as number).toBeLessThan(kinds[0]?.log10Odds as number);
  });

  it("rest on the same deviations as everything else", () => {
    const layout = layOut(school.wing, {
      ...made.check,
      from: "maillon",
      tensionN: 30,
      instrumentZeroM: 0.012,
    });
    const others = deviations(school.wing, layout.check);
    others.paths.forEach((path, tab) => {
      const own = deviationsAt(layout, tab);
      if (own.length !== 1) return;
      expect(own[0]).toBeCloseTo(path.deviationM as number, 9);
    });
  });

  it("tell exchanged sides on a wing whose sides are specified differently, and not on a symmetric one", () => {
    const half = (
      DEMOS.second.plan.sides as {
        mirrored: { lines: { id: string; lengthMm: number }[]; tabs: { pathMm?: number }[] };
      }
    ).mirrored;
    const right = structuredClone(half);
    // A right side cut for another layout: every second top line longer.
    right.lines = right.lines.map((line) =>
      /^[A-C]([2-8])$/u.test(line.id) && Number(line.id.slice(1)) % 2 === 0
        ? { ...line, lengthMm: line.lengthMm + 25 }
        : line,
    );
    right.tabs = right.tabs.map(({ pathMm: _, ...tab }) => tab);
    const parsed = parsePlan({ ...DEMOS.second.plan, sides: { left: half, right } });
    if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
    const wing = parsed.value;
    const read = (target: { id: string; side: string }): number =>
      wing.paths[wing.tabs.findIndex((tab) => tab.id === target.id && tab.side === target.side)]
        ?.specifiedM as number;
    const exact: Check = {
      ...madeCheck(1, [], light).check,
      readings: wing.tabs.map((tab) => ({
        target: { kind: "tab", id: tab.id, side: tab.side },
        valuesM: [read(tab)],
        note: undefined,
      })),
    };
    expect(findMistakes(wing, exact)).toEqual([]);
    const swapped = {
      ...exact,
      readings: exact.readings.map((one) => ({
        ...one,
        valuesM: [read({ id: one.target.id, side: one.target.side === "left" ? "right" : "left" })],
      })),
    };
    const [first] = findMistakes(wing, swapped);
    expect(first?.kind).toBe("sides swapped");
    expect(sameReadings(applyCorrection(swapped, first as NonNullable<typeof first>), exact)).toBe(true);
    // On the symmetric wing the exchanged check is as good a check as any.
    const symmetric = madeCheck(1, [], light).check;
    const turned = {
      ...symmetric,
      readings: symmetric.readings.map((one) => ({
        ...one,
        target: { ...one.target, side: one.target.side === "left" ? ("right" as const) : ("left" as const) },
      })),
    };
    expect(findMistakes(light.wing, turned)).toEqual([]);
  });

  it("can be about a check of one side, of few readings, or of none", () => {
    const left = withValues(made.check, ({ target, valuesM }) =>
      target.side === "left" ? valuesM : undefined,
    );
    expect(findMistakes(school.wing, left)).toEqual([]);
    expect(findMistakes(school.wing, put(left, { "left A3": mm("A3") + 400 }))[0]).toMatchObject({
      kind: "digit slip",
    });
    expect(findMistakes(school.wing, { ...made.check, readings: [] })).toEqual([]);
    expect(findMistakes(school.wing, { ...made.check, readings: made.check.readings.slice(0, 1) })).toEqual(
      [],
    );
  });
});
