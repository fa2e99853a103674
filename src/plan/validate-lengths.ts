/** Rules of lengths in one half: absurd lines, totals unlike their row's, stated totals against the lines' sum. */
import { say } from "../words/index.ts";
import type { Cascade } from "./cascade.ts";
import type { Problem, Row } from "./model.ts";
import type { PlanFile, PlanLine } from "./schema.ts";
import { called, type HalfPlace, listed, median, millimetres, problem } from "./wording.ts";

/** Shortest and longest line that is no slip of unit or digit [mm]. */
const SHORTEST_MM = 20;
const LONGEST_MM = 15_000;
/**
 * A total further than this from the median of its like is worth a look; the tips of usual wings lie within 20 %.
 * Rows A to D are alike to a few per cent and are taken together: one wrong lower line may hold half a row.
 */
const UNLIKE_TOTAL = 0.25;
/** A line whose length is this many times another of its like, or a fraction of it, has lost or won a digit. */
const UNLIKE_TIER = 3;
/** Fewer than this and a median says nothing. */
const ENOUGH = 4;
/** A stated total may be rounded by this much; up to the second it is a warning, beyond an error [mm]. */
const ROUNDING_MM = 1;
const SLIGHT_MM = 5;

interface TabTotal {
  readonly tabId: string;
  readonly tabIndex: number;
  readonly chain: readonly PlanLine[];
  /** Strap that counts in the total; 0 from the maillon and for brakes [mm]. */
  readonly strapMm: number;
  /** Strap that would count if totals began at the riser's base [mm]. */
  readonly strapAtHandMm: number;
  readonly totalMm: number;
}

function totals(file: PlanFile, cascade: Cascade, aside: ReadonlySet<string>): readonly TabTotal[] {
  const strapOf = new Map(
    file.maillons.map((maillon) => [
      maillon.id,
      file.risers.find((riser) => riser.id === maillon.riser)?.lengthMm,
    ]),
  );
  const found: TabTotal[] = [];
  for (const [tabId, { item, index }] of cascade.tabs) {
    const ids = cascade.chains.get(item.line);
    if (ids === undefined || ids.some((id) => aside.has(id))) continue;
    const chain = ids.map((id) => cascade.lines.get(id)?.item).filter((line) => line !== undefined);
    const lowest = chain[0];
    if (lowest === undefined) continue;
    const onMaillon = cascade.footing.get(lowest.id)?.kind === "maillon";
    const strapAtHandMm = onMaillon ? strapOf.get(lowest.hangsOn) : 0;
    if (strapAtHandMm === undefined) continue;
    const strapMm = file.reference.from === "riser" ? strapAtHandMm : 0;
    const members = chain.reduce((sum, line) => sum + line.lengthMm, 0);
    const totalMm = strapMm + members - (lowest.loop?.takeUpMm ?? 0);
    found.push({ tabId, tabIndex: index, chain, strapMm, strapAtHandMm, totalMm });
  }
  return found;
}

function absurdLines(place: HalfPlace, cascade: Cascade): readonly Problem[] {
  const found: Problem[] = [];
  for (const [id, { item, index }] of cascade.lines) {
    const where = `${place.where}.lines[${index}].lengthMm`;
    const name = called(place, "line", id);
    const absurd = (): string =>
      say("plan.line.absurd", {
        name,
        length: millimetres(item.lengthMm),
        shortest: millimetres(SHORTEST_MM),
        longest: millimetres(LONGEST_MM),
      });
    if (item.lengthMm < SHORTEST_MM) {
      found.push(problem("error", where, id, absurd(), say("plan.line.absurd.short")));
    } else if (item.lengthMm > LONGEST_MM) {
      found.push(problem("error", where, id, absurd(), say("plan.line.absurd.long")));
    } else if (item.loop !== undefined && item.loop.takeUpMm >= item.lengthMm) {
      found.push(
        problem(
          "error",
          `${place.where}.lines[${index}].loop.takeUpMm`,
          id,
          say("plan.loop.long", {
            name,
            length: millimetres(item.lengthMm),
            takeUp: millimetres(item.loop.takeUpMm),
          }),
          say("plan.loop.long.fix"),
        ),
      );
    }
  }
  return found;
}

/** What is compared with what: rows A to D together, the tip and the brake apart. */
const alike = (row: Row): Row => (row === "tip" || row === "brake" ? row : "A");

interface Likeness {
  /** How many times longer or shorter a line is than the middle one of its like; 1 where too few are known. */
  readonly factor: number;
  readonly middleMm: number;
}

