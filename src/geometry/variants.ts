/**
 * What the results owe to assumptions: the same wing with other fabric, other load shares, another weight, and the band
 * that these leave on every rib's incidence.
 */
import { bendCurvature, memberLength } from "./energy.ts";
import { solveEquilibrium } from "./equilibrium.ts";
import type { Bends, Equilibrium, Network, RibChange, WingModel } from "./model.ts";
import { profileChange } from "./profile.ts";
import { solveWing, wingStructure } from "./solve.ts";
import type { NetworkStructure } from "./structure.ts";

/** Names in the program, the same in every language. */
export type AssumptionName =
  | "fabric stiffness"
  | "bending stiffness"
  | "load along the chord"
  | "all-up weight";
export type AssumptionEnd =
  | `÷ ${number}`
  | `× ${number}`
  | "rearwards"
  | "forwards"
  | "lightest allowed"
  | "heaviest allowed";

/** An assumption taken to both ends of what is plausible. */
export interface Assumption {
  readonly name: AssumptionName;
  readonly low: AssumptionEnd;
  readonly high: AssumptionEnd;
  readonly lowModel: (model: WingModel, structure: NetworkStructure) => WingModel;
  readonly highModel: (model: WingModel, structure: NetworkStructure) => WingModel;
}

/**
 * The fabric with its stiffnesses multiplied. Its forces at the specified state stay as they are, so that state stays a
 * solution and nothing has to be solved again.
 */
export function withFabric(model: WingModel, tieFactor: number, bendFactor: number): WingModel {
  const { network, specified } = model;
  const stiffness = Float64Array.from(network.stiffness);
  const unstretched = Float64Array.from(network.unstretched);
  for (let m = 0; m < stiffness.length; m++) {
    if (model.memberKind[m] !== "fabric") continue;
    stiffness[m] = (stiffness[m] as number) * tieFactor;
    const strain = (specified.tensionsN[m] as number) / (stiffness[m] as number);
    unstretched[m] =
      memberLength(network.ends, m, specified.positions) / (1 + Math.max(-0.3, Math.min(0.3, strain)));
  }
  const bends: Bends = {
    ...network.bends,
    stiffness: network.bends.stiffness.map((k) => k * bendFactor),
    rest: network.bends.rest.map((rest, b) => {
      const curvature = bendCurvature(network, b, specified.positions);
      return curvature - (curvature - rest) / bendFactor;
    }),
  };
  return { ...model, network: { ...network, stiffness, unstretched, bends } };
}

/** The wing at another all-up weight: pressure, and with it every load, in proportion. The shape settles anew. */
export function withWeight(model: WingModel, weightN: number, structure: NetworkStructure): WingModel {
  const factor = weightN / model.allUpWeightN;
  const network: Network = { ...model.network, loads: model.network.loads.map((load) => load * factor) };
  return settled(
    { ...model, network, allUpWeightN: weightN, dynamicPressurePa: model.dynamicPressurePa * factor },
    structure,
  );
}

/**
 * The wing with the load moved along the chord: each tab's load times 1 + shift·2·(0.35 − ξ), each rib's sum kept.
 *
 * @param shift 0.3 puts about a tenth more on the front row of a four-row wing
 */
export function withLoadShift(model: WingModel, shift: number, structure: NetworkStructure): WingModel {
  const loads = Float64Array.from(model.network.loads);
  for (const rib of model.ribs) {
    const tabs = rib.nodes.filter((node) => node.tabKey !== undefined && node.row !== "brake");
    const size = ({ node }: { node: number }): number =>
      Math.hypot(loads[3 * node] as number, loads[3 * node + 1] as number, loads[3 * node + 2] as number);
    const factors = tabs.map(({ chordFraction }) => Math.max(0.1, 1 + 2 * shift * (0.35 - chordFraction)));
    const before = tabs.reduce((sum, tab) => sum + size(tab), 0);
    const after = tabs.reduce((sum, tab, i) => sum + size(tab) * (factors[i] as number), 0);
    tabs.forEach(({ node }, i) => {
      for (let axis = 0; axis < 3; axis++)
        loads[3 * node + axis] =
          ((loads[3 * node + axis] as number) * (factors[i] as number) * before) / after;
    });
  }
  return settled({ ...model, network: { ...model.network, loads } }, structure);
}

