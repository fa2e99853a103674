/** Divisions of a measuring tape, for the legend, the shape slider and the small tapes beside the rows. */

import { fixed, inUnit, say, signedFixed, speech } from "../../words/index.ts";

export interface TapeTick {
  /** In the tape's unit. */
  readonly value: number;
  /** 0 to 1 along the tape. */
  readonly at: number;
  readonly grade: "minor" | "half" | "major";
}

/**
 * Ticks from `low` to `high`.
 * @param step distance of the minor ticks; every fifth is a half mark and every tenth a major one, counted from zero
 */
export function tapeTicks(low: number, high: number, step: number): readonly TapeTick[] {
  const ticks: TapeTick[] = [];
  for (let count = Math.ceil(low / step - 1e-9); count * step <= high + 1e-9; count += 1) {
    ticks.push({
      value: count * step,
      at: (count * step - low) / (high - low),
      grade: count % 10 === 0 ? "major" : count % 5 === 0 ? "half" : "minor",
    });
  }
  return ticks;
}

/** Divisions of a tape and what is written along it, in millimetres and in inches. */
export interface LengthDivisions {
  readonly tick: number;
  readonly labels: readonly number[];
  readonly decimals: number;
}

const MM_PER_IN = 25.4;

/**
 * The divisions of a tape whose values are millimetres, for the unit that is set: inches stand at their own round places.
 * @returns ticks and labels in millimetres, and how a label is written
 */
export function lengthDivisions(of: { readonly mm: LengthDivisions; readonly in: LengthDivisions }): {
  readonly tick: number;
  readonly labels: readonly number[];
  readonly labelText: (mm: number, isSigned: boolean) => string;
} {
  const { unit } = speech();
  const factor = unit === "in" ? MM_PER_IN : 1;
  const { tick, labels, decimals } = of[unit];
  return {
    tick: tick * factor,
    labels: labels.map((label) => label * factor),
    labelText: (mm, isSigned) => (isSigned ? signedFixed : fixed)(mm / factor, decimals),
  };
}

/** A length in whole millimetres as a screen reader says it. */
export function spokenLength(mm: number): string {
  return say("frame.spoken", { value: spokenNumber(mm), unit: speech().unit });
}

/** The same without its unit. */
export function spokenNumber(mm: number): string {
  return fixed(inUnit(mm / 1000), speech().unit === "in" ? 2 : 0);
}

/** Colour ranges on offer [m]. */
export const RANGES_M: readonly number[] = [0.01, 0.02, 0.03, 0.05, 0.08, 0.12];

/**
 * The colour range that suits a set of deviations: the smallest on offer that holds nineteen of twenty of them.
 * 30 mm where nothing was measured.
 */
export function suitableRangeM(deviationsM: readonly number[]): number {
  if (deviationsM.length === 0) return 0.03;
  const sizes = deviationsM.map(Math.abs).sort((a, b) => a - b);
  const held = sizes[Math.min(sizes.length - 1, Math.ceil(sizes.length * 0.95) - 1)] ?? 0;
  return RANGES_M.find((range) => range >= held - 1e-9) ?? RANGES_M[RANGES_M.length - 1] ?? 0.12;
}
