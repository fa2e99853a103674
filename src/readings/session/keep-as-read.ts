/** A doubtful number that the person stands by: it counts on their word, once, without being read again. */
import { holding } from "./fold.ts";
import { type Entry, type Judge, type ReadingEntry, type Session, sameTarget } from "./model.ts";
import { enter, replay } from "./session.ts";

/**
 * The entry that is in doubt for the target asked for now: the last one that still holds and that nothing has confirmed or
 * overruled; undefined where the target isn't in doubt.
 */
export function inDoubt(session: Session): ReadingEntry | undefined {
  const target = session.state.next?.target;
  const state = [...session.state.targets.values()].find((one) => sameTarget(one.target, target));
  if (state?.status !== "doubtful") return undefined;
  const entry = holding(session.journal).findLast(
    (each) =>
      (each.kind === "reading" || each.kind === "repeat") &&
      sameTarget(each.target, target) &&
      each.verdict.level === "doubtful" &&
      each.valuesM.length > 0,
  );
  return entry?.kind === "reading" || entry?.kind === "repeat" ? entry : undefined;
}

/**
 * Takes the number in doubt as it was typed: its entry is taken back and entered again as one that nothing speaks against, so
 * that one reading stays one reading and isn't counted for two that agree. Values that contradict it stay as they are, and may
 * keep the target in doubt. Returns the session as it is where nothing is in doubt.
 */
export function keepAsRead(session: Session, atMs: number, judge: Judge): Session {
  const entry = inDoubt(session);
  if (entry === undefined) return session;
  const back: Entry = { n: (session.journal.at(-1)?.n ?? -1) + 1, atMs, kind: "undo", takesBack: entry.n };
  const without = replay([...session.journal, back]);
  const standsBy: Judge = {
    expected: judge.expected,
    judge: (soFar, target) => ({
      level: "fine",
      reason: undefined,
      expected: judge.expected(soFar, target),
      better: undefined,
    }),
  };
  // A text with several meanings was taken by what was expected then: what was taken is entered, not the text.
  const same = sameTarget(without.state.next?.target, entry.target);
  const asked = same ? without : askedFor(without, entry, atMs);
  return enter(asked, exactly(entry), atMs, standsBy).session;
}

function askedFor(session: Session, { target, row }: ReadingEntry, atMs: number): Session {
  const n = (session.journal.at(-1)?.n ?? -1) + 1;
  return replay([...session.journal, { n, atMs, kind: "go to", step: { target, row } }]);
}

/** The text that gives the same lengths whatever is expected. */
function exactly({ valuesM }: ReadingEntry): string {
  return valuesM.map((valueM) => `${Number((valueM * 1000).toFixed(4))} mm`).join(" ");
}
