/**
 * Which results depend on what is assumed of the fabric, the loads and the weight, and how much: `npm run study`.
 *
 * For each demo wing and a few changes of its lines it prints the incidence change near the middle, half-way out and at
 * the outermost main rib, and what each assumption taken to both ends of what is plausible does to it.
 */
import { DEMOS } from "../../src/demo/index.ts";
import { attributeChanges } from "../../src/diagnosis/attribution.ts";
import { buildWingModel } from "../../src/geometry/build.ts";
import { GRAVITY } from "../../src/geometry/flight-loads.ts";
import type { RibChange } from "../../src/geometry/model.ts";
import { profileChange } from "../../src/geometry/profile.ts";
import { solveWing, wingStructure } from "../../src/geometry/solve.ts";
import { incidenceBand } from "../../src/geometry/variants.ts";
import { parsePlan, type Wing } from "../../src/plan/index.ts";
import { deviations, parseCheck } from "../../src/readings/index.ts";

const degrees = (rad: number): string => {
  const text = ((rad * 180) / Math.PI).toFixed(3);
  return text.startsWith("-") ? text : `+${text}`;
};

/** Right-hand ribs to report: the innermost, the one nearest half-span, the outermost that has main rows. */
function reported(wing: Wing, ribs: readonly RibChange[]): { name: string; index: number }[] {
  const main = ribs.flatMap((rib, index) =>
    rib.side === "right" &&
    wing.tabs.some((tab) => tab.side === "right" && tab.rib === rib.rib && tab.row === "A")
      ? [{ rib, index }]
      : [],
  );
  const nearest = (sigma: number): number =>
    main.reduce((best, entry) =>
      Math.abs(entry.rib.sigma - sigma) < Math.abs(best.rib.sigma - sigma) ? entry : best,
    ).index;
  return [
    { name: "middle", index: nearest(0) },
    { name: "half-span", index: nearest(0.5) },
    { name: "outermost", index: nearest(1) },
  ];
}

for (const [name, demo] of Object.entries(DEMOS)) {
  const plan = parsePlan(demo.plan);
  if (!plan.ok) throw new Error(`the ${name} demo's plan has errors`);
  const wing = plan.value;
  const check = parseCheck(demo.check, wing);
  if (!check.ok) throw new Error(`the ${name} demo's check has errors`);
  const model = buildWingModel(wing);
  const structure = wingStructure(model);
  const lower = (change: (row: string, side: string) => number): Map<string, number> =>
    new Map(
      wing.lines.flatMap((line) => {
        const by = line.tier === 1 ? change(line.row, line.side) : 0;
        return by === 0 ? [] : [[line.key, by] as const];
      }),
    );
  const cases: [string, Map<string, number>][] = [
    ["as measured in its check", attributeChanges(wing, deviations(wing, check.value))],
    [
      "last row's lower lines −15 mm",
      lower((row) => (row === (wing.tabs.some((t) => t.row === "D") ? "D" : "C") ? -0.015 : 0)),
    ],
    ["left A lower lines +8 mm", lower((row, side) => (row === "A" && side === "left" ? 0.008 : 0))],
    ["all lower lines −10 mm", lower((row) => (row === "brake" ? 0 : -0.01))],
  ];
  const weights = { min: wing.allUpWeightKg.min * GRAVITY, max: wing.allUpWeightKg.max * GRAVITY };
  console.log(
    `\n${wing.name}: incidence change, degrees (right-hand side; low end / high end of each assumption)`,
  );
  for (const [what, changes] of cases) {
    const state = solveWing(model, changes, model.specified, structure);
    const ribs = profileChange(model, model.specified, state);
    const band = incidenceBand(model, changes, ribs, state, weights, structure);
    const places = reported(wing, ribs);
    console.log(`\n  ${what}`);
    const row = (label: string, cells: readonly string[]): void =>
      console.log(`    ${label.padEnd(34)}${cells.map((cell) => cell.padStart(18)).join("")}`);
    row(
      "",
      places.map((place) => place.name),
    );
    row(
      "model",
      places.map((place) => degrees(ribs[place.index]?.incidenceRad ?? 0)),
    );
    for (const influence of band.influences)
      row(
        `${influence.name} (${influence.low}, ${influence.high})`.slice(0, 33),
        places.map(
          (place) =>
            `${degrees(influence.lowRad[place.index] ?? 0)}/${degrees(influence.highRad[place.index] ?? 0)}`,
        ),
      );
    row(
      "band, ±",
      places.map((place) => degrees(band.halfWidthRad[place.index] ?? 0).slice(1)),
    );
  }
}
