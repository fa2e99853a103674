/**
 * Lines that are replaced, as the book keeps them. A job is one line of the plan, on one side or on both, and counts as
 * being at work until its replacements carry a date. Of its entries the first is the damaged line's.
 */
import { type Line, SIDES, type Side, type Wing } from "../../plan/index.ts";
import { fromUnit, length, say, speech } from "../../words/index.ts";
import { type LoopBook, type Replacement, sayLineKind, sayList, tierWord } from "../../workshop/index.ts";

export interface ReplaceJob {
  /** The line with its date: the same line may be replaced again in another year. */
  readonly key: string;
  readonly lineId: string;
  /** ISO date; undefined while it is at work. */
  readonly date: string | undefined;
  /** Of the line that gave the occasion. */
  readonly damagedKey: string;
  /** Lines that are replaced, left before right. */
  readonly lines: readonly JobLine[];
  /** Twin of the damaged line, whether it is replaced or not. */
  readonly twin: Line | undefined;
}

export interface JobLine {
  readonly line: Line;
  readonly entry: Replacement;
}

const keyOf = ({ lineId, date }: Pick<Replacement, "lineId" | "date">): string => `${lineId} ${date ?? ""}`;

/** All jobs of the book, in the order in which they were begun; entries for lines that the wing lacks are left out. */
export function replaceJobs(wing: Wing, book: LoopBook): readonly ReplaceJob[] {
  const jobs = new Map<string, JobLine[]>();
  for (const entry of book.replacements)
    for (const side of entry.sides) {
      const line = wing.lines.find((one) => one.id === entry.lineId && one.side === side);
      if (line === undefined) continue;
      const key = keyOf(entry);
      const lines = jobs.get(key) ?? [];
      if (!lines.some((other) => other.line.key === line.key)) jobs.set(key, [...lines, { line, entry }]);
    }
  return [...jobs].flatMap(([key, lines]) => {
    const [first] = lines;
    if (first === undefined) return [];
    return [
      {
        key,
        lineId: first.line.id,
        date: first.entry.date,
        damagedKey: first.line.key,
        lines: lines.toSorted((a, b) => SIDES.indexOf(a.line.side) - SIDES.indexOf(b.line.side)),
        twin: wing.lines.find(({ key: other }) => other === first.line.mirrorKey),
      },
    ];
  });
}

/** The job that a line belongs to, still at work; the twin that stays belongs to it too. */
export function jobAtWork(jobs: readonly ReplaceJob[], lineKey: string): ReplaceJob | undefined {
  return jobs.find(
    ({ date, lines, twin }) =>
      date === undefined && (twin?.key === lineKey || lines.some(({ line }) => line.key === lineKey)),
  );
}

/** "C2 left and right", "A1 left". */
export function jobName({ lineId, lines }: Pick<ReplaceJob, "lineId" | "lines">): string {
  return say("replace.job", { line: lineId, sides: caseOf(lines.map(({ line }) => line.side)) });
}

/** "left", "left and right". */
export function saySides(sides: readonly Side[]): string {
  return say("replace.sides", { sides: caseOf(sides) });
}

/** Which of a message's cases some sides are. */
const caseOf = (sides: readonly Side[]): string => (sides.length > 1 ? "both" : (sides[0] ?? "both"));

/** "lower line, row C". */
export function lineKind(line: Pick<Line, "tier" | "carriesLines" | "row">): string {
  return sayLineKind({ tier: tierWord(line), row: line.row });
}

const fresh = (lineId: string, side: Side): Replacement => ({
  lineId,
  sides: [side],
  date: undefined,
  oldM: undefined,
  newM: undefined,
  tensionN: undefined,
  loopKindId: undefined,
  note: undefined,
});

/** The book with an entry to each side, so that each can have its own lengths. */
function oneSideEach(book: LoopBook): readonly Replacement[] {
  return book.replacements.flatMap((entry) =>
    entry.sides.length < 2 ? [entry] : entry.sides.map((side) => ({ ...entry, sides: [side] })),
  );
}

/** Begins to replace a line and, as pairs keep the wing symmetric, its mirror twin. */
export function startReplacing(wing: Wing, book: LoopBook, lineKey: string): LoopBook {
  const line = wing.lines.find(({ key }) => key === lineKey);
  if (line === undefined || jobAtWork(replaceJobs(wing, book), lineKey) !== undefined) return book;
  const twin = wing.lines.find(({ key }) => key === line.mirrorKey);
  const pair = [line, ...(twin === undefined ? [] : [twin])];
  return {
    ...book,
    replacements: [...oneSideEach(book), ...pair.map(({ id, side }) => fresh(id, side))],
  };
}

