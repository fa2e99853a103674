/** What the loops' screens show: the plans, what is tried of them, one plan laid aside; and the acts on them. */
import { useDeferredValue, useMemo } from "react";
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import type { Analysis } from "../../diagnosis/model.ts";
import {
  type ChosenLoops,
  chosenBy,
  chosenChanges,
  type LoopChange,
  type LoopChoices,
  type LoopPlan,
  type LoopPlans,
  type LoopReport,
  loopReport,
  weighLoops,
} from "../../workshop/index.ts";
import { leadPlan, planChosen } from "../model/workshop-loops.ts";
import { tiedByHand } from "../model/workshop-loops-hand.ts";
import { app, useApp, useBaseAnalysis } from "./app.ts";
import type { Document } from "./document.ts";
import { NO_LOOPS } from "./trials.ts";
import { loopChoicesOf } from "./workshop.ts";

/** What lies on the bench for as long as the page does. */
interface Desk {
  /** The wing that it belongs to. */
  readonly of: string | undefined;
  /** The plan chosen last, by the loops that it ends with. */
  readonly picked: ChosenLoops | undefined;
  readonly aside: ChosenLoops | undefined;
}

const desk = createStore<Desk>()(() => ({ of: undefined, picked: undefined, aside: undefined }));

const wingOf = (document: Pick<Document, "source" | "plan"> | undefined): string | undefined =>
  document === undefined ? undefined : `${document.source} ${document.plan.name}`;

function lay(change: Partial<Omit<Desk, "of">>): void {
  const of = wingOf(app.getState().document);
  const before = desk.getState();
  desk.setState({
    of,
    picked: before.of === of ? before.picked : undefined,
    aside: before.of === of ? before.aside : undefined,
    ...change,
  });
}

/** Ties all loops at once, as a step of its own. */
export function tieAll(loops: ChosenLoops): void {
  app.getState().tryOut({ kind: "tie all", loops });
}

export function choosePlan(plan: Pick<LoopPlan, "changes">): void {
  const loops = chosenBy(plan);
  // As it is: what was offered at first is offered again.
  lay({ picked: loops.size === 0 ? undefined : loops });
  tieAll(loops);
}

/** Ties one line otherwise, its twin along where that is asked. */
export function tieByHand(lineKey: string, to: number): void {
  const { document, choices, withTwin } = app.getState();
  if (document !== undefined) tieAll(tiedByHand(document.loops, choices.loops, lineKey, to, withTwin));
}

export function layAside(loops: ChosenLoops | undefined): void {
  lay({ aside: loops });
}

/** Tries what was laid aside, and lays aside what was tried. */
export function exchangeAside(): void {
  const { aside } = desk.getState();
  if (aside === undefined) return;
  const { loops } = app.getState().choices;
  lay({ aside: loops });
  tieAll(aside);
}

/** Changes the choices that plans are made by; kept in the book. */
export function chooseLoops(change: Partial<LoopChoices>): void {
  app.getState().keepBook((book) => {
    const { document } = app.getState();
    return document === undefined ? book : { ...book, choices: { ...loopChoicesOf(document), ...change } };
  });
}

/** A choice of loops with its figures; without readings there are none. */
export interface Weighed {
  readonly chosen: ChosenLoops;
  readonly changes: readonly LoopChange[];
  readonly plan: LoopPlan | undefined;
  /** True where it is one of the plans offered. */
  readonly offered: boolean;
}

export interface LoopDesk {
  readonly document: Document;
  readonly choices: LoopChoices;
  readonly analysis: Analysis;
  readonly plans: LoopPlans | undefined;
  readonly lead: LoopPlan | undefined;
  /** What is tried: the present loops where nothing is. */
  readonly tried: Weighed;
  readonly aside: Weighed | undefined;
  /** The changes offered beside those tried: of the plan chosen last, or of the one to lead with while nothing is tried. */
  readonly offered: readonly LoopChange[];
  /** What is shown in figures: what is tried, or the plan to lead with. */
  readonly inView: LoopPlan | undefined;
}

/** Undefined while there is no wing. */
export function useLoopDesk(): LoopDesk | undefined {
  const document = useApp((state) => state.document);
  const analysis = useBaseAnalysis();
  const plans = useApp((state) => state.loopPlans);
  const chosen = useApp((state) => state.choices.loops);
  const { of, ...lying } = useStore(desk);
  const own = of === wingOf(document);
  const asideChosen = own ? lying.aside : undefined;
  const picked = own ? lying.picked : undefined;
  const choices = useMemo(() => (document === undefined ? undefined : loopChoicesOf(document)), [document]);
  const weigh = useMemo(
    () =>
      (loops: ChosenLoops): Weighed | undefined => {
        if (document === undefined || analysis === undefined || choices === undefined) return undefined;
        const changes = chosenChanges(document.loops, loops);
        // Plans of a book that has changed since are about to be replaced.
        const offered = plans === undefined ? undefined : planChosen(plans, document.loops, loops);
        const plan =
          plans === undefined
            ? undefined
            : (offered ??
              weighLoops(document.wing, analysis.deviations, document.loops, choices, loops, plans));
        return { chosen: loops, changes, plan, offered: offered !== undefined };
      },
    [document, analysis, choices, plans],
  );
  const tried = useMemo(() => weigh(chosen), [weigh, chosen]);
  const aside = useMemo(
    () => (asideChosen === undefined ? undefined : weigh(asideChosen)),
    [weigh, asideChosen],
  );
  return useMemo(() => {
    if (document === undefined || analysis === undefined || choices === undefined || tried === undefined)
      return undefined;
    const lead = plans === undefined ? undefined : leadPlan(plans);
    const nothing = tried.changes.length === 0;
    return {
      document,
      choices,
      analysis,
      plans,
      lead,
      tried,
      aside,
      offered:
        picked !== undefined ? chosenChanges(document.loops, picked) : nothing ? (lead?.changes ?? []) : [],
      inView: nothing && picked === undefined ? lead : tried.plan,
    };
  }, [document, analysis, choices, plans, tried, aside, picked]);
}

/** Nothing laid on the bench, nothing tried of loops; lengths that are tried stay. */
export function asTheyAre(): void {
  lay({ picked: undefined });
  tieAll(NO_LOOPS);
}

/** The report on a plan, and on the loops as they are; comes a moment behind, so that what is done stays quick. */
export function useLoopReports(
  of: LoopDesk | undefined,
): { readonly before: LoopReport; readonly after: LoopReport; readonly plan: LoopPlan } | undefined {
  const attribution = useApp((state) => state.judgement?.attribution);
  const rule = useApp((state) => state.document?.judging.rule);
  const { document, analysis, choices, plans, inView } = useDeferredValue(of) ?? {};
  const report = useMemo(() => {
    if (document === undefined || analysis?.uncertainties === undefined || choices === undefined)
      return undefined;
    const { uncertainties, deviations } = analysis;
    const { wing, loops } = document;
    return (plan: LoopPlan): LoopReport =>
      loopReport({ wing, deviations, uncertainties, loops, choices, plan, attribution, rule });
  }, [document, analysis, choices, attribution, rule]);
  const present = plans?.present;
  const before = useMemo(() => (present === undefined ? undefined : report?.(present)), [report, present]);
  return useMemo(() => {
    if (report === undefined || before === undefined || inView === undefined) return undefined;
    return { before, after: inView === present ? before : report(inView), plan: inView };
  }, [report, before, inView, present]);
}
