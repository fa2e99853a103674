/** The tables that are exported: readings, deviations, rows, lines, incidence and the loop plan. Metres in, millimetres out. */
import type { Assessed } from "../diagnosis/assess.ts";
import type { IncidenceBands } from "../diagnosis/bands.ts";
import type { Outcome } from "../diagnosis/conformity.ts";
import type { Analysis } from "../diagnosis/model.ts";
import { linesByKey, type Tab, type Wing } from "../plan/index.ts";
import { type Check, checkFile } from "../readings/index.ts";
import { fileNameOf, type LoopChange, type PathAfter } from "../workshop/index.ts";
import { type ExportColumn, type ExportTable, finite, inDegrees, inMm } from "./export-table.ts";

/** A plan of loops with what it is expected to leave. */
export interface ExportedLoops {
  readonly changes: readonly LoopChange[];
  /** Paths after the work; none where only the changes are known. */
  readonly paths: readonly PathAfter[];
}

export interface TableSources {
  readonly analysis: Analysis;
  /** How well the incidence is known, once the readings are judged. */
  readonly bands?: IncidenceBands | undefined;
  readonly loops?: ExportedLoops | undefined;
}

/** What a path's decision is called in a table. */
type DecisionName = Outcome | "not read" | "no decision";

const mmColumn = (name: ExportColumn["name"], decimals = 2): ExportColumn => ({
  name,
  unit: "mm",
  decimals,
});
const degreesColumn = (name: ExportColumn["name"]): ExportColumn => ({ name, unit: "degrees", decimals: 3 });

/** Every table that there is something for, in the order of the work. */
export function exportTables({ analysis, bands, loops }: TableSources): readonly ExportTable[] {
  const { wing, check } = analysis;
  return [
    ...(check === undefined ? [] : [readingsTable(check)]),
    deviationsTable(analysis),
    rowsTable(analysis),
    linesTable(analysis),
    ...(analysis.ribs.length === 0 ? [] : [incidenceTable(analysis, bands)]),
    ...(loops === undefined ? [] : [loopPlanTable(wing, loops.changes)]),
    ...(loops === undefined || loops.paths.length === 0 ? [] : [afterLoopsTable(wing, loops.paths)]),
  ];
}

/** As read, a row per single reading: the same columns as in a file of readings, and read again as such. */
export function readingsTable(check: Check): ExportTable {
  return {
    name: "readings",
    head: [{ name: "tab" }, { name: "line" }, { name: "side" }, { name: "mm" }, { name: "note" }],
    rows: checkFile(check).readings.flatMap((reading) =>
      [reading.mm]
        .flat()
        .map((mm) => [
          "tab" in reading ? reading.tab : undefined,
          "line" in reading ? reading.line : undefined,
          reading.side,
          mm,
          reading.note,
        ]),
    ),
  };
}

/** Path by path at the plan's datum and tension, held against the wing's tolerance by the rule chosen; paths not read too. */
export function deviationsTable({ wing, deviations, uncertainties, assessment }: Analysis): ExportTable {
  const decided = new Map<string, Assessed>(
    assessment?.assessed.flatMap((one) => {
      const [tabKey] = one.tabKeys;
      return one.kind === "path" && tabKey !== undefined ? [[tabKey, one] as const] : [];
    }),
  );
  return {
    name: "deviations",
    head: [
      { name: "tab" },
      { name: "side" },
      { name: "row" },
      { name: "rib" },
      mmColumn("specified"),
      mmColumn("measured"),
      mmColumn("deviation"),
      mmColumn("standard uncertainty"),
      { name: "readings" },
      mmColumn("spread"),
      mmColumn("tolerance"),
      { name: "decision" },
      { name: "probability", decimals: 3 },
    ],
    rows: deviations.paths.map((path, place) => {
      const { id, rib } = wing.tabs[place] as Tab;
      const decision = decided.get(path.tabKey)?.decision;
      const undecided: DecisionName = path.deviationM === undefined ? "not read" : "no decision";
      return [
        id,
        path.side,
        path.row,
        rib,
        inMm(path.specifiedM),
        inMm(path.measuredM),
        inMm(path.deviationM),
        path.deviationM === undefined ? undefined : inMm(uncertainties?.totalM[place]),
        path.repeats,
        inMm(path.repeatSpreadM),
        inMm(wing.tolerances.pathM),
        decision?.outcome ?? undecided,
        finite(decision?.probability, 6),
      ];
    }),
  };
}

