/** Where the paths above a new line land with each loop, and which loop to suggest. */
import { plainMm, signedMm } from "../diagnosis/wording.ts";
import { rectangular } from "../readings/index.ts";
import { say } from "../words/index.ts";
import { kindAfterWith } from "./kinds.ts";
import type { LineLoops, LoopState } from "./model.ts";
import type { Landing, SwapTarget } from "./swap-model.ts";
import { TAKE_UP_ASSUMPTIONS } from "./take-up.ts";

/** One tying against another of the same loop [m]. */
const TYING_M = Math.SQRT2 * rectangular(TAKE_UP_ASSUMPTIONS.snug.halfWidth);

/** What the landings of one line are reckoned from. */
export interface LandingBasis {
  /** New line's length less the old one's [m], and its standard uncertainty; undefined where the old one isn't known. */
  readonly longerM: number | undefined;
  readonly lengthsUncertaintyM: number;
  /** Of the line's mean less its target, by the readings [m]. */
  readonly readingsUncertaintyM: number;
  /** The loop with which the old line's paths are as they are. */
  readonly from: LoopState | undefined;
  readonly nowM: number | undefined;
  readonly targetM: number | undefined;
  readonly paths: Landing["paths"];
}

/** Landing with one state; `state` undefined for a line without a loop. */
export function landing(
  basis: LandingBasis,
  state: LoopState | undefined,
  allowed: boolean,
  leastTakeUpM = 0,
): Landing {
  const { longerM, from, nowM, targetM } = basis;
  const changeM = longerM === undefined ? undefined : longerM + (from?.takeUpM ?? 0) - (state?.takeUpM ?? 0);
  const moved = (deviationM: number | undefined): number | undefined =>
    deviationM === undefined || changeM === undefined ? undefined : deviationM + changeM;
  const meanM = moved(nowM);
  // Without readings the old line's working length is all there is to meet.
  const differenceM =
    nowM === undefined ? changeM : meanM === undefined || targetM === undefined ? undefined : meanM - targetM;
  const loopsM =
    state === undefined || from === undefined
      ? 0
      : state.kind.id === from.kind.id
        ? TYING_M
        : Math.hypot(state.standardUncertaintyM, from.standardUncertaintyM);
  return {
    state,
    allowed,
    changeM,
    paths: basis.paths.map(({ tabKey, deviationM }) => ({ tabKey, deviationM: moved(deviationM) })),
    meanM,
    differenceM,
    standardUncertaintyM:
      differenceM === undefined
        ? undefined
        : Math.hypot(basis.lengthsUncertaintyM, basis.readingsUncertaintyM, loopsM),
    reserveM: (state?.takeUpM ?? leastTakeUpM) - leastTakeUpM,
  };
}

/** One landing for every state of a line on a maillon. */
export function landings(
  basis: LandingBasis,
  loops: LineLoops,
  kinds: ReadonlySet<string> | undefined,
  mostTakeUpM: number | undefined,
): readonly Landing[] {
  const least = loops.states[0]?.takeUpM ?? 0;
  return loops.states.map((state, at) => {
    const allowed =
      (at === 0 || kinds === undefined || kinds.has(state.kind.id)) &&
      (mostTakeUpM === undefined || state.takeUpM <= mostTakeUpM + 1e-9);
    return landing(basis, state, allowed, least);
  });
}

/** The suggested landing and why. */
export interface Suggestion {
  readonly at: number | undefined;
  readonly why: string;
}

/**
 * The allowed state that lands nearest to the target. Where that one leaves nothing to take out and another one does whose
 * nearness can't be told from it, the other one: a new line shrinks (common practice, no source).
 *
 * Can't be told: ||d₁| − |d₂|| is within its standard uncertainty. Two landings on the same side of the target differ by
 * their loops alone, so that which is nearer is sure but for those; on either side of it, what both share counts twice. Never
 * by more than `mostM`: lengths that are hardly known shall not carry a line far from its neighbours.
 *
 * @param sharedUncertaintyM of lengths and readings, which all states share [m]
 * @param mostM how much farther off the other one may land at most [m]
 * @param target what the paths are to meet
 */
export function suggest(
  all: readonly Landing[],
  sharedUncertaintyM: number,
  mostM: number,
  target: SwapTarget["basis"],
): Suggestion {
  const usable = all.flatMap((one, at) =>
    one.allowed && one.differenceM !== undefined ? [{ at, one, d: one.differenceM }] : [],
  );
  const [first, ...others] = usable.sort((a, b) => Math.abs(a.d) - Math.abs(b.d));
  if (first === undefined)
    return {
      at: undefined,
      why: all.some(({ changeM }) => changeM !== undefined)
        ? say("workshop.swap.no-kind")
        : say("workshop.swap.old-unknown.loop"),
    };
  const told = ({ one, d }: (typeof usable)[number]) => ({
    loop: kindAfterWith(one.state?.kind),
    by: signedMm(d, 1),
    target,
    left: plainMm(one.reserveM, 1),
  });
  const nearest = (): Suggestion => ({
    at: first.at,
    why: say("workshop.swap.nearest", {
      ...told(first),
      reserve: first.one.reserveM > 0 ? "some" : "none",
    }),
  });
  if (first.one.reserveM > 0) return nearest();
  const other = others.find(({ one, d }) => {
    if (!(one.reserveM > 0)) return false;
    const shared = Math.sign(d) === Math.sign(first.d) ? 0 : 2 * sharedUncertaintyM;
    const loopsM = one.state?.standardUncertaintyM ?? 0;
    return Math.abs(d) - Math.abs(first.d) <= Math.min(mostM, Math.hypot(shared, loopsM));
  });
  if (other === undefined) return nearest();
  return {
    at: other.at,
    why: say("workshop.swap.keeps", {
      ...told(other),
      nearest: kindAfterWith(first.one.state?.kind),
      nearestBy: signedMm(first.d, 1),
    }),
  };
}