/** Replaces only these sides of a job; the damaged line's own stays first. What was entered for a side that goes is dropped. */
export function withSides(book: LoopBook, job: ReplaceJob, sides: readonly Side[]): LoopBook {
  const damaged = job.lines.find(({ line }) => line.key === job.damagedKey)?.line.side;
  const wanted = SIDES.filter((side) => sides.includes(side)).toSorted(
    (a, b) => Number(b === damaged) - Number(a === damaged),
  );
  if (wanted.length === 0) return book;
  const all = oneSideEach(book);
  const own = all.filter((entry) => keyOf(entry) === job.key);
  const entries = wanted.map(
    (side) =>
      own.find((entry) => entry.sides.includes(side)) ?? { ...fresh(job.lineId, side), date: job.date },
  );
  const at = all.findIndex((entry) => keyOf(entry) === job.key);
  const rest = all.filter((entry) => keyOf(entry) !== job.key);
  return { ...book, replacements: [...rest.slice(0, at), ...entries, ...rest.slice(at)] };
}

/** Takes a job out of the book. */
export function withoutJob(book: LoopBook, job: ReplaceJob): LoopBook {
  return { ...book, replacements: book.replacements.filter((entry) => keyOf(entry) !== job.key) };
}

/** Writes down something of some of a job's lines, by side. */
export function noteReplacement(
  book: LoopBook,
  job: ReplaceJob,
  sides: readonly Side[],
  change: Partial<Omit<Replacement, "lineId" | "sides">>,
): LoopBook {
  return {
    ...book,
    replacements: oneSideEach(book).map((entry) =>
      keyOf(entry) === job.key && entry.sides.some((side) => sides.includes(side))
        ? { ...entry, ...change }
        : entry,
    ),
  };
}

/** In which step of the way. */
export const REPLACE_STEPS = ["line", "order", "maillon", "swap", "after"] as const;
export type ReplaceStep = (typeof REPLACE_STEPS)[number];

/** Why a line answers a search, in words. */
export function sayFoundBy(
  by: "name" | "its tab" | "begins" | "tab above" | "words",
  line: Line,
  tabIds: readonly string[],
): string {
  switch (by) {
    case "its tab":
      return say("replace.found.tab", { tabs: sayList(tabIds) });
    case "tab above":
      return say("replace.found.above", { count: tabIds.length, tabs: sayList(tabIds) });
    case "name":
    case "begins":
    case "words":
      return [lineKind(line), line.colour, line.materialId].filter((part) => part !== undefined).join(" · ");
  }
}

const LEAST_LENGTH_M = 0.05;
const MOST_LENGTH_M = 20;

/**
 * A length in the unit that is set as typed, with a point or a comma.
 *
 * @returns metres; undefined for nothing; a message for what can't be one
 */
export function readLength(
  text: string,
): { readonly lengthM: number | undefined } | { readonly wrong: string } {
  const trimmed = text.trim().replace(",", ".");
  if (trimmed === "") return { lengthM: undefined };
  const { unit } = speech();
  if (!/^(\d+\.?\d*|\.\d+)$/.test(trimmed)) return { wrong: say("replace.length.number", { unit }) };
  const lengthM = fromUnit(Number(trimmed));
  return lengthM >= LEAST_LENGTH_M && lengthM <= MOST_LENGTH_M
    ? { lengthM }
    : { wrong: say("replace.length.range", { unit }) };
}

/** Farther off than this from the plan a length is more likely a slip than a line [m]. Common practice, no source. */
const LIKELY_SLIP_M = 0.15;

/** Asks about a length that is far from the plan's; undefined where it is near. */
export function lengthDoubt(
  line: Line,
  which: "old" | "new",
  lengthM: number | undefined,
): string | undefined {
  if (lengthM === undefined) return undefined;
  const offM = lengthM - line.lengthM;
  if (Math.round(Math.abs(offM) * 1000) <= LIKELY_SLIP_M * 1000) return undefined;
  return say("replace.length.doubt", {
    which,
    by: length(Math.abs(offM)),
    way: offM < 0 ? "short" : "long",
    plan: length(line.lengthM),
  });
}

/** Lines that are replaced, in words: "C2 left and right, A1 left". */
export function sayJobs(jobs: readonly ReplaceJob[]): string {
  return jobs.map(jobName).join(", ");
}
