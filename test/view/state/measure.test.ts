import { beforeEach, describe, expect, it } from "vitest";
import {
  checkOf,
  defaultFrame,
  expectedReadingM,
  journalText,
  lookUp,
  makeOrder,
  specifiedOnly,
} from "../../../src/readings/index.ts";
import { createMeasureStore, type MeasureStore, wingKey } from "../../../src/view/state/measure.ts";
import {
  AlreadyThere,
  browserShelves,
  type JournalShelf,
  type SessionCard,
  storageShelf,
} from "../../../src/view/state/measure-journal.ts";
import { samplePlan, wingOf } from "../../plan/factory.ts";

const wing = wingOf(samplePlan());
const lookup = lookUp(wing);
const judge = specifiedOnly(wing);
const frame = defaultFrame(wing, "2026-03-14");
const order = makeOrder(wing, "pairs");

let content = new Map<string, string>();
let clock = 0;
let active: string | undefined;

const storage = {
  getItem: (key: string) => content.get(key) ?? null,
  setItem: (key: string, text: string) => void content.set(key, text),
  removeItem: (key: string) => void content.delete(key),
};

function opened(shelves: readonly JournalShelf[] = [storageShelf(storage)]): MeasureStore {
  let ids = content.size;
  return createMeasureStore({
    shelves,
    active: {
      get: () => active,
      set: (id) => {
        active = id;
      },
    },
    nowMs: () => {
      clock += 8000;
      return clock;
    },
    newId: () => `session ${++ids}`,
  });
}

const sessionOf = (store: MeasureStore) => {
  const { sessions, activeId } = store.getState();
  const kept = sessions.find(({ card }) => card.id === activeId);
  if (kept === undefined) throw new Error("No session is gone on with.");
  return kept;
};

/** What the line asked for should read, off by so much. */
const mm = (store: MeasureStore, off = 0): string => {
  const { next, frame: now } = sessionOf(store).session.state;
  return String(Math.round(1000 * (expectedReadingM(lookup, next?.target as never, now) as number)) + off);
};

async function started(shelves?: readonly JournalShelf[]): Promise<MeasureStore> {
  const store = opened(shelves);
  await store.getState().load();
  await store.getState().start(wing, "school", frame, order);
  return store;
}

beforeEach(() => {
  content = new Map();
  clock = Date.UTC(2026, 2, 14, 9);
  active = undefined;
});

