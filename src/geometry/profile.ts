/** Change of every rib's profile between two states: incidence, camber, heave, arc. */
import type { AttachedRib, Equilibrium, RibChange, WingModel } from "./model.ts";
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
