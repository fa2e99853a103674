import { describe, expect, it } from "vitest";
import { createBuildStore } from "../../../src/view/state/build.ts";
import type { Shelf } from "../../../src/view/state/keep.ts";

function shelfOf(): Shelf & { readonly all: Map<string, string> } {
  const all = new Map<string, string>();
  return {
    all,
    getItem: (key) => all.get(key) ?? null,
    setItem: (key, text) => void all.set(key, text),
    removeItem: (key) => void all.delete(key),
  };
}

describe("the draft that is being typed", () => {
  it("is there again after a reload, with the table that waits", () => {
    const shelf = shelfOf();
    const store = createBuildStore(shelf);
    store.getState().type("A: 2+", 5);
    store.getState().setTable({ name: "t", cells: [["A"]], settings: { of: "lower", unit: "cm" } });
    const again = createBuildStore(shelf).getState();
    expect(again.text).toBe("A: 2+");
    expect(again.table).toEqual({ name: "t", cells: [["A"]], settings: { of: "lower", unit: "cm" } });
    shelf.all.set("linewright.draft", '{"text":3}');
    expect(createBuildStore(shelf).getState().text).toBe("");
  });

  it("goes back step by step over keys and buttons alike", () => {
    let now = 0;
    const store = createBuildStore(undefined, () => now);
    const { type, write, undo, redo } = store.getState();
    type("A", 1);
    now += 100;
    type("A:", 2);
    now += 5000;
    type("A: 2", 4);
    write("A: 2\nB: 2", "row B");
    write("A: 2\nB: 3", "row B");
    undo();
    expect(store.getState().text).toBe("A: 2");
    undo();
    expect(store.getState().text).toBe("A:");
    undo();
    expect(store.getState().text).toBe("");
    undo();
    redo();
    redo();
    expect(store.getState().text).toBe("A: 2");
    type("A: 3", 4);
    redo();
    expect(store.getState().text).toBe("A: 3");
  });

  it("says when the browser refuses to keep it", () => {
    const refusing: Shelf = {
      getItem: () => null,
      setItem: () => {
        throw new Error("full");
      },
      removeItem: () => undefined,
    };
    const store = createBuildStore(refusing);
    store.getState().type("A: 2", 4);
    expect(store.getState().kept).toBe(false);
    expect(store.getState().text).toBe("A: 2");
  });
});
