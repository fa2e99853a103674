/**
 * The one store. The wing, its check and what follows from them are kept apart from what the user looks at: the former
 * change only when a file is brought or a wing is chosen, the latter never touch the former.
 */
import { createStore, type StoreApi } from "zustand/vanilla";
import type { Band } from "../../diagnosis/assumption-band.ts";
import type { Judgement } from "../../diagnosis/judge.ts";
import type { Suspicion } from "../../diagnosis/mistakes/index.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import { statesAtTrim } from "../../diagnosis/states.ts";
import type { Problem, Wing } from "../../plan/model.ts";
import type { Check } from "../../readings/model.ts";
import { type Cascade, cascadeOf } from "../model/cascade.ts";
import { withTolerances } from "../model/judging-choices.ts";
import { suitableRangeM } from "../model/tape.ts";
import type { AnalysisClient } from "../worker/client.ts";
import { type Choices, INITIAL, NOTHING, type WingId } from "./choices.ts";
import { builtIn, planFrom, readingsFrom, type SheetFrame } from "./core.ts";
import { recognise } from "./intake.ts";
import { AS_USUAL, corrected, type Judging, judgingOptions, keepJudging, keptJudging } from "./judging.ts";
import { type KeptFile, keepOwn, keptOwn, type Own, type Shelf } from "./keep.ts";
import { type Live, liveOf } from "./live.ts";
import { AS_SPECIFIED, conditionOf, isAsSpecified, type Rigging } from "./rigging.ts";
import {
  changed,
  NO_HISTORY,
  NO_TRIALS,
  noted,
  redone,
  type TrialChange,
  type TrialHistory,
  trialMetres,
  undone,
} from "./trials.ts";

/** The wing on the screen, its check, and the files both came from. */
export interface Document {
  readonly source: WingId;
  readonly files: Own;
  /** As the plan has it, and with the limits that it is judged by. */
  readonly plan: Wing;
  readonly wing: Wing;
  /** As it was brought, and with what was put right on the user's word. */
  readonly brought: Check | undefined;
  readonly check: Check | undefined;
  readonly judging: Judging;
  readonly cascade: Cascade;
}

export type Work =
  | { readonly state: "working"; readonly text: string }
  | { readonly state: "ready"; readonly analysis: Analysis; readonly suitableRangeM: number }
  | { readonly state: "failed"; readonly message: string };

