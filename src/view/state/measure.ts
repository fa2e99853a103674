/**
 * Reading sessions of this browser, and what is done in the one that is gone on with. Acts follow each other one at a time, and
 * each is written down before it shows: what is shown as taken is kept.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Problem, Wing } from "../../plan/model.ts";
import type { CheckFrame } from "../../readings/frame.ts";
import type { Target } from "../../readings/model.ts";
import { holding } from "../../readings/session/fold.ts";
import {
  type Candidate,
  changeFrame,
  enter,
  entryText,
  goTo,
  type Judge,
  journalText,
  note,
  type Order,
  parseJournal,
  reorder,
  repeatLast,
  type Session,
  type Step,
  skip,
  soFar,
  startSession,
  understand,
  undo,
  type Verdict,
} from "../../readings/session/index.ts";
import { keepAsRead } from "../../readings/session/keep-as-read.ts";
import type { WingId } from "./choices.ts";
import { AlreadyThere, type JournalRecord, type JournalShelf, type SessionCard } from "./measure-journal.ts";

/** A session as it is kept; `lost` tells what of its journal couldn't be read. */
export interface KeptSession {
  readonly card: SessionCard;
  readonly session: Session;
  readonly lost: readonly Problem[];
}

/** A journal that can't be read as a session: its text is all there is. */
export interface BrokenSession {
  readonly card: SessionCard;
  readonly text: string;
  readonly problems: readonly Problem[];
}

/** What became of the last act, as long as it is worth saying. `turn` tells two alike apart. */
export type Told = { readonly turn: number } & (
  | {
      readonly kind: "entered";
      readonly target: Target;
      readonly typed: string;
      readonly valuesM: readonly number[];
      readonly verdict: Verdict;
      /** The lengths it may mean, where it may mean several. */
      readonly candidates: readonly Candidate[];
    }
  | { readonly kind: "kept"; readonly target: Target }
  | { readonly kind: "skipped"; readonly target: Target }
  | { readonly kind: "undone" }
  | { readonly kind: "noted" }
  /** Another window has gone on with the session; what was typed stands in the field again. */
  | { readonly kind: "elsewhere" }
  /** A meter sent these while nobody was asked. */
  | { readonly kind: "unasked"; readonly typed: string }
);

/** Where the last entry went: `page`: nowhere that outlives the page. */
export type Keeping = JournalShelf["name"] | "page";

export interface MeasureState {
  readonly loaded: boolean;
  readonly sessions: readonly KeptSession[];
  readonly broken: readonly BrokenSession[];
  readonly activeId: string | undefined;
  /** What stands in the entry field. */
  readonly field: string;
  /** Whether the next number is another reading of the last line. */
  readonly repeating: boolean;
  readonly told: Told | undefined;
  readonly keeping: Keeping;
  readonly load: () => Promise<void>;
  readonly start: (wing: Wing, source: WingId, frame: CheckFrame, order: Order) => Promise<void>;
  readonly resume: (id: string) => void;
  readonly leave: () => void;
  readonly setField: (text: string) => void;
  readonly setRepeating: (repeating: boolean) => void;
  /** Takes a text for the line that is asked for, or once more for the last. */
  readonly take: (text: string, judge: Judge) => Promise<void>;
  readonly keepAsRead: (judge: Judge) => Promise<void>;
  readonly skip: () => Promise<void>;
  readonly undo: () => Promise<void>;
  readonly note: (text: string, about: Target | undefined) => Promise<void>;
  readonly goTo: (step: Step) => Promise<void>;
  readonly reorder: (order: Order) => Promise<void>;
  readonly changeFrame: (change: Partial<CheckFrame>, fromHere: boolean) => Promise<void>;
  /** Notes that the readings were handed on. */
  readonly handedOn: (id: string) => Promise<void>;
  /** Puts a session out of sight, and back. */
  readonly letGo: (id: string) => Promise<void>;
  readonly takeBack: (id: string) => Promise<void>;
  /** A journal from a file. @returns what is wrong with it; empty where all was taken */
  readonly bringJournal: (text: string, wing: Wing, source: WingId) => Promise<readonly Problem[]>;
  readonly sayUnasked: (typed: string) => void;
}

