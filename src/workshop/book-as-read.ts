/**
 * The bench's book at the time of the readings. Once a maillon's card is ticked off, the book has the loops that its lines
 * went back with; the readings were still taken with those that the card recorded before the maillon was opened.
 */
import type { LoopBook, MaillonRecord } from "./book.ts";
import type { ChosenLoops } from "./loop-by-hand.ts";

/** Lines ticked off on cards recorded on the day of the check or later, with the loop recorded and the present one. */
function reopened(book: LoopBook, checkDate: string | undefined) {
  if (checkDate === undefined) return [];
  return book.maillons.flatMap(({ order, loops, recorded, closed }) =>
    recorded === undefined || recorded < checkDate
      ? []
      : order.flatMap((lineKey, place) => {
          const before = loops[place];
          const now = book.present.get(lineKey);
          return before === undefined || now === undefined || now === before || !closed.includes(lineKey)
            ? []
            : [{ lineKey, before, now }];
        }),
  );
}

/** Line key → the loop that it went back with since the check, where that is another. */
export function tiedSince(book: LoopBook, checkDate: string | undefined): ChosenLoops {
  return new Map(reopened(book, checkDate).map(({ lineKey, now }) => [lineKey, now]));
}

/**
 * The book with the loops that the readings were taken with.
 * @param checkDate ISO date of the check; undefined without readings: the book as it is
 */
export function bookAsRead(book: LoopBook, checkDate: string | undefined): LoopBook {
  const lines = reopened(book, checkDate);
  if (lines.length === 0) return book;
  const present = new Map(book.present);
  const presentTakeUpM = new Map(book.presentTakeUpM);
  for (const { lineKey, before } of lines) {
    present.set(lineKey, before);
    presentTakeUpM.delete(lineKey);
  }
  return { ...book, present, presentTakeUpM };
}

/** The cards with what hangs on each maillon now, none of it ticked off: for a book that later readings go with. */
export function settledCards(book: LoopBook): readonly MaillonRecord[] {
  return book.maillons.map((card) => ({
    ...card,
    loops: card.order.map((lineKey, place) => book.present.get(lineKey) ?? (card.loops[place] as string)),
    closed: [],
  }));
}
