import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { ENGLISH, type Key } from "../../src/words/index.ts";
import { placesOf } from "../words/messages.ts";
import { textsOf } from "./texts.ts";

const src = new URL("../../src/", import.meta.url);

/** What reads like a text and isn't one of the program's: where it stands, how it begins, and what it is. */
const NO_TEXTS: readonly (readonly [file: RegExp, text: RegExp, why: string])[] = [
  [/^demo\//, /./, "names and notes of invented files"],
  [/^readings\/(?:headings|tables\/heading)\.ts$/, /./, "words that tables use, in three languages"],
  [/^readings\/frame\.ts$/, /^(?:zero|scale|tension|reading) uncertainty$/, "keys of comments in files"],
  [/^readings\/session\/meter\.ts$/, /^simulated meter$/, "a meter of tests"],
  [/^plan\/draft\/(?:statements|write-statements|source|patterns)\.ts$/, /./, "the notation of drafts"],
  [
    /^plan\/build\.ts$|^diagnosis\/wording\.ts$/,
    /^common practice$|^the plan, which/,
    "what a plan's limits are marked with; said by sourceOf",
  ],
  [/^cli\/build-help\.ts$/, /^name: Paper Kite/, "an example in the notation of drafts"],
  [/^geometry\/assemble\.ts$/, /^trailing edge$/, "a node's name in the program"],
  [/^view\/model\/judging-decisions\.ts$/, /^brake paths$/, "an id"],
  [/^view\/charts\/IncidenceTable\.tsx$/, /^(?:left|right) between$/, "an id"],
  [/^view\/panes\/RibPane\.tsx$/, /^measured tried$/, "an id"],
  [/^view\/Head\.tsx$/, /^Linewright$/, "the program's name"],
  [/^view\/stage\/(?:fabric|fatLines|marks)\.ts$/, /./, "programs for the graphics"],
  [/^view\/stage\/DrawnWing\.tsx$/, /^\(prefers-/, "a media query"],
  [/^view\/state\/bring-files\.ts$/, /^textarea, input/, "a selector"],
];

const texts = new Map(
  readdirSync(src, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name) && !entry.name.endsWith(".d.ts"))
    .map((entry) => relative(fileURLToPath(src), join(entry.parentPath, entry.name)).split(sep).join("/"))
    .filter((path) => !path.startsWith("words/"))
    .map((path) => [path, textsOf(path, readFileSync(new URL(path, src), "utf8"))] as const),
);
const names = new Set([...texts.values()].flatMap((each) => [...each.names]));

describe("the sources", () => {
  it("hold no text that is not in the catalogue", () => {
    const found = [...texts].flatMap(([path, { hard }]) =>
      hard
        .filter(
          ({ text }) =>
            !names.has(text) && !NO_TEXTS.some(([file, begins]) => file.test(path) && begins.test(text)),
        )
        .map(({ line, text }) => `${path}:${line}: ${text}`),
    );
    expect(found).toEqual([]);
  });

  it("need every exception that is made", () => {
    const idle = NO_TEXTS.filter(
      ([file, begins]) =>
        ![...texts].some(([path, { hard }]) => file.test(path) && hard.some(({ text }) => begins.test(text))),
    );
    expect(idle).toEqual([]);
  });

  it("ask only for texts that there are, with a value for every place and none besides", () => {
    const wrong = [...texts].flatMap(([path, { said }]) =>
      said.flatMap(({ line, key, values }) => {
        if (key === undefined) return [];
        const message = ENGLISH[key as Key];
        if (message === undefined) return [`${path}:${line}: there is no ${key}`];
        if (values === undefined) return [];
        const places = placesOf(message);
        return JSON.stringify([...values].sort()) === JSON.stringify(places)
          ? []
          : [`${path}:${line}: ${key} has places ${places.join(", ")}, and is given ${values.join(", ")}`];
      }),
    );
    expect(wrong).toEqual([]);
  });

  it("say nothing while they load, when the language isn’t set yet", () => {
    const early = [...texts].flatMap(([path, { said }]) =>
      said.filter(({ inFunction }) => !inFunction).map(({ line }) => `${path}:${line}`),
    );
    expect(early).toEqual([]);
  });

  it("use every text of the catalogue", () => {
    const used = new Set([...texts.values()].flatMap(({ literals }) => [...literals]));
    expect(Object.keys(ENGLISH).filter((key) => !used.has(key))).toEqual([]);
  });

  it("have been read, all of them", () => {
    expect(texts.size).toBeGreaterThan(400);
  });
});

describe("the rule of texts", () => {
  const hard = (code: string) => textsOf("a.tsx", code).hard.map(({ text }) => text);

  it.each([
    ["a sentence in a string", 'const a = () => "Two words here";', "Two words here"],
    // biome-ignore lint/suspicious/noTemplateCurlyInString: code to be judged
    ["a sentence in a template", "const a = (n) => `${n} lines are left`;", "lines are left"],
    ["a word between tags", "const a = () => <b>Close</b>;", "Close"],
    ["a label for the ear", 'const a = () => <b aria-label="Close" />;', "Close"],
  ])("finds %s", (_, code, text) => {
    expect(hard(code)).toEqual([text]);
  });

  it.each([
    ["what is thrown", 'const a = () => { throw new RangeError("No such line"); };'],
    ["an error that is made", 'const a = () => new Error("No such line");'],
    ["members of types", 'type A = "unknown JSON" | "broken JSON";'],
    ["style", 'const a = () => <b style={{ border: "1px solid var(--ink)" }} className="one two" />;'],
    ["figures and marks", "const a = (n) => <b>{n} × 3</b>;"],
  ])("lets %s be", (_, code) => {
    expect(hard(code)).toEqual([]);
  });

  it("finds what is said too early, and with which values", () => {
    const { said } = textsOf("a.ts", 'const a = say("x.y"); const b = () => say("x.z", { n, "m": 1 });');
    expect(said).toEqual([
      { line: 1, key: "x.y", values: [], inFunction: false },
      { line: 1, key: "x.z", values: ["n", "m"], inFunction: true },
    ]);
  });
});
