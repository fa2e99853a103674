import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import { findMistakes } from "../../../src/diagnosis/mistakes/index.ts";
import type { Analysis } from "../../../src/diagnosis/model.ts";
import { parsePlan } from "../../../src/plan/index.ts";
import type { Check } from "../../../src/readings/index.ts";
import { parseCheck } from "../../../src/readings/index.ts";
import { analysisColouredBy } from "../../../src/view/model/judging-colour.ts";
import { pickedLines, pickedText } from "../../../src/view/model/picked.ts";
import { lineTag } from "../../../src/view/stage/words.ts";
import {
  AS_USUAL,
  corrected,
  isAsUsual,
  type Judging,
  judgingChoices,
  judgingOf,
  keepJudging,
  keptJudging,
} from "../../../src/view/state/judging.ts";
import type { Shelf } from "../../../src/view/state/keep.ts";
import { createAppStore } from "../../../src/view/state/store.ts";
import type { AnalysisListener } from "../../../src/view/worker/client.ts";
import type { JudgingOptions } from "../../../src/view/worker/messages.ts";
import { checkOf, sampleWing, standIn } from "../stand-in.ts";

const plan = parsePlan(DEMOS.second.plan);
if (!plan.ok) throw new Error("The demo plan is faulty.");
const wing = plan.value;
const read = parseCheck(DEMOS.second.check, wing);
if (!read.ok) throw new Error("The demo check is faulty.");
const sound = read.value;

/** A reading typed 100 mm too long. */
function slipped(check: Check, id: string): Check {
  return {
    ...check,
    readings: check.readings.map((reading) =>
      reading.target.kind === "tab" && reading.target.id === id && reading.target.side === "right"
        ? { ...reading, valuesM: reading.valuesM.map((value) => value + 0.1) }
        : reading,
    ),
  };
}

function memory(): Shelf & { readonly content: Map<string, string> } {
  const content = new Map<string, string>();
  return {
    content,
    getItem: (key) => content.get(key) ?? null,
    setItem: (key, text) => void content.set(key, text),
    removeItem: (key) => void content.delete(key),
  };
}

const first = (check: Check) => {
  const suspicion = findMistakes(wing, check).find((each) => each.correction !== undefined);
  if (suspicion === undefined) throw new Error("Nothing was suspected.");
  return suspicion;
};

describe("how readings are judged", () => {
  it("holds only what differs from the plan and the usual, and gives the whole back", () => {
    const usual = judgingChoices(wing, sound, AS_USUAL);
    expect(judgingOf(wing, sound, usual)).toEqual({
      rule: AS_USUAL.rule,
      tolerances: {},
      uncertainty: {},
      uniform: "keep",
    });
    const stricter = { ...usual, tolerances: { ...usual.tolerances, pathM: 0.004 } };
    const judging = { ...AS_USUAL, ...judgingOf(wing, sound, stricter) };
    expect(judging.tolerances.pathM).toBe(0.004);
    expect(Object.keys(judging.tolerances)).toHaveLength(2);
    expect(judgingChoices(wing, sound, judging).tolerances.leftRightM).toBe(wing.tolerances.leftRightM);
    expect(judgingChoices(wing, sound, judging).tolerances.source).not.toBe(wing.tolerances.source);
    expect([isAsUsual(AS_USUAL), isAsUsual(judging)]).toEqual([true, false]);
  });

  it("is kept with an uncertainty without end, which no JSON can hold", () => {
    const shelf = memory();
    const choices = judgingChoices(wing, sound, AS_USUAL);
    const uncertainty = { ...choices.uncertainty, zeroM: 0.007 };
    const judging = { ...AS_USUAL, ...judgingOf(wing, sound, { ...choices, uncertainty }) };
    expect(keepJudging(shelf, judging)).toBe(true);
    expect(judgingChoices(wing, sound, keptJudging(shelf)).uncertainty).toEqual(uncertainty);
  });

  it("is as usual where what was kept can't be read, or nothing can be kept", () => {
    const shelf = memory();
    for (const text of [
      "{",
      "null",
      "[]",
      '{"rule": 3}',
      '{"rule": {"kind": "guard band"}, "again": "all"}',
    ]) {
      shelf.content.set("linewright.own.judging", text);
      expect(keptJudging(shelf)).toEqual(AS_USUAL);
    }
    expect(keepJudging(undefined, AS_USUAL)).toBe(false);
  });
});

