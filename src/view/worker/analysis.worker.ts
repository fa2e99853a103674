/** A mailbox to the functions that the command line calls too, away from the page's thread. */
import { analyse } from "../../diagnosis/analyse.ts";
import { assumptionBand } from "../../diagnosis/assumption-band.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { openSession, type Session, type States, solveStates, statesAtTrim } from "../../diagnosis/states.ts";
import type { AnalysisRequest, SolveRequest, WorkerReply, WorkerRequest } from "./messages.ts";

/** The band waits until nothing has been asked for as long [ms]: states go first. */
const QUIET_MS = 200;

let session: Session | undefined;
let last: States | undefined;
let bandTimer: ReturnType<typeof setTimeout> | undefined;
let makeBand: (() => void) | undefined;

function send(reply: WorkerReply): void {
  self.postMessage(reply);
}

function said(fault: unknown): string {
  return fault instanceof Error ? fault.message : String(fault);
}

function startAnalysis({ request, wing, check }: AnalysisRequest): void {
  session = undefined;
  makeBand = undefined;
  try {
    const analysis: Analysis = analyse(wing, check, {
      onProgress: (step) => send({ request, kind: "progress", text: step }),
    });
    const opened = openSession(analysis);
    session = opened;
    last = statesAtTrim(analysis);
    send({ request, kind: "done", analysis });
    makeBand = () => {
      const band = assumptionBand(opened, analysis.ribs, wing.allUpWeightKg);
      if (band !== undefined) send({ request, kind: "band", band });
    };
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

self.onmessage = ({ data }: MessageEvent<WorkerRequest>): void => {
  if (data.kind === "analyse") startAnalysis(data);
  else solve(data);
  clearTimeout(bandTimer);
  bandTimer = setTimeout(() => {
    const make = makeBand;
    makeBand = undefined;
    try {
      make?.();
    } catch (fault) {
      // Without the band the figures stand as they are.
      console.warn(said(fault));
    }
  }, QUIET_MS);
};
