/** Opening wings and bringing files: what is read of them, what becomes of the wing before, and what is said of each file. */
import type { Parsed, Problem } from "../../plan/model.ts";
import { EMPTY_BOOK, type LoopBook, settledCards, writeBook } from "../../workshop/index.ts";
import { type Choices, NOTHING, type WingId } from "./choices.ts";
import { bookFrom, builtIn, planFrom, readingsFrom, type SheetFrame } from "./core.ts";
import { type Document, judged, type Receipt } from "./document.ts";
import { type History, NO_HISTORY, withoutReadings } from "./history.ts";
import { recognise } from "./intake.ts";
import { AS_USUAL, keepJudging, keptJudging } from "./judging.ts";
import { type KeptFile, keepOwn, keptOwn, type Own, type Shelf } from "./keep.ts";
import { AS_SPECIFIED } from "./rigging.ts";
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

/** Whether readings are those that the work begins from, or were taken after it. */
export type ReadingsAs = "before" | "after";

/** A sheet of readings that waits for its frame. */
export interface PendingSheet extends KeptFile {
  readonly as: ReadingsAs;
}

export interface Opening {
  /** @returns false where there is no such wing, or its plan can't be read */
  readonly openWing: (id: WingId) => boolean;
  /** What was picked, rigged and tried belongs to the wing before. */
  readonly fresh: (change: Partial<Choices>) => void;
  /** @param as what readings among the files are: those to begin from where nothing is said */
  readonly bring: (files: readonly KeptFile[], as?: ReadingsAs) => void;
  /** Writes in the bench's book, and keeps it with the own wing. */
  readonly keepBook: (book: LoopBook) => void;
  /** Lets go of the readings after the work. */
  readonly dropAfter: () => void;
  /** Takes the readings after the work for those to begin from, with the book as it is given. */
  readonly goOnFromAfter: (book: LoopBook) => void;
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
            ? "The plan can’t be read."
            : `The plan can’t be read. ${present.wing.name} stays on the screen.`,
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
      text: `Plan of ${plan.value.name}: ${plan.value.lines.length} lines, ${plan.value.tabs.length} tabs.`,
      problems: plan.problems,
    });
    if (open("own", files)) fresh({ wing: "own" });
  };

  const bringReadings = (file: KeptFile, frame: SheetFrame | undefined, as: ReadingsAs): void => {
    const present = get().document;
    if (present === undefined) return;
    const read = readingsFrom({ ...file, frame }, present.plan);
    const taken = read.ok ? read.value.readings.length : 0;
    note(readingsReceipt(file.name, taken === 0 ? undefined : taken, read.problems));
    if (!read.ok || taken === 0) return;
    if (as === "after") {
      const files: Own = { ...present.files, after: { ...file, frame } };
      keep(files);
      analyse(judged({ ...present, source: "own", files, after: read.value }));
      const { choices } = get();
      set({ choices: { ...choices, wing: "own", shown: "after", pane: "after" } });
      return;
    }
    // Readings taken after the work stay as long as they are later than those that are new, and the user's own.
    const stays =
      present.source === "own" && present.after !== undefined && present.after.date >= read.value.date;
    const files: Own = {
      ...present.files,
      readings: { ...file, frame },
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

  const bringOne = (file: KeptFile, as: ReadingsAs): void => {
    switch (recognise(file.text)) {
      case "plan":
        return bringPlan(file);
      case "check":
        return bringReadings(file, undefined, as);
      case "book":
        return bringBook(file);
      case "sheet":
        set({ pendingSheet: { ...file, as } });
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

  return {
    openWing,
    fresh,
    guarded,
    keepBook,
    dropAfter,
    goOnFromAfter,
    bring: (files, as = "before") => {
      // Plans first: readings brought along belong to the new wing.
      set({ receipts: [] });
      const rank = (file: KeptFile): number => (recognise(file.text) === "plan" ? 0 : 1);
      for (const file of [...files].sort((a, b) => rank(a) - rank(b))) guarded(() => bringOne(file, as));
      if (get().receipts.some(({ outcome }) => outcome !== "taken") || as === "before")
        set({ choices: { ...get().choices, pane: "files" } });
    },
    takeSheet: (frame) => {
      const sheet = get().pendingSheet;
      if (sheet === undefined) return;
      set({ pendingSheet: undefined });
      guarded(() => bringReadings({ name: sheet.name, text: sheet.text }, frame, sheet.as));
    },
  };
}

function bookReceipt(file: string, book: Parsed<LoopBook>): Receipt {
  if (!book.ok)
    return { file, outcome: "not taken", text: "The book of loops can’t be read.", problems: book.problems };
  return {
    file,
    outcome: book.problems.length > 0 ? "taken in part" : "taken",
    text: "The bench’s book of loops.",
    problems: book.problems,
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
