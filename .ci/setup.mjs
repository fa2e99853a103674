// @ts-check
// What a fresh clone needs before anything else can run. Plain Node, no packages: none may be there yet.
import { spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("..", import.meta.url));

/** Oldest Node that the packages in use run on: 20.19 loads them without flags. */
const oldestNode = { major: 20, minor: 19 };

/**
 * Says what is wrong with a Node version, or undefined if it will do.
 *
 * @param {string} version as in `process.versions.node`
 * @returns {string | undefined}
 */
export function nodeProblem(version) {
  const [major = 0, minor = 0] = version.split(".").map(Number);
  const enough = major > oldestNode.major || (major === oldestNode.major && minor >= oldestNode.minor);
  if (enough) return undefined;
  return (
    `Linewright needs Node ${oldestNode.major}.${oldestNode.minor} or newer; this is Node ${version}.\n` +
    "Install a current version from your system's packages or from nodejs.org, then run the same command again."
  );
}

/**
 * Says why the installed packages don't fit the lockfile, or undefined if they do. Content is compared, not file times:
 * a checkout or a copy changes times without changing what is installed.
 *
 * @param {string} folder the folder that holds package-lock.json
 * @returns {string | undefined}
 */
export function packagesProblem(folder) {
  const installedList = join(folder, "node_modules", ".package-lock.json");
  if (!existsSync(installedList)) return "no packages are installed yet";
  const wanted = readPackages(join(folder, "package-lock.json"));
  const installed = readPackages(installedList);
  for (const [path, entry] of Object.entries(wanted)) {
    // Optional ones are builds for other systems; npm leaves out those that don't fit this one.
    if (path === "" || entry.optional) continue;
    const found = installed[path];
    if (found === undefined) return `${path} is missing`;
    if (found.version !== entry.version)
      return `${path} is ${found.version}, the lockfile says ${entry.version}`;
    if (!existsSync(join(folder, path))) return `${path} is listed but not there`;
  }
  return undefined;
}

/**
 * @param {string} file
 * @returns {Record<string, {version?: string, optional?: boolean}>}
 */
function readPackages(file) {
  return JSON.parse(readFileSync(file, "utf8")).packages ?? {};
}

/**
 * Installs the locked packages where they are missing or differ from the lockfile.
 *
 * @returns {boolean} false if npm failed; npm has then said why
 */
export function installPackages() {
  const problem = packagesProblem(root);
  if (problem === undefined) return true;
  console.log(`Installing packages (${problem}) …`);
  const args = ["ci", "--include=dev", "--no-audit", "--no-fund"];
  // npm names its own script to what it runs: the same npm is used again, whatever the shell would find.
  const npm = process.env.npm_execpath;
  const run =
    npm !== undefined && /npm-cli\.c?js$/.test(npm)
      ? spawnSync(process.execPath, [npm, ...args], { cwd: root, stdio: "inherit" })
      : spawnSync("npm", args, { cwd: root, stdio: "inherit", shell: process.platform === "win32" });
  if (run.error) console.error(`npm could not be started: ${run.error.message}`);
  return run.status === 0;
}
