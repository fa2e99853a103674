/** Writes the demo's files: `npx tsx src/cli/write-demo.ts [folder]`, by default public/demo. */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { demoFiles } from "../demo/index.ts";

const folder = process.argv[2] ?? join("public", "demo");
mkdirSync(folder, { recursive: true });
for (const { name, text } of demoFiles()) {
  writeFileSync(join(folder, name), text);
  process.stdout.write(`${join(folder, name)}\n`);
}
