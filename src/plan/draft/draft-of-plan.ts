/** The draft of a plan that is there already: its cascades in the notation, so that they can be read back and edited. */
import { say } from "../../words/index.ts";
import { cascadeOf } from "../cascade.ts";
import { completePlan } from "../infer-lengths.ts";
import type { Problem, Row, Side, Wing } from "../model.ts";
import { type PlanHalf, type PlanTab, PULLEY, type SparsePlanFile, type SparsePlanLine } from "../schema.ts";
import { sideProblems } from "../validate-sides.ts";
import { listed, problem } from "../wording.ts";
import { planFile } from "../write.ts";
import { type Branch, writeCascade } from "./notation.ts";
import { writeRibList } from "./number-list.ts";
import {
  type DraftSource,
  EMPTY_SOURCE,
  KIND_LETTERS,
  LINE_KINDS,
  type LineKind,
  ROW_PREFIXES,
} from "./source.ts";

export interface PlanDraft {
  readonly source: DraftSource;
  /** What the notation can't say of the plan, as warnings; empty where `planOfDraft` gives the same wing again. */
  readonly lost: readonly Problem[];
}

interface Found {
  readonly line: SparsePlanLine;
  readonly name: string;
  readonly kind: LineKind;
  readonly tab: PlanTab | undefined;
}

/**
 * The draft of one half of a wing: rows with their cascades, ribs, materials, loops, colours, totals and lengths as the plan
 * states them. A draft describes one half for both sides; where a plan's sides differ, `side` is taken and every difference
 * told. Throws where a line or tab refers to a line that the wing doesn't have.
 */
export function draftOfPlan(wing: Wing, side: Side = "left"): PlanDraft {
  const file = planFile(wing);
  const lost: Problem[] = [];
  const half = "mirrored" in file.sides ? file.sides.mirrored : file.sides[side];
  if (!("mirrored" in file.sides)) lost.push(...unequalSides(file, side));
  const names = new Map<string, string>();
  const { rows, found } = trees(file, half.lines, half.tabs, lost);
  for (const one of found) names.set(one.line.id, one.name);
  const tabs = found.filter((one) => one.tab !== undefined);
  const ofRow = (row: Row) => tabs.filter((one) => rowOfTab(one) === row).map((one) => one.tab as PlanTab);
  const present = [...new Set(tabs.map(rowOfTab))];
  const source: DraftSource = {
    ...EMPTY_SOURCE,
    wing: file.wing,
    ...(file.canopy === undefined ? {} : { canopy: file.canopy }),
    reference: file.reference,
    ...(file.tolerances === undefined ? {} : { tolerances: file.tolerances }),
    risers: file.risers,
    maillons: file.maillons,
    ...(file.brakes === undefined ? {} : { brakes: file.brakes }),
    ...(file.settings === undefined ? {} : { settings: file.settings }),
    materials: file.materials,
    rows,
    ribs: present.map((row) => ({ row, list: writeRibList(ofRow(row).map((tab) => tab.rib)) })),
    chords: present
      .filter((row) => ofRow(row).some((tab) => tab.chordFraction !== undefined))
      .map((row) => ({ row, tabs: ofRow(row).map((tab) => tab.chordFraction ?? null) })),
    use: merged(
      byRowAndLine(
        found,
        (some) => tierMaterials(some),
        (list, one) => list[one.kind === "upper" ? list.length - 1 : one.line.tier - 1] === one.line.material,
        (one) => [one.line.material],
      ),
      (materials) => ({ materials: [...materials] }),
    ),
    colours: merged(
      byRowAndLine(
        found,
        (some) => commonest(some.map((one) => one.line.colour)) ?? null,
        (colour, one) => colour === (one.line.colour ?? null),
        (one) => one.line.colour ?? null,
      ),
      (colour) => ({ colour }),
    ).filter((entry) => entry.colour !== null || !isRow(entry.targets)),
    loops: merged(
      byRowAndLine(
        found.filter((one) => one.line.tier === 1 && one.line.hangsOn !== PULLEY),
        (some) => commonest(some.map((one) => JSON.stringify(one.line.loop ?? null))) as string,
        (loop, one) => loop === JSON.stringify(one.line.loop ?? null),
        (one) => JSON.stringify(one.line.loop ?? null),
      ),
      (loop) => ({ loop: JSON.parse(loop) as { name: string; takeUpMm: number } | null }),
    ).filter((entry) => entry.loop !== null || !isRow(entry.targets)),
    totals: present.flatMap((row) =>
      ofRow(row).flatMap((tab, i) =>
        tab.pathMm === undefined ? [] : [{ row, number: i + 1, mm: tab.pathMm }],
      ),
    ),
    lengths: [...new Set(found.map((one) => one.line.row))].flatMap((row) =>
      LINE_KINDS.flatMap((kind) =>
        found
          .filter((one) => one.line.row === row && one.kind === kind)
          .flatMap((one, i) =>
            one.line.lengthMm === undefined ? [] : [{ row, kind, number: i + 1, mm: one.line.lengthMm }],
          ),
      ),
    ),
    names: [
      ...found
        .filter((one) => one.line.id !== one.name)
        .map((one) => ({ of: "line" as const, draft: one.name, plan: one.line.id })),
      ...tabs
        .filter((one) => one.tab?.id !== one.name)
        .map((one) => ({ of: "tab" as const, draft: one.name, plan: one.tab?.id as string })),
    ],
  };
  return { source: compact(source), lost };
}

