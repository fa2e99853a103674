/** A session on the small wing with round figures, and random hands that do anything with it. */
import { type Random, seededRandom } from "../../../src/demo/random.ts";
import { type CheckFrame, defaultFrame, expectedReadingM, lookUp } from "../../../src/readings/index.ts";
import {
  enter,
  goTo,
  makeOrder,
  note,
  reorder,
  repeatLast,
  type Session,
  skip,
  specifiedOnly,
  startSession,
  undo,
} from "../../../src/readings/session/index.ts";
import { samplePlan, wingOf } from "../../plan/factory.ts";

export const WING = wingOf(samplePlan());
export const LOOKUP = lookUp(WING);
export const FRAME: CheckFrame = { ...defaultFrame(WING, "2026-03-14"), resolutionM: 0.001 };
export const ROWS_ORDER = makeOrder(WING, "rows");
export const JUDGE = specifiedOnly(WING);
export const START_MS = Date.UTC(2026, 2, 14, 9);

export const started = (order = ROWS_ORDER): Session => startSession(FRAME, order, START_MS);

/** What the target that is asked for should read, in whole millimetres. */
export function shouldMm(session: Session): number {
  const target = session.state.next?.target;
  if (target === undefined) throw new Error("Nothing is asked for.");
  return Math.round(1000 * (expectedReadingM(LOOKUP, target, session.state.frame) as number));
}

/** Types the specified length, `offMm` off, for whatever is asked for. */
export function typed(session: Session, offMm = 0, atMs = session.journal.length * 10_000): Session {
  return enter(session, String(shouldMm(session) + offMm), START_MS + atMs, JUDGE).session;
}

export function typedTimes(session: Session, times: number): Session {
  let now = session;
  for (let i = 0; i < times; i++) now = typed(now);
  return now;
}

type Act = (session: Session, random: Random, atMs: number) => Session;

const ACTS: readonly Act[] = [
  (session, random) => typed(session, Math.round(4 * random.normal())),
  (session, random) => typed(session, Math.round(4 * random.normal())),
  (session, random) => typed(session, Math.round(4 * random.normal())),
  (session) => typed(session, -400),
  (session, _, atMs) => enter(session, "seven", atMs, JUDGE).session,
  (session, _, atMs) => skip(session, atMs),
  (session, _, atMs) =>
    session.state.last === undefined ? session : repeatLast(session, "7001", atMs, JUDGE).session,
  (session, random, atMs) =>
    note(session, 'knot, "tight"\n{"n":3,', random.even() < 0.5 ? undefined : session.state.last, atMs),
  (session, random, atMs) => {
    const { steps } = session.state.order;
    return goTo(session, steps[random.below(steps.length)] as (typeof steps)[number], atMs);
  },
  (session, random, atMs) =>
    reorder(
      session,
      makeOrder(WING, (["rows", "sides", "pairs", "maillons"] as const)[random.below(4)] ?? "rows"),
      atMs,
    ),
  (session, _, atMs) => undo(session, atMs),
];

/** One more random act; where nothing is asked for any more, the first target is asked for again. */
export function act(session: Session, random: Random): Session {
  const atMs = START_MS + session.journal.length * 10_000;
  const [first] = session.state.order.steps;
  if (session.state.next === undefined && first !== undefined) return goTo(session, first, atMs);
  return (ACTS[random.below(ACTS.length)] as Act)(session, random, atMs);
}

/** A session after so many random acts. */
export function acted(seed: number, acts: number): Session {
  const random = seededRandom(seed);
  let session = started();
  for (let i = 0; i < acts; i++) session = act(session, random);
  return session;
}
