/** The workshop's public face: what the rest of the program and its tests use of this folder. */

export {
  type AfterInput,
  type AfterReason,
  type AfterSwap,
  checkAfter,
  LEAST_RESERVE_M,
  OLD_READINGS_DAYS,
  pathsAfter,
} from "./after-swap.ts";
export {
  BENCH_UNCERTAINTY_M,
  type BenchLengths,
  benchTakeUp,
  type MeasuredTakeUp,
  SAME_DIAMETER_M,
  sameDiameter,
  takeUpFromLengths,
} from "./bench.ts";
export {
  EMPTY_BOOK,
  type LoopBook,
  type MaillonRecord,
  type Replacement,
  type UnplacedEntries,
} from "./book.ts";
export { bookAsRead, settledCards, tiedSince } from "./book-as-read.ts";
export { bookFromFile, parseBook } from "./book-parse.ts";
export {
  BOOK_FORMAT,
  BOOK_VERSIONS,
  type LoopBookFile,
  loopBookJsonSchema,
  loopBookSchema,
} from "./book-schema.ts";
export { bookFile, writeBook } from "./book-write.ts";
export {
  type ChangeComparison,
  type CheckedState,
  type Comparison,
  compareChecks,
  type Kept,
  type Outcome,
  type PathComparison,
  type PromisedChange,
  type RowComparison,
} from "./compare.ts";
export { type FoundLine, findLines } from "./find-lines.ts";
export {
  fileNameOf,
  givenKind,
  isGiven,
  kindAfterWith,
  kindFromName,
  kindName,
  LOOP_KINDS,
  loopKind,
  PLAIN,
  specifiedKind,
} from "./kinds.ts";
export { lengthChanges, lineLoops, loopChange, PLAN_UNCERTAINTY_M } from "./line-loops.ts";
export { type ChosenLoops, chosenBy, chosenChanges, weighLoops } from "./loop-by-hand.ts";
export type { LimitReason, Unreachable } from "./loop-limits.ts";
export {
  type BlockedLine,
  DEFAULT_WORTH_M,
  defaultChoices,
  type LoopPlans,
  planLoops,
  totalCost,
} from "./loop-plan.ts";
export {
  type LoopReport,
  loopReport,
  type PathAfter,
  predictedDeviations,
  type ReportQuestion,
  type RowReserve,
} from "./loop-report.ts";
export {
  type BackOn,
  type CardDifference,
  cardIn,
  cardOf,
  type FinishedCard,
  finish,
  keepCard,
  type MaillonCard,
  move,
  openLines,
  recordCard,
  recordOf,
  sayCardDifference,
  setLoop,
  startCard,
  tick,
  untick,
} from "./maillon-card.ts";
export * from "./model.ts";
export {
  type LengthBasis,
  type OrderChoices,
  type OrderItem,
  type OrderList,
  type OtherLength,
  orderList,
} from "./order.ts";
export { orderCsv, orderText } from "./order-text.ts";
export {
  A_FEW_M,
  BENCH_LENGTH_UNCERTAINTY_M,
  MADE_LENGTH_UNCERTAINTY_M,
  swapChanges,
  swapSheets,
} from "./swap.ts";
export type * from "./swap-model.ts";
export { type SwapStep, swapSteps } from "./swap-steps.ts";
export {
  estimateHolds,
  estimateTakeUp,
  TAKE_UP_ASSUMPTIONS,
  type TakeUp,
  type TakeUpAssumption,
  USUAL_BAR_M,
} from "./take-up.ts";
export {
  type Foot,
  type LineTrace,
  lineName,
  rowWord,
  sayLineKind,
  sayList,
  sayLowerEnd,
  saySide,
  sayTrace,
  sayUpperEnd,
  tierWord,
  traceLine,
  withTwins,
} from "./trace.ts";
