/** What is the matter with a draft by its place in the text, and what it takes as usual with how to say it otherwise. */
import type { Draft, DraftedPlan } from "../../plan/draft/index.ts";
import { writeRibList } from "../../plan/draft/number-list.ts";
import { ROW_PREFIXES } from "../../plan/draft/source.ts";
import type { Problem } from "../../plan/model.ts";
import { type Key, say, speech } from "../../words/index.ts";
import { headed, statement, statementsIn, withStatement } from "./build-statements.ts";

export interface TextProblem {
  readonly problem: Problem;
  /** Place in the text, counted from 1; undefined for what isn't typed yet. */
  readonly line: number | undefined;
  readonly character: number;
  /** Field of the form that would say it. */
  readonly field: "weight" | "straps" | "rows" | "lengths" | undefined;
}

/** A draft's places are sentences; this reads line and character out of one, in whatever language it was said. */
function placeReader(): (where: string) => { readonly line: number; readonly character: number } | undefined {
  const said = say("draft.place", { line: "@line@", character: "@character@" });
  const escaped = said.replace(/[.*+?^${}()|[\]\\]/gu, "\\$&");
  const form = new RegExp(
    `^${escaped.replace("@line@", "(?<line>\\d+)").replace("@character@", "(?<character>\\d+)")}$`,
    "u",
  );
  return (where) => {
    const groups = form.exec(where)?.groups;
    return groups === undefined
      ? undefined
      : { line: Number(groups.line), character: Number(groups.character) };
  };
}

/** Where a field of the plan that a draft makes was typed: the draft's own field. */
function sourceOf(draft: Draft, where: string): string | undefined {
  const line = /^sides\.mirrored\.lines\[(\d+)\](?:\.(\w+))?/u.exec(where);
  if (line !== null) {
    const one = draft.lines[Number(line[1])];
    if (one === undefined) return undefined;
    const length = (draft.source.lengths ?? []).findIndex(
      (each) => each.row === one.row && each.kind === one.kind && each.number === one.number,
    );
    return length >= 0 && line[2] === "lengthMm" ? `lengths[${length}]` : `rows[${one.entry}].cascade`;
  }
  const tab = /^sides\.mirrored\.tabs\[(\d+)\](?:\.(\w+))?/u.exec(where);
  if (tab !== null) {
    const one = draft.tabs[Number(tab[1])];
    if (one === undefined) return undefined;
    const { source } = draft;
    const total = (source.totals ?? []).findIndex(
      (each) => each.row === one.row && each.number === one.number,
    );
    const ribs = (source.ribs ?? []).findIndex((each) => each.row === one.row);
    if (tab[2] === "rib" && ribs >= 0) return `ribs[${ribs}].list`;
    if (total >= 0) return `totals[${total}]`;
    return `rows[${draft.lines[one.line]?.entry ?? 0}].cascade`;
  }
  if (/^(wing|canopy|brakes|risers|maillons|materials|reference|tolerances|settings)/u.test(where))
    return where;
  return undefined;
}

const FIELDS: readonly (readonly [TextProblem["field"], Key])[] = [
  ["weight", "draft.weight.none"],
  ["straps", "draft.riser.length"],
  ["rows", "draft.tabs.none"],
  ["lengths", "draft.lengths.none"],
];

/** The problems with their places: errors first, mistakes before what is lacking, and then as the text runs. */
export function placedProblems(draft: Draft, problems: readonly Problem[]): readonly TextProblem[] {
  const read = placeReader();
  const found = problems.map((problem): TextProblem => {
    const source = sourceOf(draft, problem.where);
    const place = read(problem.where) ?? (source === undefined ? undefined : read(draft.where(source)));
    return {
      problem,
      line: place?.line,
      character: place?.character ?? 1,
      field: FIELDS.find(([, key]) => fits(key, problem.message))?.[0],
    };
  });
  return inOrder(found);
}

function inOrder(found: readonly TextProblem[]): readonly TextProblem[] {
  // What is mistyped goes before what is still to come.
  const rank = ({ problem, line, field }: TextProblem): number =>
    (problem.severity === "error" ? 0 : 1e6) + (field === undefined ? 0 : 5e5) + (line ?? 1e5);
  return [...found].sort((a, b) => rank(a) - rank(b));
}

/**
 * While the plan of the draft isn't worked out yet: the draft's own mistakes, and what was the matter with the plan before,
 * so that the list stands still from key to key.
 * @param before the draft that the plan is of
 */
export function problemsMeanwhile(
  draft: Draft,
  before: Draft,
  { problems }: Pick<DraftedPlan, "problems">,
): readonly TextProblem[] {
  const own = new Set(before.problems);
  const further = withoutAssumed(problems.filter((problem) => !own.has(problem)));
  return inOrder([...placedProblems(draft, draft.problems), ...placedProblems(before, further)]);
}

/** The literal pieces of a message, without what stands in its places. */
function literals(message: string): readonly string[] {
  const pieces: string[] = [""];
  let depth = 0;
  for (const c of message) {
    if (c === "{") {
      if (depth++ === 0) pieces.push("");
    } else if (c === "}") depth--;
    else if (depth === 0) pieces[pieces.length - 1] += c;
  }
  return pieces;
}

