/** Change of every rib's profile between two states: incidence, camber, heave, arc. */
import type { Side } from "../plan/model.ts";
import type { AttachedRib, Equilibrium, RibChange, WingModel } from "./model.ts";
import { ribSigma } from "./outline.ts";
import { at, dot, type Vector } from "./vector.ts";

/** Fewest tabs for an incidence, and for a camber. */
const TABS_FOR_INCIDENCE = 2;
const TABS_FOR_CAMBER = 3;

/**
 * Least squares of the tabs' displacements u along the rib's normal, over the chord fraction ξ:
 * u ≈ h + a·(ξ − ξ̄) + c·q(ξ), with q the camber line 4ξ(1 − ξ) less its own straight part over the rib's tabs, so that
 * a is the turn of the tabs' line and c the change of camber height. Incidence is −a/chord, nose-up positive: the rear
 * going down (shorter rear lines) raises it. Two tabs give no camber, three an exact one, more a residual.
 *
 * @param displacements along the normal, outwards positive [m]
 */
export function fitProfile(
  chordFractions: readonly number[],
  displacements: readonly number[],
  chordM: number,
):
  | { heaveM: number; incidenceRad: number; camber: number | undefined; residualM: number | undefined }
  | undefined {
  const count = chordFractions.length;
  if (count < TABS_FOR_INCIDENCE) return undefined;
  const meanFraction = sum(chordFractions) / count;
  const heaveM = sum(displacements) / count;
  const centred = chordFractions.map((fraction) => fraction - meanFraction);
  const spread = sum(centred.map((d) => d * d));
  if (spread === 0) return undefined;
  const slope = sum(centred.map((d, i) => d * (displacements[i] as number))) / spread;
  const incidenceRad = -Math.atan(slope / chordM);
  const left = displacements.map((u, i) => u - heaveM - slope * (centred[i] as number));
  if (count < TABS_FOR_CAMBER) return { heaveM, incidenceRad, camber: undefined, residualM: undefined };
  const line = chordFractions.map((fraction) => 4 * fraction * (1 - fraction));
  const lineMean = sum(line) / count;
  const lineSlope = sum(centred.map((d, i) => d * (line[i] as number))) / spread;
  const bow = line.map((q, i) => q - lineMean - lineSlope * (centred[i] as number));
  const bowSquare = sum(bow.map((q) => q * q));
  const height = bowSquare > 1e-12 ? sum(bow.map((q, i) => q * (left[i] as number))) / bowSquare : 0;
  const camber = bowSquare > 1e-12 ? height / chordM : undefined;
  if (count === TABS_FOR_CAMBER) return { heaveM, incidenceRad, camber, residualM: undefined };
  const rest = left.map((u, i) => u - height * (bow[i] as number));
  return { heaveM, incidenceRad, camber, residualM: Math.sqrt(sum(rest.map((r) => r * r)) / count) };
}

/**
 * Profile change of every attached rib with at least two main tabs, from the left tip to the right tip.
 * Brake tabs and bare trailing edges don't count: they belong to the flap, not to the profile's trim.
 */
export function profileChange(model: WingModel, from: Equilibrium, to: Equilibrium): RibChange[] {
  const bankFrom = banks(model, from);
  const bankTo = banks(model, to);
  return model.ribs.flatMap((rib, r) => {
    const tabs = mainTabs(rib);
    const moved = tabs.map(({ node }) => {
      const a = at(from.positions, node);
      const b = at(to.positions, node);
      return dot([b[0] - a[0], b[1] - a[1], b[2] - a[2]], rib.normal);
    });
    const fit = fitProfile(
      tabs.map((tab) => tab.chordFraction),
      moved,
      rib.chordM,
    );
    if (!fit) return [];
    return [
      {
        side: rib.side,
        rib: rib.rib,
        sigma: rib.sigma,
        yM: meanOf(from, rib)[1],
        ...fit,
        arcRad: (bankTo[r] as number) - (bankFrom[r] as number),
      },
    ];
  });
}

/** Profile change at a cell wall, read off its neighbours that carry tabs where it has none. */
export interface RibChangeBetween {
  readonly side: Side;
  readonly rib: number;
  /** True where the rib carries no tabs of its own. */
  readonly between: boolean;
  readonly incidenceRad: number;
  readonly camber: number | undefined;
  readonly heaveM: number;
}

/**
 * Profile change at every cell wall from the left tip to the right tip: straight between the ribs that carry tabs, as the
 * canopy's surface goes, and like the outermost beyond it. The middle wall of an even number of cells is given once.
 *
 * @param changes of the attached ribs, from the left tip to the right tip
 */
export function changeAtEveryRib(model: WingModel, changes: readonly RibChange[]): RibChangeBetween[] {
  if (changes.length === 0) return [];
  const signed = (change: { side: Side; sigma: number }): number =>
    change.side === "left" ? -change.sigma : change.sigma;
  const last = Math.floor(model.cells / 2) + 1;
  const numbers = Array.from({ length: last }, (_, i) => i + 1);
  const walls = [
    ...[...numbers].reverse().map((rib) => ({ side: "left" as const, rib })),
    ...numbers.map((rib) => ({ side: "right" as const, rib })),
  ].filter(({ side, rib }) => side === "right" || ribSigma(rib, model.cells) > 0);
  return walls.map(({ side, rib }) => {
    const own = changes.find((change) => change.side === side && change.rib === rib);
    if (own) {
      const { incidenceRad, camber, heaveM } = own;
      return { side, rib, between: false, incidenceRad, camber, heaveM };
    }
    const place = signed({ side, sigma: ribSigma(rib, model.cells) });
    const after = changes.findIndex((change) => signed(change) > place);
    const right = changes[after < 0 ? changes.length - 1 : after] as RibChange;
    const left = changes[after < 0 ? changes.length - 1 : Math.max(0, after - 1)] as RibChange;
    const gap = signed(right) - signed(left);
    const t = gap > 0 ? (place - signed(left)) / gap : 0;
    const mix = (a: number, b: number): number => a + t * (b - a);
    return {
      side,
      rib,
      between: true,
      incidenceRad: mix(left.incidenceRad, right.incidenceRad),
      camber:
        left.camber === undefined || right.camber === undefined ? undefined : mix(left.camber, right.camber),
      heaveM: mix(left.heaveM, right.heaveM),
    };
  });
}

function mainTabs(rib: AttachedRib): AttachedRib["nodes"] {
  return rib.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake");
}

/** Bank of the span direction at each rib, from its neighbours' mean tabs; positive where the right side hangs lower [rad]. */
function banks(model: WingModel, state: Equilibrium): number[] {
  const means = model.ribs.map((rib) => meanOf(state, rib));
  return means.map((_, r) => {
    const a = means[Math.max(0, r - 1)] as Vector;
    const b = means[Math.min(means.length - 1, r + 1)] as Vector;
    return Math.atan2(a[2] - b[2], b[1] - a[1]);
  });
}

function meanOf(state: Equilibrium, rib: AttachedRib): Vector {
  const tabs = mainTabs(rib).length > 0 ? mainTabs(rib) : rib.nodes;
  const total: Vector = [0, 0, 0];
  for (const { node } of tabs) {
    const x = at(state.positions, node);
    for (let axis = 0; axis < 3; axis++)
      total[axis] = (total[axis] as number) + (x[axis] as number) / tabs.length;
  }
  return total;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
