/** A guided reading session: what is next, taking numbers as typed, a journal that loses nothing. */
export { checkOf } from "./check-of.ts";
export { type Candidate, type Understood, understand } from "./entry-text.ts";
export { repeatsWithinM, targetState } from "./fold.ts";
export {
  journalEntryJsonSchema,
  journalEntrySchema,
  SESSION_FORMAT,
  SESSION_VERSION,
} from "./journal-schema.ts";
export { inDoubt, keepAsRead } from "./keep-as-read.ts";
export {
  decodeChunk,
  decodeEnd,
  EMPTY_DECODER,
  type LineDecoder,
  type MeterSource,
  type SimulatedMeter,
  simulatedMeter,
} from "./meter.ts";
export {
  type Better,
  type Entry,
  type EntryKind,
  type Expected,
  type Judge,
  keyOfTarget,
  type Order,
  type OrderName,
  type Phrase,
  type ReadingEntry,
  type Session,
  type SessionState,
  type SoFar,
  type Step,
  sameTarget,
  type Taken,
  type TargetState,
  type Verdict,
} from "./model.ts";
export { makeOrder, type OrderOptions, ownOrder } from "./orders.ts";
export { lengthText, phrase, targetText } from "./phrases.ts";
export { type Progress, paceMs, progressOf, type RowProgress } from "./progress.ts";
export { sayNext, spokenName } from "./prompt.ts";
export {
  canUndo,
  changeFrame,
  type Entered,
  enter,
  goTo,
  note,
  reorder,
  repeatLast,
  replay,
  skip,
  soFar,
  startSession,
  undo,
} from "./session.ts";
export { REPEATS_WITHIN_M } from "./settle.ts";
export { specifiedOnly } from "./specified-judge.ts";
export { entryText, journalText, parseJournal } from "./store.ts";
