/** Drafts of a plan: typed in from a printed table, drawn while typing, made into a plan file; and what an edit changed. */

export {
  type CascadeDiagram,
  cascadeDiagram,
  type DiagramEdge,
  type DiagramLabel,
  type DiagramNode,
  draftDiagram,
} from "./diagram.ts";
export { type ChangeSubject, type PlanChange, planDiff } from "./diff.ts";
export { draftOfPlan, type PlanDraft } from "./draft-of-plan.ts";
export { type LengthTable, readLengthTable, withLengths } from "./length-table.ts";
export type { Draft, DraftLine, DraftTab } from "./model.ts";
export { type Branch, type Fault, parseCascade, tabsOf, writeCascade } from "./notation.ts";
export { draftWithLengths, parseDraft } from "./parse-draft.ts";
export { PATTERNS, type Pattern } from "./patterns.ts";
export { type DraftedPlan, planOfDraft } from "./plan-of-draft.ts";
export {
  DRAFT_FORMAT,
  type DraftSource,
  draftJsonSchema,
  draftSourceSchema,
  LINE_KINDS,
  type LineKind,
} from "./source.ts";
export { draftText } from "./write-statements.ts";
