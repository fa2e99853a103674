import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { root } from "../../.ci/setup.mjs";
import { asProcess, biome } from "../run/steps.mjs";

/** Runs the lint step's own command with the repository's own settings in a folder that holds one file. */
function lint(path: string, text: string): { readonly code: number | null; readonly output: string } {
  const folder = mkdtempSync(join(tmpdir(), "linewright-lint-"));
  try {
    cpSync(join(root, ".ci", "lint.json"), join(folder, ".ci", "lint.json"));
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
    const { file, args } = asProcess([...biome, "--colors=off"]);
    const run = spawnSync(file, args, { cwd: folder, encoding: "utf8" });
    return { code: run.status, output: run.stdout + run.stderr };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe("the lint step", () => {
  it("passes a file in order, and has read it", () => {
    const { code, output } = lint("src/plan/a.ts", "export const rows = 4;\n");
    expect(output).toContain("Checked 2 files");
    expect(code).toBe(0);
  });

  it.each([
    ["an error", "src/plan/a.ts", "export const rows = 4;\ndebugger;\n", "noDebugger"],
    ["a warning", "src/plan/a.ts", "export const rows: any = 4;\n", "noExplicitAny"],
    ["a variable that nothing uses", "src/plan/a.ts", "const rows = 4;\n\nexport {};\n", "noUnusedVariables"],
    ["unformatted text", "src/plan/a.ts", "export const rows = 4\n", "format"],
    [
      "unsorted imports",
      "src/plan/a.ts",
      'import "./b.ts";\n\nexport { z } from "./z.ts";\nexport { y } from "./y.ts";\n',
      "organizeImports",
    ],
    ["Node's process in the view", "src/view/a.ts", "export const code = process.pid;\n", "noProcessGlobal"],
    [
      "a test that hides the others",
      "test/plan/a.test.ts",
      'import { it } from "vitest";\n\nit.only("counts", () => {});\n',
      "noFocusedTests",
    ],
    [
      "a skipped test",
      "test/plan/a.test.ts",
      'import { it } from "vitest";\n\nit.skip("counts", () => {});\n',
      "noSkippedTests",
    ],
    [
      "a hook outside its component",
      "src/view/A.tsx",
      'import { useState } from "react";\n\nexport const A = (on: boolean) => {\n  if (on) useState(0);\n  return null;\n};\n',
      "useHookAtTopLevel",
    ],
    ["a script of the set-up", ".ci/a.mjs", "debugger;\n", "noDebugger"],
  ])("fails on %s", (_, path, text, rule) => {
    const { code, output } = lint(path, text);
    expect(output).toContain(rule);
    expect(code).not.toBe(0);
  });
});
