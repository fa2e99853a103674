import { describe, expect, it } from "vitest";
import { useApp } from "./harness.ts";

describe("the app", () => {
  const app = useApp();

  it("opens with the wing on a canvas that has a size and a live drawing context", async () => {
    const page = await app.open("/");
    expect(await page.title()).toContain("Linewright");
    const canvas = page.locator("canvas").first();
    await canvas.waitFor({ state: "visible" });
    // A canvas begins at 300 by 150 and gets its room's size in the first frames.
    await expect.poll(async () => (await canvas.boundingBox())?.height ?? 0).toBeGreaterThan(200);
    expect((await canvas.boundingBox())?.width).toBeGreaterThan(200);
    const lost = await canvas.evaluate((element) =>
      (element as HTMLCanvasElement).getContext("webgl2")?.isContextLost(),
    );
    expect(lost).toBe(false);
    await app.shoot(page, "smoke");
  });

  it.fails("is not let off when its page logs an error, whatever the test itself looked at", async () => {
    const page = await app.open("/");
    await page.evaluate(() => console.error("planted"));
  });
});
