/**
 * Lines without a length: a printed sheet often has the totals alone. What the totals leave open is split by a typical
 * cascade; the lines at the tabs take the exact rest, so that every stated total comes out as stated.
 */
import { say } from "../words/index.ts";
import { type Cascade, cascadeOf, tabsAbove } from "./cascade.ts";
import type { Problem } from "./model.ts";
import type {
  PlanFile,
  PlanHalf,
  PlanLine,
  SparsePlanFile,
  SparsePlanHalf,
  SparsePlanLine,
} from "./schema.ts";
import { called, type HalfPlace, listed, millimetres, problem } from "./wording.ts";

/**
 * Share of each line in a chain's length from the maillon, lowest line first, by the number of lines in the chain: rounded
 * from a published cascade of 4.0 + 1.95 + 0.36 m and common practice. Only how a total is divided hangs on it, not the total.
 */
const TIER_SHARES: readonly (readonly number[])[] = [
  [1],
  [0.78, 0.22],
  [0.65, 0.25, 0.1],
  [0.58, 0.24, 0.12, 0.06],
];

/** A line shorter or longer than this isn't one [mm]; the same bounds as for given lengths. */
const SHORTEST_MM = 20;
const LONGEST_MM = 15_000;

/** One half with every length that could be found. */
export interface CompletedHalf {
  /** Lines that couldn't be told have a length of NaN. */
  readonly half: PlanHalf;
  /** Ids of the lines that the plan gives no length, found or not. */
  readonly assumed: ReadonlySet<string>;
  readonly problems: readonly Problem[];
}

export interface CompletedPlan {
  readonly file: PlanFile;
  /** By `where` of the half: `sides.mirrored`, `sides.left`, `sides.right`. */
  readonly halves: ReadonlyMap<string, CompletedHalf>;
}

/** Every half of a plan with its lengths completed. Never throws. */
export function completePlan(file: SparsePlanFile): CompletedPlan {
  const halves = new Map<string, CompletedHalf>();
  const complete = (half: SparsePlanHalf, place: HalfPlace): PlanHalf => {
    const completed = completeHalf(file, half, place);
    halves.set(place.where, completed);
    return completed.half;
  };
  const sides =
    "mirrored" in file.sides
      ? { mirrored: complete(file.sides.mirrored, { where: "sides.mirrored", side: undefined }) }
      : {
          left: complete(file.sides.left, { where: "sides.left", side: "left" }),
          right: complete(file.sides.right, { where: "sides.right", side: "right" }),
        };
  return { file: { ...file, sides }, halves };
}

/**
 * The lengths that a half's lines lack, from the stated totals (`pathMm`) of the tabs above them.
 *
 * From below upwards, with what is left of each total once the strap (where totals begin at the riser's base), the lower
 * lines and the loop's take-up are counted:
 * - where all lines further up to some tab are given, or there is none, the line takes the exact rest (the mean of the rests
 *   where several tabs say so);
 * - else it takes its typical share of the least rest above it, in whole millimetres, so that something is left for each.
 * Given lengths are kept. A line that hangs in no chain is left alone: it is told of elsewhere.
 */
function completeHalf(file: SparsePlanFile, half: SparsePlanHalf, place: HalfPlace): CompletedHalf {
  const assumed = new Set(half.lines.filter((line) => line.lengthMm === undefined).map((line) => line.id));
  if (assumed.size === 0) return { half: half as PlanHalf, assumed, problems: [] };
  const cascade = cascadeOf(half, new Set(file.maillons.map((maillon) => maillon.id)));
  const lengths = new Map<string, number>();
  for (const [id, { item }] of cascade.lines) if (item.lengthMm !== undefined) lengths.set(id, item.lengthMm);
  const problems: Problem[] = [];
  const roots = [...cascade.lines.keys()].filter((id) => cascade.chains.get(id)?.length === 1);
  for (const root of roots) climb(file, cascade, place, root, lengths, problems);
  const lines = half.lines.map(
    (line): PlanLine => ({ ...line, lengthMm: lengths.get(line.id) ?? Number.NaN }),
  );
  return { half: { ...half, lines }, assumed, problems };
}

function climb(
  file: SparsePlanFile,
  cascade: Cascade<SparsePlanLine>,
  place: HalfPlace,
  id: string,
  lengths: Map<string, number>,
  problems: Problem[],
): void {
  if (!lengths.has(id)) {
    const found = lengthOf(file, cascade, place, id, lengths);
    if (typeof found !== "number") {
      // What hangs on a line of unknown length can't be told either, and needn't be said.
      if (found !== undefined) problems.push(found);
      return;
    }
    lengths.set(id, found);
  }
  for (const above of cascade.linesOn.get(id) ?? []) climb(file, cascade, place, above, lengths, problems);
}

/** What is left of a tab's total for a line and the lines above it. */
interface Rest {
  readonly tabId: string;
  readonly statedMm: number;
  /** After the strap, the lines below and the given lines above, and before the loop [mm]. */
  readonly freeMm: number;
  /** The line's part of it: 1 where no other line of unknown length stands above. */
  readonly share: number;
  readonly givenIds: readonly string[];
}

