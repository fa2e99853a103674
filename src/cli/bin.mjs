#!/usr/bin/env node
// Starts the command line from a checkout: TypeScript is run as it stands, through tsx.
import { fileURLToPath } from "node:url";

const folder = fileURLToPath(new URL("../..", import.meta.url));
const [major = 0, minor = 0] = process.versions.node.split(".").map(Number);

/** @param {string} line */
function giveUp(line) {
  process.stderr.write(`linewright: ${line}\n`);
  process.exitCode = 2;
}

if (major < 20 || (major === 20 && minor < 19)) {
  giveUp(`needs Node 20.19 or later; this is ${process.versions.node}.`);
} else {
  try {
    const { register } = await import("tsx/esm/api");
    register();
    const { main } = await import("./main.ts");
    const { shellIo } = await import("./shell.ts");
    process.exitCode = await main(process.argv.slice(2), shellIo());
  } catch (error) {
    // Only a package that can't be found means "not installed"; a missing file of ours is a fault of ours.
    if (
      /** @type {{ code?: string }} */ (error)?.code !== "ERR_MODULE_NOT_FOUND" ||
      !/Cannot find package/.test(String(error))
    ) {
      throw error;
    }
    giveUp(`its packages aren't installed: run \`npm ci\` in ${folder}`);
  }
}
