/** The wing on the screen with its check, as the files give them and as they are judged. */
import type { Problem, Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { bookAsRead, type LineLoops, type LoopBook, lineLoops } from "../../workshop/index.ts";
import { type Cascade, cascadeOf } from "../model/cascade.ts";
import { withTolerances } from "../model/judging-choices.ts";
import type { WingId } from "./choices.ts";
import { corrected, type Judging, limitsOf } from "./judging.ts";
import type { Own } from "./keep.ts";

/** The wing on the screen, its check, and the files both came from. */
export interface Document {
  readonly source: WingId;
  readonly files: Own;
  /** As the plan has it, and with the limits that it is judged by. */
  readonly plan: Wing;
  readonly wing: Wing;
  /** As it was brought, and with what was put right on the user's word. */
  readonly brought: Check | undefined;
  readonly check: Check | undefined;
  /** A check after the work, as it was brought. */
  readonly after: Check | undefined;
  /** What the bench keeps with the wing. */
  readonly book: LoopBook;
  /** What hangs on a maillon with its loops, as the plan and the book have them at the time of the check. */
  readonly loops: readonly LineLoops[];
  readonly judging: Judging;
  readonly cascade: Cascade;
}

/** What became of a file that was brought. */
export interface Receipt {
  readonly file: string;
  readonly outcome: "taken" | "taken in part" | "not taken" | "asks";
  readonly text: string;
  readonly problems: readonly Problem[];
}

/** A document judged as is asked: the limits put into the wing, the corrections made in the check. */
export function judged(
  of: Pick<Document, "source" | "files" | "plan" | "brought" | "after" | "book" | "judging">,
): Document {
  const { source, files, plan, brought, after, book, judging } = of;
  const wing = withTolerances(plan, limitsOf(plan, judging));
  const now = brought === undefined ? undefined : corrected(brought, judging.applied);
  return {
    source,
    files,
    plan,
    wing,
    brought,
    check: now?.check,
    after,
    book,
    // The readings go with the loops that they were taken with.
    loops: lineLoops(wing, bookAsRead(book, now?.check.date)),
    judging: { ...judging, applied: now?.applied ?? [] },
    cascade: cascadeOf(wing),
  };
}
