/** A line material in SI units, with what the plan leaves out estimated from its diameter. */
import type { Material } from "./model.ts";
import type { PlanMaterial } from "./schema.ts";

/**
 * Usual EA by diameter: [m, N]. From usual breaking forces over about 4 % elongation at break; braids bed in,
 * so real lines are rather softer. Common practice, no source for the breaking forces.
 */
const USUAL_STIFFNESS: readonly (readonly [number, number])[] = [
  [0.0007, 13_800],
  [0.0009, 20_000],
  [0.0011, 25_000],
  [0.0015, 40_000],
];
/** Slope of the table above in log-log from end to end; carries on beyond both ends. */
const STIFFNESS_EXPONENT = 1.4;
/** Elongation at break of usual core fibres (aramid 3.5 to 4.5 %, HMPE 3.5 %). */
const ELONGATION_AT_BREAK = 0.04;

/** Fibre density [kg/m³]: makers' tensile tables. */
const DENSITIES: readonly (readonly [RegExp, number])[] = [
  [/hmpe|uhmw|polyethylene/i, 980],
  [/lcp|polyarylate/i, 1410],
  [/polyester/i, 1380],
  [/aramid/i, 1400],
];
const USUAL_DENSITY = 1400;
/** Share of the outer section that is fibre; a braid of 1.5 mm and 1.6 g/m. Common practice, no source. */
const FIBRE_SHARE = 0.65;

const sectionM2 = (diameterM: number): number => (Math.PI / 4) * diameterM ** 2;

/**
 * Usual axial stiffness EA of a sheathed line [N] by its outer diameter [m]: log-log interpolation of a small
 * table, EA ∝ d^1.4 beyond its ends.
 */
export function usualStiffnessN(diameterM: number): number {
  const first = USUAL_STIFFNESS[0] as readonly [number, number];
  const last = USUAL_STIFFNESS[USUAL_STIFFNESS.length - 1] as readonly [number, number];
  if (diameterM <= first[0]) return first[1] * (diameterM / first[0]) ** STIFFNESS_EXPONENT;
  if (diameterM >= last[0]) return last[1] * (diameterM / last[0]) ** STIFFNESS_EXPONENT;
  let low = first;
  for (const high of USUAL_STIFFNESS.slice(1)) {
    if (diameterM <= high[0]) {
      const share = Math.log(diameterM / low[0]) / Math.log(high[0] / low[0]);
      return low[1] * (high[1] / low[1]) ** share;
    }
    low = high;
  }
  return last[1];
}

/** Usual mass per length [kg/m] by outer diameter [m] and fibre. */
export function usualMassKgM(diameterM: number, fibre: string | undefined): number {
  const density = DENSITIES.find(([name]) => fibre !== undefined && name.test(fibre))?.[1] ?? USUAL_DENSITY;
  return FIBRE_SHARE * density * sectionM2(diameterM);
}

/**
 * A material in SI units. EA [N] is the stated one, else modulus × section area, else breaking force over 4 %
 * elongation, else a usual one for the diameter, which is flagged (`stiffnessAssumed`).
 */
export function materialFromPlan(given: PlanMaterial): Material {
  const diameterM = given.diameterMm / 1000;
  const stated =
    given.stiffnessEaN ??
    (given.modulusGPa === undefined ? undefined : given.modulusGPa * 1e9 * sectionM2(diameterM)) ??
    (given.breakingForceN === undefined ? undefined : given.breakingForceN / ELONGATION_AT_BREAK);
  return {
    id: given.id,
    fibre: given.fibre,
    diameterM,
    stiffnessN: stated ?? usualStiffnessN(diameterM),
    stiffnessAssumed: stated === undefined,
    massPerLengthKgM:
      given.massGPerM === undefined ? usualMassKgM(diameterM, given.fibre) : given.massGPerM / 1000,
    breakingForceN: given.breakingForceN,
  };
}
