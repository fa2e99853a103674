import { describe, expect, it } from "vitest";
import { EXAMPLE_DRAFT } from "../../src/cli/build-help.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { parsePlanText, type Wing } from "../../src/plan/index.ts";
import { run } from "./io.ts";
import { smallPlan } from "./wing.ts";

const built = (text: string): Wing => {
  const parsed = parsePlanText(text);
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return parsed.value;
};

/** The example as it stands in the help, indentation taken off. */
async function exampleInHelp(): Promise<string> {
  const { out } = await run(["build", "--help"]);
  const [, block = ""] = /Example \(kite\.txt\):\n([\s\S]*?)\n\n/.exec(out) ?? [];
  return `${block.replace(/^ {4}/gmu, "")}\n`;
}

describe("linewright build", () => {
  it("makes a valid wing of the help's own example, whose model reproduces every total to 0.1 mm", {
    timeout: 60_000,
  }, async () => {
    const text = await exampleInHelp();
    expect(text).toBe(EXAMPLE_DRAFT);
    const { code, written, out, err } = await run(["build", "kite.txt", "--out", "kite.json"], {
      "kite.txt": text,
    });
    expect([code, out]).toEqual([0, ""]);
    expect(err).not.toMatch(/Errors/);
    const wing = built(written.get("kite.json") ?? "");
    const table = [...text.matchAll(/^totals (\w+): (.*)$/gmu)].flatMap(([, row = "", list = ""]) =>
      list.split(" ").map((mm, i): [string, number] => [`left:${row}${i + 1}`, Number(mm)]),
    );
    expect(table).toHaveLength(22);
    const model = buildWingModel(wing);
    expect(model.specified.converged).toBe(true);
    const { positions, tensionsN } = model.specified;
    const { ends, stiffness } = model.network;
    for (const [key, mm] of table) {
      const path = wing.paths.find((each) => each.tabKey === key);
      expect(1000 * (path?.specifiedM ?? 0)).toBeCloseTo(mm, 6);
      // The brakes hang slack in trim: their chord is shorter than they are.
      if (path === undefined || path.row === "brake") continue;
      const solved = path.lineKeys.reduce((sum, lineKey) => {
        const m = model.lineMember.get(lineKey) as number;
        const at = (end: number, axis: number): number =>
          positions[3 * (ends[2 * m + end] as number) + axis] as number;
        const length = Math.hypot(at(0, 0) - at(1, 0), at(0, 1) - at(1, 1), at(0, 2) - at(1, 2));
        const ea = stiffness[m] as number;
        return sum + (length / (1 + (tensionsN[m] as number) / ea)) * (1 + wing.reference.tensionN / ea);
      }, 0);
      expect(Math.abs(1000 * solved - mm), key).toBeLessThan(0.1);
    }
    expect(model.fit.rmsMisfitM).toBeLessThan(0.01);
  });

  it("prints the plan, and apart from it what it assumed and that it clears nothing", async () => {
    const { code, out, err } = await run(["build", "-", "--name", "Kite Two"], {}, EXAMPLE_DRAFT);
    expect(code).toBe(0);
    expect(built(out).name).toBe("Kite Two");
    const words = err.replace(/\s+/g, " ");
    expect(words).toMatch(/37 of 37 lines have no length in the plan/);
    expect(words).toMatch(/Assumed \(\d\).*Lengths hold under 50 N/);
    expect(words).toMatch(/not a clearance to fly/);
  });

  it("takes the lengths from a table", async () => {
    const draft = EXAMPLE_DRAFT.replace(/^totals (A|B|C):.*\n/gmu, "");
    const columns = ["A", "B", "C"].map((row) =>
      (new RegExp(`^totals ${row}: (.*)$`, "mu").exec(EXAMPLE_DRAFT)?.[1] ?? "").split(" "),
    );
    const table = [
      "number;A;B;C",
      ...[0, 1, 2, 3, 4, 5].map((i) => [i + 1, ...columns.map((list) => list[i])].join(";")),
    ].join("\n");
    const files = { "kite.txt": draft, "lengths.csv": table };
    const { code, out } = await run(["build", "kite.txt", "--lengths", "lengths.csv"], files);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toEqual(JSON.parse((await run(["build", "-"], {}, EXAMPLE_DRAFT)).out));
  });

  it("says by line and character what is wrong, makes no plan, and exits 1", async () => {
    const { code, out, err } = await run(["build", "kite.txt", "--out", "kite.json"], {
      "kite.txt": EXAMPLE_DRAFT.replace("A: 2+2 2", "A: 2+2 (2").replace("6504", "6.504"),
    });
    expect([code, out]).toEqual([1, ""]);
    expect(err).toMatch(/line 5, character 8\n/);
    expect(err).toMatch(/line 11, character 11\n/);
    expect(err).toMatch(/No plan was made/);
  });

  it("prints the draft as it was understood", async () => {
    const { code, out } = await run(["build", "-", "--text"], {}, EXAMPLE_DRAFT);
    expect(code).toBe(0);
    expect((await run(["build", "-", "--text"], {}, out)).out).toBe(out);
    expect(out).toContain("A: 2+2 2\n");
  });

  it("takes a structured draft", async () => {
    const draft = {
      format: "linewright-draft",
      version: 1,
      wing: { name: "K" },
      rows: [{ row: "A", cascade: "2+" }],
    };
    const { code, err } = await run(["build", "draft.json"], { "draft.json": JSON.stringify(draft) });
    expect(code).toBe(1);
    expect(err).toMatch(/rows\[0\]\.cascade, character 2/);
  });

  it("keeps its help within the width of a terminal", async () => {
    for (const name of ["build", "diff"]) {
      const { out } = await run([name, "--help"]);
      for (const line of out.split("\n")) expect(line.length).toBeLessThan(121);
    }
  });
});

describe("linewright diff", () => {
  const old = JSON.stringify(smallPlan);
  const changed = JSON.stringify({
    ...smallPlan,
    risers: smallPlan.risers.map((riser, i) =>
      i === 0 ? { ...riser, lengthMm: riser.lengthMm + 5 } : riser,
    ),
  });

  it("says that equal plans are the same, and no more than that", async () => {
    const { code, out } = await run(["diff", "a.json", "b.json"], { "a.json": old, "b.json": old });
    expect(code).toBe(0);
    expect(out).toMatch(/^The plans are the same/);
    expect(out.replace(/\s+/g, " ")).toMatch(/not a clearance to fly/);
  });

  it("lists the changes, as text and as JSON", async () => {
    const files = { "a.json": old, "b.json": changed.replaceAll(/,"pathMm":[\d.]+/g, "") };
    const text = await run(["diff", "a.json", "b.json"], files);
    expect(text.code).toBe(0);
    expect(text.out).toMatch(/Riser A: length \d+ mm → \d+ mm \(\+5 mm\)\./);
    const json = JSON.parse((await run(["diff", "a.json", "b.json", "--json"], files)).out) as {
      changes: object[];
    };
    expect(json.changes).toContainEqual(
      expect.objectContaining({ subject: "riser", id: "A", field: "lengthM", side: null }),
    );
  });

  it("says which plan can't be used", async () => {
    const { code, err } = await run(["diff", "a.json", "b.json"], { "a.json": old, "b.json": "{}" });
    expect(code).toBe(1);
    expect(err).toMatch(/^b\.json:\nErrors/);
  });
});
