/** The program as a process of its own: few tests, since each starts Node. */
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";

const program = fileURLToPath(new URL("../../src/cli/bin.mjs", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "linewright-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** English, whatever the language of the machine. */
const env = { ...process.env, LC_ALL: "C" };

const node = (
  file: string,
  argv: readonly string[],
  input = "",
): { status: number | null; stdout: string; stderr: string } =>
  spawnSync(process.execPath, [file, ...argv], { input, cwd: folder, encoding: "utf8", env });

const twoLines = JSON.stringify({
  nodes: [
    [-2, 0],
    [0, 0],
    [2, 0],
  ],
  members: [0, 1].map((m) => ({ nodes: [m, m + 1], EA: 3.5e6 })),
  supports: [0, 2],
  loads: { 1: [0, -889] },
});

// Each builds a model or starts a program: slow where the machine is busy.
describe("the program", { timeout: 60_000 }, () => {
  it("runs from any folder, and through a link, reading standard input", () => {
    const link = join(folder, "linewright");
    symlinkSync(program, link);
    const { status, stdout, stderr } = node(link, ["network", "-"], twoLines);
    expect([status, stderr]).toEqual([0, ""]);
    expect(JSON.parse(stdout)).toMatchObject({ converged: true });
  });

  it("hands its exit code on, messages apart from results", () => {
    const broken = node(program, ["network", "-"], "{}");
    expect(broken.status).toBe(1);
    expect(broken.stderr).toMatch(/^Errors/);
    const missing = node(program, ["validate", "nowhere.json"]);
    expect([missing.status, missing.stdout]).toEqual([2, ""]);
    expect(missing.stderr).toMatch(/can’t read nowhere.json: there is no such file/);
  });

  it("ends quietly when its reader has seen enough", () => {
    const command = `"${process.execPath}" "${program}" schema plan | head -c 1`;
    const { stdout, stderr } = spawnSync("sh", ["-c", command], { encoding: "utf8" });
    expect([stdout, stderr]).toEqual(["{", ""]);
  });

  it("says in one line how to install what it needs", () => {
    const bare = join(folder, "bare");
    mkdirSync(join(bare, "src", "cli"), { recursive: true });
    const copy = join(bare, "src", "cli", "bin.mjs");
    copyFileSync(program, copy);
    const { status, stdout, stderr } = node(copy, ["--version"]);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/^linewright: its packages aren't installed: run `npm ci` in .*bare\/?\n$/);
  });
});
