/** Means over the ribs, each counted with its chord: the tip's small profiles turn easily and weigh little. */
import type { RibChange, WingModel } from "../geometry/model.ts";
import type { Side } from "../plan/model.ts";
import type { Analysis } from "./model.ts";

/** Mean of one value a rib, each counted with its rib's chord; undefined without ribs. */
export function weightedByChord(
  model: WingModel,
  ribs: readonly Pick<RibChange, "side" | "rib">[],
  values: readonly number[],
): number | undefined {
  const chords = new Map(model.ribs.map((rib) => [`${rib.side} ${rib.rib}`, rib.chordM]));
  let sum = 0;
  let total = 0;
  ribs.forEach((rib, i) => {
    const chord = chords.get(`${rib.side} ${rib.rib}`) ?? 0;
    sum += chord * (values[i] ?? 0);
    total += chord;
  });
  return total > 0 ? sum / total : undefined;
}

/** Mean incidence change [rad], nose-up positive; undefined without ribs. */
export function meanIncidence(model: WingModel, ribs: readonly RibChange[]): number | undefined {
  return weightedByChord(
    model,
    ribs,
    ribs.map((rib) => rib.incidenceRad),
  );
}

/** Mean incidence change of the wing and of its sides [rad]. */
export function incidenceMeans(
  model: WingModel,
  ribs: readonly RibChange[],
): Pick<Analysis, "meanIncidenceRad" | "leftIncidenceRad" | "rightIncidenceRad"> {
  const of = (side: Side): number | undefined =>
    meanIncidence(
      model,
      ribs.filter((rib) => rib.side === side),
    );
  return {
    meanIncidenceRad: meanIncidence(model, ribs),
    leftIncidenceRad: of("left"),
    rightIncidenceRad: of("right"),
  };
}
