/** Lines that are replaced: which is in hand, in which step, what was ticked; the sheets made of it; and the acts. */
import { useEffect, useMemo } from "react";
import { useStore } from "zustand";
import { createStore } from "zustand/vanilla";
import { type Attribution, attribute } from "../../diagnosis/attribution.ts";
import type { Analysis } from "../../diagnosis/model.ts";
import type { Line, Side } from "../../plan/model.ts";
import {
  type AfterSwap,
  checkAfter,
  type LineLoops,
  type LoopBook,
  lineLoops,
  type OrderList,
  type OtherLength,
  orderList,
  type Replacement,
  type SwapSheet,
  swapSheets,
} from "../../workshop/index.ts";
import {
  jobAtWork,
  noteReplacement,
  REPLACE_STEPS,
  type ReplaceJob,
  type ReplaceStep,
  replaceJobs,
  startReplacing,
  withoutJob,
  withSides,
} from "../model/workshop-replace.ts";
import {
  benchLengths,
  bookBefore,
  chosenLandings,
  isTriedSo,
  type SwapTrial,
  swapTrial,
} from "../model/workshop-replace-swap.ts";
import { app, shelf, useApp, useBaseAnalysis } from "./app.ts";
import type { Document } from "./document.ts";
import { loopChoicesOf } from "./workshop.ts";

/** What isn't the wing's: where the person is on the way, and what was ticked by hand. */
interface Desk {
  /** The wing that it belongs to. */
  readonly of: string | undefined;
  readonly jobKey: string | undefined;
  readonly step: ReplaceStep;
  /** Job key → ids of the steps that are done. */
  readonly ticked: Readonly<Record<string, readonly string[]>>;
  /** Jobs whose lines are ordered to the length advised instead of the plan's. */
  readonly advised: readonly string[];
  /** On small screens: whether the pane has all the room; undefined: as suits the step. Lasts as long as the page. */
  readonly roomy: boolean | undefined;
}

const CLEAN: Omit<Desk, "of"> = {
  jobKey: undefined,
  step: "line",
  ticked: {},
  advised: [],
  roomy: undefined,
};
const PLACE = "linewright.replacing";

const desk = createStore<Desk>()(() => ({ of: undefined, ...CLEAN }));

const wingOf = ({ source, plan }: Pick<Document, "source" | "plan">): string => `${source} ${plan.name}`;

/** What was kept for the own wing; clean where there is nothing, or nothing that can be read. */
function keptDesk(of: string): Desk {
  try {
    const kept = JSON.parse(shelf?.getItem(PLACE) ?? "null") as Partial<Desk> | null;
    if (kept?.of !== of) return { of, ...CLEAN };
    const isTexts = (list: unknown): list is string[] =>
      Array.isArray(list) && list.every((one) => typeof one === "string");
    const ticked = Object.entries(kept.ticked ?? {}).filter(([, ids]) => isTexts(ids));
    return {
      of,
      jobKey: typeof kept.jobKey === "string" ? kept.jobKey : undefined,
      step: REPLACE_STEPS.find((step) => step === kept.step) ?? "line",
      ticked: Object.fromEntries(ticked),
      advised: isTexts(kept.advised) ? kept.advised : [],
      roomy: undefined,
    };
  } catch {
    return { of, ...CLEAN };
  }
}

/** The desk of this wing; another wing's is put away. */
function deskOf(document: Document): Desk {
  const of = wingOf(document);
  const now = desk.getState();
  if (now.of === of) return now;
  return document.source === "own" ? keptDesk(of) : { of, ...CLEAN };
}

function lay(change: Partial<Omit<Desk, "of">>): void {
  const { document } = app.getState();
  if (document === undefined) return;
  const next = { ...deskOf(document), ...change };
  desk.setState(next);
  if (document.source !== "own") return;
  try {
    shelf?.setItem(PLACE, JSON.stringify(next));
  } catch {
    // Without room the way begins anew after a reload; what matters is in the book.
  }
}

export function goToStep(step: ReplaceStep): void {
  lay({ step, roomy: undefined });
}

export function giveRoom(roomy: boolean): void {
  lay({ roomy });
}

export function takeInHand(job: ReplaceJob): void {
  lay({ jobKey: job.key });
  app.getState().choose({ picked: { kind: "line", key: job.damagedKey } });
}

