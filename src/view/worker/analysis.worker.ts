/** A mailbox to the functions that the command line calls too, away from the page's thread. */
import { analyse } from "../../diagnosis/analyse.ts";
import { assumptionBand } from "../../diagnosis/assumption-band.ts";
import { type Judgement, judge } from "../../diagnosis/judge.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { openSession, type Session, type States, solveStates, statesAtTrim } from "../../diagnosis/states.ts";
import type { WingModel } from "../../geometry/model.ts";
import type { Wing } from "../../plan/model.ts";
import { exportFiles, exportStem, zipOf } from "../../record/export-archive.ts";
import { catalogueOf, speak, speech } from "../../words/index.ts";
import { planLoops } from "../../workshop/index.ts";
import type {
  AnalysisRequest,
  ExportRequest,
  PlanRequest,
  SolveRequest,
  SpeechChoice,
  WorkerReply,
  WorkerRequest,
} from "./messages.ts";

/** Draws for how well the incidence is known: a 95 % bound then moves by about a hundredth of itself from seed to seed. */
const DRAWS = 10_000;
/** Band and judgement wait until nothing has been asked for as long [ms]: states go first. */
const QUIET_MS = 200;

let session: Session | undefined;
let analysed: Analysis | undefined;
let judgement: Judgement | undefined;
let last: States | undefined;
let timer: ReturnType<typeof setTimeout> | undefined;
/** What is still to be worked out for the last analysis, each part short enough to wait for. */
let still: (() => void)[] = [];
/** The model built last, and what of the plan it was built from: limits, rules and readings can change without it. */
let built: { readonly from: string; readonly model: WingModel } | undefined;

function send(reply: WorkerReply): void {
  self.postMessage(reply);
}

function said(fault: unknown): string {
  return fault instanceof Error ? fault.message : String(fault);
}

function planOf({ tolerances: _, ...wing }: Wing): string {
  return JSON.stringify(wing);
}

function startAnalysis({ request, wing, check, options }: AnalysisRequest): void {
  session = undefined;
  analysed = undefined;
  judgement = undefined;
  still = [];
  const { after, ...judging } = options;
  try {
    const from = planOf(wing);
    const analysis: Analysis = analyse(wing, check, {
      ...judging,
      ...(built?.from === from ? { model: built.model } : {}),
      onProgress: (step) => send({ request, kind: "progress", text: step }),
    });
    const opened = openSession(analysis);
    built = { from, model: analysis.model };
    session = opened;
    analysed = analysis;
    last = statesAtTrim(analysis);
    send({ request, kind: "done", analysis });
    still = [
      () => {
        if (after === undefined) return;
        const found = analyse(wing, after, { ...judging, model: analysis.model });
        session = openSession(analysis, found);
        send({ request, kind: "after", analysis: found });
      },
      () => {
        const band = assumptionBand(opened, analysis.ribs, wing.allUpWeightKg);
        if (band !== undefined) send({ request, kind: "band", band });
      },
      () => {
        judgement = judge(analysis, { draws: DRAWS });
        if (judgement !== undefined) send({ request, kind: "judgement", judgement });
      },
    ];
  } catch (fault) {
    send({ request, kind: "failed", message: said(fault) });
  }
}

function solve({ request, turn, question }: SolveRequest): void {
  if (session === undefined) return;
  try {
    const start = performance.now();
    last = solveStates(session, question, last);
    send({ request, kind: "states", turn, states: last, tookMs: performance.now() - start });
  } catch (fault) {
    send({ request, kind: "unsolved", turn, message: said(fault) });
  }
}

function plan({ request, turn, question }: PlanRequest): void {
  if (analysed === undefined) return;
  try {
    const { wing, deviations } = analysed;
    const plans = planLoops(wing, deviations, question.loops, question.choices);
    send({ request, kind: "plans", turn, plans });
  } catch (fault) {
    send({ request, kind: "unplanned", turn, message: said(fault) });
  }
}

/** Of the readings the work begins from; what is tried and what came after stand in their own lists. */
async function exportAll({ request, turn, question: { scale, day } }: ExportRequest): Promise<void> {
  if (analysed === undefined) return;
  const sources = { analysis: analysed, scale, ...(judgement ? { bands: judgement.bands } : {}) };
  try {
    const bytes = zipOf(await exportFiles(sources), day);
    send({ request, kind: "exported", turn, name: `${exportStem(sources)}.zip`, bytes });
  } catch (fault) {
    send({ request, kind: "unexported", turn, message: said(fault) });
  }
}

/** One part at a time, so that what is asked meanwhile comes in between; a newer analysis drops the rest. */
function goOn(): void {
  const next = still.shift();
  try {
    next?.();
  } catch (fault) {
    // Without it the figures stand as they are.
    console.warn(said(fault));
  }
  if (still.length > 0) timer = setTimeout(goOn, 0);
}

/** Messages are taken in order, after the catalogue of the language that they are to be answered in. */
let spoken: Promise<void> = Promise.resolve();

async function speakAs({ language, ...rest }: SpeechChoice): Promise<void> {
  if (language === speech().language && rest.locale === speech().locale && rest.unit === speech().unit)
    return;
  try {
    speak({ language, ...rest, catalogue: await catalogueOf(language) });
  } catch (fault) {
    // Without the catalogue the figures come with English words.
    console.warn(said(fault));
  }
}

self.onmessage = ({ data }: MessageEvent<WorkerRequest>): void => {
  spoken = spoken
    .then(() => (data.kind === "analyse" ? speakAs(data.speech) : undefined))
    .then(() => take(data));
};

function take(data: WorkerRequest): void {
  if (data.kind === "analyse") startAnalysis(data);
  else if (data.kind === "plan") plan(data);
  else if (data.kind === "export") void exportAll(data);
  else solve(data);
  clearTimeout(timer);
  timer = setTimeout(goOn, QUIET_MS);
}
