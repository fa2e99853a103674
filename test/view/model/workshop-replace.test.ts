import { describe, expect, it } from "vitest";
import { DEMOS } from "../../../src/demo/index.ts";
import {
  jobAtWork,
  jobName,
  lengthDoubt,
  noteReplacement,
  readLength,
  replaceJobs,
  sayFoundBy,
  startReplacing,
  withoutJob,
  withSides,
} from "../../../src/view/model/workshop-replace.ts";
import { traceDiagram } from "../../../src/view/model/workshop-replace-diagram.ts";
import {
  benchLengths,
  bookBefore,
  chosenLandings,
  isTriedSo,
  landingMarks,
  maillonsOpened,
  sayLater,
  stepsAround,
  swapTrial,
} from "../../../src/view/model/workshop-replace-swap.ts";
import {
  cardIn,
  EMPTY_BOOK,
  keepCard,
  type LoopBook,
  lineLoops,
  recordCard,
  startCard,
  swapChanges,
  swapSheets,
  tick,
  traceLine,
} from "../../../src/workshop/index.ts";
import { madeDeviations } from "../../diagnosis/made.ts";
import { wingOf } from "../../plan/factory.ts";

const wing = wingOf(DEMOS.school.plan);
const lineOf = (key: string) => {
  const line = wing.lines.find((one) => one.key === key);
  if (line === undefined) throw new Error(`no line ${key}`);
  return line;
};
const started = startReplacing(wing, EMPTY_BOOK, "right:AL2");
const jobOf = (book: LoopBook) => {
  const job = jobAtWork(replaceJobs(wing, book), "right:AL2");
  if (job === undefined) throw new Error("no job");
  return job;
};

describe("a line that is replaced", () => {
  it("goes with its twin, the damaged one remembered", () => {
    const job = jobOf(started);
    expect(jobName(job)).toBe("AL2 left and right");
    expect(job.damagedKey).toBe("right:AL2");
    expect(job.twin?.key).toBe("left:AL2");
  });

  it("is begun once: its twin belongs to the same job", () => {
    expect(startReplacing(wing, started, "left:AL2")).toBe(started);
    expect(jobAtWork(replaceJobs(wing, started), "left:AL2")?.damagedKey).toBe("right:AL2");
  });

  it("may go alone, and its twin can come back", () => {
    const alone = withSides(started, jobOf(started), ["right"]);
    expect(jobName(jobOf(alone))).toBe("AL2 right");
    const both = withSides(alone, jobOf(alone), ["left", "right"]);
    expect(jobName(jobOf(both))).toBe("AL2 left and right");
    expect(jobOf(both).damagedKey).toBe("right:AL2");
    expect(withSides(both, jobOf(both), [])).toBe(both);
  });

  it("keeps its lengths by side, also where a book has both sides in one entry", () => {
    const [first] = started.replacements;
    if (first === undefined) throw new Error("no entry");
    const joined: LoopBook = {
      ...EMPTY_BOOK,
      replacements: [{ ...first, sides: ["right", "left"], newM: 4.7 }],
    };
    const noted = noteReplacement(joined, jobOf(joined), ["left"], { oldM: 4.72 });
    expect(jobOf(noted).lines.map(({ entry }) => [entry.oldM, entry.newM])).toEqual([
      [4.72, 4.7],
      [undefined, 4.7],
    ]);
    expect(jobOf(noted).damagedKey).toBe("right:AL2");
  });

  it("leaves the work once it is dated, and can be begun again", () => {
    const done = noteReplacement(started, jobOf(started), ["left", "right"], { date: "2026-03-20" });
    expect(jobAtWork(replaceJobs(wing, done), "right:AL2")).toBeUndefined();
    const again = startReplacing(wing, done, "left:AL2");
    expect(replaceJobs(wing, again).map(({ date }) => date)).toEqual(["2026-03-20", undefined]);
    expect(replaceJobs(wing, withoutJob(again, jobOf(again)))).toHaveLength(1);
  });
});

