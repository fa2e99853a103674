/** Invented work at the bench: the best loops tied, each a little differently, one of them forgotten; and the check after it. */
import { keyOf, type PlanFile, parsePlan, type Side } from "../plan/index.ts";
import { type CheckFile, deviations, parseCheck } from "../readings/index.ts";
import {
  bookFromFile,
  defaultChoices,
  type LoopBookFile,
  type LoopChange,
  lineLoops,
  planLoops,
} from "../workshop/index.ts";
import { type AgedLines, type Ageing, ageLines } from "./ageing.ts";
import { type ReadingSpec, readCheck } from "./make-check.ts";
import { seededRandom } from "./random.ts";

export interface WorkSpec {
  /** The wing as it came to the bench: seed and ageing of the check before. */
  readonly before: { readonly seed: number; readonly ageing: Ageing };
  readonly seed: number;
  /** Standard deviation of what a changed loop does about what it promised: tied snugly or not [mm]. */
  readonly takeUpScatterMm: number;
  /** Lines whose loop was to be changed and wasn't. */
  readonly leftIn: readonly { readonly side: Side; readonly line: string }[];
  readonly after: ReadingSpec;
}

export interface DemoWork {
  /** What was to be done: the best loops for the check before. */
  readonly changes: readonly LoopChange[];
  /** Keys of the lines on which it wasn't. */
  readonly leftIn: readonly string[];
  /** The check after the work. */
  readonly after: CheckFile;
}

/**
 * Plans the loops from the check before and the book, changes them on the wing as it really was, and reads it again. Between
 * the two checks nothing but the loops changes; the noise of the readings is drawn anew.
 *
 * @throws Error where plan, check or book is faulty
 * @throws RangeError where a loop is to be left in that the plan of loops doesn't change
 */
export function makeWork(plan: PlanFile, before: CheckFile, book: LoopBookFile, spec: WorkSpec): DemoWork {
  const wing = sound(parsePlan(plan));
  const found = deviations(wing, sound(parseCheck(before, wing)));
  const kept = sound(bookFromFile(book, wing));
  const loops = lineLoops(wing, kept);
  const { changes } = planLoops(wing, found, loops, kept.choices ?? defaultChoices(wing, loops)).best;
  const leftIn = spec.leftIn.map(({ side, line }) => keyOf(side, line));
  const stray = leftIn.find((key) => changes.every(({ lineKey }) => lineKey !== key));
  if (stray !== undefined) throw new RangeError(`The best loops leave ${stray} as it is: nothing to forget.`);

  const came = ageLines(plan, spec.before.ageing, seededRandom(spec.before.seed));
  const random = seededRandom(spec.seed);
  const workingChangeMm = new Map(came.workingChangeMm);
  for (const { lineKey, changeM } of changes) {
    const didMm = 1000 * changeM + spec.takeUpScatterMm * random.normal();
    if (!leftIn.includes(lineKey)) workingChangeMm.set(lineKey, (workingChangeMm.get(lineKey) ?? 0) + didMm);
  }
  const left: AgedLines = { ...came, workingChangeMm };
  return { changes, leftIn, after: readCheck(plan, left, spec.after, random) };
}

function sound<T>(
  parsed: { ok: true; value: T } | { ok: false; problems: readonly { message: string }[] },
): T {
  if (!parsed.ok) throw new Error(`A demo file is faulty: ${parsed.problems[0]?.message}`);
  return parsed.value;
}
