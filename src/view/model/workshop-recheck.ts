/** What was done between two checks, what to read again for it, and what the bench's book is to hold afterwards. */
import type { Wing } from "../../plan/model.ts";
import { listed, longDate, say, signedLength } from "../../words/index.ts";
import {
  BENCH_LENGTH_UNCERTAINTY_M,
  type ChosenLoops,
  chosenChanges,
  kindName,
  type LineLoops,
  type LoopBook,
  type PromisedChange,
  type Replacement,
  tiedSince,
} from "../../workshop/index.ts";
import { sidedName } from "./format.ts";
import { readingsTemplate } from "./template.ts";

/** Standard uncertainty of a length that was typed in: made to the millimetre at best. Assumption, no source [m]. */
export const TYPED_UNCERTAINTY_M = 0.0005;

/** One line's change: how far it was to move, and what it was in words. */
export interface Done extends PromisedChange {
  /** "C3 left". */
  readonly name: string;
  /** "girth hitch → one extra turn", "+5 mm typed in". */
  readonly what: string;
  /** The loop that it was to get; undefined where its loop stays. */
  readonly kindId: string | undefined;
}

/** A replacement counts from the day of the check before to that of the check after; one without a date always. */
function between(
  { date }: Replacement,
  beforeDate: string | undefined,
  afterDate: string | undefined,
): boolean {
  if (date === undefined) return true;
  return (beforeDate === undefined || date >= beforeDate) && (afterDate === undefined || date <= afterDate);
}

/** Keys of the lines that were replaced between the checks, with the replacement. */
function replaced(
  wing: Wing,
  book: LoopBook,
  beforeDate: string | undefined,
  afterDate: string | undefined,
): readonly { readonly lineKey: string; readonly replacement: Replacement }[] {
  return book.replacements
    .filter((replacement) => between(replacement, beforeDate, afterDate))
    .flatMap((replacement) =>
      wing.lines
        .filter((line) => line.id === replacement.lineId && replacement.sides.includes(line.side))
        .map((line) => ({ lineKey: line.key, replacement })),
    );
}

/**
 * The changes in the wing's order: loops and lengths that are tried, and lines replaced whose old and new length are in the
 * book. A line's loop and its length count together.
 */
export function doneOf(of: {
  readonly wing: Wing;
  readonly loops: readonly LineLoops[];
  readonly book: LoopBook;
  readonly chosen: ChosenLoops;
  readonly trialsMm: ReadonlyMap<string, number>;
  readonly beforeDate?: string | undefined;
  readonly afterDate?: string | undefined;
}): readonly Done[] {
  const { wing } = of;
  // What a maillon's card was ticked off with was done, tried or not.
  const chosen = new Map([...tiedSince(of.book, of.beforeDate), ...of.chosen]);
  const loops = new Map(chosenChanges(of.loops, chosen).map((change) => [change.lineKey, change]));
  const swaps = new Map(
    replaced(wing, of.book, of.beforeDate, of.afterDate).flatMap(
      ({ lineKey, replacement: { oldM, newM } }) =>
        oldM === undefined || newM === undefined ? [] : [[lineKey, newM - oldM] as const],
    ),
  );
  return wing.lines.flatMap((line): Done[] => {
    const loop = loops.get(line.key);
    const mm = of.trialsMm.get(line.key);
    // What is tried of a line has the length of its new one in it already.
    const swapM = of.chosen.has(line.key) || mm !== undefined ? undefined : swaps.get(line.key);
    const parts = [
      ...(loop === undefined
        ? []
        : [
            {
              changeM: loop.changeM,
              uM: loop.standardUncertaintyM,
              what: `${kindName(loop.from.kind)} → ${kindName(loop.to.kind)}`,
            },
          ]),
      ...(mm === undefined
        ? []
        : [
            {
              changeM: mm / 1000,
              uM: TYPED_UNCERTAINTY_M,
              what: say("recheck.done.typed", { by: signedLength(mm / 1000) }),
            },
          ]),
      ...(swapM === undefined
        ? []
        : [
            {
              changeM: swapM,
              uM: Math.SQRT2 * BENCH_LENGTH_UNCERTAINTY_M,
              what: say("recheck.done.replaced"),
            },
          ]),
    ];
    if (parts.length === 0) return [];
    return [
      {
        lineKey: line.key,
        name: sidedName(line.id, line.side),
        changeM: parts.reduce((sum, { changeM }) => sum + changeM, 0),
        standardUncertaintyM: Math.hypot(...parts.map(({ uM }) => uM)),
        what: parts.map(({ what }) => what).join(", "),
        kindId: loop?.to.kind.id,
      },
    ];
  });
}

