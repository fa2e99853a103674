/** A check with one suspicion's correction made: a new value; the check given stays as it is. */
import type { Check, Reading, Target } from "../../readings/model.ts";
import type { Suspicion } from "./model.ts";

/** One typed value with what it stands for and where it stood. */
interface Typed {
  target: Target;
  valueM: number;
  readonly note: string | undefined;
  readonly at: number;
  edited: boolean;
  aside: boolean;
}

/** Two values typed alike differ by no more [m]. */
const SAME = 1e-7;

/**
 * The check as it would be if the suspicion is right. Values that move to another tab join what was read there as repeats;
 * values set aside are left out; notes go with their values. Only ever call this on the user's word, and look for
 * suspicions anew afterwards: the others were found on the check as it was.
 *
 * Throws where the suspicion has no correction, or the check hasn't the values that it is about.
 */
export function applyCorrection(check: Check, suspicion: Pick<Suspicion, "correction" | "id">): Check {
  const { correction } = suspicion;
  if (correction === undefined)
    throw new RangeError(`Nothing but reading again helps against "${suspicion.id}".`);
  if (correction.kind === "datum") return { ...check, from: correction.from };
  const typed: Typed[] = check.readings.flatMap(({ target, valuesM, note }, at) =>
    valuesM.map((valueM) => ({ target, valueM, note, at, edited: false, aside: false })),
  );
  for (const edit of correction.edits) {
    const found = typed.find(
      (one) => !one.edited && sameTarget(one.target, edit.target) && Math.abs(one.valueM - edit.readM) < SAME,
    );
    if (!found) {
      const { kind, id, side } = edit.target;
      throw new RangeError(
        `The check has no reading of ${Number((edit.readM * 1000).toFixed(3))} mm for ${kind} ${id} on the ${side}.`,
      );
    }
    found.edited = true;
    if (edit.to === undefined) found.aside = true;
    else {
      found.target = edit.to.target;
      found.valueM = edit.to.valueM;
    }
  }
  const readings: { place: number; reading: Reading }[] = [];
  const left = typed.filter((one) => !one.aside);
  for (const target of uniqueTargets([
    ...check.readings.map((reading) => reading.target),
    ...left.map((one) => one.target),
  ])) {
    const values = left.filter((one) => sameTarget(one.target, target));
    if (values.length === 0) continue;
    const place = check.readings.findIndex((reading) => sameTarget(reading.target, target));
    const notes = [...new Set(values.flatMap((one) => one.note ?? []))];
    readings.push({
      // A tab that hadn't been read stands behind the one that its reading came from.
      place: place >= 0 ? place : (values[0] as Typed).at + 0.5,
      reading: {
        target,
        valuesM: values.map((one) => one.valueM),
        note: notes.length > 0 ? notes.join("; ") : undefined,
      },
    });
  }
  return {
    ...check,
    readings: readings.sort((one, other) => one.place - other.place).map(({ reading }) => reading),
  };
}

export function sameTarget(one: Target, other: Target): boolean {
  return one.kind === other.kind && one.side === other.side && one.id === other.id;
}

function uniqueTargets(targets: readonly Target[]): Target[] {
  const seen = new Map(targets.map((target) => [`${target.kind} ${target.side} ${target.id}`, target]));
  return [...seen.values()];
}
