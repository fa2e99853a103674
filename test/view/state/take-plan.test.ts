import { beforeEach, describe, expect, it } from "vitest";
import { totalsInStepOps } from "../../../src/plan/edit-plan.ts";
import { fieldOps, withOps } from "../../../src/plan/edit-steps.ts";
import { keptOwn, type Shelf } from "../../../src/view/state/keep.ts";
import { type AppStore, createAppStore } from "../../../src/view/state/store.ts";
import { displacedWing, homelessReadings } from "../../../src/view/state/take-plan.ts";
import type { AnalysisClient } from "../../../src/view/worker/client.ts";
import { samplePlan, wingOf } from "../../plan/factory.ts";
import { standIn } from "../stand-in.ts";

const content = new Map<string, string>();
const shelf: Shelf = {
  getItem: (key) => content.get(key) ?? null,
  setItem: (key, text) => void content.set(key, text),
  removeItem: (key) => void content.delete(key),
};
const client: AnalysisClient = {
  ask: (wing, check, heard) => heard.onDone(standIn(wing, check)),
  solve: () => undefined,
  planLoops: () => undefined,
  exportAll: () => undefined,
  cancel: () => undefined,
};

let store: AppStore;
const now = () => store.getState();
const document = () => {
  const found = now().document;
  if (found === undefined) throw new Error("no wing");
  return found;
};
/** The plan on the screen with another length of its first line, totals in step. */
const edited = (lengthMm: number): string => {
  const plan: unknown = JSON.parse(document().files.plan.text);
  const changed = withOps(plan, fieldOps(plan, ["sides", "mirrored", "lines", 0, "lengthMm"], lengthMm));
  return JSON.stringify(withOps(changed, totalsInStepOps(changed)));
};

beforeEach(() => {
  content.clear();
  store = createAppStore({ client, shelf });
  now().openWing("school");
});

describe("an edited plan that is taken", () => {
  it("makes an example the user’s own wing, with its readings, those after the work, and its book", () => {
    const before = document();
    expect(before.check?.readings.length).toBeGreaterThan(0);
    expect(now().takePlan({ name: "edited.json", text: edited(4901) })).toBe(true);
    const after = document();
    expect(after.source).toBe("own");
    expect(now().choices.wing).toBe("own");
    expect(after.wing.lines[0]?.lengthM).toBe(4.901);
    expect(after.check?.readings).toEqual(before.check?.readings);
    expect(after.after?.readings).toEqual(before.after?.readings);
    expect(after.book).toEqual(before.book);
    expect(keptOwn(shelf)?.plan.name).toBe("edited.json");
  });

  it("is there again after a reload", () => {
    now().takePlan({ name: "edited.json", text: edited(4901) });
    const readings = document().check?.readings;
    store = createAppStore({ client, shelf });
    now().openWing("own");
    expect(document().wing.lines[0]?.lengthM).toBe(4.901);
    expect(document().check?.readings).toEqual(readings);
  });

  it("keeps the line that is picked, and lets go of one that it doesn’t have", () => {
    now().choose({ picked: { kind: "line", key: "left:AL1" } });
    now().takePlan({ name: "edited.json", text: edited(4901) });
    expect(now().choices.picked).toEqual({ kind: "line", key: "left:AL1" });
    now().choose({ picked: { kind: "line", key: "left:gone" } });
    now().takePlan({ name: "edited.json", text: edited(4902) });
    expect(now().choices.picked.kind).toBe("none");
  });

  it("leaves the wing on the screen as it is where it can’t be read, and says why", () => {
    expect(now().takePlan({ name: "edited.json", text: '{"format":"linewright-plan"}' })).toBe(false);
    expect(document().source).toBe("school");
    expect(keptOwn(shelf)).toBeUndefined();
    expect(now().receipts[0]?.outcome).toBe("not taken");
  });
});

describe("before a plan is taken", () => {
  it("the own wing that an edited example takes the place of is named", () => {
    expect(displacedWing(shelf, "school")).toBeUndefined();
    now().bring([{ name: "mine.json", text: JSON.stringify(samplePlan()) }]);
    expect(displacedWing(shelf, "school")).toBe("Morning Bench");
    expect(displacedWing(shelf, "own")).toBeUndefined();
  });

  it("readings that it has no place for are named, each tab once", () => {
    const wing = wingOf(samplePlan());
    const reading = (id: string, side: "left" | "right") => ({
      target: { kind: "tab" as const, id, side },
      valuesM: [7],
      note: undefined,
    });
    const check = {
      wingName: undefined,
      date: "2026-03-14",
      tensionN: 50,
      from: "riser" as const,
      instrumentZeroM: 0,
      instrument: undefined,
      resolutionM: undefined,
      note: undefined,
      readings: [reading("A1", "left"), reading("A9", "left"), reading("A9", "right")],
    };
    expect(homelessReadings({ brought: check, after: undefined }, wing)).toEqual([
      { of: "readings", tabs: ["A9"], lines: [], count: 2 },
    ]);
  });
});
