import { beforeEach, describe, expect, it } from "vitest";
import { type States, type StatesQuestion, statesAtTrim } from "../../../src/diagnosis/states.ts";
import type { Check } from "../../../src/readings/index.ts";
import { suggestedFrame } from "../../../src/view/state/core.ts";
import type { Shelf } from "../../../src/view/state/keep.ts";
import { type AppStore, createAppStore } from "../../../src/view/state/store.ts";
import type {
  AnalysisClient,
  AnalysisListener,
  PlansListener,
  StatesListener,
} from "../../../src/view/worker/client.ts";
import type { LoopQuestion } from "../../../src/view/worker/messages.ts";
import { chosenChanges, type LoopPlans } from "../../../src/workshop/index.ts";
import { samplePlan } from "../../plan/factory.ts";
import { standIn } from "../stand-in.ts";

const content = new Map<string, string>();
const shelf: Shelf = {
  getItem: (key) => content.get(key) ?? null,
  setItem: (key, text) => void content.set(key, text),
  removeItem: (key) => void content.delete(key),
};
let listener: AnalysisListener | undefined;
let asked = 0;
let clock = 0;
let questions: StatesQuestion[] = [];
let answer: StatesListener | undefined;
let planned: LoopQuestion[] = [];
let plansHeard: PlansListener | undefined;
let askedAfter: Check | undefined;
const client: AnalysisClient = {
  solve: (question, heard) => {
    questions.push(question);
    answer = heard;
  },
  ask: (wing, check, heard, options) => {
    asked += 1;
    askedAfter = options?.after;
    listener = heard;
    heard.onDone(standIn(wing, check));
  },
  planLoops: (question, heard) => {
    planned.push(question);
    plansHeard = heard;
  },
  exportAll: () => undefined,
  cancel: () => undefined,
};

const plan = { name: "plan.json", text: JSON.stringify(samplePlan()) };
const sheet = (rows: string) => ({ name: "sheet.csv", text: `tab,left,right\n${rows}` });

let store: AppStore;
const now = () => store.getState();
const receipt = () => now().receipts[0];

function takeSheet(rows: string): void {
  now().bring([sheet(rows)]);
  const wing = now().document?.wing;
  if (wing === undefined) throw new Error("no wing");
  now().takeSheet({ ...suggestedFrame(wing, new Date(2026, 2, 14)), tensionN: 50 });
}

beforeEach(() => {
  content.clear();
  asked = 0;
  questions = [];
  planned = [];
  answer = undefined;
  clock = 0;
  store = createAppStore({ client, shelf, nowMs: () => clock });
  now().follow(now().choices);
});

describe("the wing on the screen", () => {
  it("is the built-in school wing with its readings at first", () => {
    expect(now().document?.source).toBe("school");
    expect(now().document?.check?.readings.length).toBeGreaterThan(0);
    expect(now().work.state).toBe("ready");
  });

  it("is a plan that was brought, and waits for readings", () => {
    now().bring([plan]);
    expect(now().document?.source).toBe("own");
    expect(now().document?.check).toBeUndefined();
    expect(now().choices.wing).toBe("own");
    expect(receipt()?.outcome).toBe("taken");
  });

  it("stays where a plan can't be read, and the problems say what to do", () => {
    now().bring([plan]);
    const before = now().document;
    const times = asked;
    now().bring([{ name: "bad.json", text: '{"format": "linewright-plan", "version": 1}' }]);
    expect(now().document).toBe(before);
    expect(asked).toBe(times);
    expect(receipt()?.outcome).toBe("not taken");
    expect(receipt()?.problems.length).toBeGreaterThan(0);
    expect(receipt()?.problems.every((problem) => problem.remedy !== "")).toBe(true);
  });

  it("keeps readings that were brought when its mended plan comes again", () => {
    now().bring([plan]);
    takeSheet("A1,7421,7419");
    now().bring([plan]);
    expect(now().document?.check?.readings).toHaveLength(2);
  });

  it("comes back after a reload, with the readings", () => {
    now().bring([plan]);
    takeSheet("A1,7421,7419");
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...now().choices, wing: "own" });
    expect(again.getState().document?.wing.name).toBe(now().document?.wing.name);
    expect(again.getState().document?.check).toEqual(now().document?.check);
  });

  it("is the built-in one where an address asks for an own wing that isn't kept", () => {
    const fresh = createAppStore({ client, shelf: undefined });
    fresh.getState().follow({ ...now().choices, wing: "own" });
    expect(fresh.getState().document?.source).toBe("school");
    expect(fresh.getState().choices.wing).toBe("school");
  });
});

