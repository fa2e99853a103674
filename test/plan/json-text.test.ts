import { describe, expect, test } from "vitest";
import { parseJsonText } from "../../src/plan/index.ts";
import { only } from "./broken.ts";
import { randomFrom } from "./random.ts";

const faultOf = (text: string) => only(parseJsonText(text).problems);

describe("JSON text that isn't JSON", () => {
  test.each([
    ['{\n  "a": 1,\n}', "line 2, column 9", 'a comma before "}"'],
    ['{\n  "a": 1\n  "b": 2\n}', "line 3, column 3", '"," or "}" was expected'],
    ["{ 'a': 1 }", "line 1, column 3", "key in double quotation marks"],
    ['{ "lengthMm": 4210,5 }', "line 1, column 20", '"5" where a key'],
    ['{ "a": 007 }', "line 1, column 8", "no number"],
    ['{ "a": .5 }', "line 1, column 8", "no number"],
    ['{ "a": red }', "line 1, column 8", "double quotation marks"],
    ['{ "a": "red\n}', "line 1, column 8", "isn’t closed"],
    ['{ "a": "c:\\x" }', "line 1, column 11", "backslash"],
    ['{ "a": [1, 2', "line 1, column 13", "the end of the text"],
    ['{ "a" 1 }', "line 1, column 7", '":" was expected after the key "a"'],
    ["{} {}", "line 1, column 4", "after the end"],
    ["{ // plan\n}", "line 1, column 3", "comment"],
    ["\r\n\r\n [", "line 3, column 3", "the end of the text"],
    ["  ", "line 1, column 1", "empty"],
  ])("is told by line and column: %j", (text, where, words) => {
    expect(() => JSON.parse(text) as unknown).toThrow();
    const fault = faultOf(text);
    expect(fault.severity).toBe("error");
    expect(fault.where).toBe(where);
    expect(fault.message).toContain(words);
  });
});

describe("JSON text", { timeout: 60_000 }, () => {
  test("with a key twice would lose one of the two, so it is an error", () => {
    const fault = faultOf('{\n "lines": [{ "id": "A1", "lengthMm": 4210,\n "lengthMm": 4310 }]}');
    expect(fault.where).toBe("lines[0].lengthMm (line 3, column 2)");
  });

  test("may begin with a byte order mark, as some editors write it", () => {
    expect(parseJsonText('\uFEFF{"a":1}')).toMatchObject({ ok: true, value: { value: { a: 1 } } });
  });

  test("nested without end is refused, not run into", () => {
    expect(faultOf("[".repeat(100_000)).message).toContain("more than 100");
  });

  test("knows the line of every value", () => {
    const parsed = parseJsonText('{\n  "a": {\n    "b": [\n      1,\n      {"c": 2}]}}');
    if (!parsed.ok) throw new Error("sound JSON was refused");
    expect(parsed.value.lineOf("a.b[1].c")).toBe(5);
    expect(parsed.value.lineOf("a")).toBe(2);
    expect(parsed.value.lineOf("a.x")).toBeUndefined();
  });

  test("is taken or refused exactly as by the language's own parser, whatever is cut out of it", () => {
    const random = randomFrom(11);
    const sound = JSON.stringify(
      { a: [1, -2.5e3, 'x\\"y\n', null, true, {}, []], "b c": { d: "é😀", e: 0 } },
      null,
      1,
    );
    for (let round = 0; round < 2000; round++) {
      const at = random.whole(0, sound.length - 1);
      const text =
        sound.slice(0, at) +
        random.pick(["", ",", '"', "}", "1", " ", "\\", "]"]) +
        sound.slice(at + random.whole(0, 2));
      let expected: unknown;
      let takes = true;
      try {
        expected = JSON.parse(text);
      } catch {
        takes = false;
      }
      const parsed = parseJsonText(text);
      const doubledKey = parsed.problems[0]?.message.includes("twice") ?? false;
      if (doubledKey) continue;
      expect(parsed.ok, text).toBe(takes);
      if (parsed.ok) expect(parsed.value.value).toEqual(expected);
    }
  });
});