describe("a session that is read", () => {
  it("keeps each number before it shows it as taken", async () => {
    const store = await started();
    const seen: number[] = [];
    const stop = store.subscribe((state, before) => {
      if (state.sessions !== before.sessions)
        seen.push([...content.keys()].filter((key) => /\/\d+$/.test(key)).length);
    });
    await store.getState().take(mm(store), judge);
    await store.getState().take(mm(store), judge);
    stop();
    expect(seen).toEqual([2, 3]);
    expect(store.getState().keeping).toBe("storage");
    expect(sessionOf(store).session.state.targets.size).toBe(2);
  });

  it("goes on where it stood when the page is opened anew", async () => {
    const store = await started();
    await store.getState().take(mm(store), judge);
    await store.getState().take(mm(store, -400), judge);
    await store.getState().note("knot", undefined);
    const again = opened();
    await again.getState().load();
    expect(sessionOf(again).session).toEqual(sessionOf(store).session);
    await again.getState().take(mm(again, -400), judge);
    const third = opened();
    await third.getState().load();
    expect(sessionOf(third).session.journal).toEqual(sessionOf(again).session.journal);
    expect(checkOf(sessionOf(third).session).readings.length).toBe(2);
  });

  it("takes numbers that come faster than they can be kept, one after the other and each for its own line", async () => {
    const store = await started();
    const first = mm(store);
    const shouldBe = order.steps.slice(0, 4).map(({ target }) => expectedReadingM(lookup, target, frame));
    await Promise.all(
      shouldBe.map((valueM, i) =>
        store.getState().take(String(Math.round(1000 * (valueM as number)) + (i === 0 ? 0 : i)), judge),
      ),
    );
    expect(Number(first)).toBeGreaterThan(0);
    expect([...sessionOf(store).session.state.targets.values()].map(({ target }) => target)).toEqual(
      order.steps.slice(0, 4).map(({ target }) => target),
    );
  });

  it("keeps a text without a length in the journal, and asks again", async () => {
    const store = await started();
    await store.getState().take("words", judge);
    const { told } = store.getState();
    expect(told?.kind === "entered" && told.verdict.level).toBe("impossible");
    expect(sessionOf(store).session.journal.at(-1)).toMatchObject({ kind: "reading", typed: "words" });
  });

  it("says which lengths a text may mean, and takes the one that is chosen", async () => {
    const store = await started();
    const target = sessionOf(store).session.state.next?.target;
    const should = Number(mm(store));
    // Half a metre off, the last three digits stand for either of two lengths.
    const digits = String((should + 500) % 1000).padStart(3, "0");
    await store.getState().take(digits, judge);
    const { told } = store.getState();
    const candidates = told?.kind === "entered" ? told.candidates : [];
    expect(candidates.length).toBe(2);
    expect(sessionOf(store).session.state.next?.target).toEqual(target);
    await store.getState().take(`${should} mm`, judge);
    expect(sessionOf(store).session.state.last).toEqual(target);
  });

  it("keeps a doubtful number on the person's word, counted once", async () => {
    const store = await started();
    await store.getState().take(mm(store, -400), judge);
    await store.getState().keepAsRead(judge);
    expect(checkOf(sessionOf(store).session).readings.map(({ valuesM }) => valuesM.length)).toEqual([1]);
    expect(store.getState().told?.kind).toBe("kept");
  });

  it("repeats the last line, skips, and takes back", async () => {
    const store = await started();
    const first = mm(store);
    await store.getState().take(first, judge);
    const asked = sessionOf(store).session.state.next;
    store.getState().setRepeating(true);
    await store.getState().take(String(Number(first) + 1), judge);
    expect(store.getState().repeating).toBe(false);
    expect(sessionOf(store).session.state.next).toEqual(asked);
    expect([...sessionOf(store).session.state.targets.values()][0]?.acceptedM.length).toBe(2);
    await store.getState().skip();
    expect(sessionOf(store).session.state.next).not.toEqual(asked);
    await store.getState().undo();
    expect(sessionOf(store).session.state.next).toEqual(asked);
    await store.getState().undo();
    await store.getState().undo();
    await store.getState().undo();
    expect(sessionOf(store).session.state.targets.size).toBe(0);
    expect(sessionOf(store).session.journal.filter(({ kind }) => kind === "undo").length).toBe(3);
  });
});

describe("where journals are kept", () => {
  const refusing: JournalShelf = {
    name: "database",
    cards: () => Promise.reject(new Error("denied")),
    putCard: () => Promise.reject(new Error("denied")),
    records: () => Promise.reject(new Error("denied")),
    add: () => Promise.reject(new Error("denied")),
    remove: () => Promise.reject(new Error("denied")),
  };

  it("the next shelf takes what the best one refuses, and gives it back", async () => {
    const shelves = [refusing, storageShelf(storage)];
    const store = await started(shelves);
    await store.getState().take(mm(store), judge);
    await store.getState().take(mm(store), judge);
    expect(store.getState().keeping).toBe("storage");
    const again = opened(shelves);
    await again.getState().load();
    expect(sessionOf(again).session.state.targets.size).toBe(2);
  });

  it("without any, the session goes on and says that nothing is kept; what can be kept later is, from the start", async () => {
    let isFull = true;
    const { name, ...kept } = storageShelf(storage);
    const full: JournalShelf = {
      name,
      ...kept,
      add: (id, records) => (isFull ? Promise.reject(new Error("full")) : kept.add(id, records)),
    };
    const store = await started([full]);
    await store.getState().take(mm(store), judge);
    expect(store.getState().keeping).toBe("page");
    expect(sessionOf(store).session.state.targets.size).toBe(1);
    isFull = false;
    await store.getState().take(mm(store), judge);
    expect(store.getState().keeping).toBe("storage");
    const again = opened();
    await again.getState().load();
    expect(sessionOf(again).session.journal).toEqual(sessionOf(store).session.journal);
  });

  it("a second window's numbers aren't written over: the session is loaded anew and what was typed stands in the field", async () => {
    const store = await started();
    const other = opened();
    await other.getState().load();
    await other.getState().take(mm(other), judge);
    const typed = mm(store, 3);
    await store.getState().take(typed, judge);
    expect(store.getState().told?.kind).toBe("elsewhere");
    expect(store.getState().field).toBe(typed);
    expect(sessionOf(store).session.journal).toEqual(sessionOf(other).session.journal);
    await store.getState().take(mm(store), judge);
    expect(sessionOf(store).session.state.targets.size).toBe(2);
  });

  it("a record that can't be read stays, and the session goes on as a copy", async () => {
    const store = await started();
    await store.getState().take(mm(store), judge);
    const id = sessionOf(store).card.id;
    content.set(`linewright.measure/${id}/1`, '{"n":1,"at":"20');
    const again = opened();
    await again.getState().load();
    expect(sessionOf(again).lost.length).toBeGreaterThan(0);
    await again.getState().take(mm(again), judge);
    expect(sessionOf(again).card.id).not.toBe(id);
    expect(content.get(`linewright.measure/${id}/1`)).toContain('{"n":1');
    const third = opened();
    await third.getState().load();
    expect(sessionOf(third).session.state.targets.size).toBe(1);
  });

  it("refuses to write an entry over another", async () => {
    const shelf = storageShelf(storage);
    await shelf.add("one", [{ n: 0, text: "first\n" }]);
    await expect(shelf.add("one", [{ n: 0, text: "second\n" }])).rejects.toThrow(AlreadyThere);
    expect(await shelf.records("one")).toEqual([{ n: 0, text: "first\n" }]);
  });

  it("is nowhere where the browser has neither", () => {
    expect(browserShelves(undefined)).toEqual([]);
    expect(browserShelves(storage).map(({ name }) => name)).toEqual(["storage"]);
  });
});

