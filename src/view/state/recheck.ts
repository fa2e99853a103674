/** A check after the work: what was done before it, how it compares, and readings that wait to be told what they are. */
import { useMemo } from "react";
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import type { IncidenceBands } from "../../diagnosis/bands.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { type CheckedState, type Comparison, compareChecks } from "../../workshop/index.ts";
import { type Done, doneOf } from "../model/workshop-recheck.ts";
import { app, useApp, useBaseAnalysis } from "./app.ts";
import { type BroughtFile, intakeOf } from "./intake.ts";
import { stateShown } from "./live.ts";
import type { ReadingsAs } from "./opening.ts";

const NOTHING_DONE: readonly Done[] = [];

/** What was done, or is to be: loops and lengths that are tried, and lines replaced between the checks. */
export function useDone(): readonly Done[] {
  const document = useApp((state) => state.document);
  const chosen = useApp(({ choices }) => choices.loops);
  const trialsMm = useApp(({ choices }) => choices.trials);
  return useMemo(() => {
    if (document === undefined) return NOTHING_DONE;
    const { wing, loops, book, check, after } = document;
    const [beforeDate, afterDate] = [check?.date, after?.date];
    return doneOf({ wing, loops, book, chosen, trialsMm, beforeDate, afterDate });
  }, [document, chosen, trialsMm]);
}

function checkedBy(analysis: Analysis): CheckedState | undefined {
  const { deviations, uncertainties } = analysis;
  return uncertainties === undefined ? undefined : { deviations, uncertainties };
}

/** The two checks with what was done between them; undefined until both are analysed. */
export function useComparison(done: readonly Done[]): Comparison | undefined {
  const before = useBaseAnalysis();
  const after = useApp((state) => state.afterAnalysis);
  return useMemo(() => {
    const [one, other] = [before && checkedBy(before), after && checkedBy(after)];
    return before === undefined || one === undefined || other === undefined
      ? undefined
      : compareChecks(before.wing, one, other, done);
  }, [before, after, done]);
}

/** Files with readings in them, as long as nobody has said whether they take the place of those there or come after the work. */
const waiting = createStore<{ readonly files: readonly BroughtFile[] | undefined }>()(() => ({
  files: undefined,
}));

export function useWaiting(): readonly BroughtFile[] | undefined {
  return useStore(waiting, ({ files }) => files);
}

/**
 * Brings files; a check without its plan, where there are readings already, waits for the word on what it is: nothing takes
 * the place of readings unasked. Tables are asked about where they are confirmed.
 */
export function bringAsking(files: readonly BroughtFile[]): void {
  const { document, bring } = app.getState();
  const kinds = files.map(intakeOf);
  if (document?.check === undefined || kinds.includes("plan") || !kinds.includes("check")) {
    waiting.setState({ files: undefined });
    bring(files);
  } else {
    waiting.setState({ files });
    // The question stands there.
    app.getState().choose({ pane: "files" });
  }
}

/** @param as undefined: they are let go of */
export function settleWaiting(as: ReadingsAs | undefined): void {
  const { files } = waiting.getState();
  waiting.setState({ files: undefined });
  if (as !== undefined && files !== undefined) app.getState().bring(files, as);
}

/** How well the incidence shown is known; what is known of the readings before says nothing of readings after the work. */
export function useBandsShown(): IncidenceBands | undefined {
  return useApp(({ live, choices, judgement }) =>
    live !== undefined && stateShown(live, choices.shown) === "after" ? undefined : judgement?.bands,
  );
}