describe("corrections", () => {
  it("are made one after the other and taken back in any order; the check as brought stays as it is", () => {
    const brought = slipped(slipped(sound, "C5"), "A3");
    const untouched = structuredClone(brought);
    const one = first(brought);
    const two = first(corrected(brought, [one]).check);
    const both = corrected(brought, [one, two]);
    expect(both.applied).toHaveLength(2);
    expect(both.check).toEqual(sound);
    expect(corrected(brought, [two]).check).not.toEqual(brought);
    expect(corrected(brought, []).check).toBe(brought);
    expect(brought).toEqual(untouched);
  });

  it("that no longer fit the readings are left out", () => {
    const brought = slipped(sound, "C5");
    expect(corrected(sound, [first(brought)])).toEqual({ check: sound, applied: [] });
  });
});

describe("the store", () => {
  const asked: { readonly check: Check | undefined; readonly options: JudgingOptions | undefined }[] = [];
  let heard: AnalysisListener | undefined;
  const client = {
    ask: (
      of: Analysis["wing"],
      check: Check | undefined,
      listener: AnalysisListener,
      options?: JudgingOptions,
    ) => {
      asked.push({ check, options });
      heard = listener;
      listener.onDone(standIn(of, check));
    },
    solve: () => undefined,
    planLoops: () => undefined,
    exportAll: () => undefined,
    cancel: () => undefined,
  };
  const files = (shelf: Shelf) => {
    const store = createAppStore({ client, shelf });
    store.getState().follow(store.getState().choices);
    const check = structuredClone(DEMOS.second.check) as {
      readings: { tab?: string; side: string; mm: number }[];
    };
    for (const reading of check.readings)
      if (reading.tab === "C5" && reading.side === "right") reading.mm += 100;
    store.getState().bring([
      { name: "a.json", text: JSON.stringify(DEMOS.second.plan) },
      { name: "b.json", text: JSON.stringify(check) },
    ]);
    return store;
  };
  const judgingOfStore = (store: ReturnType<typeof files>): Judging => {
    const judging = store.getState().document?.judging;
    if (judging === undefined) throw new Error("no document");
    return judging;
  };

  it("analyses anew with a correction, without it once it is taken back, and keeps it over a reload", () => {
    const shelf = memory();
    const store = files(shelf);
    const brought = store.getState().document?.check as Check;
    const suspicion = first(brought);
    store.getState().correct(suspicion);
    expect(asked.at(-1)?.check).toEqual(sound);
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...store.getState().choices, wing: "own" });
    expect(again.getState().document?.check).toEqual(sound);
    store.getState().takeBack(suspicion.id);
    expect(asked.at(-1)?.check).toEqual(brought);
    expect(judgingOfStore(store).applied).toEqual([]);
  });

  it("judges anew by another limit, but not because a doubt is set aside or marked", () => {
    const store = files(memory());
    const times = asked.length;
    store.getState().judge({ dismissed: ["x"], again: ["y"] });
    expect(asked).toHaveLength(times);
    store.getState().judge({ tolerances: { pathM: 0.003 }, uniform: "remove" });
    expect(asked).toHaveLength(times + 1);
    expect(asked.at(-1)?.options?.removeUniform).toBe(true);
    expect(store.getState().document?.wing.tolerances.pathM).toBe(0.003);
    expect(store.getState().document?.plan.tolerances.pathM).toBe(wing.tolerances.pathM);
  });

  it("forgets doubts and corrections when other readings come", () => {
    const store = files(memory());
    store.getState().correct(first(store.getState().document?.check as Check));
    store.getState().judge({ dismissed: ["x"], uniform: "remove" });
    store.getState().bring([{ name: "c.json", text: JSON.stringify(DEMOS.second.check) }]);
    expect(judgingOfStore(store)).toEqual({ ...AS_USUAL, uniform: "remove" });
  });

  it("takes back and does again corrections and trials in the order in which they were done", () => {
    const store = files(memory());
    const { undo, redo, tryOut, correct } = store.getState();
    const brought = store.getState().document?.check as Check;
    const line = store.getState().document?.wing.lines[0]?.key as string;
    const suspicion = first(brought);
    const at = () => ({
      mm: store.getState().choices.trials.get(line) ?? 0,
      applied: judgingOfStore(store).applied.map(({ id }) => id),
    });
    tryOut({ kind: "set", lineKeys: [line], mm: 4 });
    correct(suspicion);
    tryOut({ kind: "set", lineKeys: [line], mm: 7 });
    store.getState().takeBack(suspicion.id);
    const states = [
      { mm: 0, applied: [] },
      { mm: 4, applied: [] },
      { mm: 4, applied: [suspicion.id] },
      { mm: 7, applied: [suspicion.id] },
      { mm: 7, applied: [] },
    ];
    expect(at()).toEqual(states[4]);
    for (const state of states.slice(0, 4).reverse()) {
      undo();
      expect(at()).toEqual(state);
    }
    undo();
    expect(asked.at(-1)?.check).toEqual(brought);
    for (const state of states.slice(1)) {
      redo();
      expect(at()).toEqual(state);
    }
    expect(asked.at(-1)?.check).toEqual(brought);
    undo();
    undo();
    expect(asked.at(-1)?.check).toEqual(sound);
    expect(store.getState().document?.check).toEqual(sound);
  });

  it("keeps a correction that was done again over a reload", () => {
    const shelf = memory();
    const store = files(shelf);
    store.getState().correct(first(store.getState().document?.check as Check));
    store.getState().undo();
    store.getState().redo();
    const again = createAppStore({ client, shelf });
    again.getState().follow({ ...store.getState().choices, wing: "own" });
    expect(again.getState().document?.check).toEqual(sound);
  });

  it("takes no correction back that was about readings before those brought since; trials stay", () => {
    const store = files(memory());
    const line = store.getState().document?.wing.lines[0]?.key as string;
    store.getState().tryOut({ kind: "set", lineKeys: [line], mm: 4 });
    store.getState().correct(first(store.getState().document?.check as Check));
    store.getState().bring([{ name: "c.json", text: JSON.stringify(DEMOS.second.check) }]);
    const present = store.getState().document;
    store.getState().undo();
    expect(store.getState().choices.trials.size).toBe(0);
    expect(store.getState().document).toBe(present);
    store.getState().undo();
    expect(store.getState().document).toBe(present);
  });

  it("lets a judgement go when the readings are analysed anew", () => {
    const store = files(memory());
    heard?.onJudgement({ mistakes: [] } as unknown as Parameters<AnalysisListener["onJudgement"]>[0]);
    expect(store.getState().judgement).toBeDefined();
    store.getState().judge({ uniform: "remove" });
    expect(store.getState().judgement).toBeUndefined();
  });
});

