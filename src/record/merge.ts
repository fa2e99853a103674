/**
 * Merging records: the same on whatever device and in whatever order it is done, and merging again changes nothing.
 *
 * Wings belong together by their id alone: a club has several wings of one plan. Within a wing
 * - a plan version, check or photo is never overwritten: what has the same content is there once, under the id that it had
 *   first; different contents under one id become two, the later added keeping the id, the other marked `differsFrom`;
 * - a loop book, note or entry of flight hours is replaced by a later state of itself; where it was changed on both sides
 *   since, both states are kept, the last changed under the id, the other marked;
 * - of a single value (name, plan in use, day of the next check) the last change counts.
 *
 * What was taken out on one side only comes back from the other.
 */
import {
  canonicalJson,
  checkContent,
  editedContent,
  markOf,
  photoContent,
  planContent,
  stateMark,
} from "./content.ts";
import { inOrder } from "./edit.ts";
import {
  type EditedItem,
  type LastingItem,
  RECORD_VERSION,
  type Stamped,
  timeOf,
  UNKNOWN_TIME,
  type WingRecord,
  type WingRecords,
} from "./model.ts";

/** Both records as one. */
export function mergeRecords(here: WingRecords, there: WingRecords): WingRecords {
  const byId = new Map<string, WingRecord[]>();
  for (const wing of [...here.wings, ...there.wings]) byId.set(wing.id, [...(byId.get(wing.id) ?? []), wing]);
  return {
    version: RECORD_VERSION,
    wings: [...byId.values()].map(mergeWings).sort((a, b) => (a.id < b.id ? -1 : 1)),
  };
}

/** States of one wing as one. @throws RangeError for no state, or states of different wings */
export function mergeWings(states: readonly WingRecord[]): WingRecord {
  const [first] = states;
  if (first === undefined || states.some(({ id }) => id !== first.id))
    throw new RangeError(
      `Got ${states.map(({ id }) => id).join(", ")} when states of one wing were expected.`,
    );
  const plans = mergeLasting(
    states.map((wing) => wing.plans),
    planContent,
  );
  // By content: the id may become another one.
  const inUse = lastOf(
    states.flatMap((wing) => {
      const plan = wing.plans.find(({ id }) => id === wing.planInUse?.value);
      if (plan === undefined || wing.planInUse === undefined) return [];
      return [{ value: planContent(plan), changedAt: wing.planInUse.changedAt }];
    }),
  );
  const nextCheck = lastOf(states.flatMap((wing) => wing.nextCheck ?? []));
  return {
    id: first.id,
    name: lastOf(states.map((wing) => wing.name)) as Stamped<string>,
    plans: plans.items,
    ...(inUse === undefined
      ? {}
      : { planInUse: { value: plans.idOf.get(inUse.value) as string, changedAt: inUse.changedAt } }),
    checks: mergeLasting(
      states.map((wing) => wing.checks),
      checkContent,
    ).items,
    books: mergeEdited(states.map((wing) => wing.books)),
    notes: mergeEdited(states.map((wing) => wing.notes)),
    hours: mergeEdited(states.map((wing) => wing.hours)),
    photos: mergeLasting(
      states.map((wing) => wing.photos),
      photoContent,
    ).items,
    ...(nextCheck === undefined ? {} : { nextCheck }),
  };
}

function lastOf<T>(values: readonly Stamped<T>[]): Stamped<T> | undefined {
  return values.reduce<Stamped<T> | undefined>(
    (last, value) => (last === undefined || isLater(value, last) ? value : last),
    undefined,
  );
}

/** Later by time; of two of one instant, the one whose JSON is the greater, so that all devices agree. */
function isLater<T extends { readonly changedAt: string }>(one: T, other: T): boolean {
  const [a, b] = [timeOf(one.changedAt), timeOf(other.changedAt)];
  return a === b ? canonicalJson(one) > canonicalJson(other) : a > b;
}

/** The id that an item had before it was found to differ from another of that id. */
const baseOf = ({ id, differsFrom }: { readonly id: string; readonly differsFrom?: string | undefined }) =>
  differsFrom ?? id;

/** An instant that is lost is no reason to say that something was there before. */
const addedTime = (instant: string): number =>
  instant === UNKNOWN_TIME ? Number.POSITIVE_INFINITY : timeOf(instant);

/**
 * Every content has one claim, the earliest: when it was added first, and under which id. From the contents and their claims
 * all else follows, so that neither the order nor the number of merges matters.
 */