function settled(model: WingModel, structure: NetworkStructure): WingModel {
  const specified = solveEquilibrium(model.network, { structure, start: model.specified.positions });
  return { ...model, specified };
}

/** Factor by which the assumed stiffness of fabric ties and of bending may be wrong, either way; assumed. */
export const TIE_FACTOR = 3;
export const BEND_FACTOR = 4;
/** Shift of the load along the chord that spans the plausible row shares (A 45 to 60 % on four rows). */
export const LOAD_SHIFT = 0.3;

/** Each assumption with its two ends. */
export function assumptions(weightRangeN: { readonly min: number; readonly max: number }): Assumption[] {
  return [
    {
      name: "fabric stiffness",
      low: `÷ ${TIE_FACTOR}`,
      high: `× ${TIE_FACTOR}`,
      lowModel: (model) => withFabric(model, 1 / TIE_FACTOR, 1),
      highModel: (model) => withFabric(model, TIE_FACTOR, 1),
    },
    {
      name: "bending stiffness",
      low: `÷ ${BEND_FACTOR}`,
      high: `× ${BEND_FACTOR}`,
      lowModel: (model) => withFabric(model, 1, 1 / BEND_FACTOR),
      highModel: (model) => withFabric(model, 1, BEND_FACTOR),
    },
    {
      name: "load along the chord",
      low: "rearwards",
      high: "forwards",
      lowModel: (model, structure) => withLoadShift(model, -LOAD_SHIFT, structure),
      highModel: (model, structure) => withLoadShift(model, LOAD_SHIFT, structure),
    },
    {
      name: "all-up weight",
      low: "lightest allowed",
      high: "heaviest allowed",
      lowModel: (model, structure) => withWeight(model, weightRangeN.min, structure),
      highModel: (model, structure) => withWeight(model, weightRangeN.max, structure),
    },
  ];
}

/** What one assumption does to every rib's incidence change. */
export interface Influence {
  readonly name: AssumptionName;
  readonly low: AssumptionEnd;
  readonly high: AssumptionEnd;
  /** Incidence change with the assumption at its low and its high end less that of the model as it is, per rib [rad]. */
  readonly lowRad: readonly number[];
  readonly highRad: readonly number[];
}

export interface IncidenceBand {
  /** Per rib, in the order of the changes: half-width of the band around the model's incidence change [rad]. */
  readonly halfWidthRad: readonly number[];
  readonly influences: readonly Influence[];
}

/**
 * Half-width of the incidence change at every rib that comes from assumptions: one at a time to both ends, the larger
 * side of each, combined as the root of the sum of squares (independent influences).
 *
 * @param changesM line key → length change from the specified state [m]
 * @param ribs the profile changes of the model as it is, for the same line changes
 */
export function incidenceBand(
  model: WingModel,
  changesM: ReadonlyMap<string, number>,
  ribs: readonly RibChange[],
  measured: Equilibrium,
  weightRangeN: { readonly min: number; readonly max: number },
  structure: NetworkStructure = wingStructure(model),
): IncidenceBand {
  const differences = (variant: WingModel): number[] => {
    const state = solveWing(
      variant,
      changesM,
      { ...variant.specified, positions: measured.positions },
      structure,
    );
    return profileChange(variant, variant.specified, state).map(
      (change, i) => change.incidenceRad - (ribs[i]?.incidenceRad ?? 0),
    );
  };
  const influences = assumptions(weightRangeN).map(({ name, low, high, lowModel, highModel }) => ({
    name,
    low,
    high,
    lowRad: differences(lowModel(model, structure)),
    highRad: differences(highModel(model, structure)),
  }));
  const halfWidthRad = ribs.map((_, i) =>
    Math.sqrt(
      influences.reduce(
        (sum, influence) =>
          sum + Math.max(Math.abs(influence.lowRad[i] ?? 0), Math.abs(influence.highRad[i] ?? 0)) ** 2,
        0,
      ),
    ),
  );
  return { halfWidthRad, influences };
}
