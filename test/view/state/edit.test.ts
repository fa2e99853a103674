import { beforeEach, describe, expect, it } from "vitest";
import { fieldOps, valueAt } from "../../../src/plan/edit-steps.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import { gridOf } from "../../../src/view/model/edit-tables.ts";
import { createEditStore, type EditStore, planWithTyping } from "../../../src/view/state/edit.ts";
import type { Shelf } from "../../../src/view/state/keep.ts";
import { samplePlan } from "../../plan/factory.ts";

const content = new Map<string, string>();
const shelf: Shelf = {
  getItem: (key) => content.get(key) ?? null,
  setItem: (key, text) => void content.set(key, text),
  removeItem: (key) => void content.delete(key),
};
const text = JSON.stringify(samplePlan());
const LENGTH = ["sides", "mirrored", "lines", 0, "lengthMm"];

let store: EditStore;
const now = () => store.getState();
const lengthMm = () => valueAt(now().plan, LENGTH);
const setLength = (mm: unknown) => now().step(fieldOps(now().plan, LENGTH, mm));
const cell = () => {
  const found = gridOf(now().plan, "lines", "mirrored").rows[0]?.cells.find(({ at }) =>
    at.endsWith("lengthMm"),
  );
  if (found === undefined) throw new Error("no cell");
  return found;
};

beforeEach(() => {
  content.clear();
  store = createEditStore(shelf);
  now().open("school", text);
});

describe("an edit", () => {
  it("is taken back and done again step by step", () => {
    setLength(4700);
    setLength(4800);
    now().undo();
    expect(lengthMm()).toBe(4700);
    now().undo();
    expect(lengthMm()).toBe(4600);
    now().redo();
    now().redo();
    expect(lengthMm()).toBe(4800);
    now().undo();
    setLength(4750);
    expect(now().future).toEqual([]);
  });

  it("is no step as long as it is being typed, and is let go with the first undo", () => {
    now().type(cell(), "47");
    expect(lengthMm()).toBe(4600);
    expect(valueAt(planWithTyping(now()), LENGTH)).toBe(47);
    now().undo();
    expect(now().typing).toBeUndefined();
    now().type(cell(), "4700");
    now().settle();
    expect(lengthMm()).toBe(4700);
    expect(now().past).toHaveLength(1);
    now().type(cell(), "4700");
    now().settle();
    expect(now().past).toHaveLength(1);
  });

  it("goes on after a reload, with what was taken back and what was being typed", () => {
    setLength(4700);
    setLength(4800);
    now().undo();
    now().type(cell(), "4650,");
    now().keep();
    store = createEditStore(shelf);
    now().open("school", text);
    expect(lengthMm()).toBe(4650);
    now().undo();
    expect(lengthMm()).toBe(4700);
    now().undo();
    expect(lengthMm()).toBe(4600);
  });

  it("keeps what is no plan too", () => {
    setLength("46oo");
    store = createEditStore(shelf);
    now().open("school", text);
    expect(lengthMm()).toBe("46oo");
    expect(parsePlan(now().plan).ok).toBe(false);
  });

  it("is kept for each wing by itself", () => {
    setLength(4700);
    now().open("second", text);
    expect(lengthMm()).toBe(4600);
    now().open("school", text);
    expect(lengthMm()).toBe(4700);
  });

  it("stays with the version that it began from where another plan came meanwhile, until it is let go", () => {
    setLength(4700);
    const other = JSON.stringify({
      ...samplePlan(),
      risers: samplePlan().risers.map((riser) => ({ ...riser, lengthMm: 480 })),
    });
    store = createEditStore(shelf);
    now().open("school", other);
    expect(now().from).toBe(text);
    expect(lengthMm()).toBe(4700);
    now().begin("school", other);
    expect(lengthMm()).toBe(4600);
    expect(valueAt(now().plan, ["risers", 0, "lengthMm"])).toBe(480);
    expect(content.size).toBe(0);
  });

  it("leaves nothing in the browser once all was taken back for good", () => {
    setLength(4700);
    expect(content.size).toBe(1);
    now().begin("school", text);
    expect(content.size).toBe(0);
  });

  it("says where the browser refuses to keep it", () => {
    store = createEditStore({
      ...shelf,
      setItem: () => {
        throw new Error("full");
      },
    });
    now().open("school", text);
    setLength(4700);
    expect(now().kept).toBe(false);
    expect(lengthMm()).toBe(4700);
  });
});
