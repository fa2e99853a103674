import { describe, expect, it } from "vitest";
import type { Suspicion } from "../../../src/diagnosis/mistakes/index.ts";
import {
  NO_HISTORY,
  noted,
  notedBook,
  notedReadings,
  redone,
  undone,
  withoutReadings,
} from "../../../src/view/state/history.ts";
import { changed, NOTHING_TRIED, type TrialChange } from "../../../src/view/state/trials.ts";
import { EMPTY_BOOK } from "../../../src/workshop/index.ts";

const set = (mm: number, ...lineKeys: string[]): TrialChange => ({ kind: "set", lineKeys, mm });
const slip = (id: string): Suspicion => ({ id }) as Suspicion;

describe("the way back", () => {
  it("undoes and redoes every kind of change", () => {
    const changes = [
      set(4, "left:A1"),
      set(-6, "left:B1", "right:B1"),
      { kind: "tie", lineKeys: ["left:A1"], kindId: "girth" } as const,
      { kind: "remove", lineKeys: ["left:B1"] } as const,
      { kind: "clear" } as const,
    ];
    let tried = NOTHING_TRIED;
    let history = NO_HISTORY;
    const lists = [tried];
    changes.forEach((change, i) => {
      const after = changed(tried, change);
      history = noted(history, change, tried, after, 5000 * i);
      tried = after;
      lists.push(tried);
    });
    for (let i = lists.length - 2; i >= 0; i--) {
      const back = undone(history);
      expect(back?.restored).toEqual({ of: "trials", tried: lists[i] });
      history = back?.history ?? history;
    }
    expect(undone(history)).toBeUndefined();
    for (let i = 1; i < lists.length; i++) {
      const on = redone(history);
      expect(on?.restored).toEqual({ of: "trials", tried: lists[i] });
      history = on?.history ?? history;
    }
    expect(redone(history)).toBeUndefined();
  });

  it("takes a drag as one step, but not over a correction made in between", () => {
    const one = changed(NOTHING_TRIED, set(1, "left:A1"));
    const two = changed(one, set(2, "left:A1"));
    const dragged = noted(
      noted(NO_HISTORY, set(1, "left:A1"), NOTHING_TRIED, one, 0),
      set(2, "left:A1"),
      one,
      two,
      20,
    );
    expect(dragged.past).toHaveLength(1);
    const between = noted(
      notedReadings(noted(NO_HISTORY, set(1, "left:A1"), NOTHING_TRIED, one, 0), [], [slip("a")]),
      set(2, "left:A1"),
      one,
      two,
      20,
    );
    expect(between.past.map(({ of }) => of)).toEqual(["trials", "readings", "trials"]);
  });

  it("has no step where no correction came of it", () => {
    expect(notedReadings(NO_HISTORY, [slip("a")], [slip("a")])).toBe(NO_HISTORY);
    expect(notedReadings(NO_HISTORY, [slip("a"), slip("b")], [slip("b")]).past).toHaveLength(1);
  });

  it("brings the bench's book back as it was, and forth", () => {
    const book = { ...EMPTY_BOOK, present: new Map([["left:A1", "girth"]]) };
    const history = notedBook(NO_HISTORY, EMPTY_BOOK, book);
    const back = undone(history);
    expect(back?.restored).toEqual({ of: "book", book: EMPTY_BOOK });
    expect(redone(back?.history ?? history)?.restored).toEqual({ of: "book", book });
    expect(notedBook(history, book, book)).toBe(history);
  });

  it("keeps the trials' steps when the readings' are dropped, taken back ones too", () => {
    const one = changed(NOTHING_TRIED, set(1, "left:A1"));
    const both = notedReadings(noted(NO_HISTORY, set(1, "left:A1"), NOTHING_TRIED, one, 0), [], [slip("a")]);
    const back = undone(both)?.history ?? both;
    for (const history of [both, back]) {
      const left = withoutReadings(history);
      expect([...left.past, ...left.future].map(({ of }) => of)).toEqual(["trials"]);
      expect(undone(left)?.restored).toEqual({ of: "trials", tried: NOTHING_TRIED });
    }
  });
});
