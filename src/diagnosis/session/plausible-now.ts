/**
 * Judges a number the moment it is typed: could the target read that, or is a slip of the keys, the ear or the hand the likelier
 * tale? Rates and widths are those that whole checks are searched with, see `mistakes/plausible.ts`.
 */
import type { Wing } from "../../plan/model.ts";
import { expectedReadingM } from "../../readings/corrections.ts";
import { lookUp } from "../../readings/lookup.ts";
import type { Check, Target } from "../../readings/model.ts";
import {
  type Better,
  type Expected,
  type Judge,
  keyOfTarget,
  type SoFar,
  type Verdict,
} from "../../readings/session/model.ts";
import { type Meant, meantInstead } from "../mistakes/digits.ts";
import { expectedReadingAt } from "../mistakes/expectation.ts";
import type { Layout } from "../mistakes/layout.ts";
import { logNormal, RATE } from "../mistakes/plausible.ts";
import { mean } from "../rows.ts";
import { beforeOf, emptyLayout, linesLike, logHonestNow, modelNow, type NowModel } from "./now-model.ts";
import { doubtReason } from "./reasons.ts";

export interface PlausibleOptions {
  /** The check before: what was off then is likely still off. */
  readonly lastCheck?: Check;
  /** Odds of a mistake from which a number is asked for again. Default: 0.1; reading again costs little. */
  readonly doubtFrom?: number;
}

/** A number that is no kind of slip we know, anywhere over a metre or two: how often, times the density [1/m]. */
const BLUNDER = 0.00015;
/** To the tab after or before: calls slip by one for the rest of a row too, and the first of them is met here. */
const NEXT_TAB = RATE.wrongTabNext + 0.001;
/** How near a tab's own reading comes to itself, read again [m]. */
const AGAIN_SIGMA = 0.002;
/** A tale is told as the reason where it is so much of all that speaks for a mistake. */
const LEAST_SHARE = 0.4;
/** The range is looked for so far out [m]. */
const WIDEST_M = 0.3;
const STEP_M = 0.001;

/**
 * A judge for a wing. Its doubts are about the typing and the handling, never a finding about the wing, and that it has none is no
 * clearance to fly.
 */
export function plausibleNow(wing: Wing, options: PlausibleOptions = {}): Judge {
  const { doubtFrom = 0.1 } = options;
  const before = beforeOf(wing, options.lastCheck);
  // Entering asks for the range and then for the verdict on the same readings: kept for that, nothing else hangs on it.
  let kept: { of: SoFar; key: string; model: NowModel | undefined } | undefined;
  let layout: { frame: SoFar["frame"]; empty: Layout } | undefined;
  const modelOf = (soFar: SoFar, target: Target): NowModel | undefined => {
    const key = keyOfTarget(target);
    if (kept?.of === soFar && kept.key === key) return kept.model;
    if (layout?.frame !== soFar.frame) layout = { frame: soFar.frame, empty: emptyLayout(wing, soFar.frame) };
    kept = { of: soFar, key, model: modelNow(layout.empty, soFar, target, before) };
    return kept.model;
  };
  const expected: Judge["expected"] = (soFar, target) => {
    const model = modelOf(soFar, target);
    return model && rangeOf(model, doubtFrom);
  };
  return {
    expected,
    judge: (soFar, target, valuesM): Verdict => {
      const model = modelOf(soFar, target);
      if (model === undefined)
        return { level: "fine", reason: undefined, expected: undefined, better: undefined };
      const range = rangeOf(model, doubtFrom);
      for (const valueM of valuesM) {
        const honest = logHonestNow(model.parts, valueM);
        const tales = talesOf(wing, model, target, valueM);
        const known = tales.reduce((sum, { weight }) => sum + weight, 0);
        if (Math.log(known + BLUNDER) - honest <= Math.log(doubtFrom)) continue;
        const [best] = [...tales].sort((one, other) => other.weight - one.weight);
        const better = best && best.weight >= LEAST_SHARE * (known + BLUNDER) ? best.better : undefined;
        const reason = doubtReason(target, valueM, range, better);
        return { level: "doubtful", reason, expected: range, better };
      }
      return { level: "fine", reason: undefined, expected: range, better: undefined };
    },
  };
}

