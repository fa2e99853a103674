import { describe, expect, it } from "vitest";
import { bookAsRead, settledCards, tiedSince } from "../../src/workshop/book-as-read.ts";
import { EMPTY_BOOK, type LoopBook } from "../../src/workshop/index.ts";

/** Invented: maillon C was opened on the 18th; C1 went back with another loop, C2 with its own, C3 isn't back yet. */
const book: LoopBook = {
  ...EMPTY_BOOK,
  present: new Map([
    ["left:C1", "plain"],
    ["left:C2", "girth"],
    ["left:C3", "turn"],
  ]),
  presentTakeUpM: new Map([["left:C1", 0.0005]]),
  maillons: [
    {
      maillonId: "C",
      side: "left",
      order: ["left:C1", "left:C2", "left:C3"],
      loops: ["girth", "girth", "girth"],
      recorded: "2026-03-18",
      closed: ["left:C1", "left:C2"],
    },
  ],
};

describe("loops that were tied after the readings", () => {
  it("count as they were when it was read, and are told as tied since", () => {
    const read = bookAsRead(book, "2026-03-14");
    expect(read.present.get("left:C1")).toBe("girth");
    expect(read.presentTakeUpM.has("left:C1")).toBe(false);
    expect(read.present.get("left:C3")).toBe("turn");
    expect([...tiedSince(book, "2026-03-14")]).toEqual([["left:C1", "plain"]]);
  });

  it("are the present ones for readings taken later, and without readings", () => {
    for (const date of ["2026-03-21", undefined]) {
      expect(bookAsRead(book, date)).toBe(book);
      expect(tiedSince(book, date).size).toBe(0);
    }
  });

  it("stay so for later readings of the same day once the cards are settled", () => {
    const settled = { ...book, maillons: settledCards(book) };
    expect(settled.maillons[0]).toMatchObject({ loops: ["plain", "girth", "turn"], closed: [] });
    expect(bookAsRead(settled, "2026-03-18").present).toEqual(book.present);
  });
});
