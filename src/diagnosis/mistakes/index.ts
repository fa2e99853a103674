/** Mistakes of measuring: found, weighed, offered; applied only on the user's word. */
export { applyCorrection } from "./apply.ts";
export { findMistakes } from "./find.ts";
export type { Concern, Correction, Edit, MistakeKind, MistakeOptions, Suspicion } from "./model.ts";
