/** A session from its start on: numbers as typed, skipping, taking back, notes, another order. Nothing typed is ever lost. */
import { listed, say } from "../../words/index.ts";
import type { CheckFrame } from "../frame.ts";
import type { Target } from "../model.ts";
import { isPlausible } from "../targets.ts";
import { type Understood, understand } from "./entry-text.ts";
import { after, begin, fold, holding, repeatsWithinM, targetState } from "./fold.ts";
import {
  type Entry,
  type Expected,
  type Judge,
  keyOfTarget,
  type Order,
  type Session,
  type SoFar,
  type Step,
  type Verdict,
} from "./model.ts";
import { lengthText, phrase, targetText } from "./phrases.ts";
import { settle } from "./settle.ts";

/** A session with nothing read yet. `frame` names the wing, the day, tension, datum and instrument; `atMs` is the time. */
export function startSession(frame: CheckFrame, order: Order, atMs: number): Session {
  return { journal: [{ n: 0, atMs, kind: "start", frame, order }], state: begin(frame, order) };
}

/** A session as its journal tells it; throws where the journal doesn't begin with a start. */
export function replay(journal: readonly Entry[]): Session {
  return { journal, state: fold(journal) };
}

export interface Entered {
  readonly session: Session;
  readonly verdict: Verdict;
  /** What was taken from the text [m]; empty where nothing could be. */
  readonly valuesM: readonly number[];
}

/**
 * Takes what was typed for the target that is asked for. A doubtful number is kept, and the target is asked for again: the same
 * number again (see `REPEATS_WITHIN_M`) confirms it, another that is fine overrules it. A text without a length is kept in the
 * journal and asks again. Throws where nothing is asked for: see {@link goTo}.
 */
export function enter(session: Session, typed: string, atMs: number, judge: Judge): Entered {
  const { next } = session.state;
  if (next === undefined) throw new Error("Nothing is asked for: go to a target before entering a number.");
  return take(session, "reading", next, typed, atMs, judge);
}

/** Takes another reading of the target that was read last, and goes on with what was asked for. Throws where nothing was read. */
export function repeatLast(session: Session, typed: string, atMs: number, judge: Judge): Entered {
  const { last } = session.state;
  const step = lastReadingStep(session);
  if (last === undefined || step === undefined)
    throw new Error("Nothing was read yet that could be repeated.");
  return take(session, "repeat", step, typed, atMs, judge);
}

/** Puts off the target that is asked for: it comes once more when all others are done. Throws where nothing is asked for. */
export function skip(session: Session, atMs: number): Session {
  const { next } = session.state;
  if (next === undefined) throw new Error("Nothing is asked for that could be skipped.");
  return append(session, { kind: "skip", target: next.target, atMs });
}

/** Whether there is an entry to take back. */
export function canUndo(session: Session): boolean {
  return holding(session.journal).length > 1;
}

/**
 * Takes back the last entry that holds; the taking back is an entry too, and what was typed stays in the journal. Again: the one
 * before. The start can't be taken back: then the session is returned as it is.
 */
export function undo(session: Session, atMs: number): Session {
  const last = holding(session.journal).at(-1);
  if (last === undefined || last.kind === "start") return session;
  const journal: readonly Entry[] = [
    ...session.journal,
    { n: nextNumber(session), atMs, kind: "undo", takesBack: last.n },
  ];
  return replay(journal);
}

/** Keeps a remark about a target, or about the whole check where `about` is undefined. */
export function note(session: Session, text: string, about: Target | undefined, atMs: number): Session {
  return append(session, { kind: "note", about, text, atMs });
}

/**
 * Asks for a target out of turn. From an open one the session goes on along the order; after one that was read already it
 * returns to where it was. The step may lie outside the order: a line that is worth a look on its own.
 */
export function goTo(session: Session, step: Step, atMs: number): Session {
  return append(session, { kind: "go to", step, atMs });
}

/** Goes on in another order; what is done stays done, also what the new order doesn't name. */
export function reorder(session: Session, order: Order, atMs: number): Session {
  return append(session, { kind: "order", order, atMs });
}

/**
 * Corrects what was written down of the check: wing, day, tension, datum, instrument; for all its readings. A check has one frame:
 * readings under another tension or from another datum are another session.
 *
 * @param zeroFromHere the instrument's zero was changed on the way: readings before keep theirs, and are brought to the new one.
 */
export function changeFrame(
  session: Session,
  change: Partial<CheckFrame>,
  atMs: number,
  zeroFromHere = false,
): Session {
  const frame = { ...session.state.frame, ...change };
  return append(session, { kind: "frame", frame, fromHere: zeroFromHere, atMs });
}

/** What counts so far, for a judge. */
export function soFar({ state }: Session): SoFar {
  const readings = [...state.targets.values()].flatMap(({ target, acceptedM }) =>
    acceptedM.length === 0 ? [] : [{ target, valuesM: acceptedM }],
  );
  return { frame: state.frame, readings };
}

type WithoutNumber<T> = T extends unknown ? Omit<T, "n"> : never;

function append(session: Session, entry: WithoutNumber<Entry>): Session {
  const numbered = { n: nextNumber(session), ...entry } as Entry;
  return { journal: [...session.journal, numbered], state: after(session.state, numbered) };
}

function nextNumber(session: Session): number {
  return (session.journal.at(-1)?.n ?? -1) + 1;
}