/** Whether a sentence is what a message says, whatever fills its places. */
function fits(key: Key, sentence: string): boolean {
  const pieces = literals(speech().catalogue[key]);
  let at = 0;
  for (const piece of pieces) {
    const found = sentence.indexOf(piece, at);
    if (found < 0) return false;
    at = found + piece.length;
  }
  return sentence.startsWith(pieces[0] ?? "") && sentence.endsWith(pieces.at(-1) ?? "");
}

/** Something that nobody has read from a table, and the statement that would say it. */
export interface Assumption {
  readonly text: string;
  /** As it would be typed, with what is assumed now; undefined where the draft has no way to say it. */
  readonly statement: string | undefined;
}

/** What each is stated with; the statements give what is assumed, so that they can be put in and corrected. */
function statementsFor(draft: Draft): readonly (readonly [Key, string])[] {
  const assumedRibs = [...new Set(draft.tabs.filter((tab) => tab.ribAssumed).map((tab) => tab.row))];
  const canopyRows = assumedRibs.filter((row) => row !== "tip" && row !== "brake");
  const ribsOf = (row: string): string =>
    writeRibList(draft.tabs.filter((tab) => tab.row === row).map((tab) => tab.rib));
  const most = Math.max(
    0,
    ...draft.tabs
      .filter((tab) => assumedRibs.includes(tab.row) && tab.row !== "tip" && tab.row !== "brake")
      .map((tab) => tab.number),
  );
  const { brakes, risers } = draft.rig;
  const usual: Readonly<Record<string, number>> = { A: 10, B: 30, C: 55, D: 75 };
  const present = new Set(draft.tabs.map((tab) => tab.row));
  const bare = (["A", "B", "C", "D"] as const).find(
    (row) =>
      present.has(row) &&
      draft.source.canopy?.rowChordFractions?.[row] === undefined &&
      !(draft.source.chords ?? []).some((each) => each.row === row),
  );
  const diameter = draft.lines.find((line) => line.material !== undefined)?.material ?? "1.5 mm";
  return [
    ["draft.assumed.from", statement("from", "riser")],
    ["draft.assumed.tension", statement("tension", 50)],
    [
      "draft.assumed.straps",
      statement("risers", risers.map(({ id, lengthMm }) => `${id} ${lengthMm}`).join(", ")),
    ],
    ["draft.assumed.pulley", statement("pulley", `${brakes?.pulleyRiser} ${brakes?.pulleyHeightMm}`)],
    ["draft.assumed.travel", statement("free travel", brakes?.freeTravelMm ?? "")],
    ["draft.assumed.ribs", statement(`ribs ${canopyRows.join(" ")}`, `2-${2 * Math.max(1, most)}/2`)],
    ["draft.assumed.tip", statement(`ribs ${ROW_PREFIXES.tip}`, ribsOf("tip"))],
    ["draft.assumed.brake", statement(`ribs ${ROW_PREFIXES.brake}`, ribsOf("brake"))],
    ["draft.assumed.tip-chord", statement(`chord ${ROW_PREFIXES.tip}`, "")],
    ["draft.assumed.chord", bare === undefined ? "" : statement(`chord ${bare}`, usual[bare] ?? "")],
    ["draft.assumed.material", statement("diameters", "1.8 1.3 0.9")],
    ["draft.assumed.stiffness", statement(`material ${diameter}`, `${diameter}, EA `)],
    ["plan.lengths.assumed", statement("lower A", "")],
  ];
}

/** What the plan rests on beyond what was typed. */
export function assumptionsOf(draft: Draft, { assumed, problems }: DraftedPlan): readonly Assumption[] {
  const ways = statementsFor(draft);
  const divided = problems.filter(
    ({ severity, message }) => severity === "warning" && fits("plan.lengths.assumed", message),
  );
  return [...divided.map(({ message }) => message), ...assumed].map((text): Assumption => {
    const way = ways.find(([key]) => fits(key, text))?.[1];
    return { text, statement: way === "" ? undefined : way };
  });
}

/** Warnings and errors without what is told of as assumed. */
export function withoutAssumed(problems: readonly Problem[]): readonly Problem[] {
  return problems.filter(
    ({ severity, message }) => severity === "error" || !fits("plan.lengths.assumed", message),
  );
}

/** The text with a statement put where it belongs, and the place to type on at. */
export function stated(text: string, way: string): { readonly text: string; readonly offset: number } {
  const head = statementsIn(way)[0]?.head ?? "";
  const there = statementsIn(text).find((each) => headed(head)(each.head));
  const written = there === undefined ? withStatement(text, headed(head), way) : { text, line: there.line };
  const lines = written.text.split("\n");
  const line = written.line ?? 1;
  const before = lines.slice(0, line).reduce((sum, each) => sum + each.length + 1, 0);
  return { text: written.text, offset: before - 1 };
}

/** Lines of the text that something is the matter with, and how bad it is; a line isn't wrong for what is lacking beside it. */
export function markedLines(problems: readonly TextProblem[]): ReadonlyMap<number, Problem["severity"]> {
  const marks = new Map<number, Problem["severity"]>();
  for (const { line, problem, field } of problems)
    if (line !== undefined && field === undefined && marks.get(line) !== "error")
      marks.set(line, problem.severity);
  return marks;
}
