import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, inject } from "vitest";
import { findChromium } from "../run/chromium.mjs";

const shots = join(import.meta.dirname, "shots");

/** WebGL in software, so that pictures don't hang on the machine's graphics; no traffic of the browser's own. */
const chromiumArgs = [
  "--use-angle=swiftshader",
  "--enable-unsafe-swiftshader",
  "--ignore-gpu-blocklist",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  // Chromium's sandbox refuses to run as root, as in most containers.
  ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
];

/** Starts the Chromium that `npm test` found. */
export function launchChromium(): Promise<Browser> {
  const executablePath = findChromium();
  if (executablePath === undefined) throw new Error("No Chromium was found; `npm test` says how to get one.");
  return chromium.launch({ executablePath, headless: true, args: chromiumArgs });
}

/** What a page does wrong while it is watched: errors on its console, uncaught errors, requests to elsewhere. */
export interface Watch {
  readonly problems: string[];
}

/**
 * Watches a page from before its first load. A request to another origin is noted and cut off: everything that the app
 * needs comes with it, as there may be no network where it is used.
 */
export async function watch(page: Page, origin: string): Promise<Watch> {
  const problems: string[] = [];
  const isOwn = (address: string): boolean => {
    const url = new URL(address);
    return url.protocol === "data:" || url.protocol === "blob:" || url.origin === origin;
  };
  page.on("console", (message) => {
    if (message.type() === "error") problems.push(`console: ${message.text()} (${message.location().url})`);
  });
  page.on("pageerror", (error) => problems.push(`uncaught: ${error.stack ?? error.message}`));
  page.on("crash", () => problems.push("the page crashed"));
  page.on("websocket", (socket) => problems.push(`socket: ${socket.url()}`));
  page.on("response", (response) => {
    if (response.status() >= 400) problems.push(`answer ${response.status()}: ${response.url()}`);
  });
  // The context sees what workers ask for too.
  page.context().on("request", (request) => {
    if (!isOwn(request.url())) problems.push(`request to elsewhere: ${request.url()}`);
  });
  await page.context().route(
    (url) => !isOwn(url.href),
    (route) => route.abort(),
  );
  return { problems };
}

/** The app in a browser, for the tests of one file. */
export interface AppUnderTest {
  /** Where the app is served. */
  readonly origin: string;
  /**
   * Opens the app in a page with nothing kept from before, and waits until it is loaded.
   *
   * @param path what follows the origin: `/`, `/#/row/A`
   */
  open(path?: string, options?: BrowserContextOptions): Promise<Page>;
  /** Writes what the page shows to test/browser/shots, to be looked at; returns the file. */
  shoot(page: Page, name: string): Promise<string>;
}

/**
 * Call once at the top of a test file. Each test that opened a page fails if that page logged an error, threw one or
 * asked for anything beyond the app's own origin, whatever else the test looked at.
 */
export function useApp(): AppUnderTest {
  const origin = inject("origin");
  let browser: Browser | undefined;
  let watches: Watch[] = [];

  beforeAll(async () => {
    browser = await launchChromium();
  });
  afterEach(async () => {
    const problems = watches.flatMap((each) => each.problems);
    watches = [];
    await Promise.all(browser?.contexts().map((context) => context.close()) ?? []);
    expect(problems, "the page reports errors or asks for something elsewhere").toEqual([]);
  });
  afterAll(async () => {
    await browser?.close();
  });

  return {
    origin,
    async open(path = "/", options = {}) {
      if (browser === undefined) throw new Error("A page can only be opened inside a test.");
      const context = await browser.newContext({
        viewport: { width: 1440, height: 900 },
        locale: "en-GB",
        ...options,
      });
      const page = await context.newPage();
      watches.push(await watch(page, origin));
      await openApp(page, `${origin}${path}`);
      return page;
    },
    async shoot(page, name) {
      mkdirSync(shots, { recursive: true });
      const path = join(shots, `${name}.png`);
      await page.screenshot({ path });
      return path;
    },
  };
}

/** Loads an address and waits until its fonts are there, so that nothing moves afterwards for want of them. */
export async function openApp(page: Page, address: string): Promise<void> {
  await page.goto(address, { waitUntil: "load" });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
}
