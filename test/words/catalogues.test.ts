import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, it } from "vitest";
import { catalogueOf, ENGLISH, type Key, LANGUAGES, type Language } from "../../src/words/index.ts";
import { placesOf, shapeOf } from "./messages.ts";

const words = new URL("../../src/words/", import.meta.url).pathname;

/** Messages as the files have them, by area. */
function areasOf(language: Language): ReadonlyMap<string, Readonly<Record<string, string>>> {
  const folder = join(words, language);
  return new Map(
    readdirSync(folder)
      .filter((file) => file.endsWith(".json"))
      .map((file) => [file.replace(/\.json$/, ""), JSON.parse(readFileSync(join(folder, file), "utf8"))]),
  );
}

describe.each(LANGUAGES)("the catalogue of %s", (language) => {
  const areas = areasOf(language);
  const messages = [...areas].flatMap(([area, texts]) =>
    Object.entries(texts).map(([key, text]) => ({ area, key, text })),
  );

  it("has every text that English has, and no other", async () => {
    const catalogue = await catalogueOf(language);
    expect(Object.keys(catalogue).sort()).toEqual(Object.keys(ENGLISH).sort());
    expect(messages.map(({ key }) => key).sort()).toEqual(Object.keys(catalogue).sort());
    expect(messages.length).toBeGreaterThan(500);
  });

  it("keeps each text in the file that its key names, once in the file", () => {
    expect(messages.filter(({ area, key }) => !key.startsWith(`${area}.`))).toEqual([]);
    for (const area of areas.keys()) {
      const text = readFileSync(join(words, language, `${area}.json`), "utf8");
      const keys = [...text.matchAll(/^\s*"([^"]+)":/gm)].map(([, key]) => key);
      expect(new Set(keys).size, area).toBe(keys.length);
    }
  });

  it("has no text that is empty or can’t be read as a message, nor a straight apostrophe, which quotes in messages", () => {
    const bad = messages.filter(({ text }) => {
      if (text.trim() === "" || text.includes("'")) return true;
      try {
        return new IntlMessageFormat(text, language, undefined, { ignoreTag: true }).getAst().length === 0;
      } catch {
        return true;
      }
    });
    expect(bad).toEqual([]);
  });

  it("has the places, and the cases of each choice, that English has", () => {
    const other = messages.flatMap(({ key, text }) => {
      const english = shapeOf(ENGLISH[key as Key]);
      const here = shapeOf(text);
      return JSON.stringify(english) === JSON.stringify(here) ? [] : [{ key, english, here }];
    });
    expect(other).toEqual([]);
  });
});

describe.each(["de", "fr"] as const)("the texts in %s", (language) => {
  it("are other than the English ones, but for names, marks and words that both have", async () => {
    const catalogue = await catalogueOf(language);
    const long = (Object.keys(ENGLISH) as Key[]).filter(
      (key) => ENGLISH[key].replace(/\{[^{}]*\}/g, "").split(/\s+/).length > 4,
    );
    expect(long.filter((key) => catalogue[key] === ENGLISH[key])).toEqual([]);
    expect(long.length).toBeGreaterThan(200);
  });
});

describe("the places of a message", () => {
  it("are found through choices and plurals", () => {
    expect(placesOf("{a, select, x {one {b}} other {{count, plural, one {# {c}} other {#}}}}")).toEqual([
      "a",
      "b",
      "c",
      "count",
    ]);
  });
});
