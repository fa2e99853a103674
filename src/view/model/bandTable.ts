/** Which cause moves the incidence by how much, in the middle and at the tips, in plain words. */
import type { Band, BandPart } from "../../diagnosis/assumption-band.ts";

export interface BandRow {
  readonly name: string;
  /** What was assumed, and how far it was moved. */
  readonly explanation: string;
  readonly middle: string;
  readonly tip: string;
  readonly mean: string;
}

const EXPLANATION: Readonly<Record<string, string>> = {
  "fabric stiffness": "how little the cloth and the tapes between the tabs stretch",
  "bending stiffness": "how far one tab’s error spreads to its neighbours",
  "load along the chord": "how the lift is shared between front and rear rows",
  "all-up weight": "the weight that hangs on the lines, over the plan’s range",
};

/** One row a part and a last one for all of them together. Empty where the band has no ribs. */
export function bandRows(band: Band, sigmaOf: (side: string, rib: number) => number): readonly BandRow[] {
  const order = band.ribs.map((rib, i) => ({ i, sigma: sigmaOf(rib.side, rib.rib) }));
  const innermost = Math.min(...order.map(({ sigma }) => sigma));
  const outermost = Math.max(...order.map(({ sigma }) => sigma));
  const largest = (values: readonly number[], sigma: number): string =>
    plusMinus(Math.max(...order.filter((rib) => rib.sigma === sigma).map(({ i }) => values[i] ?? 0)));
  const row = (
    name: string,
    explanation: string,
    { halfWidthRad, meanRad }: Pick<BandPart, "halfWidthRad" | "meanRad">,
  ) => ({
    name,
    explanation,
    middle: largest(halfWidthRad, innermost),
    tip: largest(halfWidthRad, outermost),
    mean: plusMinus(meanRad),
  });
  if (band.ribs.length === 0) return [];
  return [
    ...band.parts.map((part) =>
      row(
        part.name.charAt(0).toUpperCase() + part.name.slice(1),
        [EXPLANATION[part.name], part.ends?.join(" to ")].filter((text) => text !== undefined).join("; "),
        part,
      ),
    ),
    row("All together", "as independent of each other", band),
  ];
}

/** "± 0.04°". */
export function plusMinus(halfWidthRad: number): string {
  return `± ${((halfWidthRad * 180) / Math.PI).toFixed(2)}°`;
}
