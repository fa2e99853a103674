import { describe, expect, it } from "vitest";
import { assess } from "../../src/diagnosis/assess.ts";
import { conformanceProbability, globalRisks } from "../../src/diagnosis/conformance.ts";
import {
  DECISION_RULES,
  type DecisionRule,
  decide,
  decisionLimits,
  isWithinUncertainty,
} from "../../src/diagnosis/conformity.ts";
import type { Path, Side, Wing } from "../../src/plan/model.ts";
import type { Check, Deviations } from "../../src/readings/model.ts";
import { type PathUncertainties, readingUncertainty } from "../../src/readings/uncertainty.ts";
import { samplePlan, wingOf } from "../plan/factory.ts";
import { randomFrom } from "../plan/random.ts";
import { madeDeviations } from "./made.ts";

const TEN = { lower: -0.01, upper: 0.01 };
const RULES: readonly DecisionRule[] = Object.values(DECISION_RULES);

describe("the probability of conformity", () => {
  it("is one half on a limit that the other is far from, and falls evenly outwards", () => {
    expect(conformanceProbability(0.01, 0.001, TEN)).toBeCloseTo(0.5, 9);
    let last = 1.1;
    for (let value = 0; value < 0.02; value += 0.0005) {
      const probability = conformanceProbability(value, 0.002, TEN);
      expect(probability).toBeLessThan(last);
      last = probability;
    }
  });

  it("is the same in the mirror and in any unit", () => {
    const random = randomFrom(14253).next;
    for (let trial = 0; trial < 100; trial++) {
      const [value, u] = [random() * 0.04 - 0.02, random() * 0.01];
      const probability = conformanceProbability(value, u, TEN);
      expect(conformanceProbability(-value, u, TEN)).toBeCloseTo(probability, 12);
      expect(conformanceProbability(value * 1000, u * 1000, { lower: -10, upper: 10 })).toBeCloseTo(
        probability,
        9,
      );
    }
  });

  it("without uncertainty is yes or no, the limit itself still yes", () => {
    expect(conformanceProbability(0.01, 0, TEN)).toBe(1);
    expect(conformanceProbability(0.0101, 0, TEN)).toBe(0);
  });

  it("keeps its digits far out on either side", () => {
    const far = conformanceProbability(0.016, 0.001, TEN);
    expect(far).toBeCloseTo(9.866e-10, 12);
    expect(conformanceProbability(-0.016, 0.001, TEN)).toBeCloseTo(far, 15);
  });
});

