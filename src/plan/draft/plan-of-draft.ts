/** From a draft to the plan file. */
import { say } from "../../words/index.ts";
import type { Problem } from "../model.ts";
import { problemsFromIssues } from "../problems.ts";
import {
  PLAN_FORMAT,
  type PlanMaterial,
  PULLEY,
  planFileSchema,
  type SparsePlanFile,
  type SparsePlanLine,
} from "../schema.ts";
import { validatePlan } from "../validate.ts";
import { listed, problem } from "../wording.ts";
import { diameterId } from "./expand.ts";
import type { Draft, DraftLine } from "./model.ts";

export interface DraftedPlan {
  /** undefined where an error stands among the problems. */
  readonly plan: SparsePlanFile | undefined;
  /** The draft's own and those of the plan that it makes, errors first. */
  readonly problems: readonly Problem[];
  /** In words, what was taken as usual because the draft doesn't say. To be shown: nobody has read it from a table. */
  readonly assumed: readonly string[];
}

/** Tension and weight-free defaults of a reference: lengths are usually stated under 5 kg from the riser's base. */
const USUAL_REFERENCE = { from: "riser", tensionN: 50 } as const;

/**
 * The plan file of a draft. Lengths that the draft doesn't give are left out where totals tell them (`infer-lengths.ts` then
 * divides these and says so); materials known by their diameter alone have no stiffness, and the plan's reader assumes one.
 * Without an error among the problems `parsePlan` reads the plan. Never throws.
 */
export function planOfDraft(draft: Draft): DraftedPlan {
  const { source, lines, tabs, rig } = draft;
  const problems: Problem[] = [...draft.problems];
  const assumed = [...draft.assumed];
  const complain = (path: string, subject: string | undefined, message: string, remedy: string): void => {
    problems.push(problem("error", draft.where(path), subject, message, remedy));
  };
  const name = source.wing?.name ?? say("draft.unnamed");
  const weight = source.wing?.allUpWeightKg;
  if (weight === undefined)
    complain("wing.allUpWeightKg", undefined, say("draft.weight.none"), say("draft.weight.none.fix"));
  if (tabs.length === 0) complain("rows", undefined, say("draft.tabs.none"), say("draft.tabs.none.fix"));
  lackingLengths(draft, complain);
  if (source.reference?.from === undefined) assumed.push(say("draft.assumed.from"));
  if (source.reference?.tensionN === undefined) assumed.push(say("draft.assumed.tension"));
  if (problems.some((each) => each.severity === "error") || weight === undefined)
    return { plan: undefined, problems: errorsFirst(problems), assumed };

  const { kind, size, note } = source.wing ?? {};
  const plan: SparsePlanFile = {
    format: PLAN_FORMAT,
    version: 1,
    wing: {
      name,
      ...(size === undefined ? {} : { size }),
      ...(kind === undefined ? {} : { kind }),
      allUpWeightKg: weight,
      ...(note === undefined ? {} : { note }),
    },
    ...(source.canopy === undefined ? {} : { canopy: source.canopy }),
    materials: materialsOf(draft, assumed),
    reference: referenceOf(draft),
    ...(source.tolerances === undefined ? {} : { tolerances: source.tolerances }),
    risers: rig.risers,
    maillons: rig.maillons,
    ...(rig.brakes === undefined ? {} : { brakes: rig.brakes }),
    ...(source.settings === undefined ? {} : { settings: source.settings }),
    sides: {
      mirrored: {
        lines: lines.map((line) => lineOf(draft, line)),
        tabs: tabs.map((tab) => tabOf(draft, tab)),
      },
    },
  };
  const shaped = planFileSchema.safeParse(plan);
  const found = shaped.success
    ? validatePlan(shaped.data)
    : problemsFromIssues(shaped.error.issues, plan, planFileSchema);
  problems.push(...found);
  const sound = !found.some((each) => each.severity === "error");
  return { plan: sound ? plan : undefined, problems: errorsFirst(problems), assumed };
}

function errorsFirst(problems: readonly Problem[]): readonly Problem[] {
  const errors = problems.filter((each) => each.severity === "error");
  return [...errors, ...problems.filter((each) => each.severity === "warning")];
}