/** Begins to replace a line with its twin. */
export function replaceLine(lineKey: string): void {
  const { document, keepBook } = app.getState();
  if (document === undefined) return;
  keepBook((book) => startReplacing(document.wing, book, lineKey));
  const after = app.getState().document;
  const job = after === undefined ? undefined : jobAtWork(replaceJobs(after.wing, after.book), lineKey);
  if (job !== undefined) lay({ jobKey: job.key });
}

export function dropJob(job: ReplaceJob): void {
  clearTrial(job.lines.map(({ line }) => line.key));
  app.getState().keepBook((book) => withoutJob(book, job));
  const { [job.key]: _, ...ticked } = deskOf(app.getState().document as Document).ticked;
  lay({ jobKey: undefined, step: "line", ticked });
}

export function chooseSides(job: ReplaceJob, sides: readonly Side[]): void {
  app.getState().keepBook((book) => withSides(book, job, sides));
  tryAgain(job.lines.map(({ line }) => line.key));
}

export function tickStep(job: ReplaceJob, id: string, done: boolean): void {
  const { document } = app.getState();
  if (document === undefined) return;
  const { ticked } = deskOf(document);
  const others = (ticked[job.key] ?? []).filter((one) => one !== id);
  lay({ ticked: { ...ticked, [job.key]: done ? [...others, id] : others } });
}

export function orderAdvised(job: ReplaceJob, advised: boolean): void {
  const { document } = app.getState();
  if (document === undefined) return;
  const others = deskOf(document).advised.filter((key) => key !== job.key);
  lay({ advised: advised ? [...others, job.key] : others });
}

/** Writes down lengths, tension, loop or a note; what is tried of the lines follows. */
export function note(
  job: ReplaceJob,
  sides: readonly Side[],
  change: Partial<Omit<Replacement, "lineId" | "sides" | "date">>,
): void {
  app.getState().keepBook((book) => noteReplacement(book, job, sides, change));
  tryAgain(job.lines.map(({ line }) => line.key));
}

/** Chooses the loop of the new line on some sides, and tries it. */
export function chooseLoop(job: ReplaceJob, sides: readonly Side[], loopKindId: string): void {
  app.getState().keepBook((book) => noteReplacement(book, job, sides, { loopKindId }));
  tryJob(job.key);
}

/** Writes a job down as done on a day, or as at work again. */
export function dateJob(job: ReplaceJob, date: string | undefined): void {
  const ticked = app.getState().document && deskOf(app.getState().document as Document).ticked[job.key];
  app.getState().keepBook((book) => noteReplacement(book, job, ["left", "right"], { date }));
  const { document } = app.getState();
  if (document === undefined) return;
  const key = `${job.lineId} ${date ?? ""}`;
  lay({ jobKey: key, ticked: { ...deskOf(document).ticked, [key]: ticked ?? [] } });
}

const attributions = new WeakMap<Analysis, Attribution>();

/** What readings say of each line: the judgement's, or until that comes one made here, once for an analysis. */
function attributionOf(analysis: Analysis, judged: Attribution | undefined): Attribution | undefined {
  if (judged !== undefined || analysis.uncertainties === undefined) return judged;
  const made =
    attributions.get(analysis) ?? attribute(analysis.wing, analysis.deviations, analysis.uncertainties);
  attributions.set(analysis, made);
  return made;
}

/** The sheets of some jobs, from the readings before the work. */
function sheetsOf(
  document: Document,
  analysis: Analysis,
  jobs: readonly ReplaceJob[],
  judged: Attribution | undefined,
): readonly SwapSheet[] {
  if (jobs.length === 0) return [];
  const { wing, book } = document;
  const replacedKeys = jobs.flatMap(({ lines }) => lines.map(({ line }) => line.key));
  const { kinds, mostTakeUpM } = loopChoicesOf(document);
  const read = analysis.deviations.paths.some(({ deviationM }) => deviationM !== undefined);
  return swapSheets({
    wing,
    deviations: read ? analysis.deviations : undefined,
    uncertainties: analysis.uncertainties,
    attribution: read ? attributionOf(analysis, judged) : undefined,
    loops: lineLoops(wing, bookBefore(book, replacedKeys)),
    damagedKeys: jobs.map(({ damagedKey }) => damagedKey),
    replacedKeys,
    lengths: benchLengths(jobs),
    kinds,
    mostTakeUpM,
  });
}

