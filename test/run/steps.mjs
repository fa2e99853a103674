// @ts-check
// The steps of `npm test`, in order, as data: a name, what it checks, and the program that does.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { root } from "../../.ci/setup.mjs";

/**
 * @typedef {object} Step
 * @property {string} name for `--only`
 * @property {string} title
 * @property {string[]} command script inside node_modules and its arguments, run by this Node
 * @property {boolean} [countsTests] the step runs Vitest, whose report is read for the number of tests
 * @property {string[]} [needs] names of steps that have to have passed before
 */

export const biome = ["@biomejs/biome/bin/biome", "ci", "--config-path=.ci/lint.json", "--error-on-warnings"];

/** @type {readonly Step[]} */
export const steps = [
  { name: "typecheck", title: "type check", command: ["typescript/bin/tsc"] },
  {
    name: "core",
    title: "type check of the core, without DOM and Node",
    command: ["typescript/bin/tsc", "-p", "src/tsconfig.core.json"],
  },
  { name: "lint", title: "lint and format", command: biome },
  {
    name: "rules",
    title: "import rule, with planted violations",
    command: ["vitest/vitest.mjs", "run", "test/rules"],
    countsTests: true,
  },
  {
    name: "unit",
    title: "unit tests and published checks",
    command: ["vitest/vitest.mjs", "run", "--exclude", "test/rules/**"],
    countsTests: true,
  },
  { name: "build", title: "production build", command: ["vite/bin/vite.js", "build", "--logLevel", "warn"] },
  {
    name: "browser",
    title: "browser tests against the production build",
    command: ["vitest/vitest.mjs", "run", "--config", "test/browser/vitest.config.ts"],
    countsTests: true,
    needs: ["build"],
  },
];

/**
 * The steps chosen by `--only a,b`, with those that they need, in order; all without it.
 *
 * @param {string[]} args
 * @returns {{steps: readonly Step[]} | {problem: string}}
 */
export function chooseSteps(args) {
  const known = steps.map((step) => step.name).join(", ");
  /** @type {Set<string> | undefined} */
  let only;
  for (let i = 0; i < args.length; i++) {
    const [option, inline] = /** @type {string} */ (args[i]).split("=", 2);
    if (option !== "--only")
      return { problem: `Unknown argument "${args[i]}". Usage: npm test -- --only ${known}` };
    const list = (inline ?? args[++i] ?? "").split(",").filter((name) => name !== "");
    const wrong = list.find((name) => !steps.some((step) => step.name === name));
    if (wrong !== undefined) return { problem: `There is no step "${wrong}"; there are: ${known}` };
    if (list.length === 0) return { problem: `--only needs at least one of: ${known}` };
    only = new Set([...(only ?? []), ...list]);
  }
  if (only === undefined) return { steps };
  const chosen = only;
  for (const step of steps) if (chosen.has(step.name)) for (const need of step.needs ?? []) chosen.add(need);
  return { steps: steps.filter((step) => chosen.has(step.name)) };
}

/**
 * Program and arguments of a command from the table, for child_process.
 *
 * @param {readonly string[]} command
 * @returns {{file: string, args: string[]}}
 * @throws {Error} if the package isn't installed
 */
export function asProcess([script = "", ...args]) {
  const path = join(root, "node_modules", script);
  if (!existsSync(path)) throw new Error(`${script} is not installed`);
  return { file: process.execPath, args: [path, ...args] };
}
