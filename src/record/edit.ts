/** Changes of a wing's record, each giving a new one. Time and ids come from outside. */
import { canonicalJson, checkContent, photoContent, planContent, stateMark } from "./content.ts";
import {
  bookInUse,
  type EditedItem,
  type FlightHours,
  type Item,
  type KeptCheck,
  type LastingItem,
  type Note,
  type Photo,
  type PlanVersion,
  timeOf,
  type WingRecord,
} from "./model.ts";

/** The present instant, and where new ids come from: letters, figures, hyphens. */
export interface Stamp {
  readonly at: string;
  readonly newId: () => string;
}

/** Most earlier states that an item remembers; beyond, a very old copy of it counts as changed elsewhere. */
const MOST_EARLIER = 500;

export function newWing(name: string, { at, newId }: Stamp): WingRecord {
  return {
    id: newId(),
    name: { value: name, changedAt: at },
    plans: [],
    checks: [],
    books: [],
    notes: [],
    hours: [],
    photos: [],
  };
}

/** By time, then by id: the order of every list. */
export function inOrder<T extends Item & { readonly addedAt?: string; readonly day?: string }>(
  items: readonly T[],
): readonly T[] {
  const time = (item: T): number => timeOf(item.addedAt ?? item.day ?? item.changedAt);
  return [...items].sort((a, b) => {
    const [one, other] = [time(a), time(b)];
    return one < other ? -1 : one > other ? 1 : a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
  });
}

function withLasting<T extends LastingItem>(
  items: readonly T[],
  fields: Omit<T, keyof Item | "addedAt">,
  contentOf: (item: Omit<T, keyof Item | "addedAt">) => string,
  { at, newId }: Stamp,
): { readonly items: readonly T[]; readonly id: string } {
  const content = contentOf(fields);
  const same = items.find((item) => contentOf(item) === content);
  if (same !== undefined) return { items, id: same.id };
  const added = { ...fields, id: newId(), addedAt: at, changedAt: at } as unknown as T;
  return { items: inOrder([...items, added]), id: added.id };
}

/** Adds a version of the plan and has it in use; one that is there already is only had in use again. */
export function addPlan(
  wing: WingRecord,
  plan: Pick<PlanVersion, "name" | "text" | "changed">,
  stamp: Stamp,
): WingRecord {
  const { items, id } = withLasting<PlanVersion>(wing.plans, plan, planContent, stamp);
  return { ...wing, plans: items, planInUse: { value: id, changedAt: stamp.at } };
}

/** Adds a check; one with the same day, frame and readings is there already. */
export function addCheck(
  wing: WingRecord,
  check: Pick<KeptCheck, "name" | "text" | "frame">,
  stamp: Stamp,
): WingRecord {
  return { ...wing, checks: withLasting<KeptCheck>(wing.checks, check, checkContent, stamp).items };
}

/** Adds a photo; one with the same bytes is there already. */
export function addPhoto(
  wing: WingRecord,
  photo: Pick<Photo, "name" | "type" | "bytes" | "about">,
  stamp: Stamp,
): WingRecord {
  return { ...wing, photos: withLasting<Photo>(wing.photos, photo, photoContent, stamp).items };
}

/** Adds a loop book beside those that there are: see {@link keepBook}. */
export function addBook(
  wing: WingRecord,
  book: { readonly name: string; readonly text: string },
  { at, newId }: Stamp,
): WingRecord {
  return { ...wing, books: inOrder([...wing.books, { ...book, id: newId(), changedAt: at }]) };
}

/**
 * Keeps the loop book as it is now. It takes the place of the one in use, unless a card of that one is no longer in it: then
 * both stay, as the earlier one tells of work that was done.
 */
export function keepBook(
  wing: WingRecord,
  book: { readonly name: string; readonly text: string },
  stamp: Stamp,
): WingRecord {
  const present = bookInUse(wing);
  if (present === undefined) return addBook(wing, book, stamp);
  if (present.text === book.text) return wing;
  const now = new Set(cardsIn(book.text));
  if (cardsIn(present.text).some((card) => !now.has(card))) return addBook(wing, book, stamp);
  return { ...wing, books: changed(wing.books, present.id, book, stamp.at) };
}

/** The recorded cards of a loop book's file: maillon, side and day of each. */
function cardsIn(text: string): readonly string[] {
  try {
    const { maillons } = JSON.parse(text) as { maillons?: unknown };
    if (!Array.isArray(maillons)) return [];
    return maillons.flatMap((card: { maillon?: unknown; side?: unknown; recorded?: unknown } | null) =>
      card?.recorded === undefined ? [] : [canonicalJson([card.maillon, card.side, card.recorded])],
    );
  } catch {
    return [];
  }
}

export function addNote(
  wing: WingRecord,
  note: Pick<Note, "day" | "text">,
  { at, newId }: Stamp,
): WingRecord {
  return { ...wing, notes: inOrder([...wing.notes, { ...note, id: newId(), changedAt: at }]) };
}

export function addHours(
  wing: WingRecord,
  hours: Pick<FlightHours, "day" | "totalHours">,
  { at, newId }: Stamp,
): WingRecord {
  return { ...wing, hours: inOrder([...wing.hours, { ...hours, id: newId(), changedAt: at }]) };
}

/** @throws RangeError where there is no note of that id */
export function changeNote(
  wing: WingRecord,
  id: string,
  to: Partial<Pick<Note, "day" | "text">>,
  at: string,
): WingRecord {
  return { ...wing, notes: changed<Note>(wing.notes, id, to, at) };
}

/** @throws RangeError where there are no hours of that id */
export function changeHours(
  wing: WingRecord,
  id: string,
  to: Partial<Pick<FlightHours, "day" | "totalHours">>,
  at: string,
): WingRecord {
  return { ...wing, hours: changed<FlightHours>(wing.hours, id, to, at) };
}

function changed<T extends EditedItem>(
  items: readonly T[],
  id: string,
  to: Partial<T>,
  at: string,
): readonly T[] {
  if (!items.some((item) => item.id === id)) throw new RangeError(`There is no item ${id} to be changed.`);
  return inOrder(
    items.map((item) =>
      item.id === id
        ? {
            ...item,
            ...to,
            changedAt: at,
            earlier: [...new Set([...(item.earlier ?? []), stateMark(item)])].sort().slice(-MOST_EARLIER),
          }
        : item,
    ),
  );
}

/** Which lists of a record can be taken from. */
export type ListName = "plans" | "checks" | "books" | "notes" | "hours" | "photos";

/** Takes an item out. An archive that still has it brings it back when it is merged in. */
export function removeItem(wing: WingRecord, list: ListName, id: string): WingRecord {
  const rest = <T extends Item>(items: readonly T[]): readonly T[] => items.filter((item) => item.id !== id);
  switch (list) {
    case "plans":
      return { ...wing, plans: rest(wing.plans) };
    case "checks":
      return { ...wing, checks: rest(wing.checks) };
    case "books":
      return { ...wing, books: rest(wing.books) };
    case "notes":
      return { ...wing, notes: rest(wing.notes) };
    case "hours":
      return { ...wing, hours: rest(wing.hours) };
    case "photos":
      return { ...wing, photos: rest(wing.photos) };
  }
}

/** @param day ISO date; undefined takes it back */
export function setNextCheck(wing: WingRecord, day: string | undefined, at: string): WingRecord {
  return { ...wing, nextCheck: { value: day ?? null, changedAt: at } };
}

export function renameWing(wing: WingRecord, name: string, at: string): WingRecord {
  return { ...wing, name: { value: name, changedAt: at } };
}