describe("a length that is typed", () => {
  it("is read in millimetres with a point or a comma", () => {
    expect(readLength("4210,5")).toEqual({ lengthM: 4.2105 });
    expect(readLength(" ")).toEqual({ lengthM: undefined });
    expect(readLength("4,2 m")).toHaveProperty("wrong");
    expect(readLength("4.2")).toHaveProperty("wrong");
  });

  it("is doubted where it is far from the plan's", () => {
    const line = lineOf("left:AL2");
    expect(lengthDoubt(line, "old", line.lengthM - 0.03)).toBeUndefined();
    expect(lengthDoubt(line, "new", line.lengthM - 1)).toMatch(
      /^The new one is 1000 mm shorter than the plan’s/,
    );
  });
});

describe("why a line answers a search", () => {
  it("is its tab, a tab above, or what it is", () => {
    expect(sayFoundBy("its tab", lineOf("left:A3"), ["A3"])).toBe("ends at tab A3");
    expect(sayFoundBy("tab above", lineOf("left:AL1"), ["A1", "A2"])).toBe("carries tabs A1 and A2");
    expect(sayFoundBy("words", lineOf("left:AL1"), [])).toMatch(/^lower line, row A · red/);
  });
});

describe("a trace that is drawn", () => {
  it("joins end to end, tabs on top, from the riser up", () => {
    const trace = traceLine(wing, "left:AM3");
    const { lines, tabs, riser, foot } = traceDiagram(wing, trace);
    const own = lines.find(({ part }) => part === "line");
    const below = lines.find(({ part }) => part === "below");
    expect(own?.from).toEqual(below?.to);
    expect(below?.from).toEqual(foot.at);
    expect(riser?.name).toBe("riser A");
    for (const tab of tabs) expect(lines.some(({ to }) => to.join() === tab.at.join())).toBe(true);
    expect(lines.filter(({ part }) => part === "beside").map(({ id }) => id)).toEqual(["AL1", "AL3"]);
  });

  it("ends at the pulley for a brake line", () => {
    const diagram = traceDiagram(wing, traceLine(wing, "left:BRL1"));
    expect(diagram.riser).toBeUndefined();
    expect(diagram.foot.name).toMatch(/pulley/);
  });
});

/** All lower lines have shrunk by 10 mm; the new ones are 10 mm longer than the old. */
const shrunk = madeDeviations(wing, ({ row }) => (row === "tip" || row === "brake" ? 0 : -0.0103));
const measured = (["left", "right"] as const).reduce(
  (book, side) =>
    noteReplacement(book, jobOf(book), [side], {
      oldM: lineOf(`${side}:AL2`).lengthM - 0.0103,
      newM: lineOf(`${side}:AL2`).lengthM,
    }),
  started,
);

function sheetsFor(book: LoopBook) {
  const jobs = replaceJobs(wing, book);
  const keys = jobs.flatMap(({ lines }) => lines.map(({ line }) => line.key));
  const sheets = swapSheets({
    wing,
    deviations: shrunk,
    uncertainties: undefined,
    loops: lineLoops(wing, bookBefore(book, keys)),
    damagedKeys: jobs.map(({ damagedKey }) => damagedKey),
    replacedKeys: keys,
    lengths: benchLengths(jobs),
  });
  return { sheets, chosen: chosenLandings(jobs, sheets) };
}

const total = (book: LoopBook) => {
  const { sheets, chosen } = sheetsFor(book);
  const loops = lineLoops(wing, book);
  const trial = swapTrial(sheets, chosen, loops);
  return new Map(
    [...trial.mm].map(([key, mm]) => {
      const own = loops.find(({ lineKey }) => lineKey === key);
      const kindId = trial.ties.get(key);
      const tied = own?.states.find(({ kind }) => kind.id === kindId);
      const now = own?.states[own.present];
      return [key, mm / 1000 + (tied === undefined ? 0 : (now?.takeUpM ?? 0) - tied.takeUpM)] as const;
    }),
  );
};