/** Tabs are counted with the row of the line that ends there. */
function rowOfTab(one: Found): Row {
  return one.line.row;
}

function compact(source: DraftSource): DraftSource {
  return Object.fromEntries(
    Object.entries(source).filter(
      ([key, value]) => key === "rows" || !Array.isArray(value) || value.length > 0,
    ),
  ) as unknown as DraftSource;
}

/** The lower lines in the plan's order, each with what it carries; told apart wherever row or maillon changes. */
function trees(
  file: SparsePlanFile,
  lines: readonly SparsePlanLine[],
  tabs: readonly PlanTab[],
  lost: Problem[],
): { readonly rows: DraftSource["rows"]; readonly found: readonly Found[] } {
  const cascade = cascadeOf({ lines, tabs }, new Set(file.maillons.map((maillon) => maillon.id)));
  const counts = new Map<string, number>();
  const found: Found[] = [];
  const cannot = (subject: string, message: string): void => {
    lost.push(problem("warning", "sides", subject, message, say("draft.lost.fix")));
  };
  const grow = (line: SparsePlanLine): Branch => {
    const above = (cascade.linesOn.get(line.id) ?? []).map(
      (id) => cascade.lines.get(id)?.item as SparsePlanLine,
    );
    const ends = (cascade.tabsOn.get(line.id) ?? []).map((id) => cascade.tabs.get(id)?.item as PlanTab);
    const kind: LineKind = above.length === 0 ? "upper" : (LINE_KINDS[line.tier - 1] as LineKind);
    const key = `${line.row} ${kind}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
    const name = `${ROW_PREFIXES[line.row]}${KIND_LETTERS[kind]}${counts.get(key)}`;
    const tab = above.length === 0 ? ends[0] : undefined;
    const surplus = above.length === 0 ? ends.slice(1) : ends;
    if (surplus.length > 0)
      cannot(
        line.id,
        say("draft.lost.ends", {
          id: line.id,
          how: above.length > 0 ? "forks" : "several",
          tabs: listed(ends.map((each) => each.id)),
        }),
      );
    if (tab !== undefined && tab.row !== line.row)
      cannot(
        tab.id,
        say("draft.lost.row", { tab: tab.id, tabRow: tab.row, line: line.id, lineRow: line.row }),
      );
    found.push({ line, name, kind, tab });
    return { row: line.row, at: 0, carries: above.map(grow) };
  };
  const rows: { row: Row; on?: string; lines: Branch[] }[] = [];
  for (const line of lines) {
    if (cascade.footing.get(line.id)?.kind === "line") continue;
    const usual = line.row === "brake" || line.hangsOn === ROW_PREFIXES[line.row];
    const on = usual ? undefined : line.hangsOn;
    let last = rows.at(-1);
    if (last?.row !== line.row || last.on !== on) {
      last = { row: line.row, ...(on === undefined ? {} : { on }), lines: [] };
      rows.push(last);
    }
    last.lines.push(grow(line));
  }
  return {
    rows: rows.map(({ row, on, lines: own }) => ({
      row,
      ...(on === undefined ? {} : { on }),
      cascade: writeCascade(own, row),
    })),
    found,
  };
}

function unequalSides(file: SparsePlanFile, side: Side): readonly Problem[] {
  const { file: full, halves } = completePlan(file);
  if ("mirrored" in full.sides) return [];
  const maillonIds = new Set(full.maillons.map((maillon) => maillon.id));
  const cascade = (half: PlanHalf) => cascadeOf(half, maillonIds);
  const differences = sideProblems({
    left: cascade(full.sides.left),
    right: cascade(full.sides.right),
    assumed: new Set([...halves.values()].flatMap((half) => [...half.assumed])),
  });
  return [
    problem(
      "warning",
      "sides",
      undefined,
      say("draft.lost.side", { side, slight: differences.length === 0 ? "yes" : "no" }),
      say("draft.lost.side.fix"),
    ),
    ...differences,
  ];
}

/** The value that most have; the first of equals. */
function commonest<T>(values: readonly T[]): T | undefined {
  const counts = new Map<T, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  return [...counts].reduce<[T, number] | undefined>(
    (best, one) => (best === undefined || one[1] > best[1] ? one : best),
    undefined,
  )?.[0];
}

/** A row's usual materials by tier; the last one for lines that end at a tab. */
function tierMaterials(some: readonly Found[]): readonly string[] {
  const carriers = some.filter((one) => one.kind !== "upper");
  const deepest = Math.max(0, ...carriers.map((one) => one.line.tier));
  const list: string[] = [];
  for (let tier = 1; tier <= deepest; tier++) {
    const of = carriers.filter((one) => one.line.tier === tier).map((one) => one.line.material);
    list.push(commonest(of) ?? (some[0] as Found).line.material);
  }
  const ends = some.filter((one) => one.kind === "upper").map((one) => one.line.material);
  return [...list, commonest(ends) ?? (list.at(-1) as string)];
}

interface Entry<T> {
  readonly target: string;
  readonly isRow: boolean;
  readonly value: T;
}

/** What holds for each row, then the lines that differ from it. */
function byRowAndLine<T>(
  found: readonly Found[],
  ofRow: (some: readonly Found[]) => T,
  agrees: (value: T, one: Found) => boolean,
  ofLine: (one: Found) => T,
): readonly Entry<T>[] {
  const rows = [...new Set(found.map((one) => one.line.row))];
  const exceptions: Entry<T>[] = [];
  const whole = rows.map((row): Entry<T> => {
    const some = found.filter((one) => one.line.row === row);
    const value = ofRow(some);
    for (const one of some)
      if (!agrees(value, one)) exceptions.push({ target: one.name, isRow: false, value: ofLine(one) });
    return { target: ROW_PREFIXES[row], isRow: true, value };
  });
  return [...whole, ...exceptions];
}

function isRow(targets: readonly string[]): boolean {
  return Object.values(ROW_PREFIXES).some((prefix) => targets.includes(prefix));
}

/** Rows of the same value in one entry, and likewise lines. */
function merged<T, E extends object>(
  entries: readonly Entry<T>[],
  entry: (value: T) => E,
): (E & { targets: string[] })[] {
  const groups = new Map<string, { value: T; targets: string[] }>();
  for (const { target, isRow: whole, value } of entries) {
    const key = `${whole} ${JSON.stringify(value)}`;
    const group = groups.get(key) ?? { value, targets: [] };
    group.targets.push(target);
    groups.set(key, group);
  }
  return [...groups.values()].map(({ value, targets }) => ({ targets, ...entry(value) }));
}
