import { describe, expect, it } from "vitest";
import {
  KNOWN_VERSIONS,
  migrate,
  NO_RECORDS,
  planInUse,
  RECORD_VERSION,
  readCheck,
  type WingRecords,
} from "../../src/record/index.ts";
import { testWing } from "../readings/wing.ts";
import { bookText, checkText, fullWing, PLAN_TEXT, recordsOf, stamp } from "./made.ts";

const only = (records: WingRecords) => {
  const [wing, ...more] = records.wings;
  if (wing === undefined || more.length > 0) throw new Error(`got ${records.wings.length} wings`);
  return wing;
};

/** What version 1 wrote into the browser's small store, as its text. */
const FIRST = JSON.stringify({
  plan: { name: "rook.plan.json", text: PLAN_TEXT },
  readings: {
    name: "rook.csv",
    text: "tab,left,right\nA1,6767,6768\n",
    frame: {
      wingName: "Quiet Rook",
      date: "2026-03-14",
      tensionN: 50,
      from: "riser",
      instrumentZeroM: 0.002,
    },
  },
  after: { name: "after.json", text: checkText("2026-03-20", 6775) },
  book: { name: "rook.loops.json", text: bookText("2026-03-15") },
});

describe("what version 1 kept", () => {
  it("becomes one wing with its plan in use, both checks and the loop book, all texts as they were", () => {
    const { records, problems } = migrate(JSON.parse(FIRST), 1, stamp());
    expect(problems).toEqual([]);
    const wing = only(records);
    expect(wing.name.value).toBe("Quiet Rook");
    expect(planInUse(wing)?.text).toBe(PLAN_TEXT);
    expect(wing.checks.map(({ name }) => name).sort()).toEqual(["after.json", "rook.csv"]);
    expect(wing.books.map(({ text }) => text)).toEqual([bookText("2026-03-15")]);
    expect(records.version).toBe(RECORD_VERSION);
  });

  it("keeps the answers to what a table doesn’t say: it is read as before", () => {
    const wing = only(migrate(JSON.parse(FIRST), 1, stamp()).records);
    const table = wing.checks.find(({ name }) => name === "rook.csv");
    if (table === undefined) throw new Error("the table is gone");
    const read = readCheck(table, testWing());
    expect(read.ok && read.value.date).toBe("2026-03-14");
    expect(read.ok && read.value.instrumentZeroM).toBe(0.002);
    expect(read.ok && read.value.readings.length).toBe(2);
  });

  it("may be a plan alone", () => {
    const { records, problems } = migrate({ plan: { name: "", text: PLAN_TEXT } }, 1, stamp());
    expect(problems).toEqual([]);
    expect(only(records).plans.map(({ name }) => name)).toEqual(["plan.json"]);
  });

  it("loses no more than the part that can’t be read, which is told", () => {
    const stored = { ...JSON.parse(FIRST), readings: { name: "x", text: 7 }, book: { name: "loops" } };
    const { records, problems } = migrate(stored, 1, stamp());
    expect(problems.map(({ where }) => where)).toEqual(["readings", "book"]);
    expect(only(records).checks.map(({ name }) => name)).toEqual(["after.json"]);
    expect(only(records).plans.length).toBe(1);
  });

  it.each([null, 7, {}, { plan: null }, { plan: { name: "p", text: "" } }])(
    "that is nothing (%j) gives nothing, and says so",
    (stored) => {
      const { records, problems } = migrate(stored, 1, stamp());
      expect(records).toEqual(NO_RECORDS);
      expect(problems.length).toBe(1);
    },
  );
});

describe("what this version kept", () => {
  it("is read as it was", () => {
    const records = recordsOf(fullWing());
    const migrated = migrate(structuredClone(records), RECORD_VERSION, stamp());
    expect(migrated).toEqual({ records, problems: [] });
  });

  it("loses an entry that is broken, and no other", () => {
    const good = fullWing();
    const { records, problems } = migrate(
      { version: 2, wings: [{ ...good, notes: [{ id: "n" }, ...good.notes] }, { name: "none" }] },
      2,
      stamp(),
    );
    expect(records).toEqual(recordsOf(good));
    expect(problems.map(({ where }) => where)).toEqual(["wings[0].notes[0].changedAt", "wings[1].id"]);
  });

  it.each([undefined, [], { wings: "none" }])("that has no wings (%j) says so", (stored) => {
    const { records, problems } = migrate(stored, 2, stamp());
    expect(records).toEqual(NO_RECORDS);
    expect(problems.length).toBe(1);
  });
});

describe("versions", () => {
  it("are all known up to the present one, each tested above", () => {
    expect(KNOWN_VERSIONS).toEqual([1, 2]);
    expect(KNOWN_VERSIONS.at(-1)).toBe(RECORD_VERSION);
  });

  it("from a newer program are left alone, and told", () => {
    const { records, problems } = migrate({ wings: [fullWing()] }, 3, stamp());
    expect(records).toEqual(NO_RECORDS);
    expect(problems[0]?.message).toBe("What was kept is of version 3; understood: 1, 2.");
  });
});