describe("a swap that is tried in the 3D", () => {
  it("moves the paths as the sheet says, loop and length together, to half a millimetre", () => {
    const { sheets, chosen } = sheetsFor(measured);
    const trial = swapTrial(sheets, chosen, lineLoops(wing, measured));
    expect(trial.ties.get("left:AL2")).toBe("turn");
    expect(trial.mm.get("left:AL2")).toBe(10);
    for (const [key, changeM] of swapChanges(sheets, chosen))
      expect(Math.abs((total(measured).get(key) as number) - changeM)).toBeLessThanOrEqual(0.0005);
  });

  it("follows the loop that was chosen instead of the suggested one", () => {
    const girth = noteReplacement(measured, jobOf(measured), ["left"], { loopKindId: "girth" });
    const { sheets, chosen } = sheetsFor(girth);
    const trial = swapTrial(sheets, chosen, lineLoops(wing, girth));
    expect(trial.ties.get("left:AL2")).toBe("girth");
    expect(trial.ties.get("right:AL2")).toBe("turn");
    expect(isTriedSo(trial, { trials: trial.mm, loops: new Map([["left:AL2", "girth"]]) })).toBe(false);
    const loops = new Map([
      ["left:AL2", "girth"],
      ["right:AL2", "turn"],
    ]);
    expect(isTriedSo(trial, { trials: trial.mm, loops })).toBe(true);
  });

  it("stays the same once the new lines are ticked off with their new loops: the readings are still the old lines'", () => {
    let book = measured;
    for (const side of ["left", "right"] as const) {
      const recorded = recordCard(startCard(lineLoops(wing, book), "A", side), "2026-03-20");
      book = keepCard(book, tick(recorded, `${side}:AL2`, "turn"));
    }
    expect(book.present.get("left:AL2")).toBe("turn");
    expect(cardIn(book, "A", "left")?.recorded).toBe("2026-03-20");
    const before = sheetsFor(measured).sheets;
    const after = sheetsFor(book).sheets;
    expect(swapChanges(after)).toEqual(swapChanges(before));
    for (const [key, changeM] of swapChanges(after))
      expect(Math.abs((total(book).get(key) as number) - changeM)).toBeLessThanOrEqual(0.0005);
  });

  it("is nothing as long as the old length isn't known", () => {
    const jobs = replaceJobs(wing, started);
    const sheets = swapSheets({
      wing,
      deviations: undefined,
      uncertainties: undefined,
      loops: lineLoops(wing, started),
      damagedKeys: ["right:AL2"],
      lengths: benchLengths(jobs),
    });
    const trial = swapTrial(sheets, new Map(), lineLoops(wing, started));
    expect(trial.mm.size).toBe(0);
    expect(trial.unknown).toEqual(["left:AL2", "right:AL2"]);
    expect(isTriedSo(trial, { trials: new Map(), loops: new Map() })).toBe(false);
  });
});

describe("a swap on the screen", () => {
  const { sheets } = sheetsFor(measured);
  const side = sheets[0]?.sides[0];
  if (side === undefined) throw new Error("no side");

  it("draws the whole row from the middle outwards, the line's own paths where they land", () => {
    const marks = landingMarks(wing, shrunk, side, side.landings[side.suggested as number]);
    expect(marks.map(({ tabId }) => tabId)).toEqual(Array.from({ length: 13 }, (_, at) => `A${at + 1}`));
    expect(marks.filter(({ landsM }) => landsM !== undefined).map(({ tabId }) => tabId)).toEqual([
      "A5",
      "A6",
      "A7",
      "A8",
      "A9",
    ]);
    expect(marks.filter(({ beside }) => beside)).toHaveLength(8);
  });

  it("says what is left to take out later, loop by name", () => {
    const [told] = sayLater(side);
    expect(told).toMatch(/^once the new line has changed as the lines beside it have/);
    expect(told).toMatch(/plain eye instead/);
  });

  it("parts the steps after the comparison of old and new", () => {
    const [before, after] = stepsAround(sheets[0]?.steps ?? []);
    expect(before.at(-1)?.id).toBe("compare");
    expect(after.some(({ id }) => id === "loop")).toBe(true);
  });

  it("opens the maillon of each side that is replaced, and none for an upper line", () => {
    expect(maillonsOpened(replaceJobs(wing, started))).toEqual([
      { maillonId: "A", side: "left" },
      { maillonId: "A", side: "right" },
    ]);
    const upper = startReplacing(wing, EMPTY_BOOK, "left:A3");
    expect(maillonsOpened(replaceJobs(wing, upper))).toEqual([]);
  });
});