export type MeasureStore = StoreApi<MeasureState>;

export interface MeasureOutside {
  /** Where journals are kept, the best first. */
  readonly shelves: readonly JournalShelf[];
  /** Remembers which session is gone on with. */
  readonly active: { get(): string | undefined; set(id: string | undefined): void };
  readonly nowMs?: () => number;
  readonly newId?: () => string;
}

/** What was let go of is cleared away after so long [ms]. */
const CLEARED_AFTER_MS = 30 * 24 * 3600_000;

/** A wing is known by the name and size of its plan. */
export function wingKey({ name, size }: Pick<Wing, "name" | "size">): string {
  return size === undefined ? name : `${name} / ${size}`;
}

export function createMeasureStore(outside: MeasureOutside): MeasureStore {
  const { shelves, active, nowMs = Date.now, newId = () => crypto.randomUUID() } = outside;
  return createStore<MeasureState>()((set, get) => {
    let turn = 0;
    /** Session → numbers of the entries that are on the best shelf, as the session has them. */
    const written = new Map<string, ReadonlySet<number>>();
    const carded = new Set<string>();
    let queue: Promise<unknown> = Promise.resolve();

    const inTurn = <T>(act: () => Promise<T>): Promise<T> => {
      const done = queue.then(act);
      queue = done.catch(() => undefined);
      return done;
    };

    const present = (): KeptSession | undefined => {
      const { sessions, activeId } = get();
      return sessions.find(({ card }) => card.id === activeId);
    };

    const put = (kept: KeptSession, change: Partial<MeasureState> = {}): void => {
      const { sessions } = get();
      const known = sessions.some(({ card }) => card.id === kept.card.id);
      set({
        sessions: known
          ? sessions.map((one) => (one.card.id === kept.card.id ? kept : one))
          : [...sessions, kept],
        ...change,
      });
    };

    /** The card and whatever of the journal isn't kept yet, on the first shelf that takes them. */
    const keep = async (card: SessionCard, session: Session): Promise<Keeping> => {
      const all = session.journal.map((entry): JournalRecord => ({ n: entry.n, text: entryText(entry) }));
      for (const shelf of shelves) {
        try {
          if (shelf === shelves[0]) {
            if (!carded.has(card.id)) await shelf.putCard(card);
            carded.add(card.id);
            const there = written.get(card.id);
            const records = all.filter(({ n }) => there?.has(n) !== true);
            if (records.length > 0) await shelf.add(card.id, records);
            written.set(card.id, new Set(all.map(({ n }) => n)));
          } else {
            // What the best one refused: with the card, and from the start.
            await shelf.putCard(card);
            const there = new Set((await shelf.records(card.id)).map(({ n }) => n));
            await shelf.add(
              card.id,
              all.filter(({ n }) => !there.has(n)),
            );
          }
          return shelf.name;
        } catch (refusal) {
          if (refusal instanceof AlreadyThere) throw refusal;
        }
      }
      return "page";
    };

    const readOne = async (card: SessionCard): Promise<KeptSession | BrokenSession> => {
      const texts: string[] = [];
      const best = new Set<number>();
      for (const shelf of shelves) {
        try {
          const records = await shelf.records(card.id);
          if (shelf === shelves[0]) for (const { n } of records) best.add(n);
          texts.push(...records.map(({ text }) => text));
        } catch {
          // The next may have it.
        }
      }
      // Entries that stand on two shelves are the same.
      const text = [...new Set(texts)].join("");
      const parsed = parseJournal(text);
      // A record that can't be read isn't known: an entry of its number must not pass for written.
      if (parsed.ok)
        written.set(card.id, new Set(parsed.value.journal.flatMap(({ n }) => (best.has(n) ? [n] : []))));
      return parsed.ok
        ? { card, session: parsed.value, lost: parsed.problems }
        : { card, text, problems: parsed.problems };
    };

    /** Does something to the session that is gone on with: kept first, then shown. */
    const change = (
      act: (session: Session) => { readonly session: Session; readonly told?: Untold | undefined },
      typed = "",
    ): Promise<void> =>
      inTurn(async () => {
        const kept = present();
        if (kept === undefined) return;
        const { session, told } = act(kept.session);
        const say = told === undefined ? {} : { told: { ...told, turn: ++turn } };
        if (session === kept.session) {
          set(say);
          return;
        }
        try {
          const keeping = await keep(kept.card, session);
          put({ ...kept, session }, { keeping, ...say });
        } catch (refusal) {
          if (!(refusal instanceof AlreadyThere)) throw refusal;
          const again = await readOne(kept.card);
          if ("session" in again && again.session.journal.length > kept.session.journal.length) {
            put(again);
            set({ field: typed, told: { kind: "elsewhere", turn: ++turn } });
            return;
          }
          // No other window: a record that can't be read stands in the way. It stays; the session goes on as a copy.
          const card = { ...kept.card, id: newId() };
          const keeping = await keep(card, session);
          put({ ...kept, card, session }, { keeping, ...say, activeId: card.id });
          active.set(card.id);
        }
      });

    const stamp = async (id: string, mark: (card: SessionCard) => SessionCard): Promise<void> =>
      inTurn(async () => {
        const kept = get().sessions.find(({ card }) => card.id === id);
        if (kept === undefined) return;
        const card = mark(kept.card);
        for (const shelf of shelves) {
          try {
            const known = await shelf.cards();
            if (shelf === shelves[0] || known.some((one) => one.id === id)) await shelf.putCard(card);
          } catch {
            // The mark lasts as long as the page then.
          }
        }
        put({ ...kept, card });
      });

    const setActive = (activeId: string | undefined): void => {
      active.set(activeId);
      set({ activeId, field: "", repeating: false, told: undefined });
    };

    const begin = (
      card: SessionCard,
      session: Session,
      lost: readonly Problem[] = [],
      goOn = true,
    ): Promise<void> =>
      inTurn(async () => {
        const keeping = await keep(card, session);
        put({ card, session, lost }, { keeping });
        if (goOn) setActive(card.id);
      });

    const cardFor = (wing: Wing, source: WingId): SessionCard => ({
      id: newId(),
      wing: wingKey(wing),
      wingName: wing.name,
      source,
      startedMs: nowMs(),
    });

    return {
      loaded: false,
      sessions: [],
      broken: [],
      activeId: undefined,
      field: "",
      repeating: false,
      told: undefined,
      keeping: shelves[0]?.name ?? "page",
      load: () =>
        inTurn(async () => {
          if (get().loaded) return;
          const cards = new Map<string, SessionCard>();
          for (const shelf of shelves) {
            try {
              for (const card of await shelf.cards()) {
                if (shelf === shelves[0]) carded.add(card.id);
                if (!cards.has(card.id)) cards.set(card.id, card);
              }
            } catch {
              // A shelf that can't be read holds nothing that could be shown; the next may.
            }
          }
          const sessions: KeptSession[] = [];
          const broken: BrokenSession[] = [];
          for (const card of cards.values()) {
            if (card.letGoMs !== undefined && nowMs() - card.letGoMs > CLEARED_AFTER_MS) {
              for (const shelf of shelves) await shelf.remove(card.id).catch(() => undefined);
              continue;
            }
            const one = await readOne(card);
            if ("session" in one) sessions.push(one);
            else broken.push(one);
          }
          const before = active.get();
          const activeId = sessions.some(({ card }) => card.id === before && card.letGoMs === undefined)
            ? before
            : undefined;
          set({ loaded: true, sessions, broken, activeId });
        }),
      start: (wing, source, frame, order) =>
        begin(cardFor(wing, source), startSession(frame, order, nowMs())),
      resume: setActive,
      leave: () => setActive(undefined),
      setField: (field) => set({ field }),
      setRepeating: (repeating) => set({ repeating, field: "" }),
      take: (text, judge) => {
        const typed = text.trim();
        const atMs = nowMs();
        if (typed === "") return Promise.resolve();
        set({ field: "" });
        return change((session) => {
          const repeating = get().repeating && session.state.last !== undefined;
          const target = repeating ? session.state.last : session.state.next?.target;
          if (target === undefined) return { session, told: { kind: "unasked", typed } };
          const entered = repeating
            ? repeatLast(session, typed, atMs, judge)
            : enter(session, typed, atMs, judge);
          const { verdict, valuesM } = entered;
          const understood =
            valuesM.length > 0
              ? undefined
              : understand(
                  typed,
                  judge.expected(soFar(session), target),
                  session.state.frame.instrumentZeroM,
                );
          const candidates = understood?.kind === "unsure" ? understood.candidates : [];
          // A text without a length leaves the repeat to be done.
          if (valuesM.length > 0) set({ repeating: false });
          return {
            session: entered.session,
            told: { kind: "entered", target, typed, valuesM, verdict, candidates },
          };
        }, typed);
      },
      keepAsRead: (judge) => {
        const atMs = nowMs();
        return change((session) => {
          const target = session.state.next?.target;
          const kept = keepAsRead(session, atMs, judge);
          return {
            session: kept,
            told: target === undefined || kept === session ? undefined : { kind: "kept", target },
          };
        });
      },
      skip: () => {
        const atMs = nowMs();
        return change((session) => {
          const { next } = session.state;
          if (get().repeating) {
            set({ repeating: false });
            return { session };
          }
          return next === undefined
            ? { session }
            : { session: skip(session, atMs), told: { kind: "skipped", target: next.target } };
        });
      },
      undo: () => {
        const atMs = nowMs();
        return change((session) => {
          set({ repeating: false });
          const before = holding(session.journal).length;
          const back = undo(session, atMs);
          return before > 1 ? { session: back, told: { kind: "undone" } } : { session };
        });
      },
      note: (text, about) => {
        const atMs = nowMs();
        return change((session) =>
          text.trim() === ""
            ? { session }
            : { session: note(session, text.trim(), about, atMs), told: { kind: "noted" } },
        );
      },
      goTo: (step) => {
        const atMs = nowMs();
        set({ repeating: false, told: undefined });
        return change((session) => ({ session: goTo(session, step, atMs) }));
      },
      reorder: (order) => {
        const atMs = nowMs();
        set({ told: undefined });
        return change((session) => ({ session: reorder(session, order, atMs) }));
      },
      changeFrame: (frame, fromHere) => {
        const atMs = nowMs();
        return change((session) => ({ session: changeFrame(session, frame, atMs, fromHere) }));
      },
      handedOn: (id) => stamp(id, (card) => ({ ...card, takenMs: nowMs() })),
      letGo: async (id) => {
        await stamp(id, (card) => ({ ...card, letGoMs: nowMs() }));
        if (get().activeId === id) setActive(undefined);
      },
      takeBack: (id) => stamp(id, ({ letGoMs: _, ...card }) => card),
      bringJournal: async (text, wing, source) => {
        const parsed = parseJournal(text);
        if (!parsed.ok) return parsed.problems;
        const session = parsed.value;
        const same = get().sessions.find((one) => journalText(one.session) === journalText(session));
        if (same !== undefined) {
          await get().takeBack(same.card.id);
          if (same.card.wing === wingKey(wing)) setActive(same.card.id);
          return parsed.problems;
        }
        const [first] = session.journal;
        const { wingName = wing.name } = session.state.frame;
        const isOfWing = wingName === wing.name;
        const card: SessionCard = {
          ...cardFor(wing, source),
          ...(isOfWing ? {} : { wing: wingName, wingName, source: "own" as const }),
          startedMs: first?.atMs ?? nowMs(),
        };
        await begin(card, session, parsed.problems, isOfWing);
        return parsed.problems;
      },
      sayUnasked: (typed) => set({ told: { kind: "unasked", typed, turn: ++turn } }),
    };
  });
}

type Untold = Told extends infer T ? (T extends Told ? Omit<T, "turn"> : never) : never;
