// @ts-check
// `npm start`: sets up what is missing, serves the app and opens it in the system's browser.
//
// PORT=4000 npm start      another port (the next free one is taken if it is in use)
// BROWSER=none npm start   serve only
// npm start -- --host      also reachable from a tablet or phone in the same network
import { spawnSync } from "node:child_process";
import { installPackages, nodeProblem, root } from "./setup.mjs";

const problem = nodeProblem(process.versions.node);
if (problem !== undefined) {
  console.error(problem);
  process.exit(1);
}
const port = readPort(process.env.PORT);
if (port === undefined) {
  console.error(`PORT is "${process.env.PORT}"; a whole number from 1 to 65535 is expected.`);
  process.exit(1);
}
if (!installPackages()) {
  console.error("The packages could not be installed; see npm's message above.");
  process.exit(1);
}

const { createServer } = await import("vite");
const server = await createServer({
  configFile: `${root}vite.config.ts`,
  server: {
    port,
    strictPort: false,
    open: false,
    ...(process.argv.includes("--host") ? { host: true } : {}),
  },
});
await server.listen();
const address = server.resolvedUrls?.local[0] ?? server.resolvedUrls?.network[0];
console.log(`\nLinewright is at ${address} (Ctrl+C ends it)`);
for (const other of server.resolvedUrls?.network ?? []) console.log(`  from another device: ${other}`);
if (hasBrowser()) server.openBrowser();

/**
 * @param {string | undefined} text
 * @returns {number | undefined} undefined if the text is no port
 */
function readPort(text) {
  if (text === undefined || text === "") return 5173;
  const number = Number(text);
  return Number.isInteger(number) && number >= 1 && number <= 65535 ? number : undefined;
}

/** Whether somebody sits before a screen: not in CI, not where BROWSER=none, not on a Linux without a display. */
function hasBrowser() {
  if (process.env.CI || process.env.BROWSER === "none") return false;
  if (process.platform !== "linux") return true;
  if (!process.env.DISPLAY && !process.env.WAYLAND_DISPLAY) return false;
  return Boolean(process.env.BROWSER) || spawnSync("xdg-open", ["--version"]).error === undefined;
}
