import { describe, expect, it } from "vitest";
import {
  addCheck,
  addHours,
  addNote,
  addPhoto,
  addPlan,
  bookInUse,
  changeHours,
  changeNote,
  checkDay,
  keepBook,
  newWing,
  planInUse,
  removeItem,
  setNextCheck,
} from "../../src/record/index.ts";
import { bookText, checkText, fullWing, PLAN_TEXT, planText, stamp } from "./made.ts";

const wing = newWing("Rook", stamp());
const at = (day: string) => stamp(`${day}T09:00:00.000Z`, day.slice(8));

describe("plan versions", () => {
  const first = addPlan(wing, { name: "a", text: PLAN_TEXT }, at("2026-01-01"));
  const second = addPlan(first, { name: "b", text: planText("C"), changed: "C row" }, at("2026-01-02"));

  it("stand in the order in which they came, the last in use", () => {
    expect(second.plans.map(({ name }) => name)).toEqual(["a", "b"]);
    expect(planInUse(second)?.name).toBe("b");
  });

  it("aren’t doubled when an earlier one is taken up again, however it is laid out: it is in use", () => {
    const laidOut = JSON.stringify(JSON.parse(PLAN_TEXT), null, 2);
    const back = addPlan(second, { name: "again", text: laidOut }, at("2026-01-03"));
    expect(back.plans).toEqual(second.plans);
    expect(planInUse(back)?.name).toBe("a");
  });
});

describe("checks", () => {
  it("with the same day and readings are there once, in whatever order the readings stand", () => {
    const one = addCheck(wing, { name: "a", text: checkText("2026-01-02", 6770, ["A1", "A2"]) }, stamp());
    const again = addCheck(one, { name: "b", text: checkText("2026-01-02", 6770, ["A2", "A1"]) }, stamp());
    expect(again.checks.length).toBe(1);
    const other = addCheck(again, { name: "c", text: checkText("2026-01-03", 6770) }, stamp(undefined, "o"));
    expect(other.checks.map((check) => checkDay(check))).toEqual(["2026-01-02", "2026-01-03"]);
  });

  it("of a table count with what the table doesn’t say", () => {
    const table = "tab,left\nA1,6767\n";
    const [one, other] = fullWing()
      .checks.flatMap(({ frame }) => frame ?? [])
      .flatMap((frame) => [
        { name: "t", text: table, frame },
        { name: "t", text: table, frame: { ...frame, tensionN: 20 } },
      ]);
    if (one === undefined || other === undefined) throw new Error("no frame");
    expect(addCheck(addCheck(wing, one, at("2026-01-01")), other, at("2026-01-02")).checks.length).toBe(2);
  });
});

describe("the loop book", () => {
  const kept = keepBook(wing, { name: "loops", text: bookText("2026-01-02") }, at("2026-01-02"));

  it("is replaced as it goes on, and knows when it was changed before", () => {
    const on = keepBook(kept, { name: "loops", text: bookText("2026-01-02", "plain eye") }, at("2026-01-03"));
    expect(on.books.length).toBe(1);
    expect(bookInUse(on)?.text).toContain("plain eye");
    expect(bookInUse(on)?.earlier?.map((state) => state.slice(0, 24))).toEqual(["2026-01-02T09:00:00.000Z"]);
  });

  it("stays beside the new one where a card of earlier work would be lost", () => {
    const next = keepBook(kept, { name: "loops", text: bookText("2027-01-02") }, at("2027-01-02"));
    expect(next.books.length).toBe(2);
    expect(bookInUse(next)?.text).toBe(bookText("2027-01-02"));
  });

  it("that hasn’t changed isn’t kept anew", () => {
    expect(keepBook(kept, { name: "loops", text: bookText("2026-01-02") }, at("2026-01-05"))).toBe(kept);
  });
});

describe("notes, hours, photos and the next check", () => {
  it("are added by day, changed and taken out", () => {
    let record = addNote(wing, { day: "2026-02-01", text: "wet" }, at("2026-02-02"));
    record = addNote(record, { day: "2026-01-01", text: "dry" }, at("2026-02-03"));
    expect(record.notes.map(({ text }) => text)).toEqual(["dry", "wet"]);
    record = changeNote(record, "021", { text: "sandy" }, "2026-02-04T00:00:00.000Z");
    expect(record.notes.map(({ text }) => text)).toEqual(["dry", "sandy"]);
    record = addHours(record, { day: "2026-02-01", totalHours: 30 }, at("2026-02-05"));
    record = changeHours(record, "051", { totalHours: 31 }, "2026-02-06T00:00:00.000Z");
    expect(record.hours.map(({ totalHours }) => totalHours)).toEqual([31]);
    expect(removeItem(record, "notes", "021").notes.length).toBe(1);
    expect(() => changeNote(record, "none", { text: "" }, "2026-02-06T00:00:00.000Z")).toThrow(RangeError);
    expect(setNextCheck(record, undefined, "2026-02-06T00:00:00.000Z").nextCheck?.value).toBe(null);
  });

  it("a photo is there once", () => {
    const photo = { name: "a.jpg", type: "image/jpeg", bytes: Uint8Array.of(1, 2, 3) };
    const one = addPhoto(wing, photo, stamp());
    expect(addPhoto(one, { ...photo, name: "b.jpg" }, stamp()).photos.length).toBe(1);
    expect(addPhoto(one, { ...photo, bytes: Uint8Array.of(3, 2, 1) }, at("2026-01-01")).photos.length).toBe(
      2,
    );
  });
});