function mergeLasting<T extends LastingItem>(
  lists: readonly (readonly T[])[],
  contentOf: (item: T) => string,
): { readonly items: readonly T[]; readonly idOf: ReadonlyMap<string, string> } {
  const held = new Map<string, { addedAt: string; base: string; item: T }>();
  for (const item of lists.flat()) {
    const content = contentOf(item);
    const known = held.get(content);
    const claim = { addedAt: item.addedAt, base: baseOf(item), item };
    if (known === undefined) {
      held.set(content, claim);
      continue;
    }
    const [a, b] = [addedTime(claim.addedAt), addedTime(known.addedAt)];
    const { addedAt, base } = a < b || (a === b && claim.base < known.base) ? claim : known;
    held.set(content, {
      addedAt,
      base,
      item: isLater(plainly(item), plainly(known.item)) ? item : known.item,
    });
  }
  const idOf = new Map<string, string>();
  const items = grouped([...held], ([, { base }]) => base).flatMap((group) =>
    group
      .sort(([one, a], [other, b]) => {
        const [late, early] = [addedTime(b.addedAt), addedTime(a.addedAt)];
        return late < early ? -1 : late > early ? 1 : one < other ? -1 : 1;
      })
      .map(([content, { addedAt, base, item }], place): T => {
        const own = place === 0 ? { id: base } : { id: `${base}.${markOf(content)}`, differsFrom: base };
        idOf.set(content, own.id);
        const { id: _, differsFrom: __, ...rest } = item;
        return { ...rest, ...own, addedAt } as unknown as T;
      }),
  );
  return { items: inOrder(items), idOf };
}

/** An item without what merging itself decides, for telling which remark is the later. */
function plainly<T extends LastingItem>(item: T): { readonly changedAt: string } {
  const { id: _, differsFrom: __, addedAt: ___, ...rest } = item;
  // A photo's bytes are the same on both sides here.
  return "bytes" in rest ? { ...rest, bytes: undefined } : rest;
}

/**
 * Of each id the states that no other state came after; the last of them keeps the id. A state is over where a state that came
 * after it remembers it, or where the same was said later, be that over or not. All states of an id go on remembering what any
 * of them did, so that neither the order nor the number of merges matters.
 */
function mergeEdited<T extends EditedItem>(lists: readonly (readonly T[])[]): readonly T[] {
  const items = grouped(lists.flat(), baseOf).flatMap((group) => {
    const base = baseOf(group[0] as T);
    const over = new Set(group.flatMap((item) => item.earlier ?? []));
    /** When each content was said last, by its mark. */
    const lastSaid = new Map<string, string>();
    for (const mark of [...over, ...group.map(stateMark)]) {
      const [instant = "", content = ""] = mark.split(" ");
      const known = lastSaid.get(content);
      if (known === undefined || timeOf(instant) > timeOf(known)) lastSaid.set(content, instant);
    }
    const states = new Map<string, T>();
    for (const item of group) {
      const mark = stateMark(item);
      const known = states.get(mark);
      // They differ in the name of the file alone.
      if (known === undefined || canonicalJson(item) > canonicalJson(known)) states.set(mark, item);
    }
    const earlier = over.size === 0 ? {} : { earlier: [...over].sort() };
    return [...states]
      .filter(([mark]) => {
        const [instant, content = ""] = mark.split(" ");
        return !over.has(mark) && lastSaid.get(content) === instant;
      })
      .map(([, item]) => ({ item, content: editedContent(item) }))
      .sort((a, b) => {
        const [late, early] = [timeOf(a.item.changedAt), timeOf(b.item.changedAt)];
        return late > early ? -1 : late < early ? 1 : a.content < b.content ? -1 : 1;
      })
      .map(({ content, item }, place): T => {
        const own = place === 0 ? { id: base } : { id: `${base}.${markOf(content)}`, differsFrom: base };
        const { id: _, differsFrom: __, earlier: ___, ...rest } = item;
        return { ...rest, ...own, ...earlier } as unknown as T;
      });
  });
  return inOrder(items);
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

/** What a merge brought, for one wing. */
export interface Brought {
  readonly wingId: string;
  readonly name: string;
  /** True where there was no such wing before. */
  readonly isNew: boolean;
  /** Items that weren't there before, by list. */
  readonly added: Readonly<Record<"plans" | "checks" | "books" | "notes" | "hours" | "photos", number>>;
  /** Items changed by a later state of themselves. */
  readonly renewed: number;
  /** Items of which both sides had something else under one id: both are kept, and should be looked at. */
  readonly twofold: number;
}

/** What a merge brought, wing by wing; wings to which it brought nothing are left out. */
export function whatMerged(before: WingRecords, merged: WingRecords): readonly Brought[] {
  const known = new Map(before.wings.map((wing) => [wing.id, wing]));
  return merged.wings.flatMap((wing): Brought[] => {
    const was = known.get(wing.id);
    let renewed = 0;
    let twofold = 0;
    const count = <T extends LastingItem | EditedItem>(
      now: readonly T[],
      then: readonly T[] = [],
    ): number => {
      const thenById = new Map(then.map((item) => [item.id, item]));
      let added = 0;
      for (const item of now) {
        const old = thenById.get(item.id);
        if (old === undefined && item.differsFrom !== undefined) twofold += 1;
        else if (old === undefined) added += 1;
        else if (old.changedAt !== item.changedAt) renewed += 1;
      }
      return added;
    };
    const added = {
      plans: count(wing.plans, was?.plans),
      checks: count(wing.checks, was?.checks),
      books: count(wing.books, was?.books),
      notes: count(wing.notes, was?.notes),
      hours: count(wing.hours, was?.hours),
      photos: count(wing.photos, was?.photos),
    };
    const any = renewed + twofold + Object.values(added).reduce((sum, each) => sum + each, 0);
    if (was !== undefined && any === 0) return [];
    return [{ wingId: wing.id, name: wing.name.value, isNew: was === undefined, added, renewed, twofold }];
  });
}