describe("readings that are brought", () => {
  it("wait for date, tension and datum where they come as a sheet", () => {
    now().bring([plan, sheet("A1,7421,7419")]);
    expect(now().pendingSheet?.name).toBe("sheet.csv");
    expect(now().document?.check).toBeUndefined();
    now().dropSheet();
    expect(now().pendingSheet).toBeUndefined();
  });

  it("are taken row by row: good rows stay, the bad one is named by its number", () => {
    now().bring([plan]);
    takeSheet("A1,7421,7419\nA2,seven,7400\nA3,7380,7381");
    expect(now().document?.check?.readings).toHaveLength(5);
    expect(receipt()?.outcome).toBe("taken in part");
    expect(receipt()?.problems.some(({ where }) => /\b3\b/.test(where))).toBe(true);
  });

  it("go with the plan that comes along, whatever the order of the files", () => {
    const wing = samplePlan().wing.name;
    const check = {
      format: "linewright-check",
      version: 1,
      wing,
      date: "2026-03-14",
      tensionN: 50,
      from: samplePlan().reference.from,
      readings: [{ tab: "A1", side: "left", mm: 7421 }],
    };
    now().bring([{ name: "check.json", text: JSON.stringify(check) }, plan]);
    expect(now().document?.wing.name).toBe(wing);
    expect(now().document?.check?.readings).toHaveLength(1);
  });

  it("leave the present ones in place where none can be taken", () => {
    now().bring([plan]);
    takeSheet("A1,7421,7419");
    const before = now().document;
    now().bring([{ name: "c.json", text: '{"format": "linewright-check", "version": 1}' }]);
    expect(now().document).toBe(before);
    expect(receipt()?.outcome).toBe("not taken");
  });
});

describe("choices", () => {
  it("never touch the wing or its readings", () => {
    const before = now().document;
    now().choose({ shown: "both", exaggeration: 30, picked: { kind: "row", row: "A" } });
    now().hover("left:A1");
    now().look("side");
    expect(now().document).toBe(before);
    expect(asked).toBe(1);
  });

  it("count a request each time the same direction is asked for", () => {
    now().look("side");
    const first = now().directionRequest;
    now().look("side");
    expect(now().directionRequest).toBe(first + 1);
  });

  it("let go of what was picked when another wing comes", () => {
    now().choose({ picked: { kind: "line", key: "left:A1" } });
    now().openWing("second");
    expect(now().choices.picked).toEqual({ kind: "none" });
    expect(now().choices.wing).toBe("second");
  });
});

/** The states as they were, with something tried in them. */
function solved(): States {
  const { work } = now();
  if (work.state !== "ready") throw new Error("no analysis");
  const states = statesAtTrim(work.analysis);
  return { ...states, tried: states.measured, triedRibs: [] };
}
const line = () => now().document?.wing.lines[0]?.key ?? "";
const other = () => now().document?.wing.lines[1]?.key ?? "";
const tried = () => Object.fromEntries(now().choices.trials);

describe("a rigging", () => {
  it("is asked for at every change, and shown as soon as its states are there", () => {
    now().rig({ percent: { trimmers: 50 } });
    expect(now().solving).toBe(true);
    expect([...(questions.at(-1)?.condition.strapChangesM ?? [])].length).toBeGreaterThan(0);
    const states = solved();
    answer?.onStates(states, 4);
    expect(now().solving).toBe(false);
    expect(now().live?.states).toBe(states);
    expect(now().live?.tookMs).toBe(4);
  });

  it("still counts as being solved while a later one is waiting", () => {
    now().rig({ percent: { trimmers: 50 } });
    const first = answer;
    now().rig({ percent: { trimmers: 60 } });
    first?.onStates(solved(), 4);
    expect(now().solving).toBe(true);
    answer?.onStates(solved(), 4);
    expect(now().solving).toBe(false);
  });

  it("that can't be solved says why and leaves the states before", () => {
    const before = now().live;
    now().rig({ brakeMm: { left: 300, right: 300 } });
    answer?.onUnsolved("a brake main would have no length");
    expect(now().unsolved).toContain("no length");
    expect(now().live).toBe(before);
    expect(now().solving).toBe(false);
  });
});

