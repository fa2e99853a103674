/**
 * A card for one maillon on one side: what hangs on it, in which order and with which loop each, recorded before it is
 * opened; and each line ticked off as it goes back on. Plain data; every step gives a new card.
 */
import type { Side, Wing } from "../plan/index.ts";
import { say } from "../words/index.ts";
import type { LoopBook, MaillonRecord } from "./book.ts";
import { kindName, loopKind } from "./kinds.ts";
import type { LineLoops } from "./model.ts";

/** A line as it went back on the bar. */
export interface BackOn {
  readonly lineKey: string;
  /** Kind of the loop that it went back with. */
  readonly loop: string;
}

export interface MaillonCard {
  readonly maillonId: string;
  readonly side: Side;
  /** Line keys in the order in which they sit on the bar. */
  readonly order: readonly string[];
  /** Kind of each line's loop, in the same order. */
  readonly loops: readonly string[];
  /** ISO date of the record; undefined while it can still be changed. */
  readonly recorded: string | undefined;
  /** Lines that are back on, in the order in which they were put there. */
  readonly backOn: readonly BackOn[];
}

/** How the closed maillon differs from the recorded one. */
export type CardDifference =
  | { readonly kind: "order"; readonly lineKey: string; readonly recorded: number; readonly closed: number }
  | { readonly kind: "loop"; readonly lineKey: string; readonly recorded: string; readonly closed: string };

export interface FinishedCard {
  /** All lines are back on. */
  readonly complete: boolean;
  /** Complete, and as it was recorded but for the loops of lines that were replaced. */
  readonly asRecorded: boolean;
  /** Lines not yet back on, in the recorded order. */
  readonly open: readonly string[];
  readonly differences: readonly CardDifference[];
  /** Loops that changed with a replaced line: expected, and still worth showing. */
  readonly replacedLoops: readonly CardDifference[];
}

/**
 * A card to begin with: the lines on the maillon in the plan's order, with the loops that they are taken to have.
 *
 * @param loops as `lineLoops` gives them
 * @throws RangeError where nothing hangs on that maillon on that side
 */
export function startCard(loops: readonly LineLoops[], maillonId: string, side: Side): MaillonCard {
  const here = loops.filter((line) => line.maillonId === maillonId && line.side === side);
  if (here.length === 0) throw new RangeError(`Nothing hangs on maillon ${maillonId} ${side}.`);
  return {
    maillonId,
    side,
    order: here.map(({ lineKey }) => lineKey),
    loops: here.map((line) => line.states[line.present]?.kind.id as string),
    recorded: undefined,
    backOn: [],
  };
}

/** Moves a line to another place on the bar, counted from 0. @throws RangeError on a recorded card, a line or a place that isn't there */
export function move(card: MaillonCard, lineKey: string, to: number): MaillonCard {
  stillOpen(card);
  const from = placeOf(card, lineKey);
  if (!(Number.isInteger(to) && to >= 0 && to < card.order.length))
    throw new RangeError(`Got place ${to}; there are ${card.order.length}, counted from 0.`);
  const moved = <T>(list: readonly T[]): T[] => {
    const rest = list.filter((_, at) => at !== from);
    return [...rest.slice(0, to), list[from] as T, ...rest.slice(to)];
  };
  return { ...card, order: moved(card.order), loops: moved(card.loops) };
}

/** Records another loop for a line. @throws RangeError on a recorded card, or a line or kind that isn't known */
export function setLoop(card: MaillonCard, lineKey: string, kindId: string): MaillonCard {
  stillOpen(card);
  const at = placeOf(card, lineKey);
  return { ...card, loops: card.loops.map((kind, place) => (place === at ? knownKind(kindId) : kind)) };
}

/** Closes the record: from now on the maillon may be opened, and the record stays. @throws RangeError where it is recorded already */
export function recordCard(card: MaillonCard, date: string): MaillonCard {
  stillOpen(card);
  return { ...card, recorded: date };
}

/**
 * Ticks a line off as back on the bar, next to those that already are. Ticking one that is back on changes its loop.
 *
 * @param kindId the loop that it went back with; the recorded one if left out
 * @throws RangeError before the card is recorded, or for a line or kind that isn't known
 */
export function tick(card: MaillonCard, lineKey: string, kindId?: string): MaillonCard {
  if (card.recorded === undefined)
    throw new RangeError(
      `Maillon ${card.maillonId} ${card.side} isn't recorded yet; record it before it is opened.`,
    );
  const at = placeOf(card, lineKey);
  const loop = kindId === undefined ? (card.loops[at] as string) : knownKind(kindId);
  const back = { lineKey, loop };
  const isBack = card.backOn.some((one) => one.lineKey === lineKey);
  return {
    ...card,
    backOn: isBack
      ? card.backOn.map((one) => (one.lineKey === lineKey ? back : one))
      : [...card.backOn, back],
  };
}

/** Takes a tick back. @throws RangeError for a line that isn't on the maillon */
export function untick(card: MaillonCard, lineKey: string): MaillonCard {
  placeOf(card, lineKey);
  return { ...card, backOn: card.backOn.filter((one) => one.lineKey !== lineKey) };
}

