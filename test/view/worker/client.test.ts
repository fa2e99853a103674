import { describe, expect, it } from "vitest";
import type { Analysis } from "../../../src/diagnosis/model.ts";
import type { States, StatesQuestion } from "../../../src/diagnosis/states.ts";
import { AT_TRIM } from "../../../src/geometry/condition.ts";
import {
  type AnalysisListener,
  analysisClient,
  type Mailbox,
  type StatesListener,
} from "../../../src/view/worker/client.ts";
import type { WorkerReply, WorkerRequest } from "../../../src/view/worker/messages.ts";
import { sampleWing, standIn } from "../stand-in.ts";

const wing = sampleWing();
const analysis = standIn(wing, undefined);

interface FakeMailbox extends Mailbox {
  readonly got: WorkerRequest[];
  ended: boolean;
  reply(reply: WorkerReply): void;
}

function fakes() {
  const opened: FakeMailbox[] = [];
  const client = analysisClient(() => {
    const box: FakeMailbox = {
      got: [],
      ended: false,
      onmessage: null,
      onerror: null,
      postMessage: (message: WorkerRequest) => void box.got.push(message),
      terminate: () => {
        box.ended = true;
      },
      reply: (reply) => box.onmessage?.({ data: reply } as MessageEvent<WorkerReply>),
    };
    opened.push(box);
    return box;
  });
  return { opened, client };
}

function listener() {
  const heard: (string | Analysis)[] = [];
  const listen: AnalysisListener = {
    onProgress: (text) => void heard.push(text),
    onDone: (result) => void heard.push(result),
    onFailed: (message) => void heard.push(`failed: ${message}`),
    onBand: (band) => void heard.push(`band of ${band.ribs.length}`),
    onAfter: (result) => void heard.push(result),
    onJudgement: ({ nextSentence }) => void heard.push(nextSentence),
  };
  return { heard, listen };
}

const done = (request: number): WorkerReply => ({ request, kind: "done", analysis });

describe("asking the worker", () => {
  it("passes on progress and the answer, and uses the same worker for the next request", () => {
    const { opened, client } = fakes();
    const { heard, listen } = listener();
    client.ask(wing, undefined, listen);
    const request = opened[0]?.got[0]?.request ?? Number.NaN;
    opened[0]?.reply({ request, kind: "progress", text: "solving" });
    opened[0]?.reply(done(request));
    expect(heard).toEqual(["solving", analysis]);
    client.ask(wing, undefined, listen);
    expect(opened).toHaveLength(1);
  });

  it("passes on by what the readings are judged, and the judgement of the latest analysis only", () => {
    const { opened, client } = fakes();
    const { heard, listen } = listener();
    const options = { removeUniform: true };
    client.ask(wing, undefined, listen, options);
    const asked = opened[0]?.got[0];
    expect(asked).toMatchObject({ kind: "analyse", options });
    const judgement = { nextSentence: "read AL1" } as Extract<
      WorkerReply,
      { kind: "judgement" }
    >["judgement"];
    const request = asked?.request ?? Number.NaN;
    opened[0]?.reply({ request: request - 1, kind: "judgement", judgement });
    opened[0]?.reply(done(request));
    opened[0]?.reply({ request, kind: "judgement", judgement });
    expect(heard).toEqual([analysis, "read AL1"]);
  });

  it("ends a worker that is still busy when a newer request comes, and doesn't hear its late answer", () => {
    const { opened, client } = fakes();
    const first = listener();
    const second = listener();
    client.ask(wing, undefined, first.listen);
    const old = opened[0]?.got[0]?.request ?? Number.NaN;
    client.ask(wing, undefined, second.listen);
    expect(opened[0]?.ended).toBe(true);
    opened[0]?.reply(done(old));
    expect(first.heard).toEqual([]);
    expect(second.heard).toEqual([]);
    opened[1]?.reply(done(opened[1].got[0]?.request ?? Number.NaN));
    expect(second.heard).toEqual([analysis]);
  });

  it("says that it failed, and starts afresh", () => {
    const { opened, client } = fakes();
    const { heard, listen } = listener();
    client.ask(wing, undefined, listen);
    opened[0]?.onerror?.({ message: "script error" } as ErrorEvent);
    expect(heard).toEqual(["failed: script error"]);
    expect(opened[0]?.ended).toBe(true);
    client.ask(wing, undefined, listen);
    expect(opened).toHaveLength(2);
  });

  it("says that it failed where no worker can be started", () => {
    const { heard, listen } = listener();
    analysisClient(() => {
      throw new Error("workers are switched off");
    }).ask(wing, undefined, listen);
    expect(heard).toEqual(["failed: workers are switched off"]);
  });
});

