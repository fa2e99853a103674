/**
 * How uncertain a check's deviations are, and anything made of them: means, differences, sides.
 *
 * The error of path i is e_i = δ_i + Σ_c g_ci ε_c: its own, and effects that many paths share (zero, scale, tension,
 * measuring points), each a standard variable ε_c with a loading g_ci [m] on the path. So the variance of a
 * combination Σ w_i e_i is Σ w_i² u_i² + Σ_c (Σ_i w_i g_ci)², exactly, correlations included: a zero that is off
 * shifts every path alike and drops out of every difference. JCGM 100:2008, F.1.2.3 (correlation by common effects).
 */
import type { Path, Wing } from "../plan/index.ts";
import { pathCompliance, pathCorrections, unstretchedM } from "./corrections.ts";
import { combine, ofResolution, type UncertaintyComponent } from "./gum.ts";
import { lookUp, type WingLookup } from "./lookup.ts";
import type { Check, Deviations } from "./model.ts";
import { type ReadingUncertainty, readingUncertaintyOf } from "./reading-uncertainty.ts";
import { type Scatter, scatterOf } from "./scatter.ts";

/** An error that several paths share. */
export interface CommonEffect {
  /** `zero`, `scale`, `tension`, `stiffness <material>`, `row <row>`, `side <side>`. */
  readonly name: string;
  /** What one standard deviation of the effect does to each tab's deviation [m], in the order of the wing's tabs. */
  readonly loadingsM: Float64Array;
}

/** Uncertainties of a check's deviations: plain data that may cross a worker's boundary. In the order of the wing's tabs. */
export interface PathUncertainties {
  readonly tabKeys: readonly string[];
  /** 1 where the path was read, else 0. */
  readonly read: Uint8Array;
  /** Standard uncertainty of what is each path's own: scatter and resolution [m]; 0 where not read. */
  readonly ownM: Float64Array;
  /** The part of it that scatters from reading to reading, of the mean of the path's repeats [m]. */
  readonly scatterM: Float64Array;
  /** The part of it that the instrument's resolution leaves [m]. */
  readonly resolutionM: number;
  readonly effects: readonly CommonEffect[];
  /** Standard uncertainty of each path's deviation, common effects included [m]; 0 where not read. */
  readonly totalM: Float64Array;
  /** By what the check's repeats changed the expected variance of a reading, and how well it is known now. */
  readonly scatter: Pick<Scatter, "varianceFactor" | "degreesOfFreedom">;
  /** Tabs whose repeats disagree by more than scatter explains: read again. */
  readonly doubtfulTabKeys: readonly string[];
  readonly settings: ReadingUncertainty;
}

/**
 * Uncertainty of each path's deviation and of what paths share.
 *
 * Own: reading point and tension of the single reading (through the path's compliance), their variance scaled by what
 * the check's repeats show and divided by the number of repeats (a repeat is taken to be pulled and read again), and
 * the resolution, which repeats don't lessen. A path whose repeats disagree too much keeps their spread to itself.
 * Common: zero (all alike), scale (by length read), tension of the whole check (by compliance), stiffness of each
 * material (by its share of the stretch that was corrected), measuring point by row and by side.
 *
 * @param deviations of the same wing and check
 * @param settings what the user knows better than the check says: see {@link readingUncertaintyOf}
 * @throws Error where the deviations aren't those of this wing
 */