describe("the colour of a line", () => {
  const small = sampleWing();
  const analysis = standIn(
    small,
    checkOf(small, (key) => (key.startsWith("left") ? -8 : undefined)),
  );
  const own: Analysis = {
    ...analysis,
    lines: analysis.lines.map((line) => ({ ...line, attributedM: -0.002 })),
  };

  it("is that of its paths' mean, or of the change put down to it alone where a reading runs through it", () => {
    expect(analysisColouredBy(own, "path")).toBe(own);
    const alone = analysisColouredBy(own, "line");
    for (const line of alone.lines)
      expect(line.deviationM).toBe(line.basis === "not measured" ? undefined : -0.002);
    expect(alone.lines.some((line) => line.deviationM === undefined)).toBe(true);
    expect(own.lines.some((line) => Math.abs((line.deviationM ?? 0) + 0.008) < 1e-9)).toBe(true);
  });

  it("stays as it is without readings", () => {
    const unread = standIn(small, undefined);
    expect(analysisColouredBy(unread, "line")).toBe(unread);
  });

  it("is said on the stage", () => {
    const key = own.lines.find((line) => line.deviationM !== undefined)?.lineKey ?? "";
    expect(lineTag(analysisColouredBy(own, "line"), key, "line")).toMatch(/put down to it alone$/);
  });

  it("goes with lines picked out by a decision; names that the wing lacks are left out", () => {
    const keys = [small.lines[0]?.key ?? "", "left:nowhere"];
    const picked = { kind: "lines", by: "decision x", keys } as const;
    expect([...pickedLines(picked, analysis)]).toEqual(keys.slice(0, 1));
    expect(pickedText(picked, analysis)).toBe("1 line");
  });
});
