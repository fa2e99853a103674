/** A table on its way from a file to readings, through the store. */
import { beforeEach, describe, expect, it } from "vitest";
import { pastedCells } from "../../../src/readings/index.ts";
import { withColumn } from "../../../src/view/model/intake-draft.ts";
import { suggestedFrame } from "../../../src/view/state/core.ts";
import type { BroughtFile } from "../../../src/view/state/intake.ts";
import type { Shelf } from "../../../src/view/state/keep.ts";
import { type AppStore, createAppStore } from "../../../src/view/state/store.ts";
import type { AnalysisClient } from "../../../src/view/worker/client.ts";
import { samplePlan } from "../../plan/factory.ts";
import { standIn } from "../stand-in.ts";

const content = new Map<string, string>();
const shelf: Shelf = {
  getItem: (key) => content.get(key) ?? null,
  setItem: (key, text) => void content.set(key, text),
  removeItem: (key) => void content.delete(key),
};
const client: AnalysisClient = {
  solve: () => undefined,
  ask: (wing, check, heard) => heard.onDone(standIn(wing, check)),
  planLoops: () => undefined,
  exportAll: () => undefined,
  cancel: () => undefined,
};
const plan = { name: "plan.json", text: JSON.stringify(samplePlan()) };
const csv = (rows: string): BroughtFile => ({ name: "hall.csv", text: `tab,left,right\n${rows}` });
const frame = () => {
  const wing = now().document?.wing;
  if (wing === undefined) throw new Error("no wing");
  return { ...suggestedFrame(wing, new Date(2026, 2, 14)), tensionN: 50 };
};

let store: AppStore;
const now = () => store.getState();

beforeEach(() => {
  content.clear();
  store = createAppStore({ client, shelf });
  now().follow({ ...now().choices, wing: "school" });
  now().bring([plan]);
});

describe("a table that was taken", () => {
  it("is kept as the check that it gave, and isn't asked about when the page is opened anew", () => {
    now().bring([csv("A1,7421,7419\nA2,seven,7400")]);
    now().takeSheet(frame());
    expect(now().pendingSheet).toBeUndefined();
    const kept = JSON.parse(content.get("linewright.own") ?? "{}").readings;
    expect(kept.name).toBe("hall.check.json");
    expect(JSON.parse(kept.text)).toMatchObject({ format: "linewright-check", date: "2026-03-14" });
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...now().choices, wing: "own" });
    expect(again.getState().document?.check).toEqual(now().document?.check);
    expect(again.getState().pendingSheet).toBeUndefined();
    expect(again.getState().receipts).toEqual([]);
  });

  it("is told of with the problems of its cells, under the file's own name", () => {
    now().bring([csv("A1,7421,7419\nA2,seven,7400")]);
    now().takeSheet(frame());
    const [receipt] = now().receipts;
    expect(receipt).toMatchObject({ file: "hall.csv", outcome: "taken in part", text: "3 readings taken." });
    expect(receipt?.problems.some(({ message }) => message.includes("seven"))).toBe(true);
  });

  it("comes after the work where that was said", () => {
    now().bring([csv("A1,7421,7419")]);
    now().takeSheet(frame());
    now().bring([csv("A1,7425,7424")], "after");
    now().takeSheet({ ...frame(), date: "2026-03-20" });
    expect(now().document?.check?.date).toBe("2026-03-14");
    expect(now().document?.after?.date).toBe("2026-03-20");
  });
});

describe("a table that waits", () => {
  it("stays as long as no reading can be taken from it, and the wing stays as it was", () => {
    const before = now().document;
    now().bring([csv("A1,far,off")]);
    now().takeSheet(frame());
    expect(now().pendingSheet?.name).toBe("hall.csv");
    expect(now().document).toBe(before);
    now().dropSheet();
    expect(now().pendingSheet).toBeUndefined();
    expect(now().document).toBe(before);
  });

  it("is read as was said by hand", () => {
    const table = pastedCells("tab\tfirst\tright\nA1\t7421\t7419");
    const pasted: BroughtFile = { name: "pasted", text: "", tables: [table] };
    now().bring([pasted]);
    const draft = now().pendingSheet;
    if (draft === undefined) throw new Error("nothing waits");
    store.setState({
      pendingSheet: withColumn(draft, 0, 1, { role: "readings", row: undefined, side: "left" }),
    });
    now().takeSheet(frame());
    expect(now().document?.check?.readings).toHaveLength(2);
  });

  it("gives way to another one only with a word about it", () => {
    now().bring([csv("A1,7421,7419"), { ...csv("A1,7400,7401"), name: "other.csv" }]);
    expect(now().pendingSheet?.name).toBe("other.csv");
    expect(now().receipts[0]).toMatchObject({ file: "hall.csv", outcome: "not taken" });
    expect(now().receipts[0]?.text).toContain("other.csv");
  });
});

describe("readings kept as a sheet with its frame, as was done before", () => {
  it("still open", () => {
    const old = {
      plan,
      readings: { name: "old.csv", text: "tab,left,right\nA1,7421,7419", frame: frame() },
    };
    content.set("linewright.own", JSON.stringify(old));
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...now().choices, wing: "own" });
    expect(again.getState().document?.check?.readings).toHaveLength(2);
    expect(again.getState().document?.check?.date).toBe("2026-03-14");
  });
});