/** From where to where a number is taken without a question, as far as no slip explains it [m]. */
function rangeOf(model: NowModel, doubtFrom: number): Expected {
  const valueM = model.parts[0]?.valueM as number;
  const least = Math.log(BLUNDER / doubtFrom);
  const reach = (way: 1 | -1): number => {
    let off = 0;
    while (off < WIDEST_M && logHonestNow(model.parts, valueM + way * (off + STEP_M)) >= least) off += STEP_M;
    return valueM + way * off;
  };
  return { valueM, lowM: reach(-1), highM: reach(1) };
}

interface Tale {
  /** How often it happens times how well it explains the number [1/m]. */
  readonly weight: number;
  readonly better: Better;
}

function talesOf(wing: Wing, model: NowModel, target: Target, valueM: number): readonly Tale[] {
  const slips = new Map<string, Tale>();
  for (const meant of meantInstead(valueM)) {
    const weight = RATE.typing * meant.share * Math.exp(logHonestNow(model.parts, meant.valueM));
    const figure = (meant.valueM * 1000).toFixed(3);
    // The same figure by two ways is one tale; so are a lost digit's ten possibilities, of which the likeliest is named.
    const name = meant.lost === undefined ? figure : `lost ${meant.lost}`;
    const known = slips.get(name);
    const better: Better = { kind: kindOf(meant, valueM), valueM: meant.valueM, target };
    slips.set(name, {
      weight: weight + (known?.weight ?? 0),
      better: known && known.weight > weight ? known.better : better,
    });
  }
  const elsewhere =
    model.tab === undefined ? otherLines(wing, model, target, valueM) : otherTabs(model, valueM);
  return [...slips.values(), ...elsewhere];
}

function kindOf(meant: Meant, valueM: number): Better["kind"] {
  if (meant.kind === "digits transposed") return "transposed";
  if (meant.kind === "keystroke") return "keystroke";
  if (meant.kind === "misheard") return "misheard";
  const offMm = Math.round(Math.abs(meant.valueM - valueM) * 1000);
  return offMm === 100 || offMm === 1000 ? "hundred off" : "digit";
}

function otherTabs({ expectation, tab }: NowModel, valueM: number): readonly Tale[] {
  const { layout } = expectation;
  const { places } = layout;
  const own = places[tab as number] as Layout["places"][number];
  const beside = layout.groups.get(own.group) ?? [];
  const at = beside.indexOf(tab as number);
  return places.flatMap((place, i): Tale[] => {
    if (i === tab) return [];
    const besideAt = beside.indexOf(i);
    const [kind, rate]: [Better["kind"], number] =
      besideAt >= 0 && Math.abs(besideAt - at) === 1
        ? ["neighbour", NEXT_TAB]
        : i === own.mirror
          ? ["mirror", RATE.wrongTabMirror]
          : place.side === own.side && place.rib === own.rib
            ? ["other row", RATE.wrongTabRow]
            : ["elsewhere", RATE.wrongTabElse];
    if (kind === "elsewhere" && besideAt < 0) return [];
    // What a tab was read as says more of it than its row does.
    const readM = mean(layout.valuesM[i] ?? []);
    const sigma = readM === undefined ? (expectation.sigmaM[i] as number) : AGAIN_SIGMA;
    const shouldM = readM ?? expectedReadingAt(expectation, i);
    const weight = rate * Math.exp(logNormal(valueM - shouldM, sigma));
    return [{ weight, better: { kind, valueM, target: place.target } }];
  });
}

function otherLines(wing: Wing, model: NowModel, target: Target, valueM: number): readonly Tale[] {
  const lookup = lookUp(wing);
  const sigma = model.parts[0]?.sigmaM as number;
  return linesLike(wing, target).flatMap(({ line, isMirror }): Tale[] => {
    const other: Target = { kind: "line", id: line.id, side: line.side };
    const shouldM = expectedReadingM(lookup, other, model.expectation.layout.check);
    if (shouldM === undefined) return [];
    const kind = isMirror ? "mirror" : "neighbour";
    const rate = isMirror ? RATE.wrongTabMirror : RATE.wrongTabNext;
    const weight = rate * Math.exp(logNormal(valueM - shouldM, sigma));
    return [{ weight, better: { kind, valueM, target: other } }];
  });
}