/** A line that was changed, and the tabs above it. */
export interface Remeasured {
  readonly lineKey: string;
  readonly name: string;
  readonly what: string;
  /** As the plan names them, without their side. */
  readonly tabIds: readonly string[];
}

/** What is to be read again after the work. */
export interface MeasureAgain {
  readonly lines: readonly Remeasured[];
  /** Names of the tabs above them, in the plan's order. */
  readonly tabIds: readonly string[];
  /** Names of some that nothing was done to, on either side: from them the shift between the days is told. */
  readonly otherIds: readonly string[];
}

/** Names with a left and a right tab, so that these many are twice as many paths. */
const OTHERS = 8;

/** The paths above every changed or replaced line, and some others spread over rows and span. */
export function measureAgain(
  wing: Wing,
  done: readonly Done[],
  book: LoopBook,
  beforeDate: string | undefined,
): MeasureAgain {
  const what = new Map(done.map((change) => [change.lineKey, change.what]));
  for (const { lineKey } of replaced(wing, book, beforeDate, undefined))
    if (!what.has(lineKey)) what.set(lineKey, say("recheck.done.replaced"));
  const idOf = new Map(wing.tabs.map((tab) => [tab.key, tab.id]));
  const lines = wing.lines.flatMap((line): Remeasured[] => {
    const does = what.get(line.key);
    if (does === undefined) return [];
    const tabIds = wing.paths
      .filter(({ lineKeys }) => lineKeys.includes(line.key))
      .flatMap(({ tabKey }) => idOf.get(tabKey) ?? []);
    return [{ lineKey: line.key, name: sidedName(line.id, line.side), what: does, tabIds }];
  });
  const wanted = new Set(lines.flatMap(({ tabIds }) => tabIds));
  const names = [...new Set(wing.tabs.map(({ id }) => id))];
  const brakes = new Set(wing.tabs.flatMap(({ id, row }) => (row === "brake" ? [id] : [])));
  const rest = names.filter((id) => !wanted.has(id) && !brakes.has(id));
  const others = new Set(
    rest.length <= OTHERS
      ? rest
      : Array.from({ length: OTHERS }, (_, i) => rest[Math.floor(((i + 0.5) * rest.length) / OTHERS)]),
  );
  return {
    lines,
    tabIds: names.filter((id) => wanted.has(id)),
    otherIds: names.filter((id) => others.has(id)),
  };
}

/** An empty sheet for some tabs only, both sides, in the plan's order. */
export function sheetFor(wing: Wing, tabIds: readonly string[]): string {
  const wanted = new Set(tabIds);
  return readingsTemplate({ ...wing, tabs: wing.tabs.filter(({ id }) => wanted.has(id)) });
}

/**
 * The book once the work is done: the loops of the lines that it was done on are the present ones.
 *
 * @param lineKeys lines on which it was done
 */
export function bookAfterWork(
  book: LoopBook,
  done: readonly Done[],
  lineKeys: ReadonlySet<string>,
): LoopBook {
  const present = new Map(book.present);
  const presentTakeUpM = new Map(book.presentTakeUpM);
  for (const { lineKey, kindId } of done) {
    if (kindId === undefined || !lineKeys.has(lineKey)) continue;
    // A take-up measured on this line was that of the loop before.
    if (present.get(lineKey) !== kindId) presentTakeUpM.delete(lineKey);
    present.set(lineKey, kindId);
  }
  return { ...book, present, presentTakeUpM };
}

/** "14 and 21 March 2026", "30 March and 2 April 2026". */
export function bothDates(before: string, after: string): string {
  const [one, other] = [longDate(before), longDate(after)];
  if (one === other) return say("recheck.dates.twice", { date: one });
  const [a, b] = [one.split(" "), other.split(" ")];
  const alike = (place: number): boolean => a.slice(place).join(" ") === b.slice(place).join(" ");
  // Where the day doesn't come first, month and year can't be left to the second date.
  const kept = !/^\d/.test(one) || a.length !== 3 ? a.length : alike(1) ? 1 : alike(2) ? 2 : 3;
  return listed([a.slice(0, kept).join(" "), other]);
}
