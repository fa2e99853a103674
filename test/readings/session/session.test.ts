import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/demo/random.ts";
import { type Check, checkFile, deviations, parseCheck } from "../../../src/readings/index.ts";
import {
  canUndo,
  changeFrame,
  checkOf,
  enter,
  goTo,
  makeOrder,
  note,
  ownOrder,
  reorder,
  repeatLast,
  replay,
  type Session,
  skip,
  undo,
} from "../../../src/readings/session/index.ts";
import { act, acted, FRAME, JUDGE, ROWS_ORDER, shouldMm, started, typed, typedTimes, WING } from "./acted.ts";

const asked = (session: Session): string => {
  const target = session.state.next?.target;
  return target === undefined ? "nothing" : `${target.id} ${target.side}`;
};
const stepAt = (at: number) => ROWS_ORDER.steps[at] as (typeof ROWS_ORDER.steps)[number];
const nameAt = (at: number): string => `${stepAt(at).target.id} ${stepAt(at).target.side}`;

/** Each reading takes its time. */
let clockMs = 0;
const later = (): number => {
  clockMs += 10_000;
  return clockMs;
};

describe("a session", () => {
  it("asks for one tab after the other until all are read, and has a check of all of them then", () => {
    let session = started();
    for (let i = 0; i < ROWS_ORDER.steps.length; i++) {
      expect(asked(session)).toBe(nameAt(i));
      session = typed(session, i % 3);
    }
    expect(asked(session)).toBe("nothing");
    const check = checkOf(session);
    expect(check.readings.length).toBe(WING.tabs.length);
    expect(check).toMatchObject(FRAME);
    const measured = deviations(WING, check).paths.map(({ deviationM }) =>
      Math.round(1000 * (deviationM as number)),
    );
    expect(new Set(measured)).toEqual(new Set([0, 1, 2]));
    expect(() => enter(session, "7421", later(), JUDGE)).toThrow("Nothing is asked for");
  });

  it("yields a check that reads back as a check file", () => {
    const check = checkOf(acted(3, 60));
    const back = parseCheck(JSON.parse(JSON.stringify(checkFile(check))), WING);
    expect(back).toMatchObject({ ok: true, value: { readings: check.readings } });
  });

  it("keeps several numbers of one line as repeats", () => {
    const session = started();
    const mm = shouldMm(session);
    const { session: read } = enter(session, `${mm} ${mm + 1}`, later(), JUDGE);
    expect(checkOf(read).readings[0]?.valuesM).toEqual([mm / 1000, (mm + 1) / 1000]);
  });

  it("says when no length was typed, keeps the text and asks again", () => {
    const { session, verdict } = enter(started(), "oops", later(), JUDGE);
    expect(verdict.level).toBe("impossible");
    expect(asked(session)).toBe(nameAt(0));
    expect(session.journal.at(-1)).toMatchObject({ typed: "oops", valuesM: [] });
    expect(checkOf(session).readings).toEqual([]);
  });
});

describe("a number that comes twice at once, from a bouncing key or a meter that sends twice", () => {
  it("is taken once: it counts neither for the next tab nor as a confirmation", () => {
    for (const offMm of [0, -400]) {
      const session = started();
      const text = String(shouldMm(session) + offMm);
      const once = enter(session, text, 1000, JUDGE).session;
      const twice = enter(once, `${text}\r`, 1200, JUDGE);
      expect(twice.verdict).toMatchObject({ level: "impossible", reason: { key: "session.echo" } });
      expect(twice.session.state).toEqual(once.state);
      expect(enter(once, text, 3000, JUDGE).session.state).not.toEqual(once.state);
    }
  });
});

describe("a length that can't be the tab's at all", () => {
  it("is kept in the journal only, however often it is typed, and the tab is asked for again", () => {
    let session = started();
    const mm = shouldMm(session);
    for (const text of [String(10 * mm), String(10 * mm), `${Math.round(mm / 2)} mm`]) {
      const entered = enter(session, text, later(), JUDGE);
      expect(entered.verdict).toMatchObject({ level: "impossible", reason: { key: "session.far" } });
      session = entered.session;
      expect(asked(session)).toBe(nameAt(0));
    }
    expect(session.journal.at(-2)).toMatchObject({ typed: String(10 * mm), valuesM: [mm / 100] });
    expect(checkOf(session, true).readings).toEqual([]);
  });
});