export function readingUncertainty(
  wing: Wing,
  check: Check,
  deviations: Deviations,
  settings: Partial<ReadingUncertainty> = {},
): PathUncertainties {
  if (
    deviations.paths.length !== wing.paths.length ||
    deviations.paths.some((path, i) => path.tabKey !== wing.paths[i]?.tabKey)
  )
    throw new Error(`The deviations are not those of the wing "${wing.name}": its tabs are others.`);
  const using = readingUncertaintyOf(check, settings);
  const lookup = lookUp(wing);
  const compliances = wing.paths.map((path) => pathCompliance(lookup, path));
  const read = Uint8Array.from(deviations.paths, (path) => (path.deviationM === undefined ? 0 : 1));

  const series = deviations.paths.map((path, i) => ({
    count: path.repeats,
    standardDeviation: path.repeatSpreadM ?? 0,
    varianceM2: using.readingM ** 2 + ((compliances[i] as number) * using.tensionEachN) ** 2,
  }));
  const scatter = scatterOf(series, using.readingDegreesOfFreedom);
  const doubtful = new Set(scatter.doubtful);
  const scatterM = Float64Array.from(series, ({ count, standardDeviation, varianceM2 }, i) => {
    if (read[i] === 0) return 0;
    const expected = scatter.varianceFactor * varianceM2;
    return Math.sqrt(
      (doubtful.has(i) ? Math.max(expected, standardDeviation ** 2) : expected) / Math.max(1, count),
    );
  });
  const resolutionM = ofResolution(using.resolutionM);
  const ownM = scatterM.map((own, i) => (read[i] === 0 ? 0 : Math.hypot(own, resolutionM)));

  const effects = commonEffects(lookup, check, deviations, compliances, using).map(({ name, loadingM }) => ({
    name,
    loadingsM: Float64Array.from(wing.paths, (path, i) => (read[i] === 0 ? 0 : loadingM(path, i))),
  }));
  const totalM = ownM.map((own, i) =>
    Math.sqrt(effects.reduce((sum, effect) => sum + (effect.loadingsM[i] as number) ** 2, own ** 2)),
  );
  return {
    tabKeys: wing.paths.map((path) => path.tabKey),
    read,
    ownM,
    scatterM,
    resolutionM,
    effects: effects.filter((effect) => effect.loadingsM.some((loading) => loading !== 0)),
    totalM,
    scatter: { varianceFactor: scatter.varianceFactor, degreesOfFreedom: scatter.degreesOfFreedom },
    doubtfulTabKeys: scatter.doubtful.map((i) => wing.paths[i]?.tabKey as string),
    settings: using,
  };
}

interface Effect {
  readonly name: string;
  readonly loadingM: (path: Path, tab: number) => number;
}

function commonEffects(
  lookup: WingLookup,
  check: Check,
  deviations: Deviations,
  compliances: readonly number[],
  using: ReadingUncertainty,
): readonly Effect[] {
  const { wing } = lookup;
  const offReferenceN = check.tensionN - wing.reference.tensionN;
  const lengthReadM = (path: Path, tab: number): number => {
    const { datumM, stretchM } = pathCorrections(lookup, path, check);
    return (deviations.paths[tab]?.measuredM ?? path.specifiedM) + datumM + stretchM;
  };
  return [
    { name: "zero", loadingM: () => using.zeroM },
    { name: "scale", loadingM: (path, tab) => using.scale * lengthReadM(path, tab) },
    { name: "tension", loadingM: (_, tab) => (compliances[tab] as number) * using.tensionCheckN },
    ...wing.materials.map((material) => ({
      name: `stiffness ${material.id}`,
      loadingM: (path: Path) => using.stiffness * offReferenceN * complianceIn(lookup, path, material.id),
    })),
    ...[...new Set(wing.paths.map((path) => path.row))].map((row) => ({
      name: `row ${row}`,
      loadingM: (path: Path) => (path.row === row ? using.rowPointM : 0),
    })),
    ...(["left", "right"] as const).map((side) => ({
      name: `side ${side}`,
      loadingM: (path: Path) => (path.side === side ? using.sidePointM : 0),
    })),
  ];
}

/** The part of a path's compliance that lies in lines of one material [m/N]. */
function complianceIn(lookup: WingLookup, path: Path, materialId: string): number {
  const stiffnessN = lookup.materials.get(materialId)?.stiffnessN ?? Number.POSITIVE_INFINITY;
  const tensionN = lookup.wing.reference.tensionN;
  return path.lineKeys.reduce((sum, key) => {
    const line = lookup.lines.get(key);
    if (line?.materialId !== materialId) return sum;
    return sum + unstretchedM(line.lengthM, stiffnessN, tensionN) / stiffnessN;
  }, 0);
}

