// @ts-check
// `npm test`: sets up what is missing, runs every step, and closes with `N passed, N failed` alone on the last line.
// A step counts as one, each of its tests as one more. A failing step doesn't stop those that don't need it.
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { installPackages, nodeProblem, root } from "../../.ci/setup.mjs";
import { provideChromium } from "./chromium.mjs";
import { asProcess, chooseSteps } from "./steps.mjs";

/** No step takes this long unless it hangs [ms]. */
const stepLimitMs = 20 * 60 * 1000;

let passed = 0;
let failed = 0;

/**
 * Ends the run before its first step.
 *
 * @param {string} message
 * @returns {never}
 */
function stop(message) {
  console.error(message);
  console.log(`${passed} passed, ${failed + 1} failed`);
  process.exit(1);
}

const choice = chooseSteps(process.argv.slice(2));
if ("problem" in choice) stop(choice.problem);
const problem = nodeProblem(process.versions.node);
if (problem !== undefined) stop(problem);
if (!installPackages()) stop("The packages could not be installed; see npm's message above.");

const chosen = choice.steps;
const reports = mkdtempSync(join(tmpdir(), "linewright-test-"));
/** @type {Map<string, string>} */
const verdicts = new Map();

for (const step of chosen) {
  console.log(`\n── ${step.title}`);
  const began = performance.now();
  const verdict = await runStep(step);
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  if (verdict === "") passed++;
  else failed++;
  verdicts.set(step.name, verdict);
  console.log(
    `${verdict === "" ? "✓" : "✗"} ${step.title}: ${seconds} s${verdict === "" ? "" : `, ${verdict}`}`,
  );
}
rmSync(reports, { recursive: true, force: true });

console.log("");
for (const step of chosen) {
  const verdict = verdicts.get(step.name);
  console.log(`${verdict === "" ? "✓" : "✗"} ${step.title}${verdict === "" ? "" : `: ${verdict}`}`);
}
process.exitCode = failed === 0 ? 0 : 1;
// Written in one go, last: what stands in a pipe before it is kept in order.
process.stdout.write(`${passed} passed, ${failed} failed\n`);

/**
 * Runs one step and adds its tests to the counts.
 *
 * @param {import("./steps.mjs").Step} step
 * @returns {Promise<string>} why it failed, or "" if it passed
 */
async function runStep(step) {
  const missing = (step.needs ?? []).find((need) => verdicts.get(need) !== "");
  if (missing !== undefined) return `not run, as the step "${missing}" failed`;
  if (step.name === "browser") {
    const browserProblem = provideChromium();
    if (browserProblem !== undefined) return browserProblem;
  }
  const report = join(reports, `${step.name}.json`);
  const counting = [
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
    "--allowOnly=false",
  ];
  const plain = step.name === "lint" && !process.stdout.isTTY ? ["--colors=off"] : [];
  const code = await run([...step.command, ...(step.countsTests ? counting : plain)]);
  if (!step.countsTests) return code === 0 ? "" : `failed (${code})`;

  const counts = readReport(report);
  if (counts === undefined) return `failed (${code}) without a report`;
  passed += counts.passed;
  failed += counts.failed;
  if (counts.passed + counts.failed === 0) return "ran no test";
  const skipped = counts.skipped === 0 ? "" : `, ${counts.skipped} skipped`;
  console.log(`${counts.passed} tests passed, ${counts.failed} failed${skipped}`);
  if (code === 0 && counts.failed === 0) return "";
  return counts.failed > 0
    ? `${counts.failed} ${counts.failed === 1 ? "test" : "tests"} failed`
    : `failed (${code})`;
}

/**
 * Runs a program to its end, its output passed on.
 *
 * @param {string[]} command
 * @returns {Promise<number | string>} exit code, or what ended it
 */
function run(command) {
  return new Promise((resolve) => {
    const { file, args } = asProcess(command);
    const child = spawn(file, args, {
      cwd: root,
      stdio: ["ignore", "inherit", "inherit"],
      env: process.stdout.isTTY ? process.env : { ...process.env, NO_COLOR: "1", FORCE_COLOR: undefined },
    });
    const limit = setTimeout(() => child.kill("SIGKILL"), stepLimitMs);
    child.on("error", (error) => resolve(error.message));
    child.on("close", (code, signal) => {
      clearTimeout(limit);
      resolve(code ?? `ended by ${signal}`);
    });
  });
}

/**
 * @param {string} file Vitest's JSON report
 * @returns {{passed: number, failed: number, skipped: number} | undefined}
 */
function readReport(file) {
  try {
    const report = JSON.parse(readFileSync(file, "utf8"));
    return {
      passed: report.numPassedTests,
      failed: report.numFailedTests,
      skipped: report.numPendingTests + report.numTodoTests,
    };
  } catch {
    return undefined;
  }
}
