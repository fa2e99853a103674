/**
 * The reader's CSV grammar against RFC 4180, "Common Format and MIME Type for Comma-Separated Values (CSV)
 * Files", Y. Shafranovich, October 2005, section 2, rules 1 to 7: the RFC's own records through the splitter,
 * and the same rule in a table of readings.
 */
import { describe, expect, it } from "vitest";
import { parseReadingsCsv } from "../../src/readings/index.ts";
import { plainText, readRecords } from "../../src/readings/records.ts";
import { FRAME, shortly, testWing } from "../readings/wing.ts";

const records = (text: string) => readRecords(plainText(text), ",").records.map((record) => record.cells);

function readings(text: string) {
  const parsed = parseReadingsCsv(text, testWing(), FRAME);
  if (!parsed.ok) throw new Error(parsed.problems.map((problem) => problem.message).join("\n"));
  return { read: shortly(parsed.value.readings), wrong: parsed.problems.map((problem) => problem.where) };
}

const TWO = [
  ["aaa", "bbb", "ccc"],
  ["zzz", "yyy", "xxx"],
];

describe("RFC 4180, section 2", () => {
  it("rule 1: each record is on a line of its own, ended by CRLF", () => {
    expect(records("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual(TWO);
    expect(readings("tab,left mm\r\nA1,6767\r\nA2,6766\r\n")).toEqual({
      read: ["left A1 6767", "left A2 6766"],
      wrong: [],
    });
  });

  it("rule 2: the last record may or may not have a line break", () => {
    expect(records("aaa,bbb,ccc\r\nzzz,yyy,xxx")).toEqual(TWO);
    expect(readings("tab,left mm\r\nA1,6767\r\nA2,6766")).toEqual({
      read: ["left A1 6767", "left A2 6766"],
      wrong: [],
    });
  });

  it("rule 3: a header line has the form of a record (here it isn't optional: it says what the columns are)", () => {
    expect(records("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")).toEqual([
      ["field_name", "field_name", "field_name"],
      ...TWO,
    ]);
    expect(readings('"tab","left mm"\r\nA1,6767\r\n')).toEqual({ read: ["left A1 6767"], wrong: [] });
    expect(parseReadingsCsv("A1,6767\r\n", testWing(), FRAME).ok).toBe(false);
  });

  it("rule 4: fields are separated by commas, spaces belong to them, and every line has as many", () => {
    expect(records("aaa,bbb,ccc")).toEqual([["aaa", "bbb", "ccc"]]);
    expect(records("aaa, bbb ,ccc")).toEqual([["aaa", " bbb ", "ccc"]]);
    expect(readings("tab,left mm,right mm\r\nA1,6767,6765,6763\r\nA2,6766,6764\r\n")).toEqual({
      read: ["left A2 6766", "right A2 6764"],
      wrong: ["file line 2"],
    });
  });

  it("rule 5: a field may or may not be in double quotes", () => {
    expect(records('"aaa","bbb","ccc"\r\nzzz,yyy,xxx')).toEqual(TWO);
    expect(readings('tab,left mm\r\n"A1","6767"\r\nA2,6766\r\n')).toEqual({
      read: ["left A1 6767", "left A2 6766"],
      wrong: [],
    });
  });

  it("rule 6: line breaks, double quotes and commas may stand in a quoted field", () => {
    expect(records('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([
      ["aaa", "b\nbb", "ccc"],
      ["zzz", "yyy", "xxx"],
    ]);
    expect(records('"a,aa",bbb')).toEqual([["a,aa", "bbb"]]);
    expect(readings('tab,left mm,note\r\nA1,"6767,5","wet,\r\nand cold"\r\nA9,6766,\r\n')).toEqual({
      read: ["left A1 6767.5"],
      wrong: ['file line 4, column "tab"'],
    });
  });

  it("rule 7: a double quote in a quoted field is written twice", () => {
    expect(records('"aaa","b""bb","ccc"')).toEqual([["aaa", 'b"bb', "ccc"]]);
    const parsed = parseReadingsCsv('tab,left mm,note\r\nA1,6767,"a ""soft"" spot"\r\n', testWing(), FRAME);
    expect(parsed).toMatchObject({ ok: true, value: { readings: [{ note: 'a "soft" spot' }] } });
  });
});
