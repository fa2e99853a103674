// @ts-check
// Finds the Chromium that the browser tests drive, or installs it where that can be done without asking.
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { homedir } from "node:os";
import { delimiter, join } from "node:path";

const names = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "chrome",
  "microsoft-edge",
];

const usualPlaces = [
  "/usr/lib/chromium/chromium",
  "/snap/bin/chromium",
  "/opt/google/chrome/chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe",
  "C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe",
];

/**
 * Path of a Chromium-like browser: CHROMIUM_PATH if set, else the first on PATH, in the usual places, or among the
 * builds that playwright keeps in the user's cache.
 *
 * @param {NodeJS.ProcessEnv} [env]
 * @returns {string | undefined} undefined if there is none
 * @throws {Error} if CHROMIUM_PATH names no program: a wrong setting isn't passed over in silence
 */
export function findChromium(env = process.env) {
  if (env.CHROMIUM_PATH) {
    if (isProgram(env.CHROMIUM_PATH)) return env.CHROMIUM_PATH;
    throw new Error(`CHROMIUM_PATH is "${env.CHROMIUM_PATH}", which is no program that can be run.`);
  }
  const suffix = process.platform === "win32" ? ".exe" : "";
  const onPath = (env.PATH ?? "")
    .split(delimiter)
    .filter((folder) => folder !== "")
    .flatMap((folder) => names.map((name) => join(folder, name + suffix)));
  return [...onPath, ...usualPlaces, ...playwrightBuilds()].find(isProgram);
}

/**
 * @param {string} path
 * @returns {boolean}
 */
function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

/** @returns {string[]} */
function playwrightBuilds() {
  const caches = [
    join(homedir(), ".cache", "ms-playwright"),
    join(homedir(), "Library", "Caches", "ms-playwright"),
    join(homedir(), "AppData", "Local", "ms-playwright"),
  ];
  const inside = [
    "chrome-linux64/chrome",
    "chrome-linux/chrome",
    "chrome-mac/Chromium.app/Contents/MacOS/Chromium",
    "chrome-win/chrome.exe",
  ];
  return caches
    .filter((cache) => existsSync(cache))
    .flatMap((cache) =>
      readdirSync(cache)
        .filter((build) => /^chromium-\d+$/.test(build))
        .sort()
        .reverse()
        .flatMap((build) => inside.map((path) => join(cache, build, path))),
    );
}

/**
 * Makes sure that there is a Chromium; on Debian and its kin, as root, it is installed.
 *
 * @returns {string | undefined} what is wrong and what to do, or undefined if there is one
 */
export function provideChromium() {
  try {
    if (findChromium() !== undefined) return undefined;
    if (hasApt() && process.getuid?.() === 0) {
      console.log("Installing Chromium for the browser tests …");
      const quiet = {
        env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
        stdio: /** @type {const} */ ("inherit"),
      };
      spawnSync("apt-get", ["update", "-q"], quiet);
      spawnSync("apt-get", ["install", "-y", "-q", "--no-install-recommends", "chromium"], quiet);
      if (findChromium() !== undefined) return undefined;
    }
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
  return (
    "No Chromium was found for the browser tests. " +
    (hasApt() ? "Install it with: sudo apt-get install chromium. " : "Install Chromium or Chrome. ") +
    "If it is in an unusual place, set CHROMIUM_PATH to its program."
  );
}

/** Debian, Ubuntu and what is built on them. */
function hasApt() {
  if (!existsSync("/usr/bin/apt-get")) return false;
  try {
    return /^ID(_LIKE)?=.*(debian|ubuntu)/m.test(readFileSync("/etc/os-release", "utf8"));
  } catch {
    return false;
  }
}
