/**
 * From what was read to the length at the plan's datum and tension, and back.
 *
 * A line is taken as a straight elastic member: reference length L_ref at the reference tension T_ref, axial
 * stiffness EA, so unstretched L0 = L_ref / (1 + T_ref/EA), and L0·(1 + T/EA) at a tension T. The riser's strap
 * is taken as inextensible (short and woven, it stretches far less than the lines above it: common practice, no
 * source), and so is the take-up of the loop at the maillon.
 */
import { type Path, strapLengthM } from "../plan/index.ts";
import { targetKey, type WingLookup } from "./lookup.ts";
import type { Check, Target } from "./model.ts";

/** The part of a check that turns a reading into a length. */
export type Conditions = Pick<Check, "tensionN" | "from" | "instrumentZeroM">;

/** What to subtract from a reading [m]. Their sum may be negative. */
export interface ReadingCorrections {
  /** What the instrument shows at zero length. */
  readonly zeroM: number;
  /**
   * Strap included in the reading but not in the plan's length; negative where the plan includes it and the
   * reading doesn't.
   */
  readonly datumM: number;
  /** Length at the tension used less length at the reference tension. */
  readonly stretchM: number;
}

/**
 * Unstretched length [m] of a straight elastic member that is `lengthM` [m] long under `tensionN` [N], with
 * axial stiffness EA `stiffnessN` [N]: L0 = L / (1 + T/EA).
 */
export function unstretchedM(lengthM: number, stiffnessN: number, tensionN: number): number {
  return lengthM / (1 + tensionN / stiffnessN);
}

/**
 * A line's specified length [m] and axial stiffness EA [N]; throws where the wing has no such line or material
 * (a parsed plan always has).
 */
function memberOf(lookup: WingLookup, lineKey: string): { lengthM: number; stiffnessN: number } {
  const line = lookup.lines.get(lineKey);
  const material = line && lookup.materials.get(line.materialId);
  if (line === undefined || material === undefined) {
    throw new Error(`The wing "${lookup.wing.name}" has no line ${lineKey} with a material of its list.`);
  }
  return { lengthM: line.lengthM, stiffnessN: material.stiffnessN };
}

/**
 * Compliance of a path [m/N]: Σ L0/EA over its lines, each a straight elastic member with L0 = L_ref / (1 +
 * T_ref/EA). The path's length at a tension T is its specified length + compliance · (T − T_ref), exactly, as
 * long as its lines are as specified.
 */
export function pathCompliance(lookup: WingLookup, path: Path): number {
  const referenceN = lookup.wing.reference.tensionN;
  return path.lineKeys.reduce((sum, key) => {
    const line = memberOf(lookup, key);
    return sum + unstretchedM(line.lengthM, line.stiffnessN, referenceN) / line.stiffnessN;
  }, 0);
}

/**
 * What to subtract from a reading of a whole path so that it compares with the plan: zero, strap, stretch.
 *
 * The stretch is compliance · (T − T_ref) with the lines' specified lengths. A line that is off by e makes an
 * error of e·(T − T_ref)/EA: 0.02 mm for 30 mm and 30 N on a 1.5 mm line, far below any reading.
 */
export function pathCorrections(lookup: WingLookup, path: Path, conditions: Conditions): ReadingCorrections {
  const { reference } = lookup.wing;
  const strapM = (from: Check["from"]): number => strapLengthM(path.riserId, from, lookup.wing.risers);
  return {
    zeroM: conditions.instrumentZeroM,
    datumM: strapM(conditions.from) - strapM(reference.from),
    stretchM: pathCompliance(lookup, path) * (conditions.tensionN - reference.tensionN),
  };
}

/**
 * What to subtract from a reading of a single line: zero, and its own stretch. Here the unstretched length
 * follows from the reading itself, so the correction is exact whatever the line's deviation: L0 = (reading −
 * zero) / (1 + T/EA), and the stretch is L0/EA · (T − T_ref).
 */
export function lineCorrections(
  lookup: WingLookup,
  lineKey: string,
  readingM: number,
  conditions: Conditions,
): ReadingCorrections {
  const line = memberOf(lookup, lineKey);
  const restM = unstretchedM(readingM - conditions.instrumentZeroM, line.stiffnessN, conditions.tensionN);
  return {
    zeroM: conditions.instrumentZeroM,
    datumM: 0,
    stretchM: (restM / line.stiffnessN) * (conditions.tensionN - lookup.wing.reference.tensionN),
  };
}

/** A reading less its corrections [m]. */
export function correctedM(readingM: number, corrections: ReadingCorrections): number {
  return readingM - corrections.zeroM - corrections.datumM - corrections.stretchM;
}

/**
 * What the instrument would show [m] if the target were exactly as specified: the corrections the other way
 * round. Undefined where the wing has no such tab or line.
 */
export function expectedReadingM(
  lookup: WingLookup,
  target: Target,
  conditions: Conditions,
): number | undefined {
  const key = targetKey(lookup, target);
  if (key === undefined) return undefined;
  if (target.kind === "tab") {
    const path = lookup.paths.get(key);
    if (path === undefined) return undefined;
    const { zeroM, datumM, stretchM } = pathCorrections(lookup, path, conditions);
    return path.specifiedM + zeroM + datumM + stretchM;
  }
  const line = memberOf(lookup, key);
  const restM = unstretchedM(line.lengthM, line.stiffnessN, lookup.wing.reference.tensionN);
  return restM * (1 + conditions.tensionN / line.stiffnessN) + conditions.instrumentZeroM;
}
