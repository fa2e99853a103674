/**
 * Asks the worker. A newer analysis supersedes: the old worker is ended and a fresh one started. Of questions for states
 * one is under way and the newest waits; those between are dropped.
 */
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { Judgement } from "../../diagnosis/judge.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { States, StatesQuestion } from "../../diagnosis/states.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { say, speech } from "../../words/index.ts";
import type { LoopPlans } from "../../workshop/index.ts";
import type { ExportQuestion, JudgingOptions, LoopQuestion, WorkerReply, WorkerRequest } from "./messages.ts";

export interface AnalysisListener {
  readonly onProgress: (text: string) => void;
  readonly onDone: (analysis: Analysis) => void;
  readonly onFailed: (message: string) => void;
  /** May come some time after the analysis. */
  readonly onBand: (band: Band) => void;
  /** Of the check after the work, where there is one: soon after the first. */
  readonly onAfter: (analysis: Analysis) => void;
  /** Comes after the band; only for a check with readings. */
  readonly onJudgement: (judgement: Judgement) => void;
}

export interface StatesListener {
  /** @param tookMs the solve in the worker */
  readonly onStates: (states: States, tookMs: number) => void;
  readonly onUnsolved: (message: string) => void;
}

export interface PlansListener {
  readonly onPlans: (plans: LoopPlans) => void;
  readonly onUnplanned: (message: string) => void;
}

export interface ExportListener {
  readonly onExported: (name: string, bytes: Uint8Array) => void;
  readonly onUnexported: (message: string) => void;
}

/** The part of Worker that is used here, so that a test can stand in for it. */
export type Mailbox = Pick<Worker, "postMessage" | "terminate"> & {
  onmessage: ((event: MessageEvent<WorkerReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
};

export interface AnalysisClient {
  readonly ask: (
    wing: Wing,
    check: Check | undefined,
    listener: AnalysisListener,
    options?: JudgingOptions,
  ) => void;
  /** Asks for states of the wing analysed last; before that is done, the question is dropped. */
  readonly solve: (question: StatesQuestion, listener: StatesListener) => void;
  /** Asks for the best loops for the wing analysed last; a newer question makes an older one's answer void. */
  readonly planLoops: (question: LoopQuestion, listener: PlansListener) => void;
  /** Asks for all exports of the wing analysed last, as one ZIP; a newer question makes an older one's answer void. */
  readonly exportAll: (question: ExportQuestion, listener: ExportListener) => void;
  /** Ends what is running; its listener hears no more. */
  readonly cancel: () => void;
}

interface Asked {
  readonly question: StatesQuestion;
  readonly listener: StatesListener;
}

/** @param open starts a worker */
export function analysisClient(open: () => Mailbox): AnalysisClient {
  let mailbox: Mailbox | undefined;
  let busy = false;
  let latest = 0;
  let turn = 0;
  let underWay: StatesListener | undefined;
  let waiting: Asked | undefined;
  let planTurn = 0;
  let planning: PlansListener | undefined;
  let exportTurn = 0;
  let exporting: ExportListener | undefined;

  const cancel = (): void => {
    latest += 1;
    planning = undefined;
    exporting = undefined;
    const running = busy || underWay !== undefined;
    underWay = undefined;
    waiting = undefined;
    if (running) {
      mailbox?.terminate();
      mailbox = undefined;
      busy = false;
    }
  };

  const post = (message: WorkerRequest): void => mailbox?.postMessage(message);

  const sendQuestion = ({ question, listener }: Asked): void => {
    underWay = listener;
    turn += 1;
    post({ kind: "solve", request: latest, turn, question });
  };

  /** Hears the answer under way, having sent on what waited, so that the worker goes on meanwhile. */
  const answered = (answeredTurn: number, hear: (listener: StatesListener) => void): void => {
    if (answeredTurn !== turn || underWay === undefined) return;
    const listener = underWay;
    underWay = undefined;
    const next = waiting;
    waiting = undefined;
    if (next !== undefined) sendQuestion(next);
    hear(listener);
  };

  const ask: AnalysisClient["ask"] = (wing, check, listener, options = {}) => {
    cancel();
    const request = latest;
    const end = (): boolean => {
      if (request !== latest) return false;
      busy = false;
      return true;
    };
    const fail = (message: string): void => {
      if (!end()) return;
      mailbox?.terminate();
      mailbox = undefined;
      underWay = undefined;
      waiting = undefined;
      listener.onFailed(message);
    };
    try {
      mailbox ??= open();
    } catch (fault) {
      listener.onFailed(fault instanceof Error ? fault.message : String(fault));
      return;
    }
    busy = true;
    mailbox.onerror = (event) => fail(event.message || say("frame.unstarted"));
    mailbox.onmessage = ({ data }) => {
      if (data.request !== latest) return;
      switch (data.kind) {
        case "progress":
          listener.onProgress(data.text);
          break;
        case "failed":
          fail(data.message);
          break;
        case "done":
          if (end()) listener.onDone(data.analysis);
          break;
        case "after":
          listener.onAfter(data.analysis);
          break;
        case "plans":
          if (data.turn === planTurn) planning?.onPlans(data.plans);
          break;
        case "unplanned":
          if (data.turn === planTurn) planning?.onUnplanned(data.message);
          break;
        case "exported":
          if (data.turn === exportTurn) exporting?.onExported(data.name, data.bytes);
          break;
        case "unexported":
          if (data.turn === exportTurn) exporting?.onUnexported(data.message);
          break;
        case "band":
          listener.onBand(data.band);
          break;
        case "judgement":
          listener.onJudgement(data.judgement);
          break;
        case "states":
          answered(data.turn, (heard) => heard.onStates(data.states, data.tookMs));
          break;
        case "unsolved":
          answered(data.turn, (heard) => heard.onUnsolved(data.message));
      }
    };
    const { catalogue: _, ...spoken } = speech();
    post({ kind: "analyse", request, wing, check, options, speech: spoken });
  };

  const solve: AnalysisClient["solve"] = (question, listener) => {
    if (busy || mailbox === undefined) return;
    if (underWay === undefined) sendQuestion({ question, listener });
    else waiting = { question, listener };
  };

  const planLoops: AnalysisClient["planLoops"] = (question, listener) => {
    if (busy || mailbox === undefined) return;
    planTurn += 1;
    planning = listener;
    post({ kind: "plan", request: latest, turn: planTurn, question });
  };

  const exportAll: AnalysisClient["exportAll"] = (question, listener) => {
    if (busy || mailbox === undefined) return;
    exportTurn += 1;
    exporting = listener;
    post({ kind: "export", request: latest, turn: exportTurn, question });
  };

  return { ask, solve, planLoops, exportAll, cancel };
}

/** The worker of this page. */
export function openAnalysisWorker(): Mailbox {
  return new Worker(new URL("./analysis.worker.ts", import.meta.url), { type: "module", name: "analysis" });
}