/** Rows summed up: means that one blunder hardly moves, and the worst path. */
export function rowsTable({ wing, rows }: Analysis): ExportTable {
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  return {
    name: "rows",
    head: [
      { name: "row" },
      { name: "paths" },
      { name: "readings" },
      mmColumn("mean"),
      mmColumn("mean left"),
      mmColumn("mean right"),
      mmColumn("worst"),
      { name: "worst tab" },
      { name: "worst side" },
      { name: "beyond tolerance" },
      degreesColumn("incidence change"),
    ],
    rows: rows.map((row) => {
      const worst = row.worstTabKey === undefined ? undefined : tabs.get(row.worstTabKey);
      return [
        row.row,
        row.total,
        row.measured,
        inMm(row.meanM),
        inMm(row.leftM),
        inMm(row.rightM),
        inMm(row.worstM),
        worst?.id,
        worst?.side,
        row.outOfTolerance,
        inDegrees(row.incidenceRad),
      ];
    }),
  };
}

/** Line by line: the deviation that it is coloured by, how that is known, and the change that the model puts down to it. */
export function linesTable({ wing, lines }: Analysis): ExportTable {
  const known = linesByKey(wing);
  return {
    name: "lines",
    head: [
      { name: "line" },
      { name: "side" },
      { name: "row" },
      { name: "tier" },
      mmColumn("specified"),
      mmColumn("deviation"),
      { name: "basis" },
      mmColumn("attributed change"),
    ],
    rows: lines.flatMap(({ lineKey, basis, deviationM, attributedM }) => {
      const line = known.get(lineKey);
      if (line === undefined) return [];
      const specifiedM = line.lengthAssumed ? undefined : line.lengthM;
      return [
        [
          line.id,
          line.side,
          line.row,
          line.tier,
          inMm(specifiedM),
          inMm(deviationM),
          basis,
          inMm(attributedM),
        ],
      ];
    }),
  };
}

/**
 * Change of incidence rib by rib, left tip to right tip, nose up positive; with its 95 % intervals (readings and assumptions
 * together, readings alone) where the readings are judged.
 */
export function incidenceTable({ ribs }: Analysis, bands?: IncidenceBands): ExportTable {
  const judged = new Map(bands?.ribs.map((band) => [`${band.side} ${band.rib}`, band]));
  return {
    name: "incidence",
    head: [
      { name: "rib" },
      { name: "side" },
      { name: "across", unit: "m", decimals: 3 },
      degreesColumn("incidence change"),
      ...(bands === undefined
        ? []
        : [
            degreesColumn("low 95"),
            degreesColumn("high 95"),
            degreesColumn("readings low 95"),
            degreesColumn("readings high 95"),
          ]),
    ],
    rows: ribs.map((rib) => {
      const band = judged.get(`${rib.side} ${rib.rib}`);
      return [
        rib.rib,
        rib.side,
        finite(rib.yM, 4),
        inDegrees(rib.incidenceRad),
        ...(bands === undefined
          ? []
          : [band?.combined95.low, band?.combined95.high, band?.drawn95.low, band?.drawn95.high].map(
              inDegrees,
            )),
      ];
    }),
  };
}

/** The loops to change, each with its take-up now and then; a positive change lengthens every path above. */
export function loopPlanTable(wing: Wing, changes: readonly LoopChange[]): ExportTable {
  const lines = linesByKey(wing);
  return {
    name: "loop plan",
    head: [
      { name: "line" },
      { name: "side" },
      { name: "row" },
      { name: "maillon" },
      { name: "loop now" },
      mmColumn("take-up now"),
      { name: "loop then" },
      mmColumn("take-up then"),
      { name: "take-up from" },
      mmColumn("change"),
      mmColumn("standard uncertainty"),
    ],
    rows: changes.map(({ lineKey, from, to, changeM, standardUncertaintyM }) => {
      const line = lines.get(lineKey);
      if (line === undefined) throw new RangeError(`The wing "${wing.name}" has no line ${lineKey}.`);
      return [
        line.id,
        line.side,
        line.row,
        line.hangsOn.kind === "maillon" ? line.hangsOn.maillonId : undefined,
        fileNameOf(from.kind.id),
        inMm(from.takeUpM),
        fileNameOf(to.kind.id),
        inMm(to.takeUpM),
        to.source,
        inMm(changeM),
        inMm(standardUncertaintyM),
      ];
    }),
  };
}

/** What each path is expected to be off by once the loops are changed. */
export function afterLoopsTable(wing: Wing, paths: readonly PathAfter[]): ExportTable {
  const tabs = new Map(wing.tabs.map((tab) => [tab.key, tab]));
  return {
    name: "after the loops",
    head: [
      { name: "tab" },
      { name: "side" },
      { name: "row" },
      mmColumn("deviation"),
      mmColumn("change"),
      mmColumn("expected"),
      mmColumn("standard uncertainty"),
    ],
    rows: paths.map((path) => {
      const tab = tabs.get(path.tabKey);
      if (tab === undefined) throw new RangeError(`The wing "${wing.name}" has no tab ${path.tabKey}.`);
      return [
        tab.id,
        tab.side,
        tab.row,
        inMm(path.presentM),
        inMm(path.changeM),
        inMm(path.predictedM),
        inMm(path.standardUncertaintyM),
      ];
    }),
  };
}