describe("sessions that were left", () => {
  it("stay, each with its wing, and are let go of only on the person's word, who can take that back", async () => {
    const store = await started();
    await store.getState().take(mm(store), judge);
    const { id } = sessionOf(store).card;
    store.getState().leave();
    await store.getState().letGo(id);
    const again = opened();
    await again.getState().load();
    expect(again.getState().activeId).toBeUndefined();
    expect(again.getState().sessions[0]?.card.letGoMs).toBeDefined();
    await again.getState().takeBack(id);
    const third = opened();
    await third.getState().load();
    expect(third.getState().sessions[0]?.card.letGoMs).toBeUndefined();
    expect(third.getState().sessions[0]?.session.state.targets.size).toBe(1);
  });

  it("are cleared away a month after they were let go of", async () => {
    const store = await started();
    await store.getState().letGo(sessionOf(store).card.id);
    clock += 31 * 24 * 3600_000;
    const later = opened();
    await later.getState().load();
    expect(later.getState().sessions).toEqual([]);
    expect([...content.keys()].filter((key) => key.includes("/"))).toEqual([]);
  });

  it("come back from a file, and once only", async () => {
    const store = await started();
    await store.getState().take(mm(store), judge);
    const text = journalText(sessionOf(store).session);
    content = new Map();
    active = undefined;
    const elsewhere = opened();
    await elsewhere.getState().load();
    expect(await elsewhere.getState().bringJournal(text, wing, "school")).toEqual([]);
    expect(sessionOf(elsewhere).session).toEqual(sessionOf(store).session);
    await elsewhere.getState().bringJournal(text, wing, "school");
    expect(elsewhere.getState().sessions.length).toBe(1);
    expect((await elsewhere.getState().bringJournal("no journal", wing, "school")).length).toBeGreaterThan(0);
  });

  it("of another wing aren't gone on with for this one", async () => {
    const store = await started();
    const text = journalText(sessionOf(store).session);
    store.getState().leave();
    const other = { ...wing, name: "Otherwing" };
    content = new Map();
    const elsewhere = opened();
    await elsewhere.getState().load();
    await elsewhere.getState().bringJournal(text, other, "own");
    expect(elsewhere.getState().activeId).toBeUndefined();
    const cards: readonly SessionCard[] = elsewhere.getState().sessions.map(({ card }) => card);
    expect(cards.map(({ wing: of }) => of)).toEqual([wing.name]);
    expect(wingKey({ name: "A", size: "26" })).not.toBe(wingKey({ name: "A", size: "28" }));
  });
});
