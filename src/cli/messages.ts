/** What every command says in the same words: problems, and the caution that goes with each result. */

import { cautionFull, cautionShort } from "../diagnosis/caution.ts";
import type { Problem } from "../plan/index.ts";
import { say } from "../words/index.ts";
import { paragraph } from "./table.ts";

/** Goes with every result about a wing, on paper and in JSON: what it isn't, and what to do after a change. */
export function wingCaution(): string {
  return [cautionShort(), ...cautionFull().slice(-1)].join(" ");
}

/** Goes with every result about a bare network. */
export function networkCaution(): string {
  return say("cli.network.caution");
}

/** Problems for people, errors first: what was found, where, and what to do. */
export function problemsText(problems: readonly Problem[]): string {
  return (["error", "warning"] as const)
    .flatMap((severity) => {
      const some = problems.filter((problem) => problem.severity === severity);
      if (some.length === 0) return [];
      return [`${say("cli.problems", { severity, count: some.length })}\n${some.map(problemText).join("")}`];
    })
    .join("\n");
}

function problemText(problem: Problem): string {
  const subject = problem.subject === undefined ? "" : `${problem.subject}: `;
  return `  ${problem.where}\n${paragraph(`${subject}${problem.message}`, "    ")}${paragraph(problem.remedy, "    ")}`;
}

/** Problems for programs. `subject` is null where there is none. */
export function problemsJson(problems: readonly Problem[]): object[] {
  return problems.map((problem) => ({ ...problem, subject: problem.subject ?? null }));
}

/** One JSON document, as printed: vectors and other lists of plain values on a line of their own. */
export function jsonText(value: unknown): string {
  // A line break inside a text is written \n in JSON, so a bracket before a real one always opens a list.
  const shortList = /\[\n\s*((?:[^[\]{}\n]+,\n\s*)*[^[\]{}\n]+)\n\s*\]/g;
  const text = JSON.stringify(value, null, 2).replace(shortList, (spread, items: string) => {
    const line = `[${items.replace(/,\n\s*/g, ", ")}]`;
    return line.length > 100 ? spread : line;
  });
  return `${text}\n`;
}

/** Cut to the digits that mean something, so that JSON shows 7421.3 rather than 7421.299999999999. */
export function rounded(value: number, digits: number): number;
export function rounded(value: number | undefined, digits: number): number | null;
export function rounded(value: number | undefined, digits: number): number | null {
  if (value === undefined) return null;
  const scale = 10 ** digits;
  const cut = Math.round(value * scale) / scale;
  return cut === 0 ? 0 : cut;
}
