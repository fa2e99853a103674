import { describe, expect, it } from "vitest";
import { schoolWing } from "../../../src/demo/index.ts";
import { keyOfTarget, makeOrder, type Order, ownOrder } from "../../../src/readings/session/index.ts";
import { wingOf } from "../../plan/factory.ts";

const WING = wingOf(schoolWing().plan);
const names = (order: Order, from: number, to: number): string =>
  order.steps
    .slice(from, to)
    .map(({ target }) => `${target.id}${target.side === "left" ? "l" : "r"}`)
    .join(" ");
const ORDERS = ["rows", "sides", "pairs", "maillons"] as const;

describe("the order of reading", () => {
  it("goes row by row from the middle outwards, left and then right", () => {
    const order = makeOrder(WING, "rows");
    expect(names(order, 0, 3)).toBe("A1l A2l A3l");
    expect(names(order, 12, 15)).toBe("A13l A1r A2r");
    expect(names(order, 26, 27)).toBe("B1l");
  });

  it("goes through one whole side and then the other, the right first if so wished", () => {
    const order = makeOrder(WING, "sides", { firstSide: "right" });
    expect(new Set(order.steps.slice(0, order.steps.length / 2).map(({ target }) => target.side))).toEqual(
      new Set(["right"]),
    );
  });

  it("alternates between the sides", () => {
    expect(names(makeOrder(WING, "pairs"), 0, 4)).toBe("A1l A1r A2l A2r");
  });

  it("goes maillon by maillon, with the tip lines at the one that they hang on, and brakes by themselves", () => {
    const order = makeOrder(WING, "maillons");
    const maillonOf = new Map(WING.paths.map((path) => [path.tabKey, path.maillonId]));
    const met = order.steps.map(({ target }) => maillonOf.get(`${target.side}:${target.id}`) ?? "none");
    expect([...new Set(met)]).toEqual([...WING.maillons.map(({ id }) => id), "none"]);
    expect(met.filter((id, i) => id !== met[i - 1]).length).toBe(WING.maillons.length + 1);
  });

  it("has the brakes last, first or not at all", () => {
    expect(makeOrder(WING, "rows").steps.at(-1)?.row).toBe("brake");
    for (const name of ORDERS) {
      const first = makeOrder(WING, name, { brakes: "first" });
      expect(first.steps[0]?.row).toBe("brake");
      expect(makeOrder(WING, name, { brakes: "none" }).steps.some(({ row }) => row === "brake")).toBe(false);
    }
  });

  it("names every tab once, whichever it is", () => {
    const tabs = WING.tabs.map(({ id, side }) => keyOfTarget({ kind: "tab", id, side })).sort();
    for (const name of ORDERS)
      expect(
        makeOrder(WING, name)
          .steps.map(({ target }) => keyOfTarget(target))
          .sort(),
      ).toEqual(tabs);
  });

  it("is the same with left and right exchanged where the other side comes first", () => {
    for (const name of ORDERS) {
      const one = makeOrder(WING, name, { firstSide: "left" }).steps;
      const other = makeOrder(WING, name, { firstSide: "right" }).steps;
      const mirrored = one.map(({ target, row }) => ({
        target: { ...target, side: target.side === "left" ? "right" : "left" },
        row,
      }));
      expect(other).toEqual(mirrored);
    }
  });

  it("begins or ends with the lines that are to be read alone", () => {
    const linesAlone = [{ kind: "line", id: "CM2", side: "left" }] as const;
    const step = { target: linesAlone[0], row: "C" };
    expect(makeOrder(WING, "rows", { linesAlone }).steps[0]).toEqual(step);
    expect(makeOrder(WING, "rows", { linesAlone, linesAloneAt: "last" }).steps.at(-1)).toEqual(step);
  });

  it("may be one's own list, without what the wing doesn't have and what is named twice", () => {
    const a1 = { kind: "tab", id: "A1", side: "left" } as const;
    const { order, leftOut } = ownOrder(WING, [
      { kind: "tab", id: "D4", side: "right" },
      a1,
      { kind: "tab", id: "E1", side: "left" },
      a1,
    ]);
    expect(names(order, 0, 9)).toBe("D4r A1l");
    expect(leftOut.map(({ id }) => id)).toEqual(["E1", "A1"]);
  });
});
