import { describe, expect, it } from "vitest";
import {
  AS_SPECIFIED,
  conditionOf,
  isAsSpecified,
  referenceWeightKg,
} from "../../../src/view/state/rigging.ts";
import {
  changed,
  NO_HISTORY,
  NO_TRIALS,
  noted,
  redone,
  type TrialChange,
  trialMetres,
  undone,
} from "../../../src/view/state/trials.ts";
import { sampleWing } from "../stand-in.ts";

const set = (mm: number, ...lineKeys: string[]): TrialChange => ({ kind: "set", lineKeys, mm });

describe("a change of what is tried", () => {
  it("keeps to whole millimetres within 50 either way, and drops a line that is as it was", () => {
    const one = changed(NO_TRIALS, set(-70.4, "left:A1", "right:A1"));
    expect([...one]).toEqual([
      ["left:A1", -50],
      ["right:A1", -50],
    ]);
    expect([...changed(one, set(3.4, "left:A1"))]).toEqual([
      ["left:A1", 3],
      ["right:A1", -50],
    ]);
    expect([...changed(one, set(0, "left:A1"))]).toEqual([["right:A1", -50]]);
  });

  it("that changes nothing gives the same list", () => {
    const one = changed(NO_TRIALS, set(4, "left:A1"));
    expect(changed(one, set(4, "left:A1"))).toBe(one);
    expect(changed(NO_TRIALS, { kind: "clear" })).toBe(NO_TRIALS);
    expect(changed(one, { kind: "remove", lineKeys: ["left:B1"] })).toBe(one);
  });

  it("leaves the list before as it was", () => {
    const one = changed(NO_TRIALS, set(4, "left:A1"));
    changed(one, { kind: "clear" });
    expect(one.size).toBe(1);
    expect(NO_TRIALS.size).toBe(0);
  });

  it("is counted in metres for the lines that the wing has", () => {
    const trials = changed(changed(NO_TRIALS, set(4, "left:A1")), set(-6, "left:elsewhere"));
    expect([...trialMetres(trials, new Set(["left:A1"]))]).toEqual([["left:A1", 0.004]]);
  });
});

describe("the way back", () => {
  it("undoes and redoes every kind of change", () => {
    const changes = [
      set(4, "left:A1"),
      set(-6, "left:B1", "right:B1"),
      { kind: "remove", lineKeys: ["left:B1"] } as const,
      { kind: "clear" } as const,
    ];
    let trials = NO_TRIALS;
    let history = NO_HISTORY;
    const lists = [trials];
    changes.forEach((change, i) => {
      const after = changed(trials, change);
      history = noted(history, change, trials, after, 5000 * i);
      trials = after;
      lists.push(trials);
    });
    for (let i = lists.length - 2; i >= 0; i--) {
      const back = undone(history);
      expect(back?.trials).toEqual(lists[i]);
      history = back?.history ?? history;
    }
    expect(undone(history)).toBeUndefined();
    for (let i = 1; i < lists.length; i++) {
      const on = redone(history);
      expect(on?.trials).toEqual(lists[i]);
      history = on?.history ?? history;
    }
    expect(redone(history)).toBeUndefined();
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