/** Lines are alike that are of like rows, of the same tier, and both end at a tab or both don't. */
function likeness(cascade: Cascade, aside: ReadonlySet<string>): (line: PlanLine) => Likeness {
  const kind = (line: PlanLine): string =>
    JSON.stringify([alike(line.row), line.tier, cascade.tabsOn.has(line.id)]);
  const lengths = new Map<string, number[]>();
  for (const [id, { item }] of cascade.lines) {
    if (!aside.has(id)) lengths.set(kind(item), [...(lengths.get(kind(item)) ?? []), item.lengthMm]);
  }
  const middles = new Map(
    [...lengths].map(([name, all]) => [name, all.length < ENOUGH ? undefined : median(all)]),
  );
  return (line) => {
    const middleMm = middles.get(kind(line));
    if (middleMm === undefined) return { factor: 1, middleMm: line.lengthMm };
    return { factor: Math.max(line.lengthMm / middleMm, middleMm / line.lengthMm), middleMm };
  };
}

/** Totals far from those of their like, told once for the line behind them; then single lines unlike theirs. */
function unlikeTheOthers(
  place: HalfPlace,
  cascade: Cascade,
  known: readonly TabTotal[],
  aside: ReadonlySet<string>,
  assumed: ReadonlySet<string>,
): readonly Problem[] {
  const like = likeness(cascade, aside);
  const groups = new Map<string, TabTotal[]>();
  for (const total of known) {
    const group = alike(cascade.tabs.get(total.tabId)?.item.row ?? "A");
    groups.set(group, [...(groups.get(group) ?? []), total]);
  }
  const culprits = new Map<
    string,
    { readonly line: PlanLine; readonly middleMm: number; readonly tabs: TabTotal[] }
  >();
  for (const group of groups.values()) {
    const middleMm = median(group.map((total) => total.totalMm));
    if (group.length < ENOUGH || middleMm === undefined) continue;
    for (const total of group) {
      if (Math.abs(total.totalMm - middleMm) <= UNLIKE_TOTAL * middleMm) continue;
      const worst = total.chain.reduce((a, b) => (like(b).factor > like(a).factor ? b : a));
      const entry = culprits.get(worst.id) ?? { line: worst, middleMm, tabs: [] };
      entry.tabs.push(total);
      culprits.set(worst.id, entry);
    }
  }
  const found = [...culprits.values()].map(({ line, middleMm, tabs }) => {
    const first = tabs[0] as TabTotal;
    const index = cascade.lines.get(line.id)?.index ?? 0;
    const figures = {
      count: tabs.length - 1,
      name: called(place, "tab", first.tabId),
      others: listed(tabs.slice(1).map((one) => one.tabId)),
      total: millimetres(first.totalMm),
      middle: millimetres(middleMm),
      percent: UNLIKE_TOTAL * 100,
    };
    if (assumed.has(line.id)) {
      return problem(
        "warning",
        `${place.where}.tabs[${first.tabIndex}].pathMm`,
        first.tabId,
        say("plan.total.unlike", figures),
        say("plan.total.unlike.fix"),
      );
    }
    return problem(
      "warning",
      `${place.where}.lines[${index}].lengthMm`,
      line.id,
      say("plan.total.unlike-line", { ...figures, line: line.id, length: millimetres(line.lengthMm) }),
      say("plan.total.unlike-line.fix", { line: line.id }),
    );
  });
  for (const [id, { item, index }] of cascade.lines) {
    const { factor, middleMm } = like(item);
    if (factor < UNLIKE_TIER || culprits.has(id) || aside.has(id) || assumed.has(id)) continue;
    found.push(
      problem(
        "warning",
        `${place.where}.lines[${index}].lengthMm`,
        id,
        say("plan.line.unlike", {
          name: called(place, "line", id),
          length: millimetres(item.lengthMm),
          middle: millimetres(middleMm),
        }),
        say("plan.line.unlike.fix"),
      ),
    );
  }
  return found;
}

interface Mismatch extends TabTotal {
  readonly statedMm: number;
  /** Stated less the sum [mm]. */
  readonly offMm: number;
}

/**
 * The highest line on which all of these tabs and no other stated tab hang, if there is one: then its length,
 * or something below it, is what is wrong.
 */
function sharedLine(group: readonly Mismatch[], stated: readonly TabTotal[]): PlanLine | undefined {
  const [first, ...rest] = group;
  if (first === undefined || rest.length === 0) return undefined;
  const common = first.chain.filter((line) => rest.every((other) => other.chain.includes(line)));
  const inGroup = new Set(group.map((one) => one.tabId));
  return [...common]
    .reverse()
    .find((line) => stated.every((other) => inGroup.has(other.tabId) || !other.chain.includes(line)));
}

