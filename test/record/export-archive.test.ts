import { strFromU8, unzipSync } from "fflate";
import { validateBytes } from "gltf-validator";
import { afterEach, describe, expect, it } from "vitest";
import type { Analysis } from "../../src/diagnosis/model.ts";
import { parsePlanText } from "../../src/plan/index.ts";
import { parseCheckText } from "../../src/readings/index.ts";
import { exportFiles, exportStem, zipOf } from "../../src/record/export-archive.ts";
import { safeName, unlike } from "../../src/record/export-names.ts";
import { catalogueOf, speak } from "../../src/words/index.ts";
import { analysis, check, loops, scale, unread, wing } from "./export-demo.ts";
import { elementsOf } from "./well-formed.ts";

const sources = { analysis, loops, scale };
const files = await exportFiles({
  ...sources,
  pictures: [
    { name: "View from the front.PNG", bytes: Uint8Array.of(1, 2, 3) },
    { name: "../view from the front.png", bytes: Uint8Array.of(4) },
  ],
});
const bytesOf = (end: string) => {
  const file = files.find(({ name }) => name.endsWith(end));
  if (file === undefined) throw new Error(`there is no ${end}`);
  return file.bytes;
};

afterEach(() => speak());

describe("all exports", () => {
  it("are named by wing and day, each of another name, with the text about them first", () => {
    expect(files.map(({ name }) => name)).toEqual(
      [
        "about.txt",
        "tables.xlsx",
        "readings.csv",
        "deviations.csv",
        "rows.csv",
        "lines.csv",
        "incidence.csv",
        "loop-plan.csv",
        "after-the-loops.csv",
        "deviation.svg",
        "pairs.svg",
        "incidence.svg",
        "specified.glb",
        "measured.glb",
        "plan.json",
        "check.json",
        "view-from-the-front.png",
        "view-from-the-front-2.png",
      ].map((name) => `tidewrack-28-2026-03-14-${name}`),
    );
  });

  it("hold what they are named by", async () => {
    const plan = parsePlanText(strFromU8(bytesOf("plan.json")));
    expect(plan.ok && plan.value).toEqual(wing);
    const read = parseCheckText(strFromU8(bytesOf("check.json")), wing);
    expect(read.ok && read.value).toEqual(check);
    for (const end of ["deviation.svg", "pairs.svg", "incidence.svg"]) elementsOf(strFromU8(bytesOf(end)));
    for (const end of ["specified.glb", "measured.glb"])
      expect((await validateBytes(bytesOf(end))).issues.messages).toEqual([]);
    const table = bytesOf("deviations.csv");
    expect([...table.subarray(0, 3)]).toEqual([0xef, 0xbb, 0xbf]);
    expect(strFromU8(table.subarray(3)).startsWith("# wing: Tidewrack 28\r\n")).toBe(true);
    expect(bytesOf("front.png")).toEqual(Uint8Array.of(1, 2, 3));
  });

  it("begin with a text that names every other file and says that none is a clearance to fly", async () => {
    const text = strFromU8(bytesOf("about.txt"));
    for (const { name } of files.slice(1)) expect(text).toContain(`${name}: `);
    expect(text).toContain("not a clearance to fly");
    speak({ language: "fr", locale: "fr-FR", catalogue: await catalogueOf("fr") });
    const [french] = await exportFiles({ ...sources, loops: undefined });
    expect(strFromU8(french?.bytes ?? new Uint8Array())).toContain(
      "fichiers exportés du contrôle du 14 mars 2026",
    );
  });

  it("are the plan’s alone where nothing was read", async () => {
    const alone = await exportFiles({ analysis: unread, scale });
    expect(alone.map(({ name }) => name)).toEqual(
      [
        "about.txt",
        "tables.xlsx",
        "deviations.csv",
        "rows.csv",
        "lines.csv",
        "specified.glb",
        "plan.json",
      ].map((name) => `tidewrack-28-${name}`),
    );
  });

  it("hold a state tried besides, where one is shown", async () => {
    const tried = await exportFiles({
      ...sources,
      shown: { state: "tried", solved: analysis.model.specified },
    });
    expect(
      tried.filter(({ name }) => name.endsWith(".glb")).map(({ name }) => name.split("-").at(-1)),
    ).toEqual(["specified.glb", "measured.glb", "tried.glb"]);
  });
});

describe("the archive", () => {
  it("holds every file as it is, dated by the day given", () => {
    const zip = zipOf(files, "2026-11-25");
    const back = unzipSync(zip);
    expect(Object.keys(back)).toEqual(files.map(({ name }) => name));
    for (const { name, bytes } of files) expect(back[name]).toEqual(bytes);
    expect(zipOf(files, "2026-11-25")).toEqual(zip);
    expect(zipOf(files, "2026-11-26")).not.toEqual(zip);
  });

  it("takes no day that a ZIP can’t hold, and no name twice", () => {
    for (const day of ["1979-12-31", "2100-01-01", "soon"])
      expect(() => zipOf([], day)).toThrow(/expected a day/);
    const file = { name: "a.txt", bytes: Uint8Array.of(1) };
    expect(() => zipOf([file, file], "2026-11-25")).toThrow(/of one name/);
  });
});

describe("names of files", () => {
  it.each([
    ["Tidewrack 28", "tidewrack-28"],
    ["Föhn/26 \\ *?", "fohn-26"],
    ["../../etc/passwd", "etc-passwd"],
    ["Straße Œuvre", "strasse-oeuvre"],
    ["CON", "wing-con"],
    ["nul.txt", "wing-nul.txt"],
    ["console", "console"],
    ["...", "wing"],
    ["風", "wing"],
    ["a".repeat(200), "a".repeat(60)],
    ["trailing. ", "trailing"],
  ])("%s becomes %s", (text, name) => {
    expect(safeName(text)).toBe(name);
  });

  it("stay safe whatever a wing is called", () => {
    const called = [
      "=1+1",
      "a:b",
      "LPT1",
      "com9.x",
      "\u202egnp.exe",
      "  ",
      "-rf",
      ".hidden",
      "a\nb",
      `${"x".repeat(59)}-y`,
    ];
    for (const name of called) {
      const odd: Analysis = { ...analysis, wing: { ...wing, name } };
      expect(exportStem({ analysis: odd })).toMatch(/^[a-z0-9](?:[a-z0-9.-]*[a-z0-9])?$/);
      expect(safeName(safeName(name))).toBe(safeName(name));
    }
  });

  it("are told apart without capitals, their endings kept", () => {
    expect(unlike(["a.png", "A.png", "a-2.png", "a", "a"])).toEqual([
      "a.png",
      "A-2.png",
      "a-2-2.png",
      "a",
      "a-2",
    ]);
  });
});