describe("lengths that are tried", () => {
  it("are shown in their own state, which goes with the last of them", () => {
    now().tryOut({ kind: "set", lineKeys: [line()], mm: -5 });
    expect(now().choices.shown).toBe("tried");
    expect(questions.at(-1)?.trial.get(line())).toBeCloseTo(-0.005, 12);
    answer?.onStates(solved(), 3);
    expect(now().live?.asTried).toBeDefined();
    now().tryOut({ kind: "clear" });
    expect(now().choices.shown).toBe("measured");
    expect(questions.at(-1)?.trial.size).toBe(0);
  });

  it("are taken back and done again one change at a time; a drag is one change", () => {
    for (const mm of [-1, -2, -3]) {
      clock += 20;
      now().tryOut({ kind: "set", lineKeys: [line()], mm });
    }
    clock += 5000;
    now().tryOut({ kind: "set", lineKeys: [line(), other()], mm: 4 });
    expect(tried()).toEqual({ [line()]: 4, [other()]: 4 });
    now().undo();
    expect(tried()).toEqual({ [line()]: -3 });
    now().undo();
    expect(tried()).toEqual({});
    expect(now().choices.shown).toBe("measured");
    now().undo();
    now().redo();
    now().redo();
    now().redo();
    expect(tried()).toEqual({ [line()]: 4, [other()]: 4 });
    now().undo();
    now().tryOut({ kind: "remove", lineKeys: [line()] });
    now().redo();
    expect(tried()).toEqual({});
  });

  it("stay when the browser goes back, but give way to an address that was typed", () => {
    const earlier = now().choices;
    now().tryOut({ kind: "set", lineKeys: [line()], mm: -5 });
    now().follow(earlier, true);
    expect(tried()).toEqual({ [line()]: -5 });
    now().follow({ ...earlier, trials: new Map([[other(), 7]]) });
    expect(tried()).toEqual({ [other()]: 7 });
    expect(questions.at(-1)?.trial.get(other())).toBeCloseTo(0.007, 12);
  });

  it("come from an address, and belong to its wing only", () => {
    const fresh = createAppStore({ client, shelf });
    fresh.getState().follow({
      ...now().choices,
      trials: new Map([
        [line(), -9],
        ["left:nowhere", 3],
      ]),
    });
    expect([...(questions.at(-1)?.trial ?? [])]).toEqual([[line(), -0.009]]);
    fresh.getState().openWing("second");
    expect(fresh.getState().choices.trials.size).toBe(0);
  });
});

describe("a calculation that fails", () => {
  it("is said, and can be tried again", () => {
    listener?.onFailed("out of memory");
    expect(now().work).toEqual({ state: "failed", message: "out of memory" });
    now().again();
    expect(now().work.state).toBe("ready");
  });
});