/** What became of a file that was brought. */
export interface Receipt {
  readonly file: string;
  readonly outcome: "taken" | "taken in part" | "not taken" | "asks";
  readonly text: string;
  readonly problems: readonly Problem[];
}

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
  readonly pendingSheet: KeptFile | undefined;
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
  readonly history: TrialHistory;
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
  readonly bring: (files: readonly KeptFile[]) => void;
  readonly takeSheet: (frame: SheetFrame) => void;
  readonly dropSheet: () => void;
  readonly again: () => void;
  /** Changes how the readings are judged, and judges anew. */
  readonly judge: (change: Partial<Omit<Judging, "applied">>) => void;
  /** Puts readings right; only on the user's word, given on sight of what changes. */
  readonly correct: (suspicion: Suspicion) => void;
  readonly takeBack: (suspicionId: string) => void;
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
          work: { state: "working", text: "Reading the plan" },
          hovered: undefined,
          live: undefined,
          solving: false,
          unsolved: undefined,
          band: undefined,
          judgement: undefined,
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
              solving: false,
              unsolved: undefined,
              work: { state: "ready", analysis, suitableRangeM: suitableRangeM(deviations) },
              live: liveOf(analysis, statesAtTrim(analysis), new Map(), undefined),
            });
            const { rigging, trials } = get().choices;
            if (!isAsSpecified(rigging) || trials.size > 0) solve();
          },
          onBand: (band) => set({ band }),
          onJudgement: (judgement) => set({ judgement }),
        },
        judgingOptions(document.judging),
      );
    };

    /** Asks for the states of the present rigging and trials. */
    const solve = (): void => {
      const { work, document, choices } = get();
      if (work.state !== "ready" || document === undefined) return;
      const { analysis } = work;
      const trial = trialMetres(choices.trials, analysis.model.lineMember);
      set({ solving: true });
      const settled = (): boolean =>
        choices.rigging === get().choices.rigging && choices.trials === get().choices.trials;
      client.solve(
        { condition: conditionOf(document.wing, choices.rigging), trial },
        {
          onStates: (states, tookMs) =>
            set({
              live: liveOf(analysis, states, trial, tookMs),
              solving: !settled(),
              unsolved: undefined,
            }),
          onUnsolved: (message) => set({ solving: !settled(), unsolved: message }),
        },
      );
    };

    const takeTrials = (trials: Choices["trials"], history: TrialHistory): void => {
      const { choices } = get();
      const shown = trials.size > 0 ? "tried" : choices.shown === "tried" ? "measured" : choices.shown;
      set({ choices: { ...choices, trials, shown }, history });
      solve();
    };

    const note = (receipt: Receipt): void => set({ receipts: [receipt, ...get().receipts].slice(0, 8) });

    const keep = (own: Own): void => set({ kept: keepOwn(shelf, own) });

    /** Opens files as a document; what can't be read is reported under the file's own name. */
    const open = (source: WingId, files: Own): boolean => {
      const plan = planFrom(files.plan.text);
      if (!plan.ok) {
        note({
          file: files.plan.name,
          outcome: "not taken",
          text: "The plan can’t be read.",
          problems: plan.problems,
        });
        return false;
      }
      const read = files.readings === undefined ? undefined : readingsFrom(files.readings, plan.value);
      if (
        read !== undefined &&
        files.readings !== undefined &&
        (!read.ok || read.problems.length > 0) &&
        source === "own"
      ) {
        note(
          readingsReceipt(
            files.readings.name,
            read.ok ? read.value.readings.length : undefined,
            read.problems,
          ),
        );
      }
      const judging = source === "own" ? keptJudging(shelf) : AS_USUAL;
      analyse(
        judged({ source, files, plan: plan.value, brought: read?.ok ? read.value : undefined, judging }),
      );
      return true;
    };

    /** A fault of ours in reading a file is shown like one in calculating, and takes neither the page nor the wing away. */
    const guarded = (act: () => void): void => {
      try {
        act();
      } catch (fault) {
        console.error(fault);
        const message = fault instanceof Error ? fault.message : String(fault);
        if (get().document === undefined) set({ work: { state: "failed", message } });
        note({
          file: "",
          outcome: "not taken",
          text: `Reading it broke off through a fault of this program: ${message}`,
          problems: [],
        });
      }
    };

    const openWing = (id: WingId): boolean => {
      if (id !== "own") return open(id, builtIn(id));
      const own = keptOwn(shelf);
      return own !== undefined && open("own", own);
    };

    /** What was picked, rigged and tried belongs to the wing before. */
    const fresh = (change: Partial<Choices>): void => {
      const { choices } = get();
      const shown = choices.shown === "tried" ? "measured" : choices.shown;
      set({
        choices: {
          ...choices,
          picked: NOTHING,
          rigging: AS_SPECIFIED,
          trials: NO_TRIALS,
          rib: undefined,
          shown,
          ...change,
        },
        history: NO_HISTORY,
      });
    };

    const bringPlan = (file: KeptFile): void => {
      const plan = planFrom(file.text);
      const present = get().document;
      if (!plan.ok) {
        note({
          file: file.name,
          outcome: "not taken",
          text:
            present === undefined
              ? "The plan can’t be read."
              : `The plan can’t be read. ${present.wing.name} stays on the screen.`,
          problems: plan.problems,
        });
        return;
      }
      // A mended plan of the same wing keeps the readings that were already brought for it.
      const same =
        present?.source === "own" && present.plan.name === plan.value.name
          ? present.files.readings
          : undefined;
      const files: Own = { plan: file, readings: same };
      keep(files);
      if (same === undefined) keepJudging(shelf, AS_USUAL);
      note({
        file: file.name,
        outcome: plan.problems.length > 0 ? "taken in part" : "taken",
        text: `Plan of ${plan.value.name}: ${plan.value.lines.length} lines, ${plan.value.tabs.length} tabs.`,
        problems: plan.problems,
      });
      if (open("own", files)) fresh({ wing: "own" });
    };

    const bringReadings = (file: KeptFile, frame: SheetFrame | undefined): void => {
      const present = get().document;
      if (present === undefined) return;
      const read = readingsFrom({ ...file, frame }, present.plan);
      note(readingsReceipt(file.name, read.ok ? read.value.readings.length : undefined, read.problems));
      if (!read.ok) return;
      const files: Own = { plan: present.files.plan, readings: { ...file, frame } };
      keep(files);
      // Doubts and corrections were about the readings before.
      const judging = { ...present.judging, again: [], dismissed: [], applied: [] };
      keepJudging(shelf, judging);
      analyse(judged({ source: "own", files, plan: present.plan, brought: read.value, judging }));
      set({ choices: { ...get().choices, picked: NOTHING, wing: "own" } });
    };

    const bringOne = (file: KeptFile): void => {
      switch (recognise(file.text)) {
        case "plan":
          return bringPlan(file);
        case "check":
          return bringReadings(file, undefined);
        case "sheet":
          set({ pendingSheet: file });
          return;
        case "broken JSON":
          return note({
            file: file.name,
            outcome: "not taken",
            text: "This looks like JSON but can’t be read as such.",
            problems: planProblems(file.text),
          });
        case "unknown JSON":
          return note({
            file: file.name,
            outcome: "not taken",
            text: "Neither a plan nor readings were found in it.",
            problems: planProblems(file.text),
          });
        case "empty":
          return note({ file: file.name, outcome: "not taken", text: "The file is empty.", problems: [] });
      }
    };

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

    return {
      choices: INITIAL,
      document: undefined,
      work: { state: "working", text: "Opening" },
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
      history: NO_HISTORY,
      withTwin: false,
      choose: (change) => set({ choices: { ...get().choices, ...change } }),
      rig: (change) => {
        set({ choices: { ...get().choices, rigging: { ...get().choices.rigging, ...change } } });
        solve();
      },
      tryOut: (change) => {
        const before = get().choices.trials;
        const after = changed(before, change);
        if (after !== before) takeTrials(after, noted(get().history, change, before, after, nowMs()));
      },
      undo: () => {
        const back = undone(get().history);
        if (back !== undefined) takeTrials(back.trials, back.history);
      },
      redo: () => {
        const on = redone(get().history);
        if (on !== undefined) takeTrials(on.trials, on.history);
      },
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
          keepWork && same ? { ...asked, rigging: before.rigging, trials: before.trials } : asked;
        const turned = choices.direction !== before.direction;
        set({
          choices,
          directionRequest: get().directionRequest + (turned ? 1 : 0),
          ...(keepWork && same ? {} : { history: NO_HISTORY }),
        });
        if (same) {
          if (choices.trials !== before.trials || choices.rigging !== before.rigging) solve();
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
      bring: (files) => {
        // Plans first: readings brought along belong to the new wing.
        set({ receipts: [] });
        const rank = (file: KeptFile): number => (recognise(file.text) === "plan" ? 0 : 1);
        for (const file of [...files].sort((a, b) => rank(a) - rank(b))) guarded(() => bringOne(file));
        set({ choices: { ...get().choices, pane: "files" } });
      },
      takeSheet: (frame) => {
        const sheet = get().pendingSheet;
        if (sheet === undefined) return;
        set({ pendingSheet: undefined });
        guarded(() => bringReadings(sheet, frame));
      },
      dropSheet: () => set({ pendingSheet: undefined }),
      again: () => {
        const document = get().document;
        if (document !== undefined) analyse(document);
      },
      judge: judgeBy,
      correct: (suspicion) => {
        const applied = get().document?.judging.applied ?? [];
        judgeBy({ applied: [...applied, suspicion] });
        if (get().choices.picked.kind === "lines") get().choose({ picked: NOTHING });
      },
      takeBack: (suspicionId) => {
        const applied = get().document?.judging.applied ?? [];
        judgeBy({ applied: applied.filter(({ id }) => id !== suspicionId) });
      },
    };
  });
}

/** A document judged as is asked: the limits put into the wing, the corrections made in the check. */
function judged(of: Pick<Document, "source" | "files" | "plan" | "brought" | "judging">): Document {
  const { source, files, plan, brought, judging } = of;
  const wing = withTolerances(plan, { ...plan.tolerances, ...judging.tolerances });
  const now = brought === undefined ? undefined : corrected(brought, judging.applied);
  return {
    source,
    files,
    plan,
    wing,
    brought,
    check: now?.check,
    judging: { ...judging, applied: now?.applied ?? [] },
    cascade: cascadeOf(wing),
  };
}

function planProblems(text: string): readonly Problem[] {
  const plan = planFrom(text);
  return plan.problems;
}

function readingsReceipt(file: string, taken: number | undefined, problems: readonly Problem[]): Receipt {
  if (taken === undefined)
    return { file, outcome: "not taken", text: "No reading could be taken from it.", problems };
  return {
    file,
    outcome: problems.length > 0 ? "taken in part" : "taken",
    text: `${taken} ${taken === 1 ? "reading" : "readings"} taken.`,
    problems,
  };
}
