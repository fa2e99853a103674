/** How far each path and each line read on its own is from the plan. */
import type { Wing } from "../plan/index.ts";
import { correctedM, lineCorrections, pathCorrections } from "./corrections.ts";
import { lookUp, targetKey } from "./lookup.ts";
import type { Check, Deviations, LineReading, PathDeviation, Target } from "./model.ts";

/**
 * Deviations of a check against a plan, at the plan's datum and reference tension [m]; measured − specified,
 * negative is short.
 *
 * Per path: mean of the repeats, less the instrument's zero, less the strap where the check was read from the
 * riser's base and the plan counts from the maillon (plus it the other way round; a brake path has none), less
 * the stretch between the tension used and the reference tension, the lines being straight elastic members. Per
 * single line: the same without a strap, with that line's own stretch, against its specified length before the
 * loop takes any up.
 *
 * `paths` has one entry for every tab, in the wing's order, with `measuredM` undefined where nothing was read;
 * `lines` has one entry for every line that was read on its own, in the wing's order, unless the plan gives it no length
 * of its own: against an assumed length a deviation has no meaning. A reading of a tab or
 * line that the wing doesn't have is left out: see {@link unmatchedTargets}.
 */
export function deviations(wing: Wing, check: Check): Deviations {
  const lookup = lookUp(wing);
  const readings = new Map<string, number[]>();
  for (const { target, valuesM } of check.readings) {
    const key = targetKey(lookup, target);
    if (key === undefined) continue;
    const name = `${target.kind} ${key}`;
    readings.set(name, [...(readings.get(name) ?? []), ...valuesM]);
  }

  const paths = wing.paths.map((path): PathDeviation => {
    const valuesM = readings.get(`tab ${path.tabKey}`) ?? [];
    const readM = mean(valuesM);
    const measuredM =
      readM === undefined ? undefined : correctedM(readM, pathCorrections(lookup, path, check));
    return {
      tabKey: path.tabKey,
      side: path.side,
      row: path.row,
      specifiedM: path.specifiedM,
      measuredM,
      deviationM: measuredM === undefined ? undefined : measuredM - path.specifiedM,
      repeats: valuesM.length,
      repeatSpreadM: sampleDeviation(valuesM),
    };
  });

  const lines = wing.lines.flatMap((line): LineReading[] => {
    const readM = mean(readings.get(`line ${line.key}`) ?? []);
    if (readM === undefined || line.lengthAssumed) return [];
    const measuredM = correctedM(readM, lineCorrections(lookup, line.key, readM, check));
    return [
      {
        lineKey: line.key,
        specifiedM: line.lengthM,
        measuredM,
        deviationM: measuredM - line.lengthM,
      },
    ];
  });

  return { paths, lines };
}

/**
 * Targets of a check that the wing doesn't have: left over where a plan was changed after the check was read
 * in.
 */
export function unmatchedTargets(wing: Wing, check: Check): readonly Target[] {
  const lookup = lookUp(wing);
  return check.readings
    .map((reading) => reading.target)
    .filter((target) => targetKey(lookup, target) === undefined);
}

function mean(values: readonly number[]): number | undefined {
  return values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Experimental standard deviation, with n − 1; undefined below two values. */
function sampleDeviation(values: readonly number[]): number | undefined {
  const middle = mean(values);
  if (middle === undefined || values.length < 2) return undefined;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
}
