/**
 * The one store. The wing, its check and what follows from them are kept apart from what the user looks at: the former
 * change only when a file is brought or a wing is chosen, the latter never touch the former.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { Judgement } from "../../diagnosis/judge.ts";
import type { Suspicion } from "../../diagnosis/mistakes/index.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { DeviationScale } from "../../diagnosis/scale.ts";
import { statesAtTrim } from "../../diagnosis/states.ts";
import { say } from "../../words/index.ts";
import type { LoopBook, LoopPlans } from "../../workshop/index.ts";
import { suitableRangeM } from "../model/tape.ts";
import type { AnalysisClient, ExportListener } from "../worker/client.ts";
import { type Choices, INITIAL, NOTHING, type WingId } from "./choices.ts";
import type { SheetFrame } from "./core.ts";
import { type Document, judged, type Receipt } from "./document.ts";
import { type History, NO_HISTORY, noted, notedBook, notedReadings, redone, undone } from "./history.ts";
import { type Judging, judgingOptions, keepJudging } from "./judging.ts";
import type { KeptFile, Shelf } from "./keep.ts";
import { type Live, liveOf } from "./live.ts";
import { openingOf, type PendingSheet, type ReadingsAs } from "./opening.ts";
import { conditionOf, isAsSpecified, type Rigging } from "./rigging.ts";
import { changed, isAnythingTried, type TrialChange, type Tried, trialMetres } from "./trials.ts";
import { loopChoicesOf } from "./workshop.ts";

export type Work =
  /** Empty until something is asked for. */
  | { readonly state: "working"; readonly text: string }
  | { readonly state: "ready"; readonly analysis: Analysis; readonly suitableRangeM: number }
  | { readonly state: "failed"; readonly message: string };

export interface AppState {
  readonly choices: Choices;
  readonly document: Document | undefined;
  readonly work: Work;
  /** Line under the pointer. */
  readonly hovered: string | undefined;
  /** Counted up so that asking for the same direction again turns the view back to it. */
  readonly directionRequest: number;
  readonly receipts: readonly Receipt[];
  /** A sheet of readings that waits for the date, tension, datum and zero it was taken with. */
  readonly pendingSheet: PendingSheet | undefined;
  /** False once the browser has refused to keep the user's files. */
  readonly kept: boolean;
  /** The solved states that are shown; there as soon as there is an analysis. */
  readonly live: Live | undefined;
  /** True from a change of the rigging or the trials until its states are there. */
  readonly solving: boolean;
  /** Why the last states asked for couldn't be solved. */
  readonly unsolved: string | undefined;
  /** How far the incidence may be off; comes some time after the analysis. */
  readonly band: Band | undefined;
  /** Which line has changed, doubtful readings, what to read next; comes some time after the analysis. */
  readonly judgement: Judgement | undefined;
  /** The analysis of a check after the work; comes soon after the first. */
  readonly afterAnalysis: Analysis | undefined;
  /** The best loops by the choices in the book; comes some time after the analysis, and anew after each change of the book. */
  readonly loopPlans: LoopPlans | undefined;
  /** Why they couldn't be worked out. */
  readonly unplanned: string | undefined;
  /** What was tried, put right and written in the book, as it was done. */
  readonly history: History;
  /** Whether a length that is tried goes for the line's mirror twin as well. */
  readonly withTwin: boolean;
  readonly choose: (change: Partial<Choices>) => void;
  readonly rig: (change: Partial<Rigging>) => void;
  readonly tryOut: (change: TrialChange) => void;
  readonly undo: () => void;
  readonly redo: () => void;
  readonly setWithTwin: (withTwin: boolean) => void;
  readonly hover: (lineKey: string | undefined) => void;
  readonly look: (direction: Choices["direction"]) => void;
  /**
   * Takes over a whole address, opening another wing where it names one.
   * @param keepWork rigging and trials stay as they are, as long as the wing does: going back must not lose them
   */
  readonly follow: (choices: Choices, keepWork?: boolean) => void;
  readonly openWing: (id: WingId) => void;
  /** @param as what readings among the files are: those to begin from where nothing is said */
  readonly bring: (files: readonly KeptFile[], as?: ReadingsAs) => void;
  readonly takeSheet: (frame: SheetFrame) => void;
  readonly dropSheet: () => void;
  readonly again: () => void;
  /** After a change of language or unit: what was found is put into words anew, and stays on the screen meanwhile. */
  readonly sayAnew: () => void;
  /** Changes how the readings are judged, and judges anew. */
  readonly judge: (change: Partial<Omit<Judging, "applied">>) => void;
  /** Puts readings right; only on the user's word, given on sight of what changes. */
  readonly correct: (suspicion: Suspicion) => void;
  readonly takeBack: (suspicionId: string) => void;
  /** Writes in the bench's book; the states and plans that follow from it come anew. */
  readonly keepBook: (change: (book: LoopBook) => LoopBook) => void;
  /** Makes all exports of the readings the work begins from, as one ZIP. */
  readonly exportAll: (scale: DeviationScale, listener: ExportListener) => void;
  readonly dropAfter: () => void;
  readonly goOnFromAfter: (book: LoopBook) => void;
  /** Takes an edited plan for that of the wing on the screen. @returns whether it could be read */
  readonly takePlan: (plan: KeptFile) => boolean;
}