/** The length that a line takes [mm], or why there is none; undefined where another problem says so already. */
function lengthOf(
  file: SparsePlanFile,
  cascade: Cascade<SparsePlanLine>,
  place: HalfPlace,
  id: string,
  lengths: ReadonlyMap<string, number>,
): number | Problem | undefined {
  const tabIds = tabsAbove(cascade, [id]);
  if (tabIds.length === 0) return undefined;
  const untold = tabIds.filter((tabId) => cascade.tabs.get(tabId)?.item.pathMm === undefined);
  const index = cascade.lines.get(id)?.index ?? 0;
  if (untold.length > 0) {
    return problem(
      "error",
      `${place.where}.lines[${index}].lengthMm`,
      id,
      say("plan.line.no-length", {
        name: called(place, "line", id),
        count: untold.length,
        tabs: listed(untold),
      }),
      say("plan.line.no-length.fix", { id }),
    );
  }
  const rests: Rest[] = [];
  for (const tabId of tabIds) {
    const rest = restOf(file, cascade, tabId, id, lengths);
    if (rest === undefined) return undefined;
    rests.push(rest);
  }
  const exact = rests.filter((rest) => rest.share === 1);
  const least = rests.reduce((a, b) => (b.freeMm * b.share < a.freeMm * a.share ? b : a));
  const lengthMm =
    exact.length > 0
      ? exact.reduce((sum, rest) => sum + rest.freeMm, 0) / exact.length
      : Math.floor(least.freeMm * least.share);
  if (lengthMm >= SHORTEST_MM && lengthMm <= LONGEST_MM) return tidy(lengthMm);
  const cause = exact[0] ?? least;
  const tab = cascade.tabs.get(cause.tabId);
  const given = { count: cause.givenIds.length, given: listed(cause.givenIds) };
  return problem(
    "error",
    `${place.where}.tabs[${tab?.index ?? 0}].pathMm`,
    cause.tabId,
    say("plan.total.leaves", {
      ...given,
      name: called(place, "tab", cause.tabId),
      total: millimetres(cause.statedMm),
      left: millimetres(lengthMm),
      id,
      shortest: millimetres(SHORTEST_MM),
      longest: millimetres(LONGEST_MM),
    }),
    say("plan.total.leaves.fix", { ...given, tab: cause.tabId, id }),
  );
}

function restOf(
  file: SparsePlanFile,
  cascade: Cascade<SparsePlanLine>,
  tabId: string,
  id: string,
  lengths: ReadonlyMap<string, number>,
): Rest | undefined {
  const tab = cascade.tabs.get(tabId)?.item;
  const chain = cascade.chains.get(tab?.line ?? "");
  const lowest = cascade.lines.get(chain?.[0] ?? "")?.item;
  if (tab?.pathMm === undefined || chain === undefined || lowest === undefined) return undefined;
  const strapMm = strapOf(file, cascade, lowest);
  if (strapMm === undefined) return undefined;
  const givenIds = chain.filter((each) => lengths.has(each));
  const givenMm = givenIds.reduce((sum, each) => sum + (lengths.get(each) as number), 0);
  const shares = TIER_SHARES[Math.min(chain.length, TIER_SHARES.length) - 1] as readonly number[];
  const shareAt = (line: string): number =>
    shares[Math.min(chain.indexOf(line), shares.length - 1)] as number;
  const open = chain.filter((each) => !lengths.has(each));
  const openShare = open.reduce((sum, each) => sum + shareAt(each), 0);
  return {
    tabId,
    statedMm: tab.pathMm,
    freeMm: tab.pathMm - strapMm + (lowest.loop?.takeUpMm ?? 0) - givenMm,
    share: open.length === 1 ? 1 : shareAt(id) / openShare,
    givenIds,
  };
}

/** Strap in a total [mm]: none from the maillon or for a brake; undefined where the plan lacks the riser. */
function strapOf(
  file: SparsePlanFile,
  cascade: Cascade<SparsePlanLine>,
  lowest: SparsePlanLine,
): number | undefined {
  if (file.reference.from === "maillon" || cascade.footing.get(lowest.id)?.kind !== "maillon") return 0;
  const riser = file.maillons.find((maillon) => maillon.id === lowest.hangsOn)?.riser;
  return file.risers.find((each) => each.id === riser)?.lengthMm;
}

/** Takes the rounding of sums away, so that a rest of whole millimetres is one. */
function tidy(lengthMm: number): number {
  return Number(lengthMm.toFixed(6));
}

/** One warning that tells how many lengths were inferred; none where no one was. */
export function assumedWarning(completed: CompletedPlan): readonly Problem[] {
  const halves = [...completed.halves.values()];
  const found = halves.flatMap(({ half, assumed }) =>
    half.lines.filter((line) => assumed.has(line.id) && !Number.isNaN(line.lengthMm)),
  );
  if (found.length === 0) return [];
  const all = halves.reduce((sum, { half }) => sum + half.lines.length, 0);
  const names = listed([...new Set(found.map((line) => line.id))]);
  const where = completed.halves.size === 1 ? ([...completed.halves.keys()][0] as string) : "sides";
  return [
    problem(
      "warning",
      `${where}.lines`,
      undefined,
      say("plan.lengths.assumed", { count: found.length, all, names }),
      say("plan.lengths.assumed.fix"),
    ),
  ];
}