/** Weights of a combination of deviations, by the tab's place in the wing's list of tabs. */
export type TabWeights = ReadonlyMap<number, number>;

/** Weights of the mean of some tabs' deviations; empty for none. */
export function meanWeights(tabs: readonly number[]): TabWeights {
  return new Map(tabs.map((tab) => [tab, 1 / tabs.length]));
}

/** Weights of one combination less another. */
export function differenceWeights(one: TabWeights, other: TabWeights): TabWeights {
  const weights = new Map(one);
  for (const [tab, weight] of other) weights.set(tab, (weights.get(tab) ?? 0) - weight);
  return weights;
}

export interface CombinationUncertainty {
  readonly standardUncertaintyM: number;
  /** Effective, by Welch–Satterthwaite: the scatter is estimated, common effects are taken as known. Infinity where scatter plays no part. */
  readonly degreesOfFreedom: number;
  /** What each source contributes on its own [m], largest first: `scatter`, `resolution`, and the common effects. */
  readonly sources: readonly { readonly name: string; readonly standardUncertaintyM: number }[];
}

/**
 * Uncertainty of Σ w_i · deviation_i [m], correlations included, with its sources.
 *
 * @throws RangeError where a weight is on a tab that wasn't read or isn't there
 */
export function combinedUncertainty(
  uncertainties: PathUncertainties,
  weights: TabWeights,
): CombinationUncertainty {
  const over = (valueM: (tab: number) => number, power: 1 | 2): number => {
    let sum = 0;
    for (const [tab, weight] of weights) if (weight !== 0) sum += (weight * valueM(tab)) ** power;
    return sum;
  };
  for (const [tab, weight] of weights) {
    if (weight !== 0 && uncertainties.read[tab] !== 1)
      throw new RangeError(
        `Got a weight on ${uncertainties.tabKeys[tab] ?? `tab ${tab}`}, which wasn't read.`,
      );
  }
  const scatter: UncertaintyComponent = {
    sensitivity: 1,
    uncertainty: Math.sqrt(over((tab) => uncertainties.scatterM[tab] as number, 2)),
    degreesOfFreedom: uncertainties.scatter.degreesOfFreedom,
  };
  const named: readonly (UncertaintyComponent & { readonly name: string })[] = [
    { ...scatter, name: "scatter" },
    { name: "resolution", sensitivity: 1, uncertainty: Math.sqrt(over(() => uncertainties.resolutionM, 2)) },
    ...uncertainties.effects.map(({ name, loadingsM }) => ({
      name,
      sensitivity: 1,
      uncertainty: Math.abs(over((tab) => loadingsM[tab] as number, 1)),
    })),
  ];
  const { standardUncertainty, degreesOfFreedom } = combine(named);
  return {
    standardUncertaintyM: standardUncertainty,
    degreesOfFreedom,
    sources: named
      .map(({ name, uncertainty }) => ({ name, standardUncertaintyM: uncertainty }))
      .sort((a, b) => b.standardUncertaintyM - a.standardUncertaintyM),
  };
}

/** Standard uncertainty of Σ w_i · deviation_i [m]: see {@link combinedUncertainty}. */
export function standardUncertainty(uncertainties: PathUncertainties, weights: TabWeights): number {
  return combinedUncertainty(uncertainties, weights).standardUncertaintyM;
}

/**
 * Covariance matrix of all deviations [m²], n × n row by row in the order of the wing's tabs; rows and columns of tabs
 * that weren't read are 0.
 */
export function covarianceOf(uncertainties: PathUncertainties): Float64Array {
  const n = uncertainties.tabKeys.length;
  const covariance = new Float64Array(n * n);
  for (const { loadingsM } of uncertainties.effects) {
    for (let i = 0; i < n; i++) {
      const loading = loadingsM[i] as number;
      if (loading === 0) continue;
      for (let j = 0; j < n; j++) covariance[i * n + j]! += loading * (loadingsM[j] as number);
    }
  }
  for (let i = 0; i < n; i++) covariance[i * n + i]! += (uncertainties.ownM[i] as number) ** 2;
  return covariance;
}