function statedTotals(
  place: HalfPlace,
  file: PlanFile,
  cascade: Cascade,
  known: readonly TabTotal[],
): readonly Problem[] {
  const stated: Mismatch[] = [];
  for (const total of known) {
    const statedMm = cascade.tabs.get(total.tabId)?.item.pathMm;
    if (statedMm !== undefined) stated.push({ ...total, statedMm, offMm: statedMm - total.totalMm });
  }
  // Guard against rounding of the sum itself, so that exactly 1 mm and 5 mm count as within.
  const off = stated.filter((one) => Math.abs(one.offMm) > ROUNDING_MM + 1e-6);
  const from = file.reference.from;
  const byStrap = off.filter((one) => {
    const other = from === "riser" ? -one.strapAtHandMm : one.strapAtHandMm;
    return one.strapAtHandMm > SLIGHT_MM && Math.abs(one.offMm - other) <= SLIGHT_MM;
  });
  const withStrap = stated.filter((one) => one.strapAtHandMm > 0);
  if (byStrap.length >= 2 && byStrap.length * 2 > withStrap.length) {
    const first = byStrap[0] as Mismatch;
    const others = off.filter((one) => !byStrap.includes(one));
    return [
      problem(
        "error",
        "reference.from",
        first.tabId,
        say("plan.totals.from", {
          from,
          count: byStrap.length,
          name: called(place, "tab", first.tabId),
          stated: millimetres(first.statedMm),
          total: millimetres(first.totalMm),
          strap: millimetres(first.strapAtHandMm),
        }),
        say("plan.totals.from.fix", { other: from === "riser" ? "maillon" : "riser" }),
      ),
      ...mismatches(place, cascade, others, stated),
    ];
  }
  return mismatches(place, cascade, off, stated);
}

function mismatches(
  place: HalfPlace,
  cascade: Cascade,
  off: readonly Mismatch[],
  stated: readonly TabTotal[],
): readonly Problem[] {
  const groups = new Map<string, Mismatch[]>();
  for (const one of off) {
    const name = `${one.chain[0]?.id} ${Math.round(one.offMm * 2)}`;
    groups.set(name, [...(groups.get(name) ?? []), one]);
  }
  return [...groups.values()].flatMap((group) => {
    const line = sharedLine(group, stated);
    const first = group[0] as Mismatch;
    const severity = Math.abs(first.offMm) > SLIGHT_MM + 1e-6 ? "error" : "warning";
    const figures = (one: Mismatch) => ({
      name: called(place, "tab", one.tabId),
      stated: millimetres(one.statedMm),
      total: millimetres(one.totalMm),
      sum: one.chain.map((member) => member.id).join(" + "),
      strap: one.strapMm > 0 ? "yes" : "no",
      loop: one.chain[0]?.loop === undefined ? "no" : "yes",
      off: millimetres(Math.abs(one.offMm)),
      way: one.offMm > 0 ? "more" : "less",
    });
    if (line === undefined) {
      return group.map((one) =>
        problem(
          severity,
          `${place.where}.tabs[${one.tabIndex}].pathMm`,
          one.tabId,
          say("plan.total.mismatch", figures(one)),
          say("plan.total.mismatch.fix", { lines: listed(one.chain.map((member) => member.id)) }),
        ),
      );
    }
    const index = cascade.lines.get(line.id)?.index ?? 0;
    return [
      problem(
        severity,
        `${place.where}.lines[${index}].lengthMm`,
        line.id,
        say("plan.total.mismatch-line", {
          ...figures(first),
          line: line.id,
          tabs: listed(group.map((one) => one.tabId)),
        }),
        say("plan.total.mismatch-line.fix", { line: line.id, loop: line.loop === undefined ? "no" : "yes" }),
      ),
    ];
  });
}

/**
 * All problems of one half's lengths. Totals that run through an unattached line, one of absurd length, one whose length
 * couldn't be inferred or one of the `doubtful` ids are left aside: what they show would follow from what is reported of
 * that line. Of the `assumed` lengths only the totals are judged.
 */
export function lengthProblems(
  place: HalfPlace,
  file: PlanFile,
  cascade: Cascade,
  doubtful: ReadonlySet<string>,
  assumed: ReadonlySet<string> = new Set(),
): readonly Problem[] {
  const lines = absurdLines(place, cascade);
  const aside = new Set([
    ...doubtful,
    ...lines.map((one) => one.subject ?? ""),
    ...[...cascade.lines.values()]
      .filter(({ item }) => Number.isNaN(item.lengthMm))
      .map(({ item }) => item.id),
  ]);
  const known = totals(file, cascade, aside);
  return [
    ...lines,
    ...unlikeTheOthers(place, cascade, known, aside, assumed),
    ...statedTotals(place, file, cascade, known),
  ];
}
