/**
 * The frames of the same ribs for one outline after the other, as a fit asks for them: the arc, which costs most, is
 * integrated again only where the outline's arc differs from the last ones.
 */
import { type ArcPoint, arcBank, arcPoint, spanRatio } from "./arc.ts";
import { type OutlineParameters, type RibFrame, tipBankFromSpans } from "./outline.ts";
import { planformChord } from "./planform.ts";
import { gaussLegendre } from "./quadrature.ts";

/** Arcs remembered: the one that a fit stands at and the few that it tries beside it. */
const REMEMBERED = 6;

/** Projected over flat span that every arc of a fit can have. */
const CERTAIN_RATIO = 0.8;

const SHORT_RULE = gaussLegendre(8);

export interface RibFrames {
  /** As `ribFrame` for each rib, to rounding. */
  at(outline: OutlineParameters): readonly RibFrame[];
}

/** @param sigmas signed, −1 left tip to +1 right tip */
export function ribFrames(sigmas: readonly number[]): RibFrames {
  const arcs: { bank: number; exponent: number; tipShare: number; points: readonly ArcPoint[] }[] = [];
  const unitArc = (bank: number, exponent: number, tipShare: number): readonly ArcPoint[] => {
    const known = arcs.find(
      (arc) => arc.bank === bank && arc.exponent === exponent && arc.tipShare === tipShare,
    );
    if (known) return known.points;
    const points = arcPoints(sigmas.map(Math.abs), bank, exponent, tipShare);
    arcs.unshift({ bank, exponent, tipShare, points });
    arcs.length = Math.min(arcs.length, REMEMBERED);
    return points;
  };
  return {
    at(outline) {
      const arc = unitArc(outline.tipBankRad, outline.arcExponent, outline.arcTipShare ?? 0);
      const { flatHalfSpanM, rootChordM, tipChordM, sweepFraction, twistTipRad = 0 } = outline;
      return sigmas.map((sigma, i): RibFrame => {
        const { y, z, bankRad } = arc[i] as ArcPoint;
        const side = sigma < 0 ? -1 : 1;
        const chordM = planformChord(rootChordM, tipChordM, Math.abs(sigma), outline.planformExponent);
        const sinBank = side * Math.sin(bankRad);
        const cosBank = Math.cos(bankRad);
        const twist = twistTipRad * sigma * sigma;
        const sinTwist = Math.sin(twist);
        const cosTwist = Math.cos(twist);
        return {
          sigma,
          chordM,
          origin: [sweepFraction * (rootChordM - chordM), side * flatHalfSpanM * y, flatHalfSpanM * z],
          chordDirection: [cosTwist, -sinTwist * sinBank, -sinTwist * cosBank],
          normal: [sinTwist, cosTwist * sinBank, cosTwist * cosBank],
          spanDirection: [0, cosBank, -sinBank],
        };
      });
    },
  };
}

/**
 * Points of the arc of half-span 1. From one rib to the next a short rule does; where the bank grows like a fractional power,
 * close to the middle, each is integrated from there.
 */
function arcPoints(
  sigmas: readonly number[],
  bank: number,
  exponent: number,
  tipShare: number,
): readonly ArcPoint[] {
  const points: ArcPoint[] = new Array(sigmas.length);
  const outwards = sigmas.map((_, i) => i).sort((a, b) => (sigmas[a] as number) - (sigmas[b] as number));
  let before = 0;
  let y = 0;
  let z = 0;
  for (const i of outwards) {
    const sigma = sigmas[i] as number;
    if (before < sigma / 2) {
      const point = arcPoint(1, bank, exponent, sigma, tipShare);
      y = point.y;
      z = point.z;
    } else {
      const width = sigma - before;
      for (let k = 0; k < SHORT_RULE.nodes.length && width > 0; k++) {
        const angle = arcBank(bank, exponent, before + width * (SHORT_RULE.nodes[k] as number), tipShare);
        const weight = width * (SHORT_RULE.weights[k] as number);
        y += weight * Math.cos(angle);
        z -= weight * Math.sin(angle);
      }
    }
    before = sigma;
    points[i] = { y, z, bankRad: arcBank(bank, exponent, sigma, tipShare) };
  }
  return points;
}

/** The same tip bank as `tipBankFromSpans`, remembered for the last few ratios and exponents. */
export function rememberedTipBank(): (
  projectedOverFlat: number,
  arcExponent: number,
  tipShare: number,
) => number {
  const known: { ratio: number; exponent: number; tipShare: number; bank: number }[] = [];
  return (ratio, exponent, tipShare) => {
    const found = known.find(
      (each) => each.ratio === ratio && each.exponent === exponent && each.tipShare === tipShare,
    );
    if (found) return found.bank;
    // A fit may try an arc that can't be so narrow: then it hangs as far down as it goes.
    const narrow = ratio < CERTAIN_RATIO && ratio < spanRatio(Math.PI, exponent, tipShare);
    const bank = narrow ? Math.PI : tipBankFromSpans(1, ratio, exponent, tipShare);
    known.unshift({ ratio, exponent, tipShare, bank });
    known.length = Math.min(known.length, REMEMBERED);
    return bank;
  };
}