describe("a doubtful number", () => {
  const first = started();
  const mm = shouldMm(first);
  const doubted = enter(first, String(mm - 400), later(), JUDGE);

  it("is kept, and the tab is asked for again", () => {
    expect(doubted.verdict.level).toBe("doubtful");
    expect(asked(doubted.session)).toBe(nameAt(0));
    expect(doubted.session.state.targets.values().next().value).toMatchObject({ status: "doubtful" });
  });

  it("is confirmed by the same number again, within what repeats scatter", () => {
    for (const off of [0, 5, -6]) {
      const { session, verdict } = enter(doubted.session, String(mm - 400 + off), later(), JUDGE);
      expect(verdict).toMatchObject({ level: "fine", reason: { key: "session.confirmed" } });
      expect(asked(session)).toBe(nameAt(1));
      expect(checkOf(session).readings[0]?.valuesM).toEqual([(mm - 400) / 1000, (mm - 400 + off) / 1000]);
    }
    expect(enter(doubted.session, String(mm - 400 + 8), later(), JUDGE).verdict.level).toBe("doubtful");
  });

  it("isn't confirmed by standing twice in one line", () => {
    const { verdict } = enter(first, `${mm - 400} mm ${mm - 400} mm`, later(), JUDGE);
    expect(verdict.level).toBe("doubtful");
  });

  it("is overruled by another that is fine, and stands in the reading's note", () => {
    const session = typed(doubted.session);
    expect(asked(session)).toBe(nameAt(1));
    expect(checkOf(session).readings[0]).toMatchObject({
      valuesM: [mm / 1000],
      note: `overruled: ${mm - 400} mm`,
    });
  });

  it("may be skipped: it comes again at the end, and the check leaves it out by name or takes it in if wished", () => {
    let session = skip(doubted.session, 0);
    expect(asked(session)).toBe(nameAt(1));
    expect(checkOf(session).readings).toEqual([]);
    expect(checkOf(session).note).toContain(`${nameAt(0)} ${mm - 400} mm`);
    expect(checkOf(session, true).readings[0]?.valuesM).toEqual([(mm - 400) / 1000]);
    session = typedTimes(session, ROWS_ORDER.steps.length - 1);
    expect(asked(session)).toBe(nameAt(0));
    expect(asked(skip(session, 0))).toBe("nothing");
  });

  it("is a repeat that is two centimetres from the first; the third reading decides", () => {
    const read = typed(started());
    const mm = Math.round(1000 * (checkOf(read).readings[0]?.valuesM[0] as number));
    const other = repeatLast(read, String(mm + 20), later(), JUDGE);
    expect(other.verdict).toMatchObject({ level: "doubtful", reason: { key: "session.doubt.repeat" } });
    expect(asked(other.session)).toBe(nameAt(0));
    for (const third of [mm, mm + 20]) {
      const { session } = enter(other.session, String(third), later(), JUDGE);
      expect(asked(session)).toBe(nameAt(1));
      expect(checkOf(session).readings[0]?.valuesM).toEqual([third / 1000, third / 1000]);
    }
  });
});

