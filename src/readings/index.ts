/** Checks as measured: read in, written out, corrected and held against the plan. */

export { fitStraightLine, onStraightLine, type StraightLine } from "./calibration.ts";
export {
  type Conditions,
  correctedM,
  expectedReadingM,
  lineCorrections,
  pathCompliance,
  pathCorrections,
  type ReadingCorrections,
  unstretchedM,
} from "./corrections.ts";
export { parseReadingsCsv } from "./csv.ts";
export { deviations, unmatchedTargets } from "./deviations.ts";
export { chiSquareQuantile, normalCdf, normalQuantile, studentQuantile } from "./distributions.ts";
export { guardFormula } from "./formula-guard.ts";
export { type CheckFrame, defaultFrame } from "./frame.ts";
export {
  arcsine,
  type CombinedUncertainty,
  combine,
  coverageFactor,
  degreesOfFreedomFromReliability,
  effectiveDegreesOfFreedom,
  expandedUncertainty,
  type JointTypeA,
  jointTypeA,
  ofResolution,
  pooledDeviation,
  propagate,
  type RepeatSeries,
  rectangular,
  type TypeA,
  triangular,
  typeA,
  type UncertaintyComponent,
  type VariancePart,
} from "./gum.ts";
export { lookUp, type WingLookup } from "./lookup.ts";
export type {
  Check,
  Deviations,
  LineReading,
  PathDeviation,
  Reading,
  StatedUncertainty,
  Target,
} from "./model.ts";
export { lookUpNames, matchName, type NameLookup, type NameMatch } from "./names.ts";
export { parseCheck, parseCheckText } from "./parse.ts";
export {
  DEFAULT_READING_UNCERTAINTY,
  READING_UNCERTAINTY_NOTES,
  type ReadingUncertainty,
  readingUncertaintyOf,
  type UncertaintyNote,
} from "./reading-uncertainty.ts";
export {
  CHECK_FORMAT,
  CHECK_VERSIONS,
  type CheckFile,
  checkFileSchema,
  checkJsonSchema,
} from "./schema.ts";
export * from "./session/index.ts";
export {
  type Cell,
  type CellSource,
  type CellTable,
  cellPlace,
  sheetCells,
} from "./tables/cells.ts";
export { type LengthTable, readLengthTable, type SpecifiedLength } from "./tables/length-table.ts";
export { readTable, withSide } from "./tables/read-table.ts";
export { recogniseTable } from "./tables/recognise.ts";
export type {
  ColumnRole,
  RecognisedColumn,
  RecognisedTable,
  Sureness,
  TableSection,
} from "./tables/recognition.ts";
export { type ChosenSheet, chooseSheet } from "./tables/sheets.ts";
export { fileCells, pastedCells } from "./tables/text-cells.ts";
export { isPlausible, resolveTarget } from "./targets.ts";
export {
  type CombinationUncertainty,
  type CommonEffect,
  combinedUncertainty,
  covarianceOf,
  differenceWeights,
  meanWeights,
  type PathUncertainties,
  readingUncertainty,
  standardUncertainty,
  type TabWeights,
} from "./uncertainty.ts";
export {
  type CsvStyle,
  checkFile,
  writeCheckJson,
  writeReadingsCsv,
} from "./write.ts";
