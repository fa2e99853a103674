import { describe, expect, it } from "vitest";
import {
  checkOf,
  enter,
  journalText,
  keyOfTarget,
  note,
  parseJournal,
  repeatLast,
  replay,
  type Session,
} from "../../../src/readings/session/index.ts";
import { inDoubt, keepAsRead } from "../../../src/readings/session/keep-as-read.ts";
import { JUDGE, START_MS, shouldMm, started, typed } from "./acted.ts";

const AT = START_MS + 1_000_000;
const stateOf = (session: Session, key: string) => session.state.targets.get(key);

describe("keeping a doubtful number as it was read", () => {
  it("counts it once, and goes on to the next line", () => {
    const first = started();
    const key = keyOfTarget(first.state.next?.target as never);
    const doubtful = typed(first, -400);
    expect(inDoubt(doubtful)?.valuesM).toEqual([(shouldMm(first) - 400) / 1000]);
    const kept = keepAsRead(doubtful, AT, JUDGE);
    expect(stateOf(kept, key)?.status).toBe("read");
    expect(stateOf(kept, key)?.acceptedM).toEqual([(shouldMm(first) - 400) / 1000]);
    expect(keyOfTarget(kept.state.next?.target as never)).not.toBe(key);
    expect(checkOf(kept).readings.map(({ valuesM }) => valuesM.length)).toEqual([1]);
    expect(inDoubt(kept)).toBeUndefined();
  });

  it("leaves the journal whole: what was typed, the taking back and the keeping stand in it and give the same again", () => {
    const kept = keepAsRead(typed(started(), -400), AT, JUDGE);
    expect(kept.journal.map(({ kind }) => kind)).toEqual(["start", "reading", "undo", "reading"]);
    expect(replay(kept.journal).state).toEqual(kept.state);
    const again = parseJournal(journalText(kept));
    expect(again.ok && again.value.state).toEqual(kept.state);
  });

  it("finds the number in doubt behind a note", () => {
    const noted = note(typed(started(), -400), "knot", undefined, AT);
    const kept = keepAsRead(noted, AT + 1, JUDGE);
    expect(kept.state.notes).toEqual(["knot"]);
    expect(kept.state.last && stateOf(kept, keyOfTarget(kept.state.last))?.status).toBe("read");
  });

  it("goes back to where one was after a repeat that was in doubt", () => {
    const two = typed(typed(started()));
    const asked = two.state.next;
    const last = two.state.last;
    const doubtful = repeatLast(two, String(Number(shouldMm(started())) - 400), AT, JUDGE).session;
    expect(doubtful.state.next?.target).toEqual(last);
    const kept = keepAsRead(doubtful, AT + 1000, JUDGE);
    expect(stateOf(kept, keyOfTarget(last as never))?.values.length).toBe(2);
    expect(kept.state.targets.size).toBe(2);
    expect(asked).toBeDefined();
  });

  it("does nothing where nothing is in doubt", () => {
    const fine = typed(started());
    expect(keepAsRead(fine, AT, JUDGE)).toBe(fine);
    expect(enter(fine, String(shouldMm(fine)), AT, JUDGE).verdict.level).toBe("fine");
  });
});
