/** The record's public face: what is kept of the wings over the years, as one file and merged, and what follows from it. */
export { ARCHIVE_FORMAT } from "./archive-files.ts";
export { ARCHIVE_LIMITS, type ReadArchive, readArchive } from "./archive-read.ts";
export { writeArchive } from "./archive-write.ts";
export {
  addBook,
  addCheck,
  addHours,
  addNote,
  addPhoto,
  addPlan,
  changeHours,
  changeNote,
  keepBook,
  type ListName,
  newWing,
  removeItem,
  renameWing,
  type Stamp,
  setNextCheck,
} from "./edit.ts";
export {
  type CheckThen,
  compareTwo,
  type DatedCheck,
  type History,
  type HistoryInput,
  historyOf,
  type RowPoint,
  type RowSeries,
} from "./history.ts";
export { dateOfDay, dayNumber, type HoursThen, hoursOn, hoursProblems } from "./hours.ts";
export { type Brought, mergeRecords, mergeWings, whatMerged } from "./merge.ts";
export { KNOWN_VERSIONS, type Migrated, migrate } from "./migrate.ts";
export * from "./model.ts";
export { checkDay, readBook, readCheck, readPlan } from "./read-items.ts";
export { type LoopsLeft, loopsLeft } from "./reserve.ts";
export { forecastCaution, sayForecast, sayPlace, saySeries } from "./say-forecast.ts";
export { MOST_PHOTO, MOST_TEXT } from "./schema.ts";
export {
  type Forecast,
  forecastOf,
  HORIZON,
  limitsOf,
  type RowLimits,
  type Trend,
  type TrendAxis,
  trendOf,
} from "./trend.ts";
export { fitLine, type Level, type LineFit, type LinePoint, lineAt } from "./weighted-line.ts";
export { type Work, worksIn } from "./works.ts";
