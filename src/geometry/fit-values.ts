/** From the quantities of a fit to the canopy that they stand for. */
import { arcBank } from "./arc.ts";
import { type Split, TYPICAL_SPLIT } from "./assumed-split.ts";
import type { Figure, Quantity, QuantityName } from "./fit-quantities.ts";
import type { OutlineParameters } from "./outline.ts";
import { ELLIPSE_EXPONENT, planformArea, planformFullness } from "./planform.ts";
import { integrateHalfSpan } from "./quadrature.ts";
import { rememberedTipBank } from "./rib-frames.ts";
import type { Station } from "./stations.ts";
import type { Vector } from "./vector.ts";

/** Every quantity of a fit by its name. */
export type Values = ReadonlyMap<QuantityName, number>;
/** Bank at the tip [rad] from projected over flat span and the arc's exponent. */
type TipBank = (projectedOverFlat: number, arcExponent: number, tipShare: number) => number;

/** The plan's values where it gives them, and the free ones in the quantities' order. */
export function valuesOf(quantities: readonly Quantity[], freeValues: readonly number[]): Values {
  let next = 0;
  return new Map(quantities.map((q) => [q.name, q.given ?? (freeValues[next++] as number)]));
}

/** The outline of a set of values, in the wing frame. */
export function outlineOf(values: Values, tipBank: TipBank = rememberedTipBank()): OutlineParameters {
  const value = (name: QuantityName): number => values.get(name) as number;
  const flatSpanM = value("flat span");
  const taper = value("tip chord over root chord");
  const arcExponent = value("arc exponent");
  const arcTipShare = value("bank close to the tips");
  const planformExponent = value("planform exponent");
  const areaM2 = values.get("flat area") ?? flatSpanM ** 2 / (values.get("aspect ratio") ?? 1);
  const rootChordM =
    values.get("root chord") ??
    areaM2 / flatSpanM / (taper + (1 - taper) * planformFullness(planformExponent));
  return {
    flatHalfSpanM: flatSpanM / 2,
    rootChordM,
    tipChordM: rootChordM * taper,
    tipBankRad: tipBank(value("projected over flat span"), arcExponent, arcTipShare),
    arcExponent,
    arcTipShare,
    planformExponent,
    sweepFraction: value("leading edge sweep"),
    twistTipRad: value("tip twist"),
  };
}

/** How totals without line lengths are divided. */
export function splitOf(values: Values): Split {
  return {
    rise: values.get("rise above lower lines") ?? TYPICAL_SPLIT.rise,
    middle: values.get("middle lines in that rise") ?? TYPICAL_SPLIT.middle,
  };
}

/** From the outline's origin to the middle of the carabiners' [m]. */
export function offsetOf(values: Values, outline: OutlineParameters): Vector {
  const behind = values.get("carabiner behind leading edge") as number;
  return [-behind * outline.rootChordM, 0, values.get("height over carabiners") as number];
}

/** The outline's own figure, as `outlineFigures` has it, without the others. */
export function figureOf(values: Values, outline: OutlineParameters, { name }: Pick<Figure, "name">): number {
  const {
    flatHalfSpanM,
    rootChordM,
    tipChordM,
    tipBankRad,
    arcExponent,
    arcTipShare,
    twistTipRad = 0,
  } = outline;
  const exponent = outline.planformExponent ?? ELLIPSE_EXPONENT;
  if (name === "flat area") return planformArea(flatHalfSpanM, rootChordM, tipChordM, exponent);
  if (name === "projected span")
    return 2 * flatHalfSpanM * (values.get("projected over flat span") as number);
  return (
    2 *
    flatHalfSpanM *
    integrateHalfSpan(
      (sigma, ellipse) =>
        (tipChordM + (rootChordM - tipChordM) * ellipse ** (2 * exponent)) *
        Math.cos(arcBank(tipBankRad, arcExponent, sigma, arcTipShare)) *
        Math.cos(twistTipRad * sigma * sigma),
    )
  );
}

/** The chord fraction of a tab whose row may be moved. */
export function fractionOf(tab: Station["tabs"][number], values: Values): number {
  const shift = tab.assumed ? (values.get(`row ${tab.row} shift`) ?? 0) : 0;
  return Math.min(1, Math.max(0, tab.chordFraction + shift));
}
