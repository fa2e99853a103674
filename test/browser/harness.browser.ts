import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { launchChromium, openApp, watch } from "./harness.ts";

/** A page with one planted fault each, by its path. */
const faults: Readonly<Record<string, string>> = {
  "/clean": "<p>nothing wrong</p>",
  "/console": '<script>console.error("planted on the console")</script>',
  "/throws": '<script>throw new Error("planted and thrown")</script>',
  "/rejects": '<script>Promise.reject(new Error("planted and rejected"))</script>',
  "/missing": '<link rel="stylesheet" href="/absent.css">',
  "/picture": '<img alt="" src="http://elsewhere.invalid/planted.png">',
  "/fetches": '<script>fetch("http://elsewhere.invalid/planted").catch(() => {})</script>',
  "/style": '<style>@import "http://elsewhere.invalid/planted.css";</style>',
  "/socket": '<script>new WebSocket("ws://elsewhere.invalid/planted")</script>',
  "/worker":
    '<script>new Worker(URL.createObjectURL(new Blob(["fetch(\\"http://elsewhere.invalid/planted\\").catch(() => {})"])))</script>',
};

describe("the browser harness", () => {
  let server: Server;
  let browser: Browser;
  let origin: string;

  beforeAll(async () => {
    server = createServer((request, response) => {
      const body = faults[request.url ?? ""];
      response.writeHead(body === undefined ? 404 : 200, { "content-type": "text/html" });
      response.end(body === undefined ? "" : `<!doctype html><link rel="icon" href="data:,">${body}`);
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    browser = await launchChromium();
  });
  afterAll(async () => {
    await browser.close();
    server.close();
  });

  async function problemsAt(path: string): Promise<string> {
    const context = await browser.newContext();
    const page = await context.newPage();
    const { problems } = await watch(page, origin);
    await openApp(page, `${origin}${path}`);
    if (path !== "/clean") await expect.poll(() => problems.length, { timeout: 5000 }).toBeGreaterThan(0);
    else await page.waitForTimeout(300);
    await context.close();
    return problems.join("\n");
  }

  it("finds nothing on a page in order", async () => {
    expect(await problemsAt("/clean")).toBe("");
  });

  it.each([
    ["an error on the console", "/console", "planted on the console"],
    ["an error that nothing catches", "/throws", "planted and thrown"],
    ["a rejection that nothing catches", "/rejects", "planted and rejected"],
    ["a file that isn't there", "/missing", "answer 404"],
    ["a picture from elsewhere", "/picture", "request to elsewhere: http://elsewhere.invalid/planted.png"],
    ["a fetch from elsewhere", "/fetches", "request to elsewhere: http://elsewhere.invalid/planted"],
    ["a stylesheet from elsewhere", "/style", "request to elsewhere: http://elsewhere.invalid/planted.css"],
    ["a socket", "/socket", "socket: ws://elsewhere.invalid/planted"],
    ["a worker's request to elsewhere", "/worker", "request to elsewhere: http://elsewhere.invalid/planted"],
  ])("catches %s", async (_, path, complaint) => {
    expect(await problemsAt(path)).toContain(complaint);
  });

  it("draws with WebGL", async () => {
    const page = await browser.newPage();
    const drawn = await page.evaluate(() => {
      const gl = document.createElement("canvas").getContext("webgl2");
      if (gl === null) return null;
      gl.clearColor(1, 0.5, 0, 1);
      gl.clear(gl.COLOR_BUFFER_BIT);
      const pixel = new Uint8Array(4);
      gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
      return [...pixel];
    });
    await page.close();
    expect(drawn).toEqual([255, 128, 0, 255]);
  });
});
