import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { EMPTY_BOOK } from "../../src/workshop/book.ts";
import { lineLoops } from "../../src/workshop/line-loops.ts";
import {
  cardIn,
  cardOf,
  finish,
  keepCard,
  move,
  openLines,
  recordCard,
  recordOf,
  sayCardDifference,
  setLoop,
  startCard,
  tick,
  untick,
} from "../../src/workshop/maillon-card.ts";
import { wingOf } from "../plan/factory.ts";

const wing = wingOf(DEMOS.school.plan);
const loops = lineLoops(wing, EMPTY_BOOK);
const fresh = startCard(loops, "B", "left");
const recorded = recordCard(setLoop(move(fresh, "left:TL1", 0), "left:BL2", "turn"), "2026-04-02");
const closed = recorded.order.reduce((card, key) => tick(card, key), recorded);

describe("a maillon's card", () => {
  it("begins with the plan's order and the loops that the lines are taken to have", () => {
    expect(fresh.order).toEqual(["left:BL1", "left:BL2", "left:BL3", "left:TL1"]);
    expect(fresh.loops).toEqual(["plain", "plain", "plain", "plain"]);
    expect(startCard(loops, "D", "right").loops).toEqual(["two-turns", "two-turns", "two-turns"]);
  });

  it("takes the order as the person finds it, each loop moving with its line", () => {
    expect(recorded.order).toEqual(["left:TL1", "left:BL1", "left:BL2", "left:BL3"]);
    expect(recorded.loops).toEqual(["plain", "plain", "turn", "plain"]);
    expect(move(setLoop(fresh, "left:BL1", "girth"), "left:BL1", 2).loops[2]).toBe("girth");
  });

  it("stays as it was recorded, and isn't ticked before that", () => {
    expect(() => move(recorded, "left:BL1", 0)).toThrow(RangeError);
    expect(() => setLoop(recorded, "left:BL1", "turn")).toThrow(RangeError);
    expect(() => tick(fresh, "left:BL1")).toThrow(RangeError);
  });

  it("says what is still open", () => {
    const half = tick(tick(recorded, "left:TL1"), "left:BL1");
    expect(openLines(half)).toEqual(["left:BL2", "left:BL3"]);
    expect(finish(half)).toMatchObject({ complete: false, asRecorded: false, differences: [] });
    expect(openLines(untick(half, "left:TL1"))).toEqual(["left:TL1", "left:BL2", "left:BL3"]);
  });

  it("is as recorded when all went back in order with their loops", () => {
    expect(finish(closed)).toMatchObject({ complete: true, asRecorded: true, replacedLoops: [] });
  });

  it("tells a line that went back in another place", () => {
    const wrong = ["left:BL1", "left:TL1", "left:BL2", "left:BL3"].reduce(
      (card, key) => tick(card, key),
      recorded,
    );
    const { asRecorded, differences } = finish(wrong);
    expect(asRecorded).toBe(false);
    expect(differences.map((one) => sayCardDifference(wing, one))).toEqual([
      "BL1 went back in place 1; it was recorded in place 2.",
      "TL1 went back in place 2; it was recorded in place 1.",
    ]);
  });

  it("tells another loop, but not that of a replaced line", () => {
    const other = tick(closed, "left:BL3", "girth");
    expect(finish(other).differences).toEqual([
      { kind: "loop", lineKey: "left:BL3", recorded: "plain", closed: "girth" },
    ]);
    const swapped = finish(other, new Set(["left:BL3"]));
    expect(swapped.asRecorded).toBe(true);
    expect(swapped.replacedLoops).toHaveLength(1);
    expect(finish(other, new Set(["left:BL1"])).asRecorded).toBe(false);
  });

  it("comes back from the book as it was kept", () => {
    const card = tick(tick(recorded, "left:TL1"), "left:BL1", "turn");
    const book = keepCard(EMPTY_BOOK, card);
    expect(cardIn(book, "B", "left")).toEqual(card);
    expect(cardIn(book, "B", "right")).toBeUndefined();
    expect(book.present.get("left:BL1")).toBe("turn");
    expect(keepCard(book, card).maillons).toHaveLength(1);
    expect(cardOf(JSON.parse(JSON.stringify(recordOf(fresh))))).toEqual({ ...fresh, recorded: undefined });
  });

  it("claims nothing of present loops before it is recorded, and drops a take-up whose loop has changed", () => {
    expect(keepCard(EMPTY_BOOK, fresh).present.size).toBe(0);
    const known = {
      ...EMPTY_BOOK,
      present: new Map([["left:BL1", "girth"]]),
      presentTakeUpM: new Map([["left:BL1", 0.013]]),
    };
    expect(keepCard(known, recorded).presentTakeUpM.size).toBe(0);
    const same = recordCard(setLoop(fresh, "left:BL1", "girth"), "2026-04-02");
    expect(keepCard(known, same).presentTakeUpM.get("left:BL1")).toBe(0.013);
  });
});