describe("asking for states", () => {
  const question = (mm: number): StatesQuestion => ({
    condition: AT_TRIM,
    trial: new Map([["left:A1", mm / 1000]]),
  });
  const states = { condition: AT_TRIM } as unknown as States;

  function ready() {
    const { opened, client } = fakes();
    const analysed = listener();
    client.ask(wing, undefined, analysed.listen);
    const box = opened[0];
    if (box === undefined) throw new Error("no worker was opened");
    const request = box.got[0]?.request ?? Number.NaN;
    const solves = () => box.got.flatMap((message) => (message.kind === "solve" ? [message] : []));
    const asking = () =>
      solves().map((message) => Math.round((message.question.trial.get("left:A1") ?? 0) * 1000));
    const heard: string[] = [];
    const hear = (name: string): StatesListener => ({
      onStates: (_, tookMs) => void heard.push(`${name} after ${tookMs}`),
      onUnsolved: (message) => void heard.push(`${name}: ${message}`),
    });
    const answer = (): void => {
      const last = solves().at(-1);
      if (last !== undefined) box.reply({ request, kind: "states", turn: last.turn, states, tookMs: 5 });
    };
    return { client, box, request, asking, heard, hear, answer, solves, analysed };
  }

  it("sends one at a time; of those that come meanwhile the newest waits and the others are dropped", () => {
    const { client, box, request, asking, heard, hear, answer } = ready();
    box.reply(done(request));
    for (const mm of [1, 2, 3, 4]) client.solve(question(mm), hear(String(mm)));
    expect(asking()).toEqual([1]);
    answer();
    expect(asking()).toEqual([1, 4]);
    answer();
    expect(heard).toEqual(["1 after 5", "4 after 5"]);
    client.solve(question(5), hear("5"));
    expect(asking()).toEqual([1, 4, 5]);
  });

  it("says why one couldn't be solved, and goes on with the next", () => {
    const { client, box, request, heard, hear, solves, asking } = ready();
    box.reply(done(request));
    client.solve(question(1), hear("1"));
    client.solve(question(2), hear("2"));
    box.reply({ request, kind: "unsolved", turn: solves()[0]?.turn ?? 0, message: "no length" });
    expect(heard).toEqual(["1: no length"]);
    expect(asking()).toEqual([1, 2]);
  });

  it("has nothing to ask before the wing is analysed", () => {
    const { client, hear, asking } = ready();
    client.solve(question(1), hear("1"));
    expect(asking()).toEqual([]);
  });

  it("hears no more of the wing before once another is asked for", () => {
    const { client, box, request, heard, hear, answer } = ready();
    box.reply(done(request));
    client.solve(question(1), hear("1"));
    client.ask(wing, undefined, listener().listen);
    answer();
    expect(heard).toEqual([]);
    expect(box.ended).toBe(true);
  });

  it("passes on the band that comes after the analysis", () => {
    const { box, request, analysed } = ready();
    box.reply(done(request));
    const band = { ribs: [], halfWidthRad: [], meanRad: 0, leftRad: 0, rightRad: 0, parts: [] };
    box.reply({ request, kind: "band", band });
    expect(analysed.heard.at(-1)).toBe("band of 0");
  });
});

describe("asking for loops", () => {
  const question = { loops: [], choices: {} as never };
  const plans = { best: "best" } as never;

  it("hears the answer to the newest question only, and none once another wing is asked for", () => {
    const { opened, client } = fakes();
    const told: unknown[] = [];
    const listen = {
      onPlans: (given: unknown) => void told.push(given),
      onUnplanned: (message: string) => void told.push(message),
    };
    client.planLoops(question, listen);
    expect(opened).toHaveLength(0);
    client.ask(analysis.wing, undefined, listener().listen);
    const box = opened[0] as (typeof opened)[number];
    box.reply(done(1));
    client.planLoops(question, listen);
    client.planLoops(question, listen);
    box.reply({ request: 1, kind: "plans", turn: 1, plans: "old" as never });
    expect(told).toEqual([]);
    box.reply({ request: 1, kind: "plans", turn: 2, plans });
    expect(told).toEqual([plans]);
    client.planLoops(question, listen);
    box.reply({ request: 1, kind: "unplanned", turn: 3, message: "broke" });
    expect(told).toEqual([plans, "broke"]);
    client.planLoops(question, listen);
    client.ask(analysis.wing, undefined, listener().listen);
    box.reply({ request: 1, kind: "plans", turn: 4, plans });
    expect(told).toHaveLength(2);
  });
});

describe("asking for exports", () => {
  const question = { scale: { rangeM: 0.03, neutralM: 0, expandedM: 0 }, day: "2026-03-14" };

  it("gives the archive of the newest question, and says why one couldn’t be made", () => {
    const { opened, client } = fakes();
    const heard: string[] = [];
    const listen = {
      onExported: (name: string, bytes: Uint8Array) => heard.push(`${name}: ${bytes.length}`),
      onUnexported: (message: string) => heard.push(message),
    };
    client.exportAll(question, listen);
    expect(opened).toHaveLength(0);
    client.ask(wing, undefined, listener().listen);
    const box = opened[0];
    box?.reply({ request: 1, kind: "done", analysis });
    client.exportAll(question, listen);
    client.exportAll(question, listen);
    const asked = box?.got.filter(({ kind }) => kind === "export");
    expect(asked?.map((each) => "turn" in each && each.turn)).toEqual([1, 2]);
    box?.reply({ request: 1, kind: "exported", turn: 1, name: "old.zip", bytes: new Uint8Array(3) });
    box?.reply({ request: 1, kind: "exported", turn: 2, name: "new.zip", bytes: new Uint8Array(4) });
    box?.reply({ request: 1, kind: "unexported", turn: 2, message: "no room" });
    expect(heard).toEqual(["new.zip: 4", "no room"]);
  });
});
