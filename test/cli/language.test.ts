/** The same commands in other languages and in inches: the texts change, what was found doesn't. */
import { afterAll, describe, expect, it } from "vitest";
import { environmentTag } from "../../src/cli/globals.ts";
import { speak } from "../../src/words/index.ts";
import { type Run, run } from "./io.ts";
import { checkFile, readings, smallPlan } from "./wing.ts";

afterAll(() => speak());

const COMMANDS = [
  "validate",
  "columns",
  "compare",
  "diagnose",
  "loops",
  "recheck",
  "order",
  "shape",
  "network",
  "build",
  "diff",
  "schema",
];

const check = checkFile(
  readings(({ id, side, row }) => (row === "C" ? -15 : id === "A1" && side === "left" ? -8 : 0)),
);
const files = { "plan.json": JSON.stringify(smallPlan), "check.json": check };
const broken = JSON.stringify({ ...smallPlan, reference: { from: "riser", tensionN: -1 } });

const done = new Map<string, Promise<Run>>();

/** The same command line isn't run twice. One after the other: what is spoken is set for all at once. */
async function told(...argv: string[]): Promise<Run> {
  const key = argv.join(" ");
  const found = done.get(key) ?? run(argv, files);
  done.set(key, found);
  return found;
}

/** The figures of a text, in millimetres or inches as they stand, in order. */
function figuresOf(text: string): number[] {
  return [...text.matchAll(/(?<![\w.,])[−+]?\d+(?:[.,]\d+)?(?![\w.,]*\w)/gu)].map(([figure]) =>
    Number(figure.replace("−", "-").replace(",", ".")),
  );
}

/** The rows of the table that begins with a tab's or a line's name. */
function rowsOf(text: string, begins: RegExp): string[] {
  return text.split("\n").filter((line) => begins.test(line));
}

// Each works a wing out: slow where the machine is busy.
describe("the command line in another language", { timeout: 60_000 }, () => {
  it.each([
    ["de", /^linewright <befehl>/, "keine Freigabe zum Fliegen", "--language en|de|fr"],
    ["fr", /^linewright <commande>/, "Ni un contrôle ni une autorisation de vol", "--language en|de|fr"],
    ["en", /^linewright <command>/, "not a clearance to fly", "--unit mm|in"],
  ])("explains itself in %s, with the options that set it", async (language, begins, caution, option) => {
    const { code, out } = await run(["--language", language, "--help"]);
    expect(code).toBe(0);
    expect(out).toMatch(begins);
    expect(out.replace(/\s+/g, " ")).toContain(caution);
    expect(out).toContain(option);
  });

  it.each(COMMANDS)("explains %s in each, with the same options", async (command) => {
    const helps: string[] = [];
    for (const language of ["en", "de", "fr"])
      helps.push((await run([command, "--help", "--language", language])).out);
    const optionsOf = (text: string): string[] =>
      [...new Set([...text.matchAll(/(?<=^ {2})--[a-z-]+/gm)].map(([option]) => option))].sort();
    for (const text of helps) {
      expect(text).toMatch(new RegExp(`^linewright ${command} `));
      expect(text).not.toMatch(/[{}](?:open|close|readings|judging|choices|example)/);
      expect(optionsOf(text)).toEqual(optionsOf(helps[0] as string));
    }
    expect(new Set(helps).size).toBe(3);
  });

  it("lists in German and French what is wrong with a plan, at the same places", async () => {
    const runs: Run[] = [];
    for (const language of ["en", "de", "fr"])
      runs.push(await run(["validate", "plan.json", "--language", language], { "plan.json": broken }));
    expect(runs.map(({ code }) => code)).toEqual([1, 1, 1]);
    const [en, de, fr] = runs.map(({ out }) => out);
    expect(en).toMatch(/^Errors \(1\)/);
    expect(de).toMatch(/^Fehler \(1\)[\s\S]*Der Plan ist so nicht zu gebrauchen\./);
    expect(fr).toMatch(/^Erreurs \(1\)[\s\S]*Le plan n’est pas utilisable tel quel\./);
    for (const text of [en, de, fr]) expect(text).toContain("reference.tensionN");
  });

  it("writes the same figures in each, with the language's decimal mark", async () => {
    const en = await told("compare", "plan.json", "check.json");
    const de = await told("compare", "plan.json", "check.json", "--language", "de");
    const fr = await told("compare", "plan.json", "check.json", "--language", "fr");
    expect([en.code, de.code, fr.code]).toEqual([0, 0, 0]);
    const tables = [en, de, fr].map(({ out }) => rowsOf(out, /^[ABC]\d? /));
    expect(tables[0]?.length).toBeGreaterThan(6);
    for (const table of tables) expect(table.map(figuresOf)).toEqual((tables[0] as string[]).map(figuresOf));
    expect(de.out).toMatch(/^C .*−15,0/m);
    expect(de.out).toContain("gemessen");
    expect(fr.out).toMatch(/^C .*−15,0/m);
    expect(fr.out).toContain("mesuré");
  });

  it.each([
    ["de", /^Befunde\n-{7}$/m, /^Entscheidungen$/m, /^links weniger rechts .*,\d\d/m],
    ["fr", /^Constats\n-{8}$/m, /^Décisions$/m, /^gauche moins droite .*,\d\d/m],
  ])("diagnoses in %s", async (language, findings, decisions, angles) => {
    const { code, out } = await told("diagnose", "plan.json", "check.json", "--language", language);
    expect(code).toBe(0);
    for (const part of [findings, decisions, angles]) expect(out).toMatch(part);
    expect(out).not.toMatch(/\b(?:the|measured|undecided|lines|reading)\b/);
  });

  it.each([
    ["de", "Beste Änderungen", "links"],
    ["fr", "Meilleurs changements", "gauche"],
  ])("plans loops in %s", async (language, best, left) => {
    const { code, out } = await told("loops", "plan.json", "check.json", "--language", language);
    expect(code).toBe(0);
    expect(out).toContain(best);
    expect(out).toContain(left);
    expect(out).not.toMatch(/\b(?:the|and|measured|estimate|recorded|none)\b/);
  });

  it("converts lengths to inches in texts, and nothing else", async () => {
    const mm = await told("compare", "plan.json", "check.json");
    const inches = await told("--unit", "in", "compare", "plan.json", "check.json");
    const [tabsMm, tabsIn] = [mm, inches].map(({ out }) => rowsOf(out, /^[ABC]\d /).map(figuresOf));
    expect(tabsIn?.length).toBeGreaterThan(4);
    for (const [row, figures] of (tabsIn ?? []).entries())
      for (const [column, value] of figures.entries())
        expect(Math.abs(25.4 * value - (tabsMm?.[row]?.[column] ?? Number.NaN))).toBeLessThan(0.5 + 0.127);
    expect(inches.out).toContain("lengths in inches");
    expect(inches.out).toContain("50 N");
  });

  it("leaves JSON's figures, keys and names as they are, and says its sentences in the language", async () => {
    const en = JSON.parse((await told("compare", "plan.json", "check.json", "--json")).out);
    const argv = ["compare", "plan.json", "check.json", "--json", "--language", "de", "--unit", "in"];
    const de = JSON.parse((await told(...argv)).out);
    const { findings: said, caution, problems: _, ...rest } = de;
    expect(rest).toEqual({ ...rest, tabs: en.tabs, rows: en.rows, tolerances: en.tolerances });
    expect(caution).toContain("keine Freigabe zum Fliegen");
    expect(said.map(({ kind }: { kind: string }) => kind)).toEqual(
      en.findings.map(({ kind }: { kind: string }) => kind),
    );
    expect(said[0].headline).not.toBe(en.findings[0].headline);
  });
});

