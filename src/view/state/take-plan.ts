/** An edited plan taken for the wing's own: readings, book and judging stay with it, as far as they still fit. */
import { parsePlan } from "../../plan/index.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import type { Choices, WingId } from "./choices.ts";
import { planFrom } from "./core.ts";
import type { Document } from "./document.ts";
import { keepJudging } from "./judging.ts";
import { type KeptFile, keptOwn, type Own, type Shelf } from "./keep.ts";

/** What of a check the edited plan has no place for. */
export interface Homeless {
  readonly of: "readings" | "after";
  /** As the check names them, each once. */
  readonly tabs: readonly string[];
  readonly lines: readonly string[];
  /** How many readings they are. */
  readonly count: number;
}

/** Readings that refer to tabs or lines which the edited plan doesn't have. */
export function homelessReadings(
  { brought, after }: Pick<Document, "brought" | "after">,
  wing: Pick<Wing, "lines" | "tabs">,
): readonly Homeless[] {
  const tabs = new Set(wing.tabs.map(({ key }) => key));
  const lines = new Set(wing.lines.map(({ key }) => key));
  const of = (check: Check | undefined, which: Homeless["of"]): readonly Homeless[] => {
    const lost = (check?.readings ?? []).filter(
      ({ target }) => !(target.kind === "tab" ? tabs : lines).has(`${target.side}:${target.id}`),
    );
    const named = (kind: "tab" | "line"): readonly string[] => [
      ...new Set(lost.flatMap(({ target }) => (target.kind === kind ? [target.id] : []))),
    ];
    return lost.length === 0
      ? []
      : [{ of: which, tabs: named("tab"), lines: named("line"), count: lost.length }];
  };
  return [...of(brought, "readings"), ...of(after, "after")];
}

/** Name of the user's own wing in this browser that an edited example would take the place of; undefined where there is none. */
export function displacedWing(shelf: Shelf | undefined, source: WingId): string | undefined {
  const own = source === "own" ? undefined : keptOwn(shelf);
  if (own === undefined) return undefined;
  try {
    const plan = parsePlan(JSON.parse(own.plan.text));
    return plan.ok ? plan.value.name : own.plan.name;
  } catch {
    return own.plan.name;
  }
}

/**
 * Takes a plan for that of the wing on the screen, which becomes the user's own with all that belongs to it.
 * @returns whether it could be read
 */
export function takePlanOf(outside: {
  readonly get: () => { readonly document: Document | undefined; readonly choices: Choices };
  readonly shelf: Shelf | undefined;
  readonly keep: (own: Own) => void;
  readonly open: (source: WingId, files: Own) => boolean;
  readonly fresh: (change: Partial<Choices>) => void;
}): (plan: KeptFile) => boolean {
  const { get, shelf, keep, open, fresh } = outside;
  return (plan) => {
    const { document, choices } = get();
    if (document === undefined) return false;
    const files: Own = { ...document.files, plan };
    // What opens takes the judging of the own wing from where it is kept.
    if (document.source !== "own" && planFrom(plan.text).ok) keepJudging(shelf, document.judging);
    if (!open("own", files)) return false;
    keep(files);
    const { picked, rib, ribSide, shown } = choices;
    const known = picked.kind !== "line" || get().document?.wing.lines.some(({ key }) => key === picked.key);
    fresh({
      wing: "own",
      shown: shown === "tried" ? "measured" : shown,
      ...(known === true && picked.kind === "line" ? { picked, rib, ribSide } : {}),
    });
    return true;
  };
}
