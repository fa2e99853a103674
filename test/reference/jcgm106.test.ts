/**
 * Worked examples of JCGM 106:2012, The role of measurement uncertainty in conformity assessment. The guide itself
 * wasn't at hand: its answers are from memory, and confirmed by recalculating them from the inputs. Guard-band factors
 * are calculated from the normal distribution; no worked example of ISO 14253-1 was at hand.
 */
import { describe, expect, test } from "vitest";
import { conformanceProbability, globalRisks } from "../../src/diagnosis/conformance.ts";
import { decisionLimits, guardBandWidth } from "../../src/diagnosis/conformity.ts";

describe("JCGM 106:2012, section 7: probability of conformity of a single item", () => {
  test("breakdown voltage of a Zener diode: −5.47 V, u 0.05 V, at most −5.40 V: p_c = 0.92 (from memory)", () => {
    const probability = conformanceProbability(-5.47, 0.05, { upper: -5.4 });
    expect(probability).toBeCloseTo(0.92, 2);
    expect(probability).toBeCloseTo(0.91924, 5); // Φ(1.40), recalculated
  });

  test("burst pressure of a container: 509.7 kg/cm², u 8.6, at least 490: p_c = 0.989 (from memory)", () => {
    const probability = conformanceProbability(509.7, 8.6, { lower: 490 });
    expect(probability).toBeCloseTo(0.989, 3);
    expect(probability).toBeCloseTo(0.98901, 5); // recalculated
  });
});

// Inputs read in a stored Octave example that doesn't name its source; that it is this one, and the answers, from memory.
describe("JCGM 106:2012, 9.5.3: precision resistors of 1500 Ω, tolerance ± 0.2 Ω", () => {
  const prior = { mean: 1500, standardDeviation: 0.12 };
  const tolerance = { lower: 1499.8, upper: 1500.2 };
  const guarded = globalRisks(prior, 0.04, tolerance, { lower: 1499.82, upper: 1500.18 });

  test("nine in ten conform: p_c = 0.90", () => {
    expect(guarded.conforming).toBeCloseTo(0.9, 2);
    expect(guarded.conforming).toBeCloseTo(0.9044193, 7); // recalculated
  });

  test("accepting within ± 0.18 Ω: R_C = 0.01, R_P = 0.07", () => {
    expect(guarded.consumerRisk).toBeCloseTo(0.01, 2);
    expect(guarded.producerRisk).toBeCloseTo(0.07, 2);
    expect(guarded.consumerRisk).toBeCloseTo(0.0098783, 7); // recalculated
    expect(guarded.producerRisk).toBeCloseTo(0.0690265, 7); // recalculated
  });

  test("without a guard band twice as many slip through and half as many are refused (calculated)", () => {
    const plain = globalRisks(prior, 0.04, tolerance);
    expect(plain.consumerRisk).toBeCloseTo(0.0189422, 7);
    expect(plain.producerRisk).toBeCloseTo(0.0372078, 7);
  });
});

describe("guard bands of r·U, U = 2u, against one limit", () => {
  const uncertainty = 1.3;
  const upper = 10;

  // Calculated: p_c = Φ(2r) for a value exactly on the acceptance limit. r = 0.83: default of ISO 14253-1:2017, r = 1.5:
  // its three-sigma rule (both from memory); r = 0 and 1: ILAC-G8:09/2019.
  test.each([
    [0, 0.5],
    [0.5, 0.841345],
    [0.83, 0.951543],
    [1, 0.97725],
    [1.5, 0.99865],
  ])("r = %d leaves a probability of %d on the acceptance limit", (r, expected) => {
    const { acceptance } = decisionLimits(uncertainty, { upper }, { kind: "guard band", r });
    expect(acceptance?.upper).toBeCloseTo(upper - guardBandWidth(r, uncertainty), 12);
    expect(conformanceProbability(acceptance?.upper ?? 0, uncertainty, { upper })).toBeCloseTo(expected, 6);
  });

  test("r = 3 leaves a thousand-millionth (its six-sigma rule, below one in a million; from memory)", () => {
    const outside =
      1 - conformanceProbability(upper - guardBandWidth(3, uncertainty), uncertainty, { upper });
    expect(outside).toBeCloseTo(9.9e-10, 11);
  });

  test("exactly 95 % takes 1.644854 u, that is r = 0.822427 (calculated)", () => {
    const { acceptance } = decisionLimits(
      uncertainty,
      { upper },
      { kind: "minimum probability", probability: 0.95 },
    );
    expect((upper - (acceptance?.upper ?? 0)) / uncertainty).toBeCloseTo(1.644854, 6);
    expect((upper - (acceptance?.upper ?? 0)) / guardBandWidth(1, uncertainty)).toBeCloseTo(0.822427, 6);
  });
});
