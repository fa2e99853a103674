/**
 * Where the journals of reading sessions are kept: an entry to a record, written as it is entered and never written over. In the
 * browser's database; where that is denied, in its plain storage.
 */
import type { WingId } from "./choices.ts";
import type { Shelf } from "./keep.ts";

/** What is known of a session without reading its journal. */
export interface SessionCard {
  readonly id: string;
  /** The wing as {@link wingKey} names it: a session belongs to one wing. */
  readonly wing: string;
  readonly wingName: string;
  readonly source: WingId;
  readonly startedMs: number;
  /** When its readings were last handed on. */
  readonly takenMs?: number;
  /** Let go of by the person; it can be taken back until it is cleared away. */
  readonly letGoMs?: number;
}

/** One entry as text, by its running number in the session. */
export interface JournalRecord {
  readonly n: number;
  readonly text: string;
}

export interface JournalShelf {
  readonly name: "database" | "storage";
  cards(): Promise<readonly SessionCard[]>;
  putCard(card: SessionCard): Promise<void>;
  /** In the order of their numbers. */
  records(id: string): Promise<readonly JournalRecord[]>;
  /** All or none; rejects with {@link AlreadyThere} where another window has written one of these numbers. */
  add(id: string, records: readonly JournalRecord[]): Promise<void>;
  remove(id: string): Promise<void>;
}

/** Another window of this browser goes on with the same session. */
export class AlreadyThere extends Error {}

const DATABASE = "linewright-measure";
const CARDS = "sessions";
const ENTRIES = "entries";

/** The journals in the browser's database; written through to the disk before an entry is called kept. */
export function databaseShelf(factory: IDBFactory): JournalShelf {
  let opened: Promise<IDBDatabase> | undefined;
  const open = (): Promise<IDBDatabase> => {
    opened ??= new Promise((resolve, reject) => {
      const request = factory.open(DATABASE, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore(CARDS, { keyPath: "id" });
        request.result.createObjectStore(ENTRIES, { keyPath: ["session", "n"] });
      };
      request.onsuccess = () => {
        const database = request.result;
        // Closed by the browser or for a newer page: opened anew the next time.
        const gone = (): void => {
          opened = undefined;
        };
        database.onclose = gone;
        database.onversionchange = () => {
          database.close();
          gone();
        };
        resolve(database);
      };
      request.onerror = () => reject(request.error ?? new Error("The database can't be opened."));
      request.onblocked = () => reject(new Error("The database is held by another page."));
    });
    opened.catch(() => {
      opened = undefined;
    });
    return opened;
  };
  const write = async (
    names: string[],
    act: (of: (name: string) => IDBObjectStore) => void,
  ): Promise<void> => {
    const database = await open();
    return new Promise((resolve, reject) => {
      const transaction = database.transaction(names, "readwrite", { durability: "strict" });
      // Only once it is given up does the transaction say why.
      transaction.onabort = () =>
        reject(
          transaction.error?.name === "ConstraintError"
            ? new AlreadyThere()
            : (transaction.error ?? new Error("The database refused to write.")),
        );
      transaction.oncomplete = () => resolve();
      act((name) => transaction.objectStore(name));
    });
  };
  const read = async <T>(name: string, ask: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> => {
    const database = await open();
    return new Promise((resolve, reject) => {
      const request = ask(database.transaction(name, "readonly").objectStore(name));
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error ?? new Error("The database can't be read."));
    });
  };
  const allOf = (id: string): IDBKeyRange => IDBKeyRange.bound([id, 0], [id, Number.MAX_SAFE_INTEGER]);
  return {
    name: "database",
    cards: () => read<SessionCard[]>(CARDS, (store) => store.getAll() as IDBRequest<SessionCard[]>),
    putCard: (card) => write([CARDS], (of) => of(CARDS).put(card)),
    records: (id) =>
      read<JournalRecord[]>(ENTRIES, (store) => store.getAll(allOf(id)) as IDBRequest<JournalRecord[]>),
    add: (id, records) =>
      write([ENTRIES], (of) => {
        for (const { n, text } of records) of(ENTRIES).add({ session: id, n, text });
      }),
    remove: (id) =>
      write([CARDS, ENTRIES], (of) => {
        of(ENTRIES).delete(allOf(id));
        of(CARDS).delete(id);
      }),
  };
}

const PLACE = "linewright.measure";

/** The same in the browser's plain storage. */
export function storageShelf(storage: Pick<Storage, "getItem" | "setItem" | "removeItem">): JournalShelf {
  const place = (id: string, n?: number): string => `${PLACE}/${id}${n === undefined ? "" : `/${n}`}`;
  const ids = (): readonly string[] => {
    const found: unknown = JSON.parse(storage.getItem(PLACE) ?? "[]");
    return Array.isArray(found) ? found.filter((id) => typeof id === "string") : [];
  };
  /** Entries follow each other without a gap, so that none has to be looked for further on. */
  const recordsOf = (id: string): readonly JournalRecord[] => {
    const records: JournalRecord[] = [];
    for (let n = 0; ; n++) {
      const text = storage.getItem(place(id, n));
      if (text === null) return records;
      records.push({ n, text });
    }
  };
  return {
    name: "storage",
    cards: async () =>
      ids().flatMap((id) => {
        const text = storage.getItem(place(id));
        return text === null ? [] : [JSON.parse(text) as SessionCard];
      }),
    putCard: async (card) => {
      storage.setItem(place(card.id), JSON.stringify(card));
      storage.setItem(PLACE, JSON.stringify([...new Set([...ids(), card.id])]));
    },
    records: async (id) => recordsOf(id),
    add: async (id, records) => {
      if (records.some(({ n }) => storage.getItem(place(id, n)) !== null)) throw new AlreadyThere();
      const written: JournalRecord[] = [];
      try {
        for (const record of records) {
          storage.setItem(place(id, record.n), record.text);
          written.push(record);
        }
      } catch (refusal) {
        for (const { n } of written) storage.removeItem(place(id, n));
        throw refusal;
      }
    },
    remove: async (id) => {
      storage.setItem(PLACE, JSON.stringify(ids().filter((other) => other !== id)));
      for (const { n } of recordsOf(id)) storage.removeItem(place(id, n));
      storage.removeItem(place(id));
    },
  };
}

/** The shelves that this browser has, the best first; none where it keeps nothing. */
export function browserShelves(storage: Shelf | undefined): readonly JournalShelf[] {
  const shelves: JournalShelf[] = [];
  try {
    if (globalThis.indexedDB) shelves.push(databaseShelf(globalThis.indexedDB));
  } catch {
    // Some browsers throw where a page has no rights to it.
  }
  if (storage !== undefined) shelves.push(storageShelf(storage));
  return shelves;
}