/** Jobs that the sheets are made for: those at work, and the one in hand. */
function together(jobs: readonly ReplaceJob[], inHand: ReplaceJob | undefined): readonly ReplaceJob[] {
  return jobs.filter((job) => job.date === undefined || job.key === inHand?.key);
}

/** Tries the lengths and loops of a job's lines as they stand in the book. */
export function tryJob(jobKey: string): void {
  const { document, work, judgement, choices, tryOut } = app.getState();
  if (document === undefined || work.state !== "ready") return;
  const jobs = replaceJobs(document.wing, document.book);
  const job = jobs.find(({ key }) => key === jobKey);
  if (job === undefined) return;
  const all = together(jobs, job);
  const sheets = sheetsOf(document, work.analysis, all, judgement?.attribution);
  const own = new Set(job.lines.map(({ line }) => line.key));
  const trial = swapTrial(
    sheets.filter(({ sides }) => sides.some(({ lineKey }) => own.has(lineKey))),
    chosenLandings(all, sheets),
    document.loops,
  );
  // Lines with the same change go in one step, so that it's taken back in one.
  for (const [kindId, lineKeys] of byValue(trial.ties, (key) => choices.loops.get(key)))
    tryOut({ kind: "tie", lineKeys, kindId });
  for (const [mm, lineKeys] of byValue(trial.mm, (key) => choices.trials.get(key) ?? 0))
    tryOut({ kind: "set", lineKeys, mm });
}

/** Keys whose value differs from the present one, by value. */
function byValue<T>(
  wanted: ReadonlyMap<string, T>,
  present: (key: string) => T,
): ReadonlyMap<T, readonly string[]> {
  const found = new Map<T, string[]>();
  for (const [key, value] of wanted)
    if (present(key) !== value) found.set(value, [...(found.get(value) ?? []), key]);
  return found;
}

/** What is tried of these lines is let go. */
export function clearTrial(lineKeys: readonly string[]): void {
  const { choices, tryOut } = app.getState();
  const tied = lineKeys.filter((key) => choices.loops.has(key));
  if (tied.length > 0) tryOut({ kind: "tie", lineKeys: tied, kindId: undefined });
  const tried = lineKeys.filter((key) => choices.trials.has(key));
  if (tried.length > 0) tryOut({ kind: "remove", lineKeys: tried });
}

/** After a change in the book: lines that are tried follow it. */
function tryAgain(lineKeys: readonly string[]): void {
  const { document, choices } = app.getState();
  if (document === undefined) return;
  const isTried = lineKeys.some((key) => choices.loops.has(key) || choices.trials.has(key));
  if (!isTried) return;
  const job = replaceJobs(document.wing, document.book).find(({ lines }) =>
    lines.some(({ line }) => lineKeys.includes(line.key)),
  );
  const still = new Set(job?.lines.map(({ line }) => line.key));
  clearTrial(lineKeys.filter((key) => !still.has(key)));
  if (job !== undefined) tryJob(job.key);
}

/** Writes in the book's maillon cards. */
export function keepInBook(change: (book: LoopBook) => LoopBook): void {
  app.getState().keepBook(change);
}

export interface ReplaceDesk {
  readonly document: Document;
  readonly analysis: Analysis;
  readonly jobs: readonly ReplaceJob[];
  /** The one in hand. */
  readonly job: ReplaceJob | undefined;
  readonly step: ReplaceStep;
  readonly roomy: boolean | undefined;
  /** A line picked out that belongs to no job at work. */
  readonly other: Line | undefined;
  readonly ticked: readonly string[];
  readonly advised: boolean;
  /** Of all jobs at work, and of the one in hand. */
  readonly sheets: readonly SwapSheet[];
  readonly sheet: SwapSheet | undefined;
  readonly chosen: ReadonlyMap<string, number>;
  readonly loopsBefore: readonly LineLoops[];
  readonly order: OrderList;
  readonly after: AfterSwap;
  readonly trial: SwapTrial;
  /** Whether what is tried is what the sheet in hand says. */
  readonly tried: boolean;
  /** Whether any length or loop of its lines is tried. */
  readonly anyTried: boolean;
}