export interface Outside {
  readonly client: AnalysisClient;
  readonly shelf: Shelf | undefined;
  readonly nowMs?: () => number;
}

export type AppStore = StoreApi<AppState>;

export function createAppStore({ client, shelf, nowMs = Date.now }: Outside): AppStore {
  return createStore<AppState>()((set, get) => {
    /** @param quietly what was found stays on the screen until the new is there */
    const analyse = (document: Document, quietly = false): void => {
      const present = quietly && get().work.state === "ready";
      if (present) set({ document });
      else
        set({
          document,
          work: { state: "working", text: say("frame.working.reading") },
          hovered: undefined,
          live: undefined,
          solving: false,
          unsolved: undefined,
          band: undefined,
          judgement: undefined,
          afterAnalysis: undefined,
          loopPlans: undefined,
          unplanned: undefined,
        });
      client.ask(
        document.wing,
        document.check,
        {
          onProgress: (text) => {
            if (!present) set({ work: { state: "working", text } });
          },
          onFailed: (message) => set({ work: { state: "failed", message } }),
          onDone: (analysis) => {
            const rows = analysis.deviations.paths.filter((path) => path.row !== "brake");
            const deviations = rows.flatMap(({ deviationM }) =>
              deviationM === undefined ? [] : [deviationM],
            );
            set({
              band: undefined,
              judgement: undefined,
              afterAnalysis: undefined,
              solving: false,
              unsolved: undefined,
              work: { state: "ready", analysis, suitableRangeM: suitableRangeM(deviations) },
              live: liveOf(analysis, statesAtTrim(analysis), new Map(), undefined),
            });
            const { choices } = get();
            if (!isAsSpecified(choices.rigging) || isAnythingTried(choices)) solve();
            planLoops();
          },
          onAfter: (afterAnalysis) => {
            set({ afterAnalysis });
            const { work, choices } = get();
            if (work.state !== "ready") return;
            if (!isAsSpecified(choices.rigging) || isAnythingTried(choices)) return solve();
            const states = statesAtTrim(work.analysis, afterAnalysis);
            set({ live: liveOf(work.analysis, states, new Map(), undefined, afterAnalysis) });
          },
          onBand: (band) => set({ band }),
          onJudgement: (judgement) => set({ judgement }),
        },
        { ...judgingOptions(document.judging), ...(document.after ? { after: document.after } : {}) },
      );
    };

    /** Asks for the states of the present rigging and trials. */
    const solve = (): void => {
      const { work, document, choices } = get();
      if (work.state !== "ready" || document === undefined) return;
      const { analysis } = work;
      const trial = trialMetres(choices, document.loops, analysis.model.lineMember);
      set({ solving: true });
      const settled = (): boolean => {
        const now = get();
        return (
          choices.rigging === now.choices.rigging &&
          choices.trials === now.choices.trials &&
          choices.loops === now.choices.loops &&
          document.loops === now.document?.loops
        );
      };
      client.solve(
        { condition: conditionOf(document.wing, choices.rigging), trial },
        {
          onStates: (states, tookMs) =>
            set({
              live: liveOf(analysis, states, trial, tookMs, get().afterAnalysis),
              solving: !settled(),
              unsolved: undefined,
            }),
          onUnsolved: (message) => set({ solving: !settled(), unsolved: message }),
        },
      );
    };

    const takeTried = (tried: Tried, history: History): void => {
      const { choices } = get();
      const kept = choices.shown === "tried" ? "measured" : choices.shown;
      const shown = isAnythingTried(tried) ? "tried" : kept;
      set({ choices: { ...choices, trials: tried.trials, loops: tried.loops, shown }, history });
      solve();
    };

    /** Asks for the best loops by the choices that are in the book. */
    const planLoops = (): void => {
      const { document, work } = get();
      if (document?.check === undefined || work.state !== "ready") return;
      client.planLoops(
        { loops: document.loops, choices: loopChoicesOf(document) },
        {
          onPlans: (loopPlans) => set({ loopPlans, unplanned: undefined }),
          onUnplanned: (unplanned) => set({ loopPlans: undefined, unplanned }),
        },
      );
    };

    /** Another book: what hangs on its loops comes anew. */
    const takeBook = (book: LoopBook): void => {
      keepBook(book);
      planLoops();
      if (isAnythingTried(get().choices)) solve();
    };

    const { openWing, fresh, bring, takeSheet, guarded, keepBook, dropAfter, goOnFromAfter, takePlan } =
      openingOf({
        get,
        set,
        shelf,
        analyse,
        failed: (message) => set({ work: { state: "failed", message } }),
      });

    /** Another judging of the present document; its check may change with it. */
    const judgeBy = (change: Partial<Judging>): void => {
      const present = get().document;
      if (present === undefined) return;
      const next = judged({ ...present, judging: { ...present.judging, ...change } });
      if (present.source === "own") set({ kept: keepJudging(shelf, next.judging) });
      const only = Object.keys(change).every((key) => key === "again" || key === "dismissed");
      if (only) set({ document: next });
      else analyse(next, true);
    };

    /** Other corrections in force; what was picked by readings that were in doubt is let go. */
    const takeCorrections = (applied: Judging["applied"]): void => {
      judgeBy({ applied });
      if (get().choices.picked.kind === "lines") get().choose({ picked: NOTHING });
    };

    /** The same, noted as a step. */
    const correctBy = (change: (applied: Judging["applied"]) => Judging["applied"]): void => {
      const before = get().document?.judging.applied ?? [];
      takeCorrections(change(before));
      const after = get().document?.judging.applied ?? [];
      set({ history: notedReadings(get().history, before, after) });
    };

    const step = (taken: ReturnType<typeof undone>): void => {
      if (taken === undefined) return;
      const { restored, history } = taken;
      if (restored.of === "trials") return takeTried(restored.tried, history);
      set({ history });
      if (restored.of === "book") return takeBook(restored.book);
      takeCorrections(restored.applied);
    };

    return {
      choices: INITIAL,
      document: undefined,
      work: { state: "working", text: "" },
      hovered: undefined,
      directionRequest: 0,
      receipts: [],
      pendingSheet: undefined,
      kept: true,
      live: undefined,
      solving: false,
      unsolved: undefined,
      band: undefined,
      judgement: undefined,
      afterAnalysis: undefined,
      loopPlans: undefined,
      unplanned: undefined,
      history: NO_HISTORY,
      withTwin: false,
      choose: (change) => set({ choices: { ...get().choices, ...change } }),
      rig: (change) => {
        set({ choices: { ...get().choices, rigging: { ...get().choices.rigging, ...change } } });
        solve();
      },
      tryOut: (change) => {
        const { trials, loops } = get().choices;
        const before: Tried = { trials, loops };
        const after = changed(before, change);
        if (after !== before) takeTried(after, noted(get().history, change, before, after, nowMs()));
      },
      undo: () => step(undone(get().history)),
      redo: () => step(redone(get().history)),
      setWithTwin: (withTwin) => set({ withTwin }),
      hover: (lineKey) => {
        if (get().hovered !== lineKey) set({ hovered: lineKey });
      },
      look: (direction) =>
        set({ choices: { ...get().choices, direction }, directionRequest: get().directionRequest + 1 }),
      follow: (asked, keepWork = false) => {
        const { choices: before, document } = get();
        const same = document?.source === asked.wing;
        const choices =
          keepWork && same
            ? { ...asked, rigging: before.rigging, trials: before.trials, loops: before.loops }
            : asked;
        const turned = choices.direction !== before.direction;
        set({
          choices,
          directionRequest: get().directionRequest + (turned ? 1 : 0),
          ...(keepWork && same ? {} : { history: NO_HISTORY }),
        });
        if (same) {
          if (
            choices.trials !== before.trials ||
            choices.loops !== before.loops ||
            choices.rigging !== before.rigging
          )
            solve();
          return;
        }
        guarded(() => {
          if (openWing(choices.wing)) return;
          openWing(INITIAL.wing);
          fresh({ wing: INITIAL.wing });
        });
      },
      openWing: (id) =>
        guarded(() => {
          if (openWing(id)) fresh({ wing: id });
        }),
      bring,
      takeSheet,
      dropSheet: () => set({ pendingSheet: undefined }),
      again: () => {
        const document = get().document;
        if (document !== undefined) analyse(document);
      },
      exportAll: (scale, listener) => {
        const day = new Date(nowMs()).toISOString().slice(0, 10);
        client.exportAll({ scale, day }, listener);
      },
      sayAnew: () => {
        const document = get().document;
        if (document !== undefined) analyse(judged(document), true);
      },
      judge: judgeBy,
      correct: (suspicion) => correctBy((applied) => [...applied, suspicion]),
      takeBack: (suspicionId) => correctBy((applied) => applied.filter(({ id }) => id !== suspicionId)),
      keepBook: (change) => {
        const before = get().document?.book;
        if (before === undefined) return;
        const after = change(before);
        if (after === before) return;
        takeBook(after);
        set({ history: notedBook(get().history, before, after) });
      },
      dropAfter,
      goOnFromAfter,
      takePlan,
    };
  });
}
