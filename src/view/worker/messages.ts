/** What passes between the page and the worker: plain data, cloned on the way. */

import type { AnalyseOptions } from "../../diagnosis/analyse.ts";
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { Judgement } from "../../diagnosis/judge.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import type { States, StatesQuestion } from "../../diagnosis/states.ts";
import type { Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import type { Speech } from "../../words/index.ts";
import type { LineLoops, LoopChoices, LoopPlans } from "../../workshop/index.ts";

/** By what the readings are judged, and a check after the work, which is judged alike. */
export type JudgingOptions = Pick<AnalyseOptions, "reading" | "rule" | "removeUniform"> & {
  readonly after?: Check;
};

/** What loops are planned by; the deviations are those of the analysis. */
export interface LoopQuestion {
  readonly loops: readonly LineLoops[];
  readonly choices: LoopChoices;
}

export type SpeechChoice = Omit<Speech, "catalogue">;

/** Asks for the best loops for the wing that was analysed last, under the same request number. */
export interface PlanRequest {
  readonly kind: "plan";
  readonly request: number;
  readonly turn: number;
  readonly question: LoopQuestion;
}

export interface AnalysisRequest {
  readonly kind: "analyse";
  readonly request: number;
  readonly wing: Wing;
  readonly check: Check | undefined;
  readonly options: JudgingOptions;
  /** What sentences are to be in; the worker fetches the catalogue itself. */
  readonly speech: SpeechChoice;
}

/** Asks for states of the wing that was analysed last, under the same request number. */
export interface SolveRequest {
  readonly kind: "solve";
  readonly request: number;
  readonly turn: number;
  readonly question: StatesQuestion;
}

/** What exports are made by: the colours on the screen, and the day that the files are dated by. */
export interface ExportQuestion {
  readonly scale: DeviationScale;
  readonly day: string;
}

/** Asks for all exports of the wing that was analysed last as one ZIP, under the same request number. */
export interface ExportRequest {
  readonly kind: "export";
  readonly request: number;
  readonly turn: number;
  readonly question: ExportQuestion;
}

export type WorkerRequest = AnalysisRequest | SolveRequest | PlanRequest | ExportRequest;

export type WorkerReply =
  | { readonly request: number; readonly kind: "progress"; readonly text: string }
  | { readonly request: number; readonly kind: "done"; readonly analysis: Analysis }
  | { readonly request: number; readonly kind: "failed"; readonly message: string }
  | {
      readonly request: number;
      readonly kind: "states";
      readonly turn: number;
      readonly states: States;
      /** Time that the solve took in the worker [ms]. */
      readonly tookMs: number;
    }
  | { readonly request: number; readonly kind: "unsolved"; readonly turn: number; readonly message: string }
  | { readonly request: number; readonly kind: "after"; readonly analysis: Analysis }
  | { readonly request: number; readonly kind: "plans"; readonly turn: number; readonly plans: LoopPlans }
  | { readonly request: number; readonly kind: "unplanned"; readonly turn: number; readonly message: string }
  | {
      readonly request: number;
      readonly kind: "exported";
      readonly turn: number;
      readonly name: string;
      readonly bytes: Uint8Array;
    }
  | { readonly request: number; readonly kind: "unexported"; readonly turn: number; readonly message: string }
  | { readonly request: number; readonly kind: "band"; readonly band: Band }
  | { readonly request: number; readonly kind: "judgement"; readonly judgement: Judgement };
