/** How the wing on the screen is rigged: trimmers and speed system by their share of travel, weight, brakes. */
import { type Condition, strapChanges } from "../../geometry/condition.ts";
import type { Side, Wing } from "../../plan/model.ts";

export interface Rigging {
  /** Setting id → share of its travel, whole percent; a setting left out stands at its reference. */
  readonly percent: Readonly<Record<string, number>>;
  /** All-up weight, whole kilograms; undefined: the middle of the plan's range, for which the model was built. */
  readonly weightKg: number | undefined;
  /** How far each brake is pulled from hands up, whole millimetres. */
  readonly brakeMm: Readonly<Record<Side, number>>;
}

export const AS_SPECIFIED: Rigging = { percent: {}, weightKg: undefined, brakeMm: { left: 0, right: 0 } };

/** Farthest pull of a brake that can be set [mm]. */
export const MOST_PULL_MM = 300;
/** Standard gravity [m/s²]. */
const GRAVITY = 9.80665;

/** All-up weight that the model was built for: the middle of the plan's range [kg]. */
export function referenceWeightKg(wing: Wing): number {
  return (wing.allUpWeightKg.min + wing.allUpWeightKg.max) / 2;
}

/** The condition that a rigging means for a wing; what the wing doesn't have or allow is left out or limited. */
export function conditionOf(wing: Wing, rigging: Rigging): Condition {
  const shares = Object.fromEntries(
    Object.entries(rigging.percent).map(([id, percent]) => [id, percent / 100]),
  );
  const { min, max } = wing.allUpWeightKg;
  const pull = (side: Side): number => Math.min(MOST_PULL_MM, Math.max(0, rigging.brakeMm[side])) / 1000;
  return {
    strapChangesM: strapChanges(wing.settings, shares),
    ...(rigging.weightKg === undefined
      ? {}
      : { weightN: GRAVITY * Math.min(max, Math.max(min, rigging.weightKg)) }),
    brakePullM: { left: pull("left"), right: pull("right") },
  };
}

/** True where nothing differs from the reference setting. */
export function isAsSpecified(rigging: Rigging): boolean {
  return (
    rigging.weightKg === undefined &&
    rigging.brakeMm.left === 0 &&
    rigging.brakeMm.right === 0 &&
    Object.values(rigging.percent).every((percent) => percent === 0)
  );
}