function lastReadingStep(session: Session): Step | undefined {
  const { last } = session.state;
  const key = last && keyOfTarget(last);
  const entry = session.journal.findLast(
    (each) => (each.kind === "reading" || each.kind === "repeat") && keyOfTarget(each.target) === key,
  );
  return entry?.kind === "reading" || entry?.kind === "repeat"
    ? { target: entry.target, row: entry.row }
    : undefined;
}

function take(
  session: Session,
  kind: "reading" | "repeat",
  { target, row }: Step,
  typed: string,
  atMs: number,
  judge: Judge,
): Entered {
  const known = soFar(session);
  const expected = judge.expected(known, target);
  if (isEcho(session, typed, atMs)) {
    const reason = phrase("session.echo", { target: targetText(target) });
    const verdict: Verdict = { level: "impossible", reason, expected, better: undefined };
    const entry = { kind, target, row, typed, valuesM: [], taken: undefined, atMs } as const;
    const { level } = verdict;
    return {
      session: append(session, { ...entry, verdict: { level, reason } }),
      verdict,
      valuesM: [],
    };
  }
  const understood = understand(typed, expected, known.frame.instrumentZeroM);
  const valuesM = understood.kind === "lengths" ? understood.valuesM : [];
  const verdict =
    understood.kind === "lengths"
      ? (farOff(known, target, valuesM, expected, judge) ??
        held(session, target, valuesM, judge.judge(known, target, valuesM)))
      : notTaken(understood, target, expected);
  const taken = understood.kind === "lengths" ? understood.taken : undefined;
  const { level, reason } = verdict;
  const entry = { kind, target, row, typed, valuesM, taken, verdict: { level, reason }, atMs } as const;
  return { session: append(session, entry), verdict, valuesM };
}

/** Nobody takes two readings within this; a key that bounces and a meter that sends twice do [ms]. */
const ECHO_MS = 300;

/** The same text again at once: it must neither confirm a doubtful number nor count for the next tab. */
function isEcho({ journal }: Session, typed: string, atMs: number): boolean {
  const last = journal.at(-1);
  if (last?.kind !== "reading" && last?.kind !== "repeat") return false;
  const sinceMs = atMs - last.atMs;
  return last.typed.trim() === typed.trim() && sinceMs >= 0 && sinceMs < ECHO_MS;
}

/** Refuses a length that can't be the target's at all; undefined where all could be. */
function farOff(
  known: SoFar,
  target: Target,
  valuesM: readonly number[],
  expected: Expected | undefined,
  judge: Judge,
): Verdict | undefined {
  const zeroM = known.frame.instrumentZeroM;
  const off = valuesM.find((valueM) => expected && !isPlausible(valueM, expected.valueM, zeroM));
  if (off === undefined || expected === undefined) return undefined;
  const judged = judge.judge(known, target, valuesM);
  const reason = phrase("session.far", {
    typed: lengthText(off),
    target: targetText(target),
    expected: lengthText(expected.valueM),
  });
  return { ...judged, level: "impossible", reason, expected };
}

/** A verdict held against what was typed for the same target before: the same again confirms, another value is doubted. */
function held(session: Session, target: Target, valuesM: readonly number[], verdict: Verdict): Verdict {
  const { acceptedM, values } = targetState(session.state, target);
  const withinM = repeatsWithinM(session.state.frame);
  const differs =
    acceptedM.length > 0 &&
    !valuesM.every((valueM) => acceptedM.some((other) => Math.abs(other - valueM) <= withinM + 1e-9));
  const far = Math.max(...valuesM) - Math.min(...valuesM) > withinM + 1e-9;
  if (verdict.level === "fine" && !differs && !far) return verdict;
  const typed = valuesM.map((valueM) => ({
    n: nextNumber(session),
    valueM,
    zeroM: session.state.frame.instrumentZeroM,
    doubtful: true,
  }));
  const { accepted } = settle([...values, ...typed], withinM);
  const length = lengthText(valuesM[0] as number);
  if (typed.every((value) => accepted.includes(value))) {
    const reason = phrase("session.confirmed", {
      target: targetText(target),
      length,
    });
    return { ...verdict, level: "fine", reason };
  }
  if (verdict.level === "doubtful") return verdict;
  const before = lengthText(differs ? (acceptedM[0] as number) : (valuesM.at(-1) as number));
  const reason = phrase("session.doubt.repeat", { target: targetText(target), length, before });
  return { ...verdict, level: "doubtful", reason };
}

function notTaken(
  understood: Exclude<Understood, { kind: "lengths" }>,
  target: Target,
  expected: Expected | undefined,
): Verdict {
  const about =
    expected === undefined ? "" : ` ${say("session.about", { expected: lengthText(expected.valueM) })}`;
  if (understood.kind === "no length") {
    const reason = phrase("session.no-length", {
      target: targetText(target),
      about,
    });
    return { level: "impossible", reason, expected, better: undefined };
  }
  const candidates = listed(
    understood.candidates.map(({ valueM }) => lengthText(valueM)),
    "or",
  );
  const reason = phrase("session.doubt.unsure", {
    candidates,
    target: targetText(target),
    about,
  });
  const [first] = understood.candidates;
  const better = first && { kind: "short form" as const, valueM: first.valueM, target };
  return { level: "doubtful", reason, expected, better };
}