describe("loops that are tried", () => {
  const line = () => {
    const found = now().document?.loops.find((one) => one.present > 0);
    if (found === undefined) throw new Error("no line with a loop");
    return found;
  };

  it("are solved as the lengths that they make, and undone like other trials", () => {
    const { lineKey } = line();
    now().tryOut({ kind: "tie", lineKeys: [lineKey], kindId: "plain" });
    expect(now().choices.shown).toBe("tried");
    const [change] = chosenChanges(now().document?.loops ?? [], now().choices.loops);
    expect(change?.changeM).toBeGreaterThan(0);
    expect(questions.at(-1)?.trial.get(lineKey)).toBeCloseTo(change?.changeM ?? 0, 12);
    now().undo();
    expect(now().choices.loops.size).toBe(0);
    expect(now().choices.shown).toBe("measured");
    expect(questions.at(-1)?.trial.size).toBe(0);
    now().redo();
    expect(now().choices.loops.get(lineKey)).toBe("plain");
  });

  it("follow the book: another present loop is another length, and other plans are asked for", () => {
    const { lineKey } = line();
    expect(planned).toHaveLength(1);
    plansHeard?.onPlans({ best: "first" } as unknown as LoopPlans);
    expect(now().loopPlans).toEqual({ best: "first" });
    now().tryOut({ kind: "tie", lineKeys: [lineKey], kindId: "plain" });
    const specified = questions.at(-1)?.trial.get(lineKey) ?? 0;
    const before = now().document?.book;
    now().keepBook((book) => ({
      ...book,
      present: new Map([[lineKey, "two-turns"]]),
      presentTakeUpM: new Map(),
    }));
    expect(planned).toHaveLength(2);
    expect(planned[1]?.loops.find((one) => one.lineKey === lineKey)?.presentRecorded).toBe(true);
    expect(questions.at(-1)?.trial.get(lineKey)).not.toBeCloseTo(specified, 6);
    now().undo();
    expect(now().document?.book).toEqual(before);
    expect(planned).toHaveLength(3);
    expect(questions.at(-1)?.trial.get(lineKey)).toBeCloseTo(specified, 12);
    plansHeard?.onUnplanned("broke");
    expect([now().loopPlans, now().unplanned]).toEqual([undefined, "broke"]);
  });

  it("and the book are kept with the own wing, and not written over it by an example", () => {
    now().keepBook((book) => ({ ...book, present: new Map([[line().lineKey, "plain"]]) }));
    expect(content.size).toBe(0);
    now().bring([plan]);
    takeSheet("A1,7421,7420\n");
    now().keepBook((book) => ({ ...book, present: new Map([["left:A1", "plain"]]) }));
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...again.getState().choices, wing: "own" });
    expect([...(again.getState().document?.book.present ?? [])]).toEqual([["left:A1", "plain"]]);
  });
});

describe("readings after the work", () => {
  const check = (date: string, mm: number) => ({
    name: `${date}.json`,
    text: JSON.stringify({
      format: "linewright-check",
      version: 1,
      date,
      tensionN: 50,
      from: "riser",
      readings: [
        { tab: "A1", side: "left", mm },
        { tab: "A1", side: "right", mm },
      ],
    }),
  });

  beforeEach(() => {
    now().bring([plan, check("2026-03-01", 7421)]);
    now().bring([check("2026-03-08", 7425)], "after");
  });

  it("stand beside those before, are analysed with them and kept", () => {
    const { document, choices } = now();
    expect([document?.check?.date, document?.after?.date]).toEqual(["2026-03-01", "2026-03-08"]);
    expect(askedAfter?.date).toBe("2026-03-08");
    expect([choices.shown, choices.pane]).toEqual(["after", "after"]);
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...again.getState().choices, wing: "own" });
    expect(again.getState().document?.after?.date).toBe("2026-03-08");
  });

  it("are one more state once they are analysed", () => {
    const { document } = now();
    if (document === undefined) throw new Error("no wing");
    listener?.onAfter(standIn(document.wing, document.after));
    expect(now().afterAnalysis?.check?.date).toBe("2026-03-08");
    expect(now().live?.after?.analysis.check?.date).toBe("2026-03-08");
  });

  it("become those to begin from, with the book as it is then", () => {
    const book = now().document?.book;
    if (book === undefined) throw new Error("no book");
    now().tryOut({ kind: "set", lineKeys: ["left:A1"], mm: 4 });
    now().goOnFromAfter({ ...book, present: new Map([["left:A1", "plain"]]) });
    const { document, choices } = now();
    expect([document?.check?.date, document?.after]).toEqual(["2026-03-08", undefined]);
    expect(document?.book.present.get("left:A1")).toBe("plain");
    expect([choices.trials.size, choices.shown]).toEqual([0, "measured"]);
  });

  it("are let go of, and stay where readings of before come that are older than they", () => {
    now().bring([check("2026-03-02", 7422)]);
    expect([now().document?.check?.date, now().document?.after?.date]).toEqual(["2026-03-02", "2026-03-08"]);
    now().bring([check("2026-04-01", 7422)]);
    expect([now().document?.check?.date, now().document?.after]).toEqual(["2026-04-01", undefined]);
    now().bring([check("2026-04-08", 7425)], "after");
    now().dropAfter();
    expect(now().document?.after).toBeUndefined();
    expect(askedAfter).toBeUndefined();
  });
});
