/** Opening wings and bringing files: what is read of them, what becomes of the wing before, and what is said of each file. */
import type { Parsed, Problem } from "../../plan/model.ts";
import { type Check, parseCheckText, readTable, writeCheckJson } from "../../readings/index.ts";
import { say } from "../../words/index.ts";
import { EMPTY_BOOK, type LoopBook, settledCards, writeBook } from "../../workshop/index.ts";
import { draftOf, draftTable, type ReadingsAs, type TableDraft } from "../model/intake-draft.ts";
import { withoutSettings } from "../model/intake-frame.ts";
import { type Choices, NOTHING, type WingId } from "./choices.ts";
import { bookFrom, builtIn, planFrom, readingsFrom, type SheetFrame } from "./core.ts";
import { type Document, judged, type Receipt } from "./document.ts";
import { type History, NO_HISTORY, withoutReadings } from "./history.ts";
import { type BroughtFile, intakeOf, tablesOf } from "./intake.ts";
import { AS_USUAL, keepJudging, keptJudging } from "./judging.ts";
import { type KeptFile, keepOwn, keptOwn, type Own, type Shelf } from "./keep.ts";
import { AS_SPECIFIED } from "./rigging.ts";
import { takePlanOf } from "./take-plan.ts";
import { NOTHING_TRIED } from "./trials.ts";

/** The part of the store that files change. */
export interface Brought {
  readonly choices: Choices;
  readonly document: Document | undefined;
  readonly history: History;
  readonly receipts: readonly Receipt[];
  readonly pendingSheet: PendingSheet | undefined;
  readonly kept: boolean;
}

export type { ReadingsAs };

/** A table of readings that waits to be confirmed. */
export type PendingSheet = TableDraft;

export interface Opening {
  /** @returns false where there is no such wing, or its plan can't be read */
  readonly openWing: (id: WingId) => boolean;
  /** What was picked, rigged and tried belongs to the wing before. */
  readonly fresh: (change: Partial<Choices>) => void;
  /** @param as what readings among the files are: those to begin from where nothing is said */
  readonly bring: (files: readonly BroughtFile[], as?: ReadingsAs) => void;
  /** Writes in the bench's book, and keeps it with the own wing. */
  readonly keepBook: (book: LoopBook) => void;
  /** Lets go of the readings after the work. */
  readonly dropAfter: () => void;
  /** Takes the readings after the work for those to begin from, with the book as it is given. */
  readonly goOnFromAfter: (book: LoopBook) => void;
  /** Takes an edited plan for that of the wing on the screen. @returns whether it could be read */
  readonly takePlan: (plan: KeptFile) => boolean;
  /** Takes the table that waits, as it is understood; it goes on waiting where no reading can be taken from it. */
  readonly takeSheet: (frame: SheetFrame) => void;
  /** A fault of ours in reading a file is shown like one in calculating, and takes neither the page nor the wing away. */
  readonly guarded: (act: () => void) => void;
}

/**
 * @param analyse shows a document and has it analysed
 * @param failed says that there is nothing to show
 */