describe("a decision", () => {
  it.each([
    ["simple", 0.0095, "conforms"],
    ["simple", 0.0105, "does not conform"],
    ["full", 0.0079, "conforms"],
    ["full", 0.0095, "undecided"],
    ["full", 0.0105, "undecided"],
    ["full", -0.0121, "does not conform"],
    ["drawing", 0.0083, "conforms"],
    ["drawing", -0.0085, "undecided"],
    ["drawing", 0.0117, "does not conform"],
    ["probable", 0.0083, "conforms"],
    ["probable", 0.0084, "undecided"],
    ["probable", 0.0117, "does not conform"],
  ] as const)("by the rule %s, ±10 mm and u = 1 mm, of %d m: %s", (name, valueM, outcome) => {
    expect(decide(valueM, 0.001, TEN, DECISION_RULES[name]).outcome).toBe(outcome);
  });

  it("says what was decided, by which rule, with which figures", () => {
    const { sentence } = decide(-0.0085, 0.001, TEN, DECISION_RULES.drawing);
    expect(sentence).toBe(
      "Undecided: −8.5 mm, standard uncertainty 1.0 mm, against the limit set of −10.0 mm to +10.0 mm; probability of conformity 93.3 %. Rule: guard band of 0.83 U with U = 2u, here 1.7 mm to either side of a limit.",
    );
    expect(decide(0.06, 0.002, { lower: 0.05 }, DECISION_RULES.simple).sentence).toContain(
      "at least +50.0 mm",
    );
    expect(decide(0.06, 0.002, { upper: 0.05 }, DECISION_RULES.probable).sentence).toContain(
      "Rule: conforms from a probability of 95 %, does not at 5 % or less.",
    );
  });

  it("never claims certainty while there is uncertainty", () => {
    expect(decide(0, 0.0001, TEN).sentence).toContain("above 99.9 %");
    expect(decide(0.1, 0.0001, TEN).sentence).toContain("below 0.1 %");
    expect(decide(0.0065, 0.001, TEN).sentence).toContain("above 99.9 %");
    expect(decide(0.0135, 0.001, TEN).sentence).toContain("below 0.1 %");
    expect(decide(0, 0, TEN).sentence).toContain("probability of conformity 100 %");
  });

  it("takes a value on a limit as on it, through the rounding of a subtraction", () => {
    const valueM = 7.4 - 7.39;
    expect(valueM).toBeGreaterThan(0.01);
    expect(decide(valueM, 0.001, TEN, DECISION_RULES.simple).outcome).toBe("conforms");
    expect(decide(valueM, 0, TEN, DECISION_RULES.full)).toMatchObject({
      outcome: "conforms",
      probability: 1,
    });
  });

  it.each(RULES)(
    "goes from conforming through doubt to not conforming on the way out, alike on both sides: %j",
    (rule) => {
      const order = ["conforms", "undecided", "does not conform"];
      let last = 0;
      for (let mm = 0; mm <= 20; mm += 0.25) {
        const { outcome } = decide(mm / 1000, 0.0013, TEN, rule);
        expect(decide(-mm / 1000, 0.0013, TEN, rule).outcome).toBe(outcome);
        expect(order.indexOf(outcome)).toBeGreaterThanOrEqual(last);
        last = order.indexOf(outcome);
      }
      expect(last).toBe(2);
    },
  );

  it.each(RULES)("without uncertainty is the same by every rule: %j", (rule) => {
    expect(decide(0.0099, 0, TEN, rule).outcome).toBe("conforms");
    expect(decide(0.0101, 0, TEN, rule).outcome).toBe("does not conform");
  });

  it("by probability has its limits where the probability says, with two limits close to each other too", () => {
    for (const u of [0.001, 0.003, 0.005]) {
      const { acceptance, rejection } = decisionLimits(u, TEN, DECISION_RULES.probable);
      expect(conformanceProbability(acceptance?.upper ?? 0, u, TEN)).toBeCloseTo(0.95, 9);
      expect(conformanceProbability(rejection.upper ?? 0, u, TEN)).toBeCloseTo(0.05, 9);
      expect(acceptance?.lower).toBeCloseTo(-(acceptance?.upper ?? 0), 12);
    }
  });

  it("stays open where the reading is too rough for the limit, and says so; inside the limit it is never refused", () => {
    for (const rule of [DECISION_RULES.full, DECISION_RULES.drawing, DECISION_RULES.probable]) {
      const rough = decide(0, 0.05, TEN, rule);
      expect(rough.outcome).toBe("undecided");
      expect(rough.acceptance).toBeUndefined();
      expect(rough.sentence).toContain("too large for any value to conform");
    }
    expect(decide(0.009, 0.5, TEN, DECISION_RULES.probable).outcome).toBe("undecided");
  });

  it("refuses what can't be decided by", () => {
    expect(() => decide(0, -1, TEN)).toThrow("an uncertainty of 0 or more");
    expect(() => decide(Number.NaN, 0.001, TEN)).toThrow(RangeError);
    expect(() => decide(0, 0.001, {})).toThrow("no limit");
    expect(() => decide(0, 0.001, { lower: 1, upper: 1 })).toThrow("nothing between them");
    expect(() => decide(0, 0.001, TEN, { kind: "guard band", r: -1 })).toThrow("guard band of -1 U");
    expect(() => decide(0, 0.001, TEN, { kind: "minimum probability", probability: 0.4 })).toThrow(
      "above 0.5",
    );
  });
});

describe("a deviation inside its own uncertainty", () => {
  it("is no more than twice the standard uncertainty, or as many times as asked", () => {
    expect(isWithinUncertainty(-0.0019, 0.001)).toBe(true);
    expect(isWithinUncertainty(0.0021, 0.001)).toBe(false);
    expect(isWithinUncertainty(0.0021, 0.001, 3)).toBe(true);
    expect(isWithinUncertainty(0, 0)).toBe(true);
  });
});