/** Undefined while there is no wing. */
export function useReplaceDesk(today: string): ReplaceDesk | undefined {
  const document = useApp((state) => state.document);
  const analysis = useBaseAnalysis();
  const attribution = useApp((state) => state.judgement?.attribution);
  const picked = useApp(({ choices }) => choices.picked);
  const trials = useApp(({ choices }) => choices.trials);
  const tiedLoops = useApp(({ choices }) => choices.loops);
  const lying = useStore(desk);
  const own = useMemo(
    () => (document === undefined || lying.of === wingOf(document) ? lying : deskOf(document)),
    [lying, document],
  );
  const jobs = useMemo(
    () => (document === undefined ? [] : replaceJobs(document.wing, document.book)),
    [document],
  );
  const pickedKey = picked.kind === "line" ? picked.key : undefined;
  const line = pickedKey === undefined ? undefined : document?.cascade.lines.get(pickedKey);
  const ofLine = line === undefined ? undefined : jobAtWork(jobs, line.key);
  const lastInHand = jobs.find(({ key }) => key === own.jobKey);
  const belongs = (job: ReplaceJob | undefined): boolean =>
    line !== undefined && job?.lines.some((one) => one.line.key === line.key) === true;
  const job = ofLine ?? lastInHand ?? jobs.findLast(({ date }) => date === undefined);
  const other = ofLine !== undefined || belongs(lastInHand) ? undefined : line;

  // The one picked stays in hand after another line has been picked.
  const inHand = ofLine?.key;
  useEffect(() => {
    if (inHand !== undefined && desk.getState().jobKey !== inHand) lay({ jobKey: inHand });
  }, [inHand]);

  const all = useMemo(() => together(jobs, job), [jobs, job]);
  const made = useMemo(() => {
    if (document === undefined || analysis === undefined) return undefined;
    const sheets = sheetsOf(document, analysis, all, attribution);
    const chosen = chosenLandings(all, sheets);
    const read = analysis.deviations.paths.some(({ deviationM }) => deviationM !== undefined);
    const replaced = all.flatMap(({ lines }) => lines.map((one) => one.line.key));
    return {
      sheets,
      chosen,
      loopsBefore: lineLoops(document.wing, bookBefore(document.book, replaced)),
      after: checkAfter({
        wing: document.wing,
        sheets,
        deviations: read ? analysis.deviations : undefined,
        checkDate: document.check?.date,
        today,
        chosen,
      }),
    };
  }, [document, analysis, all, attribution, today]);
  const order = useMemo(() => {
    if (document === undefined || made === undefined) return undefined;
    const lengths = new Map<string, OtherLength>();
    for (const each of all)
      if (own.advised.includes(each.key))
        for (const { lineKey, advice } of made.sheets.flatMap(({ sides }) => sides))
          if (
            advice !== undefined &&
            advice.basis !== "specified" &&
            each.lines.some((one) => one.line.key === lineKey)
          )
            lengths.set(lineKey, { lengthM: advice.lengthM, basis: advice.basis });
    const single = all
      .filter(({ lines }) => lines.length === 1)
      .map(({ lines }) => lines[0]?.line.key as string);
    return orderList(
      document.wing,
      all.flatMap(({ lines }) => lines.map((one) => one.line.key)),
      { alone: new Set(single), lengths },
    );
  }, [document, made, all, own.advised]);

  return useMemo(() => {
    if (document === undefined || analysis === undefined || made === undefined || order === undefined)
      return undefined;
    const keys = new Set(job?.lines.map((one) => one.line.key));
    const sheet = made.sheets.find(({ sides }) => sides.some(({ lineKey }) => keys.has(lineKey)));
    const trial = swapTrial(sheet === undefined ? [] : [sheet], made.chosen, document.loops);
    return {
      document,
      analysis,
      jobs,
      job,
      step: own.step,
      roomy: own.roomy,
      other,
      ticked: (job === undefined ? undefined : own.ticked[job.key]) ?? [],
      advised: job !== undefined && own.advised.includes(job.key),
      sheet,
      order,
      trial,
      tried: isTriedSo(trial, { trials, loops: tiedLoops }),
      anyTried: [...keys].some((key) => trials.has(key) || tiedLoops.has(key)),
      ...made,
    };
  }, [document, analysis, made, order, job, jobs, own, other, trials, tiedLoops]);
}