function referenceOf(draft: Draft): SparsePlanFile["reference"] {
  const { from, tensionN, ...rest } = draft.source.reference ?? {};
  return { from: from ?? USUAL_REFERENCE.from, tensionN: tensionN ?? USUAL_REFERENCE.tensionN, ...rest };
}

/** One problem a row for tabs that have neither a total nor the lengths of all their lines. */
function lackingLengths(
  draft: Draft,
  complain: (path: string, subject: string | undefined, message: string, remedy: string) => void,
): void {
  const { lines, tabs, source } = draft;
  /** Lines without a length, below any tab without a total. */
  const needed = new Set<number>();
  const lacking = new Map<
    string,
    { readonly entry: number; readonly numbers: number[]; readonly names: string[] }
  >();
  for (const tab of tabs) {
    if (tab.totalMm !== undefined) continue;
    const open: number[] = [];
    for (let at: number | undefined = tab.line; at !== undefined; at = lines[at]?.below)
      if (lines[at]?.lengthMm === undefined) open.push(at);
    if (open.length === 0) continue;
    for (const at of open) needed.add(at);
    const entry = lacking.get(tab.row) ?? { entry: lines[tab.line]?.entry ?? 0, numbers: [], names: [] };
    entry.numbers.push(tab.number);
    for (const at of open.reverse()) {
      const name = (lines[at] as DraftLine).name;
      if (!entry.names.includes(name)) entry.names.push(name);
    }
    lacking.set(tab.row, entry);
  }
  for (const [row, { entry, numbers, names }] of lacking) {
    const path = source.totals?.some((total) => total.row === row)
      ? `totals[${(source.totals ?? []).findLastIndex((total) => total.row === row)}]`
      : `rows[${entry}].cascade`;
    const whole = tabs.filter((tab) => tab.row === row).length === numbers.length;
    complain(
      path,
      row,
      say("draft.lengths.none", {
        row,
        whole: whole ? "yes" : "no",
        count: numbers.length,
        tabs: listed(numbers.map(String)),
        lines: listed(names),
      }),
      say("draft.lengths.none.fix", { row }),
    );
  }
}

function materialsOf(draft: Draft, assumed: string[]): PlanMaterial[] {
  const given = draft.source.materials ?? [];
  const known = new Set(given.map((material) => material.id));
  const bare: PlanMaterial[] = [];
  for (const line of draft.lines) {
    const id = line.material ?? "";
    if (known.has(id)) continue;
    known.add(id);
    bare.push({ id, diameterMm: Number.parseFloat(id) });
  }
  bare.sort((a, b) => b.diameterMm - a.diameterMm);
  if (bare.length > 0)
    assumed.push(
      say("draft.assumed.stiffness", {
        diameters: listed(bare.map((material) => diameterId(material.diameterMm))),
      }),
    );
  return [...given, ...bare];
}

function lineOf(draft: Draft, line: DraftLine): SparsePlanLine {
  const below = line.below === undefined ? undefined : draft.lines[line.below];
  return {
    id: line.id,
    row: line.row,
    tier: line.tier,
    hangsOn: below?.id ?? (line.anchor === PULLEY ? PULLEY : line.anchor),
    ...(line.lengthMm === undefined ? {} : { lengthMm: line.lengthMm }),
    material: line.material ?? "",
    ...(line.colour === undefined ? {} : { colour: line.colour }),
    ...(line.loop === undefined ? {} : { loop: { ...line.loop } }),
  };
}

function tabOf(
  draft: Draft,
  tab: Draft["tabs"][number],
): { id: string; row: typeof tab.row; rib: number; line: string; chordFraction?: number; pathMm?: number } {
  return {
    id: tab.id,
    row: tab.row,
    rib: tab.rib,
    ...(tab.chordFraction === undefined ? {} : { chordFraction: tab.chordFraction }),
    line: draft.lines[tab.line]?.id ?? "",
    ...(tab.totalMm === undefined ? {} : { pathMm: tab.totalMm }),
  };
}
