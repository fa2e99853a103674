/** The invented school wing, analysed, with its loop plan: what the exports are tried on. */

import { DEMOS } from "../../src/demo/index.ts";
import { analyse } from "../../src/diagnosis/analyse.ts";
import { deviationScaleOf, pathExpandedM } from "../../src/diagnosis/scale.ts";
import { type Parsed, parsePlan } from "../../src/plan/index.ts";
import { parseCheck } from "../../src/readings/index.ts";
import { bookFromFile, defaultChoices, lineLoops, loopReport, planLoops } from "../../src/workshop/index.ts";

function sound<T>(parsed: Parsed<T>): T {
  if (!parsed.ok) throw new Error(parsed.problems[0]?.message);
  return parsed.value;
}

const { plan, check: checkFile, loops: bookFile } = DEMOS.school;
export const wing = sound(parsePlan(plan));
export const check = sound(parseCheck(checkFile, wing));
export const analysis = analyse(wing, check);
/** The same wing before anybody has read anything. */
export const unread = analyse(wing, undefined, { model: analysis.model });
export const scale = deviationScaleOf(0.03, pathExpandedM(analysis.uncertainties));

const book = sound(bookFromFile(bookFile, wing));
const loopsOf = lineLoops(wing, book);
const choices = book.choices ?? defaultChoices(wing, loopsOf);
const best = planLoops(wing, analysis.deviations, loopsOf, choices).best;
const { uncertainties } = analysis;
if (uncertainties === undefined) throw new Error("the demo has readings");
export const loops = {
  changes: best.changes,
  paths: loopReport({
    wing,
    deviations: analysis.deviations,
    uncertainties,
    loops: loopsOf,
    choices,
    plan: best,
  }).paths,
};