/** Lines that aren't back on, in the recorded order. */
export function openLines(card: MaillonCard): readonly string[] {
  const back = new Set(card.backOn.map(({ lineKey }) => lineKey));
  return card.order.filter((key) => !back.has(key));
}

/**
 * Holds the maillon as it was closed against the record. Lines are compared in the order in which they were ticked off;
 * those not back on yet are left out of that. A replaced line may have another loop, but has the old one's place.
 *
 * @param replaced keys of the lines that were replaced
 */
export function finish(card: MaillonCard, replaced: ReadonlySet<string> = new Set()): FinishedCard {
  const open = openLines(card);
  const isOpen = new Set(open);
  const before = card.order.filter((key) => !isOpen.has(key));
  const orders = card.backOn.flatMap(({ lineKey }, closed): CardDifference[] => {
    const recorded = before.indexOf(lineKey);
    return recorded === closed ? [] : [{ kind: "order", lineKey, recorded, closed }];
  });
  const loops = card.backOn.flatMap(({ lineKey, loop }): CardDifference[] => {
    const recorded = card.loops[card.order.indexOf(lineKey)] as string;
    return recorded === loop ? [] : [{ kind: "loop", lineKey, recorded, closed: loop }];
  });
  const differences = [...orders, ...loops.filter(({ lineKey }) => !replaced.has(lineKey))];
  const complete = open.length === 0;
  return {
    complete,
    asRecorded: complete && differences.length === 0,
    open,
    differences,
    replacedLoops: loops.filter(({ lineKey }) => replaced.has(lineKey)),
  };
}

/** A difference in a sentence. @param wing for the lines' names */
export function sayCardDifference(wing: Wing, difference: CardDifference): string {
  const name = wing.lines.find(({ key }) => key === difference.lineKey)?.id ?? difference.lineKey;
  if (difference.kind === "order")
    return say("workshop.card.order", {
      name,
      closed: difference.closed + 1,
      recorded: difference.recorded + 1,
    });
  return say("workshop.card.loop", {
    name,
    closed: kindName({ id: difference.closed }),
    recorded: kindName({ id: difference.recorded }),
  });
}

/**
 * The card as the book keeps it. The loops that lines went back with aren't in this form: they are the book's present
 * loops, see {@link keepCard}.
 */
export function recordOf(card: MaillonCard): MaillonRecord {
  const { maillonId, side, order, loops, recorded, backOn } = card;
  return { maillonId, side, order, loops, recorded, closed: backOn.map(({ lineKey }) => lineKey) };
}

/**
 * A card from the book's form.
 *
 * @param present kind of each line's loop now, as the book keeps it; a line that isn't in it went back as recorded
 */
export function cardOf(record: MaillonRecord, present: ReadonlyMap<string, string> = new Map()): MaillonCard {
  const { maillonId, side, order, loops, recorded, closed } = record;
  return {
    maillonId,
    side,
    order,
    loops,
    recorded,
    backOn: closed.flatMap((lineKey) => {
      const at = order.indexOf(lineKey);
      return at < 0 ? [] : [{ lineKey, loop: present.get(lineKey) ?? (loops[at] as string) }];
    }),
  };
}

/**
 * The book with this card in place of an earlier one of the same maillon and side. Once recorded, its loops are the lines'
 * present ones: that with which a line went back, or else the recorded one. A take-up that was measured on a line's own
 * loop is dropped where its loop has changed.
 */
export function keepCard(book: LoopBook, card: MaillonCard): LoopBook {
  const same = (one: MaillonRecord): boolean => one.maillonId === card.maillonId && one.side === card.side;
  const record = recordOf(card);
  const maillons = book.maillons.some(same)
    ? book.maillons.map((one) => (same(one) ? record : one))
    : [...book.maillons, record];
  if (card.recorded === undefined) return { ...book, maillons };
  const present = new Map(book.present);
  const presentTakeUpM = new Map(book.presentTakeUpM);
  const back = new Map(card.backOn.map(({ lineKey, loop }) => [lineKey, loop]));
  for (const [at, lineKey] of card.order.entries()) {
    const loop = back.get(lineKey) ?? (card.loops[at] as string);
    if (present.get(lineKey) !== loop) presentTakeUpM.delete(lineKey);
    present.set(lineKey, loop);
  }
  return { ...book, maillons, present, presentTakeUpM };
}

/** The book's card of a maillon; undefined where it has none. */
export function cardIn(book: LoopBook, maillonId: string, side: Side): MaillonCard | undefined {
  const record = book.maillons.find((one) => one.maillonId === maillonId && one.side === side);
  return record === undefined ? undefined : cardOf(record, book.present);
}

function stillOpen(card: MaillonCard): void {
  if (card.recorded !== undefined)
    throw new RangeError(
      `Maillon ${card.maillonId} ${card.side} was recorded on ${card.recorded}; the record stays.`,
    );
}

function placeOf(card: MaillonCard, lineKey: string): number {
  const at = card.order.indexOf(lineKey);
  if (at < 0) throw new RangeError(`Line ${lineKey} isn't on maillon ${card.maillonId} ${card.side}.`);
  return at;
}

function knownKind(kindId: string): string {
  if (loopKind(kindId) === undefined) throw new RangeError(`There is no loop "${kindId}".`);
  return kindId;
}
