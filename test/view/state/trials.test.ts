import { describe, expect, it } from "vitest";
import {
  AS_SPECIFIED,
  conditionOf,
  isAsSpecified,
  referenceWeightKg,
} from "../../../src/view/state/rigging.ts";
import {
  changed,
  isAnythingTried,
  NOTHING_TRIED,
  type TrialChange,
  trialMetres,
} from "../../../src/view/state/trials.ts";
import { EMPTY_BOOK, lineLoops } from "../../../src/workshop/index.ts";
import { sampleWing } from "../stand-in.ts";

const set = (mm: number, ...lineKeys: string[]): TrialChange => ({ kind: "set", lineKeys, mm });

const tie = (kindId: string | undefined, ...lineKeys: string[]): TrialChange => ({
  kind: "tie",
  lineKeys,
  kindId,
});

describe("a change of what is tried", () => {
  it("keeps to whole millimetres within 50 either way, and drops a line that is as it was", () => {
    const one = changed(NOTHING_TRIED, set(-70.4, "left:A1", "right:A1"));
    expect([...one.trials]).toEqual([
      ["left:A1", -50],
      ["right:A1", -50],
    ]);
    expect([...changed(one, set(3.4, "left:A1")).trials]).toEqual([
      ["left:A1", 3],
      ["right:A1", -50],
    ]);
    expect([...changed(one, set(0, "left:A1")).trials]).toEqual([["right:A1", -50]]);
  });

  it("ties a loop, all loops as a plan has them, and none", () => {
    const one = changed(changed(NOTHING_TRIED, set(4, "left:A1")), tie("girth", "left:A1", "right:A1"));
    expect([...one.loops]).toEqual([
      ["left:A1", "girth"],
      ["right:A1", "girth"],
    ]);
    expect([...changed(one, tie(undefined, "left:A1")).loops]).toEqual([["right:A1", "girth"]]);
    const all = changed(one, { kind: "tie all", loops: new Map([["left:B1", "turn"]]) });
    expect([...all.loops]).toEqual([["left:B1", "turn"]]);
    expect(all.trials).toBe(one.trials);
    expect(isAnythingTried(changed(all, { kind: "clear" }))).toBe(false);
    expect(isAnythingTried(all)).toBe(true);
  });

  it("that changes nothing gives the same list", () => {
    const one = changed(changed(NOTHING_TRIED, set(4, "left:A1")), tie("girth", "left:A1"));
    expect(changed(one, set(4, "left:A1"))).toBe(one);
    expect(changed(one, tie("girth", "left:A1"))).toBe(one);
    expect(changed(NOTHING_TRIED, { kind: "clear" })).toBe(NOTHING_TRIED);
    expect(changed(one, { kind: "remove", lineKeys: ["left:B1"] })).toBe(one);
  });

  it("leaves the list before as it was", () => {
    const one = changed(NOTHING_TRIED, set(4, "left:A1"));
    changed(one, { kind: "clear" });
    expect(one.trials.size).toBe(1);
    expect(NOTHING_TRIED.trials.size).toBe(0);
  });

  it("is counted in metres for the lines that the wing has, what the loops do included", () => {
    const wing = sampleWing();
    const loops = lineLoops(wing, EMPTY_BOOK);
    const a1 = loops.find((line) => line.lineKey === "left:A1");
    const presentM = a1?.states[a1.present]?.takeUpM ?? 0;
    expect(presentM).toBeGreaterThan(0);
    let tried = changed(changed(NOTHING_TRIED, set(4, "left:A1")), set(-6, "left:elsewhere"));
    expect([...trialMetres(tried, loops, new Set(["left:A1"]))]).toEqual([["left:A1", 0.004]]);
    tried = changed(tried, tie("plain", "left:A1", "left:elsewhere"));
    const metres = trialMetres(tried, loops, new Set(["left:A1"]));
    // Taking the loop out lengthens the line by what it took up.
    expect(metres.get("left:A1")).toBeCloseTo(0.004 + presentM, 12);
    expect(metres.size).toBe(1);
  });
});

describe("a rigging as a condition of the wing", () => {
  const wing = {
    ...sampleWing(),
    settings: [{ id: "speed", name: "Speed system", kind: "speed", strapChangesM: { A: -0.12 } } as const],
  };

  it("takes each setting's share of its travel, the weight in newtons and the pull in metres", () => {
    const condition = conditionOf(wing, {
      percent: { speed: 50 },
      weightKg: wing.allUpWeightKg.max,
      brakeMm: { left: 40, right: 0 },
    });
    expect(condition.strapChangesM.get("A")).toBeCloseTo(-0.06, 12);
    expect(condition.weightN).toBeCloseTo(9.80665 * wing.allUpWeightKg.max, 9);
    expect(condition.brakePullM).toEqual({ left: 0.04, right: 0 });
  });

  it("keeps to what the plan has and allows", () => {
    const condition = conditionOf(wing, {
      percent: { jet: 50, speed: 400 },
      weightKg: 999,
      brakeMm: { left: 900, right: -5 },
    });
    expect([...condition.strapChangesM]).toEqual([["A", -0.12]]);
    expect(condition.weightN).toBeCloseTo(9.80665 * wing.allUpWeightKg.max, 9);
    expect(condition.brakePullM).toEqual({ left: 0.3, right: 0 });
  });

  it("is as specified where nothing differs", () => {
    expect(isAsSpecified(AS_SPECIFIED)).toBe(true);
    expect(isAsSpecified({ ...AS_SPECIFIED, percent: { speed: 0 } })).toBe(true);
    expect(isAsSpecified({ ...AS_SPECIFIED, weightKg: referenceWeightKg(wing) + 1 })).toBe(false);
    expect(conditionOf(wing, AS_SPECIFIED).weightN).toBeUndefined();
  });
});
