/** From the journal to what holds now. The journal is all that is kept: folding it anew gives the same state. */
import type { CheckFrame } from "../frame.ts";
import type { Target } from "../model.ts";
import {
  type Entry,
  keyOfTarget,
  type Order,
  type ReadingEntry,
  type SessionState,
  type Step,
  sameTarget,
  type TargetState,
  type TypedValue,
} from "./model.ts";
import { REPEATS_WITHIN_M, settle } from "./settle.ts";

/** Entries that still hold: without undone ones and without the undoing, in their order. */
export function holding(journal: readonly Entry[]): readonly Entry[] {
  const gone = new Set<number>();
  for (const entry of journal) if (entry.kind === "undo") gone.add(entry.takesBack);
  return journal.filter((entry) => entry.kind !== "undo" && !gone.has(entry.n));
}

/** The state after a whole journal; throws where it doesn't begin with its start. */
export function fold(journal: readonly Entry[]): SessionState {
  const [start, ...rest] = holding(journal);
  if (start?.kind !== "start") throw new Error("A session's journal begins with its start.");
  return rest.reduce(after, begin(start.frame, start.order));
}

export function begin(frame: CheckFrame, order: Order): SessionState {
  return found({
    frame,
    order,
    targets: new Map(),
    next: undefined,
    last: undefined,
    resume: undefined,
    asked: undefined,
    notes: [],
  });
}

/** The state after one more entry; undoing isn't one that can be told from the state alone. */
export function after(state: SessionState, entry: Entry): SessionState {
  switch (entry.kind) {
    case "start":
      throw new Error("A session starts once.");
    case "undo":
      return state;
    case "reading":
    case "repeat":
      return found(withReading(state, entry));
    case "skip": {
      const before = targetState(state, entry.target);
      const skipped = put(state, { ...before, skips: before.skips + 1 });
      return found(passed(skipped, entry.target));
    }
    case "note": {
      if (entry.about === undefined) return { ...state, notes: [...state.notes, entry.text] };
      const before = targetState(state, entry.about);
      return put(state, { ...before, notes: [...before.notes, entry.text] });
    }
    case "go to": {
      const isOpen = targetState(state, entry.step.target).status === "open";
      // Out of turn for another look: afterwards on from where one was. An open target is gone on from.
      const resume = isOpen ? undefined : (state.resume ?? state.next);
      return found({ ...state, asked: entry.step, resume });
    }
    case "order":
      return found({ ...state, order: entry.order, asked: undefined, resume: undefined });
    case "frame": {
      const { instrumentZeroM } = entry.frame;
      const targets = new Map(
        [...state.targets].map(([key, one]) => {
          const values = entry.fromHere
            ? one.values
            : one.values.map((value) => ({ ...value, zeroM: instrumentZeroM }));
          return [key, settled({ ...one, values }, entry.frame)];
        }),
      );
      return found({ ...state, frame: entry.frame, targets });
    }
  }
}

function withReading(state: SessionState, entry: ReadingEntry): SessionState {
  // No length that the target could have: it stays in the journal, and the target is asked for again.
  if (entry.valuesM.length === 0 || entry.verdict.level === "impossible") return state;
  const before = targetState(state, entry.target);
  const typed = entry.valuesM.map(
    (valueM): TypedValue => ({
      n: entry.n,
      valueM,
      zeroM: state.frame.instrumentZeroM,
      doubtful: entry.verdict.level !== "fine",
    }),
  );
  const now = settled({ ...before, values: [...before.values, ...typed] }, state.frame);
  const read = { ...put(state, now), last: entry.target };
  if (now.status === "doubtful") {
    // Asked for again at once, wherever one was.
    const isNext = sameTarget(state.next?.target, entry.target);
    const asked = isNext ? state.next : { target: entry.target, row: entry.row };
    return { ...read, asked, resume: isNext ? state.resume : (state.resume ?? state.next) };
  }
  return entry.kind === "repeat" && !sameTarget(state.next?.target, entry.target)
    ? read
    : passed(read, entry.target);
}

/** On from a target that is done or skipped. */
function passed(state: SessionState, target: Target): SessionState {
  const { resume } = state;
  if (resume !== undefined) return { ...state, asked: resume, resume: undefined };
  return { ...state, asked: following(state, target), resume: undefined };
}

/** The first open target after one in the order, round its end. */
function following(state: SessionState, target: Target): Step | undefined {
  const { steps } = state.order;
  const at = steps.findIndex((step) => sameTarget(step.target, target));
  const round = [...steps.slice(at + 1), ...steps.slice(0, at + 1)];
  return round.find((step) => isWaiting(state, step, 0));
}

/** Works out what is asked for next: what was asked for out of turn; then what is open; then once more what was skipped or doubtful. */
function found(state: SessionState): SessionState {
  const { asked, order } = state;
  if (asked !== undefined) return { ...state, next: asked };
  const next =
    order.steps.find((step) => isWaiting(state, step, 0)) ??
    order.steps.find((step) => isWaiting(state, step, 1));
  return { ...state, next };
}

function isWaiting(state: SessionState, step: Step, skips: number): boolean {
  const one = state.targets.get(keyOfTarget(step.target));
  if (one === undefined) return true;
  return one.status !== "read" && one.skips <= skips;
}

export function targetState(state: SessionState, target: Target): TargetState {
  return (
    state.targets.get(keyOfTarget(target)) ?? {
      target,
      acceptedM: [],
      doubtfulM: [],
      setAsideM: [],
      status: "open",
      skips: 0,
      notes: [],
      values: [],
    }
  );
}

function settled(one: TargetState, frame: CheckFrame): TargetState {
  const { accepted, doubtful, setAside } = settle(one.values, repeatsWithinM(frame));
  const atZero = ({ valueM, zeroM }: TypedValue): number =>
    zeroM === frame.instrumentZeroM ? valueM : cleanM(valueM - zeroM + frame.instrumentZeroM);
  const status = doubtful.length > 0 ? "doubtful" : accepted.length > 0 ? "read" : "open";
  return {
    ...one,
    acceptedM: accepted.map(atZero),
    doubtfulM: doubtful.map(atZero),
    setAsideM: setAside.map(atZero),
    status,
  };
}

/** How near two readings must be to confirm each other [m]; never finer than the instrument's step allows. */
export function repeatsWithinM(frame: CheckFrame): number {
  return Math.max(REPEATS_WITHIN_M, 2 * (frame.resolutionM ?? 0));
}

/** To a tenth of a micrometre, so that 7.421 m is 7421 mm again. */
export function cleanM(valueM: number): number {
  return Math.round(valueM * 1e7) / 1e7;
}

function put(state: SessionState, one: TargetState): SessionState {
  return { ...state, targets: new Map(state.targets).set(keyOfTarget(one.target), one) };
}