describe("the risks of a rule in the long run", () => {
  const prior = { mean: -0.002, standardDeviation: 0.006 };

  it("vanish with a perfect measurement", () => {
    const risks = globalRisks(prior, 0, TEN);
    expect(risks.consumerRisk).toBeCloseTo(0, 12);
    expect(risks.producerRisk).toBeCloseTo(0, 12);
    expect(risks.conforming).toBeCloseTo(conformanceProbability(-0.002, 0.006, TEN), 12);
  });

  it("accept the share that the measured values' own distribution says", () => {
    for (const u of [1e-6, 0.0005, 0.002, 0.02]) {
      const { accepted } = globalRisks(prior, u, TEN);
      expect(accepted).toBeCloseTo(conformanceProbability(-0.002, Math.hypot(0.006, u), TEN), 10);
    }
  });

  it("are traded against each other by a guard band", () => {
    const plain = globalRisks(prior, 0.0015, TEN);
    const guarded = globalRisks(
      prior,
      0.0015,
      TEN,
      decisionLimits(0.0015, TEN, DECISION_RULES.full).acceptance,
    );
    expect(guarded.consumerRisk).toBeLessThan(plain.consumerRisk / 5);
    expect(guarded.producerRisk).toBeGreaterThan(plain.producerRisk);
  });

  it("are what counting made-up wings gives", () => {
    const random = randomFrom(3).next;
    const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
    const trials = 200_000;
    let slipped = 0;
    let refused = 0;
    for (let trial = 0; trial < trials; trial++) {
      const value = prior.mean + prior.standardDeviation * normal();
      const conforms = Math.abs(value) <= 0.01;
      const accepted = Math.abs(value + 0.0015 * normal()) <= 0.01;
      if (accepted && !conforms) slipped++;
      if (!accepted && conforms) refused++;
    }
    const { consumerRisk, producerRisk } = globalRisks(prior, 0.0015, TEN);
    // Four standard deviations of a count.
    expect(Math.abs(slipped / trials - consumerRisk)).toBeLessThan(4 * Math.sqrt(consumerRisk / trials));
    expect(Math.abs(refused / trials - producerRisk)).toBeLessThan(4 * Math.sqrt(producerRisk / trials));
  });

  it("hold with one limit only", () => {
    const { conforming } = globalRisks({ mean: 0.06, standardDeviation: 0.01 }, 0.002, { lower: 0.05 });
    expect(conforming).toBeCloseTo(0.841345, 6);
  });
});

