import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { diagnosisJson } from "../../src/cli/diagnose-json.ts";
import { diagnosisText } from "../../src/cli/diagnose-text.ts";
import { diagnosisOf } from "../../src/cli/diagnosis.ts";
import { DEMOS } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import { DECISION_RULES } from "../../src/diagnosis/conformity.ts";
import { judge } from "../../src/diagnosis/judge.ts";
import { parsePlan } from "../../src/plan/index.ts";
import { parseCheck } from "../../src/readings/index.ts";
import { asJson, type Diagnosis, demo, diagnosed, worn } from "./diagnosed.ts";
import { run } from "./io.ts";
import { checkFile, readings, smallPlan, smallWing, table } from "./wing.ts";

// Each builds a model: slow where the machine is busy.
describe("linewright diagnose", { timeout: 120_000 }, () => {
  it("says of the worn school wing what matters first, with its uncertainty, and ends with the caution", async () => {
    const { code, out, err } = await diagnosed(...demo("school"));
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Tidewrack 28, check of 2026-03-14: 50 N from the riser/);
    const ranks = [...out.matchAll(/^(ACT|WATCH|NOTE) {2}/gm)].map((found) =>
      ["ACT", "WATCH", "NOTE"].indexOf(found[1] as string),
    );
    expect(ranks.length).toBeGreaterThan(5);
    expect(ranks).toEqual(ranks.toSorted());
    expect(out).toMatch(/^ACT {2}Brake lines \d+ mm \(± \d\.\d mm\) short/m);
    expect(out).toMatch(/^A +\+\d.* ± .* !$/m);
    expect(out).toMatch(/^brake +\+12\.1 +0\.7 +±5 +< 0\.1 % +!$/m);
    expect(out).toMatch(/not told apart +BRU\d+ right, .* and \d+ more$/m);
    expect(out).toMatch(/Read AM2 on the right alone next/);
    expect(out).toMatch(/^left less right( +−0\.\d\d){3} +0\.\d\d +0\.\d\d$/m);
    expect(out).toMatch(/ real\s+wing's\s+manual\s+decides/);
    expect(out.trimEnd().split("\n\n").at(-1)?.replace(/\s+/g, " ")).toMatch(
      /^Approximate model\. .*not a clearance to fly.*inflate on the ground first.*\.$/,
    );
    expect(out.replace(/\s+/g, " ")).toMatch(
      /Free brake travel is counted on the brake lines alone here\. In the model it is left \d+ mm, right \d+ mm: short rear rows .* The smaller counts\./,
    );
    expect(out).not.toContain("\u001b");
  });

  it("lists everything that doesn't keep its limit or is undecided, and nothing that does", async () => {
    const { out } = await diagnosed(...demo("school"));
    const { decisions } = await asJson(...demo("school"));
    const text = out.slice(out.indexOf("\nDecisions\n"), out.indexOf("\nRows\n"));
    for (const { subject, outcome, valueMm } of decisions.assessed) {
      const listed = text.split("\n").some((line) => line.startsWith(`${subject}  `));
      expect([subject, valueMm, listed]).toEqual([subject, valueMm, outcome !== "conforms"]);
    }
    const count = (outcome: string): number =>
      decisions.assessed.filter((each) => each.outcome === outcome).length;
    expect(decisions.count).toMatchObject({
      conforms: count("conforms"),
      doesNotConform: count("does not conform"),
      undecided: count("undecided"),
    });
    expect(count("does not conform")).toBeGreaterThan(50);
    expect(text).toContain(`does not conform (${count("does not conform")})`);
  });

  it("finds nothing out on the light wing, and says all the same that this is no clearance", async () => {
    const { code, out } = await diagnosed(...demo("second"));
    const { decisions, attribution, mistakes } = await asJson(...demo("second"));
    expect(code).toBe(0);
    expect(decisions.count).toMatchObject({ doesNotConform: 0, undecided: 0 });
    expect(out).not.toMatch(/^does not conform/m);
    expect(out).toMatch(/No line’s change stands out/);
    expect(attribution.lines.every((line) => Math.abs(line.changeMm) < 2 * line.standardDeviationMm)).toBe(
      true,
    );
    expect(mistakes).toEqual([]);
    expect(out.replace(/\s+/g, " ")).toMatch(/That a value conforms to a limit is no clearance to fly\./);
  });

  it("prints what the core works out, in millimetres and degrees", async () => {
    const { plan, check } = DEMOS.second;
    const wing = parsePlan(plan);
    if (!wing.ok) throw new Error("the demo plan is readable");
    const parsed = parseCheck(check, wing.value);
    if (!parsed.ok) throw new Error("the demo check is readable");
    const analysis = analyse(wing.value, parsed.value, { rule: DECISION_RULES.drawing });
    const judgement = judge(analysis);
    const told = await asJson(...demo("second"));
    expect(told.decisions.rule).toMatchObject({ name: "drawing", kind: "guard band", r: 0.83 });
    expect(told.attribution.lines.map((line) => line.line)).toEqual(wing.value.lines.map((line) => line.key));
    judgement?.attribution.lines.forEach(({ changeM, deviationM, partners }, m) => {
      expect(told.attribution.lines[m]?.changeMm).toBeCloseTo(1000 * changeM, 2);
      expect(told.attribution.lines[m]?.standardDeviationMm).toBeCloseTo(1000 * deviationM, 2);
      expect(told.attribution.lines[m]?.partners.length).toBe(partners.length);
    });
    const ribs = judgement?.bands?.ribs ?? [];
    expect(told.incidence.ribs.length).toBe(ribs.length);
    ribs.forEach((rib, r) => {
      expect(told.incidence.ribs[r]).toMatchObject({ side: rib.side, rib: rib.rib });
      expect(told.incidence.ribs[r]?.combined95Deg[1]).toBeCloseTo((rib.combined95.high * 180) / Math.PI, 3);
    });
    expect(told.incidence.assumptions.length).toBe(judgement?.assumptions.influences.length);
    for (const { ribs: moved } of told.incidence.assumptions) expect(moved.length).toBe(ribs.length);
    expect(told.nextReadings.sentence).toBe(judgement?.nextSentence);
    expect(told.cautions.length).toBeGreaterThan(2);
  });

  it("lets a zero that is off blur every path and no difference of rows or sides", async () => {
    const exact = await asJson(smallPlan, worn, "--zero-uncertainty", "0");
    const blurred = await asJson(smallPlan, worn, "--zero-uncertainty", "4");
    const paths = Object.entries(exact.readingUncertainty.pathsMm);
    expect(paths.length).toBeGreaterThan(10);
    for (const [tab, before] of paths)
      expect(blurred.readingUncertainty.pathsMm[tab]).toBeCloseTo(Math.hypot(before, 4), 2);
    expect(blurred.uniform.standardUncertaintyMm).toBeGreaterThan(4);
    expect(blurred.rowDifferences).toEqual(exact.rowDifferences);
    expect(blurred.leftLessRight).toEqual(exact.leftLessRight);
  });

  it("lets the options go before what the check states, for reading and tension", async () => {
    const stated = JSON.stringify({
      ...JSON.parse(worn),
      instrument: { readingUncertaintyMm: 2, tensionUncertaintyN: 3 },
    });
    expect((await asJson(smallPlan, stated)).readingUncertainty.settings).toMatchObject({
      readingMm: 2,
      tensionEachN: 3,
    });
    const told = await asJson(
      smallPlan,
      stated,
      "--reading-uncertainty",
      "0,5",
      "--tension-uncertainty",
      "0",
    );
    expect(told.readingUncertainty.settings).toMatchObject({ readingMm: 0.5, tensionEachN: 0, zeroMm: 1 });
  });

  it("decides by the rule that was asked for: the stricter, the more stays undecided", async () => {
    const [simple, drawing, full, probable] = await Promise.all(
      ["simple", "drawing", "full", "probable"].map((rule) => asJson(smallPlan, worn, "--rule", rule)),
    );
    const undecided = (each: Diagnosis | undefined): number => each?.decisions.count.undecided ?? Number.NaN;
    expect(undecided(simple)).toBe(0);
    expect(undecided(full)).toBeGreaterThanOrEqual(undecided(drawing));
    expect(full?.decisions.rule.sentence).toMatch(/by at least U, /);
    for (const { valueMm, limitsMm, outcome } of simple?.decisions.assessed ?? []) {
      const inside =
        valueMm >= (limitsMm.lower ?? Number.NEGATIVE_INFINITY) - 1e-3 &&
        valueMm <= (limitsMm.upper ?? Number.POSITIVE_INFINITY) + 1e-3;
      expect(outcome).toBe(inside ? "conforms" : "does not conform");
    }
    for (const { probability, outcome } of probable?.decisions.assessed ?? [])
      expect(outcome).toBe(
        probability >= 0.95 ? "conforms" : probability <= 0.05 ? "does not conform" : "undecided",
      );
  });

  it("takes out what the main rows share without touching the brakes or the rows' differences", async () => {
    const kept = await asJson(smallPlan, worn);
    const taken = await asJson(smallPlan, worn, "--remove-uniform");
    const mean = (told: Diagnosis, row: string): number =>
      told.rows.find((each) => each.row === row)?.meanMm ?? 0;
    expect([kept.uniform.removed, taken.uniform.removed]).toEqual([false, true]);
    expect(taken.uniform.valueMm).toBe(kept.uniform.valueMm);
    expect(kept.uniform.valueMm).toBeLessThan(-4);
    for (const row of ["A", "B", "C"])
      expect(mean(taken, row)).toBeCloseTo(mean(kept, row) - kept.uniform.valueMm, 2);
    expect(mean(taken, "brake")).toBe(mean(kept, "brake"));
    taken.rowDifferences.forEach((each, i) => {
      expect(each.valueMm).toBeCloseTo(kept.rowDifferences[i]?.valueMm ?? Number.NaN, 2);
    });
  });

  it("gives the mirrored wing the mirrored answer", async () => {
    const mirrored = checkFile(
      readings(({ id, side, row }) =>
        row === "C" ? -15 : row === "brake" ? -20 : id === "A1" && side === "right" ? -8 : 0,
      ),
    );
    const one = await asJson(smallPlan, worn);
    const other = await asJson(smallPlan, mirrored);
    one.leftLessRight.forEach((each, i) => {
      expect(other.leftLessRight[i]?.valueMm).toBeCloseTo(-each.valueMm, 2);
      expect(other.leftLessRight[i]?.expandedUncertaintyMm).toBeCloseTo(each.expandedUncertaintyMm, 2);
    });
    expect(one.leftLessRight[0]?.valueMm).toBeLessThan(-0.5);
    expect(other.incidence.left.measuredDeg).toBeCloseTo(one.incidence.right.measuredDeg, 2);
    expect(other.incidence.leftLessRight.measuredDeg).toBeCloseTo(
      -one.incidence.leftLessRight.measuredDeg,
      2,
    );
  });

  it("offers to put a slip of the pen right, and leaves the reading as it was typed", async () => {
    const [plan, text] = demo("second");
    const check = JSON.parse(text) as { readings: { tab?: string; side: string; mm: number | number[] }[] };
    const slipped = check.readings.find(({ tab, side }) => tab === "B4" && side === "right");
    if (slipped === undefined || typeof slipped.mm !== "number") throw new Error("B4 right was read once");
    const meant = slipped.mm;
    slipped.mm = meant + 100;
    const told = await asJson(plan, JSON.stringify(check));
    const [mistake] = told.mistakes;
    expect(mistake).toMatchObject({ kind: "digit slip", applied: false });
    expect(mistake?.readings).toMatchObject([
      { id: "B4", side: "right", readMm: meant + 100, insteadMm: meant },
    ]);
    expect(mistake?.correction?.edits[0]?.to.valueMm).toBe(meant);
    expect(told.tabs.find(({ tab }) => tab === "B4")?.right.deviationMm).toBeGreaterThan(95);
    const { out } = await diagnosed(plan, JSON.stringify(check));
    expect(out).toContain(`B4 right ${meant + 100} -> ${meant}`);
    expect(out.replace(/\s+/g, " ")).toMatch(/Nothing was changed/);
  });

  it("draws as often as asked, around the same closed form", async () => {
    const { incidence: few } = await asJson(smallPlan, worn, "--draws", "400");
    const { incidence: many } = await asJson(smallPlan, worn);
    expect([few.draws, many.draws]).toEqual([400, 10_000]);
    expect(few.mean.closedForm95Deg).toEqual(many.mean.closedForm95Deg);
    const [low, high] = many.mean.readings95Deg;
    expect((high - low) / 2).toBeCloseTo(1.96 * many.mean.readingsStandardDeviationDeg, 2);
    expect(few.mean.readings95Deg).not.toEqual(many.mean.readings95Deg);
  });

  it("reads a table as it reads a check", async () => {
    const tabs = readings(({ row }) => (row === "C" ? -15 : 0));
    const fromTable = await asJson(smallPlan, table(tabs), "--date", "2026-03-14", "--from", "riser");
    const fromFile = await asJson(smallPlan, checkFile(tabs));
    expect(fromTable.check).toEqual(fromFile.check);
    expect(fromTable.decisions.count).toEqual(fromFile.decisions.count);
  });

  it("refuses inputs with errors, and a check without a single usable reading, as text and as JSON", async () => {
    const cases: [string, unknown, string][] = [
      ["plan", {}, worn],
      ["readings", smallPlan, '{"format": "linewright-check", "version": 1}'],
      ["readings", smallPlan, checkFile([{ id: "Z9", side: "left", row: "A", mm: 7000 }])],
    ];
    for (const [input, plan, check] of cases) {
      const text = await diagnosed(plan, check);
      expect([text.code, text.out]).toEqual([1, ""]);
      expect(text.err).toMatch(/^Errors/);
      const json = await diagnosed(plan, check, "--json");
      expect(json.code).toBe(1);
      expect(JSON.parse(json.out)).toMatchObject({ ok: false, input });
    }
  });

  it.each([
    [["--rule", "lenient"], /--rule: "lenient" is none of simple, full, drawing, probable/],
    [["--draws", "99"], /--draws must be a whole number from 100/],
    [["--draws", "1000.5"], /--draws must be a whole number/],
    [["--draws", "1e9"], /--draws/],
    [["--reading-uncertainty", "0"], /--reading-uncertainty must be above 0 mm/],
    [["--zero-uncertainty", "-1"], /--zero-uncertainty must be 0 mm or more/],
    [["--tension-uncertainty", "hard"], /--tension-uncertainty: "hard" is not a number of N/],
    [["--tension", "0"], /--tension must be above 0 N/],
  ])("calls %j wrong usage", async (options, message) => {
    const { code, out, err } = await diagnosed(smallPlan, worn, ...options);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });

  it("keeps the incidence to itself where the model found no equilibrium", () => {
    const check = parseCheck(JSON.parse(worn), smallWing);
    if (!check.ok) throw new Error("the check is readable");
    const choices = { rule: "drawing", removeUniform: false, draws: 100, reading: {} } as const;
    const sound = diagnosisOf(smallWing, check.value, choices);
    if (sound?.analysis.measured === undefined) throw new Error("the check has readings");
    const unsettled: typeof sound = {
      ...sound,
      analysis: { ...sound.analysis, measured: { ...sound.analysis.measured, converged: false } },
    };
    expect(diagnosisText(sound)).toMatch(/^Incidence by the model/m);
    expect(diagnosisText(unsettled)).not.toMatch(/^Incidence by the model/m);
    expect(diagnosisJson(unsettled)).toMatchObject({ converged: false, incidence: null });
  });

  it("explains itself: every rule and option, an example, and that it clears nothing", async () => {
    const { code, out } = await run(["diagnose", "--help"]);
    expect(code).toBe(0);
    for (const rule of Object.keys(DECISION_RULES)) expect(out).toMatch(new RegExp(`^ +${rule} {2,}`, "m"));
    expect(out).toMatch(/Example:\n {2}linewright diagnose /);
    expect(out.replace(/\s+/g, " ")).toMatch(/what conforms to a limit isn’t cleared to fly/);
    expect((await run(["--help"])).out).toMatch(/^ {2}diagnose +/m);
  });

  it("runs as a program", () => {
    const program = fileURLToPath(new URL("../../src/cli/bin.mjs", import.meta.url));
    const plan = fileURLToPath(new URL("../../public/demo/thistledrift-22.plan.json", import.meta.url));
    const { status, stdout, stderr } = spawnSync(
      process.execPath,
      [program, "diagnose", plan, "-", "--json", "--draws", "100"],
      { input: demo("second")[1], encoding: "utf8", maxBuffer: 2 ** 26 },
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(JSON.parse(stdout)).toMatchObject({ format: "linewright-diagnosis", version: 1, ok: true });
  });
});