describe("the way through a session", () => {
  it("puts off what is skipped until all else is read, and asks once more only", () => {
    let session = skip(started(), 0);
    expect(asked(session)).toBe(nameAt(1));
    session = typedTimes(session, ROWS_ORDER.steps.length - 1);
    expect(asked(session)).toBe(nameAt(0));
    expect(asked(typed(session))).toBe("nothing");
  });

  it("goes on from an open tab that was asked for out of turn, and comes round to those before it", () => {
    let session = typed(started());
    session = typed(goTo(session, stepAt(10), 0));
    expect(asked(session)).toBe(nameAt(11));
    session = typedTimes(session, ROWS_ORDER.steps.length - 11);
    expect(asked(session)).toBe(nameAt(1));
  });

  it("returns to where it was after another look at a tab that was read", () => {
    const session = typed(goTo(typedTimes(started(), 5), stepAt(1), 0));
    expect(asked(session)).toBe(nameAt(5));
    expect(checkOf(session).readings[1]?.valuesM.length).toBe(2);
  });

  it("repeats the last tab without losing its place", () => {
    const session = typedTimes(started(), 2);
    const mm = Math.round(1000 * (checkOf(session).readings[1]?.valuesM[0] as number));
    const repeated = repeatLast(session, String(mm + 2), later(), JUDGE).session;
    expect(asked(repeated)).toBe(nameAt(2));
    expect(checkOf(repeated).readings[1]?.valuesM).toEqual([mm / 1000, (mm + 2) / 1000]);
    expect(() => repeatLast(started(), "1", later(), JUDGE)).toThrow("Nothing was read yet");
  });

  it("takes a line outside the order", () => {
    const line = WING.lines.find(({ tier }) => tier === 1) as (typeof WING.lines)[number];
    const target = { kind: "line", id: line.id, side: line.side } as const;
    const session = typed(goTo(typed(started()), { target, row: line.row }, 0));
    expect(checkOf(session).readings.at(-1)?.target).toEqual(target);
    expect(asked(session)).toBe(nameAt(1));
  });

  it("keeps what is done when the order changes, and asks only for what is left", () => {
    for (let seed = 1; seed <= 20; seed++) {
      const session = acted(seed, 40);
      const before = checkOf(session).readings;
      for (const name of ["rows", "sides", "pairs", "maillons"] as const) {
        const other = reorder(session, makeOrder(WING, name), 0);
        expect(sorted(checkOf(other).readings)).toEqual(sorted(before));
        const key = other.state.next && `tab ${other.state.next.target.side} ${other.state.next.target.id}`;
        if (key !== undefined) expect(other.state.targets.get(key)?.status).not.toBe("read");
      }
      const { order } = ownOrder(WING, [{ kind: "tab", id: "A1", side: "left" }]);
      expect(sorted(checkOf(reorder(session, order, 0)).readings)).toEqual(sorted(before));
    }
  });

  it("keeps remarks with the reading, or with the check where there is none", () => {
    const target = stepAt(0).target;
    const read = note(note(typed(started()), "frayed", target, 0), "damp morning", undefined, 0);
    expect(checkOf(read)).toMatchObject({ note: "damp morning", readings: [{ note: "frayed" }] });
    const unread = note(started(), "frayed", target, 0);
    expect(checkOf(unread).note).toBe(`${nameAt(0)}: frayed`);
  });
});

describe("what was written down of the check", () => {
  it("may be corrected on the way, for all its readings", () => {
    const session = changeFrame(typed(started()), { tensionN: 60 }, 0);
    expect(checkOf(session).tensionN).toBe(60);
    expect(checkOf(undo(session, 0)).tensionN).toBe(FRAME.tensionN);
  });

  it("a new zero from here on leaves the lengths read before as they were", () => {
    const read = typed(started());
    const before = deviations(WING, checkOf(read)).paths[0]?.deviationM as number;
    const session = typed(changeFrame(read, { instrumentZeroM: 0.03 }, 0, true));
    const paths = deviations(WING, checkOf(session)).paths;
    const measured = paths.flatMap(({ deviationM }) => (deviationM === undefined ? [] : [deviationM]));
    expect(measured.length).toBe(2);
    for (const deviationM of measured) expect(deviationM).toBeCloseTo(before, 3);
  });
});

describe("nothing typed is lost, and everything can be taken back", () => {
  it("undoing any entry gives the state before it, whatever was done before", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const random = seededRandom(1000 + seed);
      let session = acted(seed, 25);
      for (let i = 0; i < 6; i++) {
        const next = act(session, random);
        const last = next.journal.at(-1);
        if (next !== session && last?.kind !== "undo") expect(undo(next, 0).state).toEqual(session.state);
        session = next;
      }
    }
  });

  it("undoing again and again comes to the start and stays there, the journal whole", () => {
    let session = acted(7, 30);
    const typedTexts = texts(session);
    while (canUndo(session)) session = undo(session, 0);
    expect(session.state).toEqual(started().state);
    expect(undo(session, 0)).toBe(session);
    expect(texts(session)).toEqual(typedTexts);
  });

  it("the journal alone tells the state", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const session = acted(seed, 60);
      expect(replay(session.journal).state).toEqual(session.state);
    }
  });

  it("an earlier session stays as it was", () => {
    const session = typed(started());
    const copy = structuredClone(session);
    undo(skip(typed(session), 0), 0);
    expect(session).toEqual(copy);
  });
});

function texts(session: Session): readonly string[] {
  return session.journal.flatMap((entry) => ("typed" in entry ? [entry.typed] : []));
}

function sorted(readings: Check["readings"]): Check["readings"] {
  return [...readings].sort((one, other) =>
    JSON.stringify(one.target) < JSON.stringify(other.target) ? -1 : 1,
  );
}