export function openingOf(outside: {
  readonly get: () => Brought;
  readonly set: (change: Partial<Brought>) => void;
  readonly shelf: Shelf | undefined;
  readonly analyse: (document: Document) => void;
  readonly failed: (message: string) => void;
}): Opening {
  const { get, set, shelf, analyse, failed } = outside;
  const note = (receipt: Receipt): void => set({ receipts: [receipt, ...get().receipts].slice(0, 8) });

  const keep = (own: Own): void => set({ kept: keepOwn(shelf, own) });

  /** Opens files as a document; what can't be read is reported under the file's own name. */
  const open = (source: WingId, files: Own): boolean => {
    const plan = planFrom(files.plan.text);
    if (!plan.ok) {
      note({
        file: files.plan.name,
        outcome: "not taken",
        text: say("intake.plan.unreadable"),
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
        readingsReceipt(files.readings.name, read.ok ? read.value.readings.length : undefined, read.problems),
      );
    }
    const again = files.after === undefined ? undefined : readingsFrom(files.after, plan.value);
    const book = bookFrom(files.book, plan.value);
    if (source === "own" && files.after !== undefined && again?.ok === false)
      note(readingsReceipt(files.after.name, undefined, again.problems));
    if (source === "own" && files.book !== undefined && book.problems.length > 0)
      note(bookReceipt(files.book.name, book));
    const judging = source === "own" ? keptJudging(shelf) : AS_USUAL;
    analyse(
      judged({
        source,
        files,
        plan: plan.value,
        brought: read?.ok ? read.value : undefined,
        after: again?.ok ? again.value : undefined,
        book: book.ok ? book.value : { ...EMPTY_BOOK, wingName: plan.value.name },
        judging,
      }),
    );
    return true;
  };

  const guarded = (act: () => void): void => {
    try {
      act();
    } catch (fault) {
      console.error(fault);
      const message = fault instanceof Error ? fault.message : String(fault);
      if (get().document === undefined) failed(message);
      note({
        file: "",
        outcome: "not taken",
        text: say("intake.fault", { message }),
        problems: [],
      });
    }
  };

  const openWing = (id: WingId): boolean => {
    if (id !== "own") return open(id, builtIn(id));
    const own = keptOwn(shelf);
    return own !== undefined && open("own", own);
  };

  const fresh = (change: Partial<Choices>): void => {
    const { choices } = get();
    const shown = choices.shown === "tried" || choices.shown === "after" ? "measured" : choices.shown;
    set({
      choices: {
        ...choices,
        picked: NOTHING,
        rigging: AS_SPECIFIED,
        ...NOTHING_TRIED,
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
            ? say("intake.plan.unreadable")
            : say("intake.plan.unreadableStays", { wing: present.wing.name }),
        problems: plan.problems,
      });
      return;
    }
    // A mended plan of the same wing keeps what was already brought for it.
    const same = present?.source === "own" && present.plan.name === plan.value.name;
    const files: Own = same ? { ...present.files, plan: file } : { plan: file, readings: undefined };
    keep(files);
    if (!same || files.readings === undefined) keepJudging(shelf, AS_USUAL);
    note({
      file: file.name,
      outcome: plan.problems.length > 0 ? "taken in part" : "taken",
      text: say("intake.plan.taken", {
        wing: plan.value.name,
        lines: plan.value.lines.length,
        tabs: plan.value.tabs.length,
      }),
      problems: plan.problems,
    });
    if (open("own", files)) fresh({ wing: "own" });
  };

  const withoutPlan = (file: string): void =>
    note({ file, outcome: "not taken", text: say("intake.table.noPlan"), problems: [] });

  const bringReadings = (file: KeptFile, as: ReadingsAs): void => {
    const present = get().document;
    if (present === undefined) return withoutPlan(file.name);
    takeReadings(file.name, file, readingsFrom({ ...file, frame: undefined }, present.plan), as);
  };

  /**
   * @param name what it is told of under
   * @param file what is kept, and gives the same readings again
   * @returns false where there are none
   */
  const takeReadings = (name: string, file: KeptFile, read: Parsed<Check>, as: ReadingsAs): boolean => {
    const present = get().document;
    if (present === undefined) return false;
    const taken = read.ok ? read.value.readings.length : 0;
    note(readingsReceipt(name, taken === 0 ? undefined : taken, read.problems));
    if (!read.ok || taken === 0) return false;
    const kept = { ...file, frame: undefined };
    if (as === "after") {
      const files: Own = { ...present.files, after: kept };
      keep(files);
      analyse(judged({ ...present, source: "own", files, after: read.value }));
      const { choices } = get();
      set({ choices: { ...choices, wing: "own", shown: "after", pane: "after" } });
      return true;
    }
    // Readings taken after the work stay as long as they are later than those that are new, and the user's own.
    const stays =
      present.source === "own" && present.after !== undefined && present.after.date >= read.value.date;
    const files: Own = {
      ...present.files,
      readings: kept,
      after: stays ? present.files.after : undefined,
    };
    const after = stays ? present.after : undefined;
    keep(files);
    // Doubts and corrections were about the readings before.
    const judging = { ...present.judging, again: [], dismissed: [], applied: [] };
    keepJudging(shelf, judging);
    analyse(judged({ ...present, source: "own", files, brought: read.value, after, judging }));
    set({
      choices: { ...get().choices, picked: NOTHING, wing: "own" },
      history: withoutReadings(get().history),
    });
    return true;
  };

  /** A table waits for its confirmation; one at a time. */
  const bringTable = (file: BroughtFile, as: ReadingsAs): void => {
    if (get().document === undefined) return withoutPlan(file.name);
    const before = get().pendingSheet;
    if (before !== undefined)
      note({
        file: before.name,
        outcome: "not taken",
        text: say("intake.table.oneAtATime", { other: file.name }),
        problems: [],
      });
    set({ pendingSheet: draftOf(file.name, tablesOf(file), as) });
  };

  const takeTable = (draft: TableDraft, frame: SheetFrame): void => {
    const present = get().document;
    const table = present === undefined ? undefined : draftTable(draft, present.plan).found;
    if (present === undefined || table === undefined) return;
    const { recognition } = table;
    const read = readTable(withoutSettings(table.table), present.plan, frame, recognition);
    const name = checkName(draft.name);
    const text = read.ok ? writeCheckJson(read.value) : "";
    // What is kept is what is taken: it goes the way that it will go when the page is opened anew.
    const again = read.ok ? parseCheckText(text, present.plan) : read;
    const problems = read.ok ? [...read.problems, ...again.problems] : read.problems;
    if (takeReadings(draft.name, { name, text }, { ...again, problems }, draft.as))
      set({ pendingSheet: undefined });
  };

  const bringBook = (file: KeptFile): void => {
    const present = get().document;
    if (present === undefined) return;
    const book = bookFrom(file, present.plan);
    note(bookReceipt(file.name, book));
    if (!book.ok) return;
    const files: Own = { ...present.files, book: file };
    keep(files);
    analyse(judged({ ...present, source: "own", files, book: book.value }));
    set({ choices: { ...get().choices, wing: "own" } });
  };

  const keepBook = (book: LoopBook): void => {
    const present = get().document;
    if (present === undefined) return;
    const name = present.files.book?.name ?? "loops.json";
    const files: Own = { ...present.files, book: { name, text: writeBook(book) } };
    // An example's book lasts as long as the page.
    if (present.source === "own") keep(files);
    set({ document: judged({ ...present, files, book }) });
  };

  const dropAfter = (): void => {
    const present = get().document;
    if (present === undefined) return;
    const { after: _, ...files } = present.files;
    if (present.source === "own") keep(files);
    analyse(judged({ ...present, files, after: undefined }));
  };

  const goOnFromAfter = (worked: LoopBook): void => {
    const present = get().document;
    const book: LoopBook = { ...worked, maillons: settledCards(worked) };
    if (present?.after === undefined || present.files.after === undefined) return;
    const files: Own = {
      plan: present.files.plan,
      readings: present.files.after,
      book: { name: present.files.book?.name ?? "loops.json", text: writeBook(book) },
    };
    keep(files);
    const judging = { ...present.judging, again: [], dismissed: [], applied: [] };
    keepJudging(shelf, judging);
    analyse(
      judged({ ...present, source: "own", files, brought: present.after, after: undefined, book, judging }),
    );
    fresh({ wing: "own", shown: "measured" });
  };

  const bringOne = (file: BroughtFile, as: ReadingsAs): void => {
    switch (intakeOf(file)) {
      case "plan":
        return bringPlan(file);
      case "check":
        return bringReadings(file, as);
      case "book":
        return bringBook(file);
      case "sheet":
        return bringTable(file, as);
      case "broken JSON":
        return note({
          file: file.name,
          outcome: "not taken",
          text: say("intake.json.broken"),
          problems: planProblems(file.text),
        });
      case "unknown JSON":
        return note({
          file: file.name,
          outcome: "not taken",
          text: say("intake.json.unknown"),
          problems: planProblems(file.text),
        });
      case "empty":
        return note({ file: file.name, outcome: "not taken", text: say("intake.empty"), problems: [] });
    }
  };

  return {
    openWing,
    fresh,
    guarded,
    keepBook,
    dropAfter,
    goOnFromAfter,
    takePlan: takePlanOf({ get, shelf, keep, open, fresh }),
    bring: (files, as = "before") => {
      // Plans first: readings brought along belong to the new wing.
      set({ receipts: [] });
      const rank = (file: BroughtFile): number => (intakeOf(file) === "plan" ? 0 : 1);
      for (const file of [...files].sort((a, b) => rank(a) - rank(b))) guarded(() => bringOne(file, as));
      if (get().receipts.some(({ outcome }) => outcome !== "taken") || as === "before")
        set({ choices: { ...get().choices, pane: "files" } });
    },
    takeSheet: (frame) => {
      const sheet = get().pendingSheet;
      if (sheet === undefined) return;
      guarded(() => takeTable(sheet, frame));
    },
  };
}

function bookReceipt(file: string, book: Parsed<LoopBook>): Receipt {
  if (!book.ok)
    return { file, outcome: "not taken", text: say("intake.book.unreadable"), problems: book.problems };
  return {
    file,
    outcome: book.problems.length > 0 ? "taken in part" : "taken",
    text: say("intake.book.taken"),
    problems: book.problems,
  };
}

function planProblems(text: string): readonly Problem[] {
  const plan = planFrom(text);
  return plan.problems;
}

function readingsReceipt(file: string, taken: number | undefined, problems: readonly Problem[]): Receipt {
  if (taken === undefined) return { file, outcome: "not taken", text: say("intake.readings.none"), problems };
  return {
    file,
    outcome: problems.length > 0 ? "taken in part" : "taken",
    text: say("intake.readings.taken", { count: taken }),
    problems,
  };
}

/** A table is kept as the check that it gave: what it meant has been asked, and isn't asked again. */
function checkName(name: string): string {
  return `${name.replace(/\.(?:csv|tsv|txt|xlsx|xlsm)$/i, "")}.check.json`;
}
