/** How the wing is rigged and loaded in flight: trimmers and speed system, weight, brakes. */
import type { RigSetting, Side } from "../plan/model.ts";
import type { WingModel } from "./model.ts";

export interface Condition {
  /** Riser id → how much longer (+) or shorter (−) its strap is than at the reference setting [m]. */
  readonly strapChangesM: ReadonlyMap<string, number>;
  /** All-up weight [N]; the model's own if left out. */
  readonly weightN?: number;
  /** How far each brake handle is pulled down from hands up [m]. */
  readonly brakePullM: Readonly<Record<Side, number>>;
}

/** The strap changes of settings that stand part-way: each setting's share from 0 (reference) to 1 (full travel), added up. */
export function strapChanges(
  settings: readonly RigSetting[],
  shares: Readonly<Record<string, number>>,
): ReadonlyMap<string, number> {
  const changes = new Map<string, number>();
  for (const setting of settings) {
    const share = Math.min(1, Math.max(0, shares[setting.id] ?? 0));
    if (share === 0) continue;
    for (const [riserId, change] of Object.entries(setting.strapChangesM))
      changes.set(riserId, (changes.get(riserId) ?? 0) + share * change);
  }
  return changes;
}

/** Trim as specified, hands up, at the model's weight. */
export const AT_TRIM: Condition = { strapChangesM: new Map(), brakePullM: { left: 0, right: 0 } };

/**
 * Lengths and loads under a condition.
 *
 * Straps change by their riser's amount; a pulled brake shortens the main below the pulley's far side by the pull; all
 * loads go with the weight, as the dynamic pressure does in steady flight.
 *
 * @param unstretched m unstretched lengths before the condition [m]
 * @throws RangeError where a change leaves a strap or a brake main no length, the weight isn't positive or a riser is unknown
 */
export function underCondition(
  model: WingModel,
  unstretched: Float64Array,
  condition: Condition,
): { unstretched: Float64Array; loads: Float64Array } {
  const { network } = model;
  const weightN = condition.weightN ?? model.allUpWeightN;
  if (!(weightN > 0 && Number.isFinite(weightN)))
    throw new RangeError(`all-up weight is ${weightN} N, expected a positive number`);
  for (const riserId of condition.strapChangesM.keys())
    if (!model.memberRiser.includes(riserId))
      throw new RangeError(`there is no riser ${riserId} in this wing`);
  const lengths = Float64Array.from(unstretched);
  for (let m = 0; m < lengths.length; m++) {
    const riserId = model.memberRiser[m];
    let change = riserId === undefined ? 0 : (condition.strapChangesM.get(riserId) ?? 0);
    const lower = network.ends[2 * m] as number;
    if (model.nodeKind[lower] === "pulley")
      change = -condition.brakePullM[(model.nodeName[lower] as string).startsWith("left") ? "left" : "right"];
    if (change === 0) continue;
    const length = (lengths[m] as number) + change;
    if (!(length > 0))
      throw new RangeError(`a change of ${change} m leaves ${riserId ?? "a brake main"} no length`);
    lengths[m] = length;
  }
  const factor = weightN / model.allUpWeightN;
  return {
    unstretched: lengths,
    loads: factor === 1 ? network.loads : network.loads.map((load) => load * factor),
  };
}
