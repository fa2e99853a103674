import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/demo/random.ts";
import {
  entryText,
  journalText,
  parseJournal,
  type Session,
  undo,
} from "../../../src/readings/session/index.ts";
import { act, acted, started, typed, typedTimes } from "./acted.ts";

const read = (text: string): { session: Session; warnings: readonly string[] } => {
  const parsed = parseJournal(text);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return { session: parsed.value, warnings: parsed.problems.map(({ message }) => message) };
};

describe("a stored session", () => {
  it("reads back as it was, and goes on", () => {
    for (let seed = 1; seed <= 30; seed++) {
      const session = acted(seed, 50);
      const { session: back, warnings } = read(journalText(session));
      expect(warnings).toEqual([]);
      expect(back.state).toEqual(session.state);
      expect(back.journal).toEqual(session.journal);
      const [one, other] = [session, back].map((each) => act(each, seededRandom(seed)).state);
      expect(one).toEqual(other);
    }
  });

  it("is written entry by entry: what is stored already is never written again", () => {
    let session = started();
    let text = journalText(session);
    const random = seededRandom(5);
    for (let i = 0; i < 50; i++) {
      const next = act(session, random);
      for (const entry of next.journal.slice(session.journal.length)) text += entryText(entry);
      session = next;
    }
    expect(text).toBe(journalText(session));
  });

  it("keeps everything whole wherever a crash cuts its last line, and says what was lost", () => {
    const session = typedTimes(started(), 4);
    const whole = journalText(session);
    const last = entryText(session.journal.at(-1) as Session["journal"][number]);
    const before = { journal: session.journal.slice(0, -1) };
    for (let cut = 1; cut < last.length; cut++) {
      const { session: back, warnings } = read(whole.slice(0, whole.length - cut));
      // Only the line's end is missing: the entry is whole.
      if (cut === 1) expect(back.journal).toEqual(session.journal);
      else {
        expect(back.journal).toEqual(before.journal);
        expect(warnings).toEqual([expect.stringContaining(last.slice(0, last.length - cut))]);
      }
    }
  });

  it("finds the entry that was written onto a torn one", () => {
    const session = typedTimes(started(), 4);
    const lines = session.journal.map(entryText);
    const torn = `${lines.slice(0, 4).join("")}${(lines[4] as string).slice(0, 40)}`;
    const again = typed(read(torn).session, 1);
    const { session: back, warnings } = read(
      torn + entryText(again.journal.at(-1) as Session["journal"][number]),
    );
    expect(back.journal).toEqual(again.journal);
    expect(warnings.length).toBe(1);
  });

  it("tells of a line in the middle that can't be understood, and keeps the rest; an undoing of it takes back nothing else", () => {
    let session = typedTimes(started(), 3);
    session = undo(session, 0);
    const lines = session.journal.map(entryText);
    const { session: back, warnings } = read(`${lines.filter((_, i) => i !== 3).join("")}what is this\n`);
    expect(back.state.targets).toEqual(session.state.targets);
    expect(warnings.join(" ")).toContain("what is this");
    expect(warnings.join(" ")).toContain("missing: 3");
  });

  it("counts an entry once that stands there twice", () => {
    const session = typedTimes(started(), 2);
    const text = journalText(session);
    const lines = session.journal.map(entryText);
    expect(read(text + lines.at(-1)).session.journal).toEqual(session.journal);
  });

  it("is refused without its start, as another kind of file and as another version", () => {
    const session = typedTimes(started(), 2);
    const [start = "", ...rest] = session.journal.map(entryText);
    const messageOf = (text: string): string => parseJournal(text).problems[0]?.message ?? "";
    expect(messageOf(rest.join(""))).toContain("no start");
    expect(messageOf("")).toContain("no start");
    expect(messageOf(start.replace('"version":1', '"version":2'))).toContain("version 2");
    expect(messageOf('{"format":"linewright-check","version":1}')).toContain("linewright-check");
  });
});
