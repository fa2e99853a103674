/** Writing a wing as a plan file: the inverse of `parsePlan`. */
import { DEFAULT_TOLERANCES } from "./build.ts";
import { usualMassKgM } from "./material.ts";
import type { Line, Material, Side, Tab, Wing } from "./model.ts";
import {
  PLAN_FORMAT,
  type PlanMaterial,
  type PlanTab,
  PULLEY,
  type SparsePlanFile,
  type SparsePlanHalf,
  type SparsePlanLine,
} from "./schema.ts";

/** A value without its undefined fields. */
type Given<T> = { [K in keyof T]: Exclude<T[K], undefined> };

function given<T extends object>(fields: T): Given<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Given<T>;
}

/**
 * A file's number for an SI value: the shortest decimal that is read back to the very same value, so that 4.21 m
 * is written 4210 and not 4210.000000000001.
 */
function scaled(si: number, factor: number): number {
  const exact = si * factor;
  const short = Number(exact.toPrecision(12));
  return short / factor === si ? short : exact;
}

const millimetres = (si: number): number => scaled(si, 1000);
const optionalMillimetres = (si: number | undefined): number | undefined =>
  si === undefined ? undefined : millimetres(si);

function materialFile(material: Material): PlanMaterial {
  const usual = material.massPerLengthKgM === usualMassKgM(material.diameterM, material.fibre);
  return given({
    id: material.id,
    fibre: material.fibre,
    diameterMm: millimetres(material.diameterM),
    // An assumed stiffness stays assumed; one that was derived is written out, since what from isn't kept.
    stiffnessEaN: material.stiffnessAssumed ? undefined : material.stiffnessN,
    massGPerM: usual ? undefined : scaled(material.massPerLengthKgM, 1000),
    breakingForceN: material.breakingForceN,
  }) as PlanMaterial;
}

function tolerancesFile(wing: Wing): SparsePlanFile["tolerances"] {
  const limits = wing.tolerances;
  const same = (Object.keys(DEFAULT_TOLERANCES) as (keyof typeof limits)[]).every(
    (key) => limits[key] === DEFAULT_TOLERANCES[key],
  );
  if (same) return undefined;
  return {
    pathMm: millimetres(limits.pathM),
    leftRightMm: millimetres(limits.leftRightM),
    rowToRowMm: millimetres(limits.rowToRowM),
    minBrakeFreeTravelMm: millimetres(limits.minBrakeFreeTravelM),
    source: limits.source,
  };
}

function canopyFile(wing: Wing): SparsePlanFile["canopy"] {
  const { rowChordFractions, ...rest } = wing.canopy;
  const canopy = given({
    ...rest,
    rowChordFractions: Object.keys(rowChordFractions).length === 0 ? undefined : { ...rowChordFractions },
  });
  return Object.keys(canopy).length === 0 ? undefined : (canopy as SparsePlanFile["canopy"]);
}

function lineFile(line: Line, idOf: (lineKey: string) => string): SparsePlanLine {
  const { hangsOn } = line;
  const on =
    hangsOn.kind === "pulley"
      ? PULLEY
      : hangsOn.kind === "maillon"
        ? hangsOn.maillonId
        : idOf(hangsOn.lineKey);
  const hasLoop = line.loopTakeUpM !== 0 || line.loopName !== undefined;
  return given({
    id: line.id,
    row: line.row,
    tier: line.tier,
    hangsOn: on,
    lengthMm: line.lengthAssumed ? undefined : millimetres(line.lengthM),
    material: line.materialId,
    colour: line.colour,
    loop: hasLoop ? { name: line.loopName ?? "loop", takeUpMm: millimetres(line.loopTakeUpM) } : undefined,
  }) as SparsePlanLine;
}

function tabFile(tab: Tab, idOf: (lineKey: string) => string): PlanTab {
  return given({
    id: tab.id,
    row: tab.row,
    rib: tab.rib,
    chordFraction: tab.chordFraction,
    line: idOf(tab.lineKey),
    pathMm: optionalMillimetres(tab.statedPathM),
  }) as PlanTab;
}

/**
 * The wing as a plan file: lengths in mm, the half written once where both sides are equal (same lines and tabs
 * in the same order), else both. `parsePlan` of it gives an equal wing; `carries` isn't written, since it is
 * inferred, nor are defaults, nor lengths that the plan left to the totals. Throws where a line or tab refers to a line that the wing doesn't have.
 */
export function planFile(wing: Wing): SparsePlanFile {
  const ids = new Map(wing.lines.map((line) => [line.key, line.id]));
  const idOf = (lineKey: string): string => {
    const id = ids.get(lineKey);
    if (id === undefined) throw new Error(`no line "${lineKey}" in the wing`);
    return id;
  };
  const half = (side: Side): SparsePlanHalf => ({
    lines: wing.lines.filter((line) => line.side === side).map((line) => lineFile(line, idOf)),
    tabs: wing.tabs.filter((tab) => tab.side === side).map((tab) => tabFile(tab, idOf)),
  });
  const left = half("left");
  const right = half("right");
  const equal = JSON.stringify(left) === JSON.stringify(right);
  const { brakes } = wing;
  return given({
    format: PLAN_FORMAT,
    version: 1,
    wing: given({
      name: wing.name,
      size: wing.size,
      kind: wing.kind,
      allUpWeightKg: { min: wing.allUpWeightKg.min, max: wing.allUpWeightKg.max },
      note: wing.note,
    }),
    canopy: canopyFile(wing),
    materials: wing.materials.map(materialFile),
    reference: given({
      from: wing.reference.from,
      tensionN: wing.reference.tensionN,
      trimmerMm: optionalMillimetres(wing.reference.trimmerM),
      note: wing.reference.note,
    }),
    tolerances: tolerancesFile(wing),
    risers: wing.risers.map((riser) => ({ id: riser.id, lengthMm: millimetres(riser.lengthM) })),
    maillons: wing.maillons.map((maillon) =>
      given({
        id: maillon.id,
        riser: maillon.riserId,
        barDiameterMm: optionalMillimetres(maillon.barDiameterM),
      }),
    ),
    brakes:
      brakes === undefined
        ? undefined
        : {
            pulleyRiser: brakes.pulleyRiserId,
            pulleyHeightMm: millimetres(brakes.pulleyHeightM),
            freeTravelMm: millimetres(brakes.freeTravelM),
          },
    settings:
      wing.settings.length === 0
        ? undefined
        : wing.settings.map(({ id, name, kind, strapChangesM }) => ({
            id,
            name,
            kind,
            strapChangesMm: Object.fromEntries(
              Object.entries(strapChangesM).map(([riserId, change]) => [riserId, millimetres(change)]),
            ),
          })),
    sides: equal ? { mirrored: left } : { left, right },
  }) as SparsePlanFile;
}