describe("the options of every command", () => {
  it.each([
    [["--language", "es", "validate", "plan.json"], /^linewright: --language: "es" is none of en, de, fr\n/],
    [["validate", "plan.json", "--language=xx"], /"xx" is none of en, de, fr/],
    [["--unit", "cm", "validate", "plan.json"], /--unit: "cm" is none of mm, in/],
    [["--language"], /--language needs a value/],
    [["--unit", "--help"], /--unit needs a value/],
  ])("refuse %j, telling what there is", async (argv, message) => {
    const { code, out, err } = await run(argv, files);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });

  it("stand before the command or after it", async () => {
    const before = await run(["--language", "fr", "validate", "plan.json"], files);
    expect(await run(["validate", "--language=fr", "plan.json"], files)).toEqual(before);
    expect(before.out).toContain("lisible");
  });

  it("leave columns the unit of its own", async () => {
    const table = { "table.csv": "number;A;B\n1;7.42;7.33\n2;7.4;7.31" };
    const { code, out } = await run(["columns", "table.csv", "--unit", "m"], table);
    expect(code).toBe(0);
    expect(out).toMatch(/^A +1 .*7420\.0/m);
    const inches = await run(["--unit", "in", "columns", "table.csv", "--unit", "m"], table);
    expect(inches.out).toMatch(/^A +1 .*292\.126/m);
  });

  it("go before the environment, which goes before English", async () => {
    const spoken = async (env: Record<string, string>, ...argv: string[]): Promise<string> =>
      (await run(["validate", "plan.json", ...argv], files, "", env)).out;
    expect(await spoken({ LANG: "de_CH.UTF-8" })).toContain("lesbar");
    expect(await spoken({ LANG: "de_DE.UTF-8", LC_ALL: "fr_FR" })).toContain("lisible");
    expect(await spoken({ LANG: "de_DE.UTF-8" }, "--language", "en")).toContain("readable");
    for (const LANG of ["C", "C.UTF-8", "POSIX", "", "es_ES.UTF-8", "?"])
      expect(await spoken({ LANG }), LANG).toContain("readable");
  });

  it("take the tag of the language from the environment as POSIX ranks it", () => {
    expect(environmentTag({ LANG: "de_CH.UTF-8@euro" })).toBe("de-CH");
    expect(environmentTag({ LC_MESSAGES: "fr", LANG: "de_DE" })).toBe("fr");
    expect(environmentTag({ LC_ALL: "C", LANG: "de_DE" })).toBeUndefined();
    expect(environmentTag({})).toBeUndefined();
  });
});