describe("a check held against the wing's tolerances", () => {
  const wing = wingOf(samplePlan());
  const CHECK: Check = {
    wingName: undefined,
    date: "2026-03-14",
    tensionN: wing.reference.tensionN,
    from: wing.reference.from,
    instrumentZeroM: 0,
    instrument: undefined,
    resolutionM: undefined,
    note: undefined,
    readings: [],
  };
  const made = (
    ofPath: (path: Path) => number | undefined,
    on: Wing = wing,
  ): [Deviations, PathUncertainties] => {
    const deviations = madeDeviations(on, ofPath);
    return [deviations, readingUncertainty(on, CHECK, deviations)];
  };
  const of = (ofPath: (path: Path) => number | undefined, rule?: DecisionRule, on: Wing = wing) =>
    assess(on, ...made(ofPath, on), rule);

  it("as specified conforms throughout, and says whose limits these are and that it is no clearance", () => {
    const assessment = of(() => 0);
    expect(assessment.count).toEqual({
      conforms: assessment.assessed.length,
      undecided: 0,
      "does not conform": 0,
    });
    expect(assessment.toleranceNote).toContain(
      `settings of the user’s; their source as stated: ${wing.tolerances.source}`,
    );
    expect(assessment.caution).toContain("not a clearance to fly");
    expect(assessment.notRead).toBe(0);
  });

  it("judges every path, pair of rows, pair of tabs, row by sides, and each brake", () => {
    const { assessed } = of(() => 0);
    const count = (kind: string): number => assessed.filter((each) => each.kind === kind).length;
    expect(count("path")).toBe(wing.tabs.length);
    expect(count("rows")).toBe(6);
    expect(count("pair")).toBe(wing.tabs.length / 2);
    expect(count("sides")).toBe(new Set(wing.tabs.map((tab) => tab.row)).size);
    expect(count("brake travel")).toBe(2);
  });

  it("tells rows apart more surely than paths: 12 mm between rows is out though each path is in doubt", () => {
    const assessment = of((path) => (path.row === "A" ? 0.006 : path.row === "D" ? -0.008 : 0));
    const rows = assessment.assessed.find((each) => each.subject === "Row A against row D");
    const path = assessment.assessed.find((each) => each.kind === "path" && each.rows[0] === "D");
    expect(rows?.valueM).toBeCloseTo(0.014, 12);
    expect(rows?.decision.outcome).toBe("does not conform");
    expect(path?.decision.outcome).toBe("undecided");
    expect(rows?.standardUncertaintyM).toBeLessThan((path?.standardUncertaintyM ?? 0) / 2);
    expect(rows?.tabKeys).toHaveLength(wing.tabs.filter((tab) => tab.row === "A" || tab.row === "D").length);
  });

  it("counts left less right: a left side that is short is negative, and pairs carry no zero", () => {
    const { assessed } = of((path) => (path.side === "left" && path.row === "B" ? -0.009 : 0));
    const sides = assessed.find((each) => each.kind === "sides" && each.rows[0] === "B");
    const pair = assessed.find((each) => each.kind === "pair" && each.rows[0] === "B");
    expect(sides?.valueM).toBeCloseTo(-0.009, 12);
    expect(sides?.decision.outcome).toBe("does not conform");
    expect(pair?.valueM).toBeCloseTo(-0.009, 12);
    const uncertainties = made(() => 0)[1];
    const [left = 0, right = 0] = (pair?.tabKeys ?? []).map((key) => uncertainties.tabKeys.indexOf(key));
    expect(pair?.standardUncertaintyM).toBeCloseTo(
      Math.hypot(uncertainties.ownM[left] ?? 0, uncertainties.ownM[right] ?? 0),
      9,
    );
  });

  it("says the same of a wing seen in the mirror, with left and right changed over", () => {
    const random = randomFrom(77).next;
    const off = new Map(wing.paths.map((path) => [path.tabKey, random() * 0.03 - 0.015]));
    const mirror = new Map(wing.tabs.map((tab) => [tab.key, tab.mirrorKey ?? tab.key]));
    const here = of((path) => off.get(path.tabKey)).assessed;
    const there = of((path) => off.get(mirror.get(path.tabKey) ?? "")).assessed;
    for (const each of here) {
      const swapped = each.side === undefined ? undefined : each.side === "left" ? "right" : "left";
      const twin = there.find(
        (other) =>
          other.kind === each.kind &&
          other.side === swapped &&
          other.rows.join() === each.rows.join() &&
          (each.kind === "path" || each.kind === "brake travel"
            ? other.tabKeys[0] === mirror.get(each.tabKeys[0] ?? "")
            : [...other.tabKeys].sort().join() === [...each.tabKeys].sort().join()),
      );
      const sign = each.kind === "pair" || each.kind === "sides" ? -1 : 1;
      expect(twin?.valueM).toBeCloseTo(sign * each.valueM, 12);
      expect(twin?.decision.outcome).toBe(each.decision.outcome);
    }
  });

  it("takes the free travel that is left from the brake path that has lost most", () => {
    const { brakes, tolerances } = wing;
    if (brakes === undefined) throw new Error("The sample wing has brakes.");
    const lost = brakes.freeTravelM - tolerances.minBrakeFreeTravelM + 0.01;
    const worst = wing.tabs.find((tab) => tab.row === "brake" && tab.side === "left")?.key;
    const { assessed } = of((path) => (path.tabKey === worst ? -lost : 0));
    const travel = (side: Side) =>
      assessed.find((each) => each.kind === "brake travel" && each.side === side);
    expect(travel("left")?.valueM).toBeCloseTo(tolerances.minBrakeFreeTravelM - 0.01, 12);
    expect(travel("left")?.decision.outcome).toBe("does not conform");
    expect(travel("left")?.tabKeys).toEqual([worst]);
    expect(travel("right")?.valueM).toBeCloseTo(brakes.freeTravelM, 12);
    const long = of(() => 0.05).assessed.find((each) => each.kind === "brake travel");
    expect(long?.decision.outcome).toBe("conforms");
  });

  it("says nothing of what wasn't read", () => {
    const assessment = of((path) => (path.row === "C" && path.side === "left" ? undefined : 0));
    expect(assessment.notRead).toBe(wing.tabs.filter((tab) => tab.row === "C" && tab.side === "left").length);
    expect(assessment.assessed.some((each) => each.kind === "sides" && each.rows[0] === "C")).toBe(false);
    expect(assessment.assessed.some((each) => each.kind === "pair" && each.rows[0] === "C")).toBe(false);
    expect(assessment.assessed.some((each) => each.subject === "Row B against row C")).toBe(true);
    expect(of(() => undefined).assessed).toEqual([]);
  });

  it("leaves brakes and pairs out that the wing hasn't got", () => {
    const bare = wingOf(samplePlan({ rows: ["A", "B"], brakes: false, tip: false }));
    expect(new Set(of(() => 0, undefined, bare).assessed.map((each) => each.kind))).toEqual(
      new Set(["path", "rows", "pair", "sides"]),
    );
  });

  it("decides by the rule asked for, and crosses a worker's boundary", () => {
    const simple = of((path) => (path.row === "A" ? 0.0095 : 0), DECISION_RULES.simple);
    expect(simple.count.undecided).toBe(0);
    expect(simple.rule).toEqual(DECISION_RULES.simple);
    expect(structuredClone(simple)).toEqual(simple);
  });

  it("refuses uncertainties of another check", () => {
    const [deviations] = made(() => 0);
    const [, others] = made((path) => (path.row === "A" ? undefined : 0));
    expect(() => assess(wing, deviations, others)).toThrow("not those of these deviations");
  });
});
