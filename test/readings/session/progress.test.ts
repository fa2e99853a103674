import { describe, expect, it } from "vitest";
import {
  enter,
  paceMs,
  progressOf,
  sayNext,
  skip,
  spokenName,
  startSession,
} from "../../../src/readings/session/index.ts";
import { FRAME, JUDGE, ROWS_ORDER, START_MS, shouldMm, started, typed, typedTimes } from "./acted.ts";

describe("progress", () => {
  it("counts what is read, skipped and doubtful by row and side", () => {
    let session = skip(typedTimes(started(), 3), 0);
    session = typed(session, -400);
    const { total, read, rows, skipped, doubtful } = progressOf(session);
    expect(total).toBe(ROWS_ORDER.steps.length);
    expect(read).toBe(3);
    expect(skipped).toEqual([ROWS_ORDER.steps[3]?.target]);
    expect(doubtful.map(({ target }) => target)).toEqual([ROWS_ORDER.steps[4]?.target]);
    expect(rows.reduce((sum, row) => sum + row.total, 0)).toBe(total);
    expect(rows[0]).toMatchObject({ row: "A", side: "left" });
    for (const one of ["read", "skipped", "doubtful"] as const)
      expect(rows.reduce((sum, row) => sum + row[one], 0)).toBe({ read: 3, skipped: 1, doubtful: 1 }[one]);
  });

  it("tells the time left from the usual interval, once there are five, pauses left out", () => {
    let session = startSession(FRAME, ROWS_ORDER, START_MS);
    let atMs = 0;
    for (let i = 0; i < 8; i++) {
      atMs += i === 4 ? 3 * 86_400_000 : 10_000;
      session = enter(session, String(shouldMm(session)), START_MS + atMs, JUDGE).session;
      if (i < 6) expect(progressOf(session).leftMs).toBeUndefined();
    }
    expect(progressOf(session).leftMs).toBe(10_000 * (ROWS_ORDER.steps.length - 8));
  });

  it("isn't put off by a tea break of four minutes, nor by a clock that was set back", () => {
    const at = [0, 10, 20, 30, 270, 280, 290, 300, 200, 210].map((seconds, n) => ({
      n,
      atMs: 1000 * seconds,
      kind: "reading" as const,
    }));
    expect(paceMs(at as never)).toBe(10_000);
  });
});

describe("what is said aloud", () => {
  it("is the tab's name as it is called, and the side", () => {
    const [first] = ROWS_ORDER.steps;
    expect(sayNext(started())).toMatchObject({
      key: "session.say.tab",
      values: { name: spokenName(first?.target.id as string), side: "left" },
      text: "A one, left",
    });
  });

  it.each([
    ["C7", "C seven"],
    ["BRL12", "B R L twelve"],
    ["A1.2", "A one two"],
    ["T30", "T thirty"],
    ["B47", "B forty seven"],
    ["A120", "A one two zero"],
    ["outer2", "outer two"],
  ])("calls %s %s", (id, spoken) => {
    expect(spokenName(id)).toBe(spoken);
  });

  it("asks again for what is in doubt, and ends", () => {
    expect(sayNext(typed(started(), -400)).text).toBe("Again: A one, left");
    expect(sayNext(typedTimes(started(), ROWS_ORDER.steps.length)).text).toBe("All lines are read.");
    let session = skip(started(), 0);
    session = skip(typedTimes(session, ROWS_ORDER.steps.length - 1), 0);
    expect(sayNext(session).text).toBe("One line is left out.");
  });
});
