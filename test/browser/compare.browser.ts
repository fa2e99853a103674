import { createHash } from "node:crypto";
import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { useApp } from "./harness.ts";

const STILL = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" as const };
const PHONE = {
  viewport: { width: 390, height: 844 },
  isMobile: true,
  hasTouch: true,
  reducedMotion: "reduce" as const,
};
const PATIENCE = { timeout: 45_000 };
const POLL = { timeout: 20_000 };
vi.setConfig({ testTimeout: 240_000 });

const TRIED = "/#shown=tried&try=20@left:C5&try=30@right:A3&try=-25@left:B2";

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
  await page.locator('[data-states="settled"]').waitFor(PATIENCE);
  await page.locator('[data-moving="false"]').waitFor(PATIENCE);
}

const stage = (page: Page) => page.locator("[data-stage-ready]");
const told = async (page: Page, name: string): Promise<string> =>
  (await stage(page).getAttribute(`data-${name}`)) ?? "";

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

async function boxOf(page: Page): Promise<Box> {
  const box = await stage(page).boundingBox();
  if (box === null) throw new Error("There is no stage.");
  return box;
}

/** What a share of the stage looks like, from its left and top edge. */
async function looks(page: Page, left: number, right: number, top = 0.15, bottom = 1): Promise<string> {
  const box = await boxOf(page);
  const clip = {
    x: box.x + left * box.width,
    y: box.y + top * box.height,
    width: (right - left) * box.width,
    height: (bottom - top) * box.height,
  };
  return createHash("sha256")
    .update(await page.screenshot({ clip }))
    .digest("hex");
}

/** Points at the stage row by row until a line is under the pointer; its name, and where. */
async function findLine(
  page: Page,
  left: number,
  right: number,
): Promise<{ key: string; x: number; y: number }> {
  const box = await boxOf(page);
  for (let row = 0.4; row < 0.75; row += 0.05)
    for (let share = left; share < right; share += 0.01) {
      const [x, y] = [box.x + share * box.width, box.y + row * box.height];
      await page.mouse.move(x, y);
      const key = await told(page, "hovered");
      if (key !== "") return { key, x, y };
    }
  throw new Error("No line was found.");
}

describe("two states at once", () => {
  const app = useApp();

  it("stand side by side, each half with its name and its own reading of the line pointed at, and turn together", async () => {
    // Drawn true, so that a line of both states lies at nearly the same place of its half.
    const page = await app.open(`${TRIED}&shape=1&two=beside`, STILL);
    await drawn(page);
    expect(await told(page, "panes")).toBe("2");
    expect(await page.locator("[data-half]").allTextContents()).toEqual(["As measured", "As tried"]);
    await app.shoot(page, "compare-beside");

    const box = await boxOf(page);
    const found = await findLine(page, 0.2, 0.3);
    const tag = (state: number) => page.locator(`[data-stage-tag="${state}"]`);
    const place = async (state: number): Promise<number> =>
      ((await tag(state).boundingBox())?.x ?? 0) - box.x;
    await expect.poll(() => place(0), POLL).toBeGreaterThan(0);
    expect(await place(0)).toBeLessThan(box.width / 2);
    expect(await place(1)).toBeGreaterThan(box.width / 2);
    await page.mouse.move(found.x + box.width / 2, found.y);
    await expect.poll(() => told(page, "hovered"), POLL).toBe(found.key);

    await page.mouse.move(box.x + 5, box.y + box.height - 60);
    await expect.poll(() => told(page, "hovered"), POLL).toBe("");
    await drawn(page);
    const before = [await looks(page, 0.05, 0.45), await looks(page, 0.55, 0.85)];
    expect([await looks(page, 0.05, 0.45), await looks(page, 0.55, 0.85)]).toEqual(before);
    const bearing = await told(page, "bearing");
    await stage(page).focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight");
    await expect.poll(() => told(page, "bearing"), POLL).not.toBe(bearing);
    await drawn(page);
    expect(await looks(page, 0.05, 0.45)).not.toBe(before[0]);
    expect(await looks(page, 0.55, 0.85)).not.toBe(before[1]);
  });

  it("are parted by a divider that the mouse and the arrow keys move, and only what it passes over changes", async () => {
    const page = await app.open(`${TRIED}&shape=25&two=wipe`, STILL);
    await drawn(page);
    const divider = page.getByRole("slider", { name: "Divider between as measured and as tried" });
    expect(await divider.getAttribute("aria-valuenow")).toBe("50");
    const box = await boxOf(page);
    const before = { left: await looks(page, 0.3, 0.47), passed: await looks(page, 0.53, 0.6) };

    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.55 * box.width, box.y + box.height / 2, { steps: 4 });
    await page.mouse.move(box.x + 0.65 * box.width, box.y + box.height / 2, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => divider.getAttribute("aria-valuenow"), POLL).toBe("65");
    const bearing = await told(page, "bearing");
    await drawn(page);
    await expect.poll(() => looks(page, 0.53, 0.6), POLL).not.toBe(before.passed);
    expect(await looks(page, 0.3, 0.47)).toBe(before.left);
    await app.shoot(page, "compare-wipe");

    await divider.focus();
    await page.keyboard.press("ArrowLeft");
    await page.keyboard.press("ArrowLeft");
    await expect.poll(() => divider.getAttribute("aria-valuenow"), POLL).toBe("61");
    expect(await told(page, "bearing")).toBe(bearing);
    await page.keyboard.press("End");
    await page.keyboard.press("ArrowRight");
    await expect.poll(() => divider.getAttribute("aria-valuenow"), POLL).toBe("100");
    await expect.poll(() => page.url(), POLL).toContain("divider=100");
    await page.keyboard.press("Home");
    await expect.poll(() => divider.getAttribute("aria-valuenow"), POLL).toBe("0");

    const found = await findLine(page, 0.4, 0.5);
    expect(found.key).not.toBe("");
    expect(await page.locator('[data-stage-tag="1"]').textContent()).toMatch(/as measured, .* as tried$/);
  });

  it("are chosen without the address, and can be coloured by what they differ by, as the legend says", async () => {
    const page = await app.open("/#shown=measured", STILL);
    await drawn(page);
    expect(await told(page, "panes")).toBe("1");
    await page.locator('[data-choice="against"]').selectOption("specified");
    await page.getByRole("radio", { name: "Beside it" }).check();
    await expect.poll(() => told(page, "panes"), POLL).toBe("2");
    expect(await page.locator("[data-half]").allTextContents()).toEqual(["As specified", "As measured"]);
    expect(await page.locator("[data-difference]").count()).toBe(0);
    await page.locator('[data-choice="tint"]').check();
    await page.locator("[data-difference]").waitFor(PATIENCE);
    expect(await page.locator("[data-difference]").textContent()).toContain("as measured less as specified");
    await expect.poll(() => page.url(), POLL).toContain("against=specified&two=beside&tint=difference");

    await page.getByRole("radio", { name: "Over it" }).check();
    await expect.poll(() => told(page, "panes"), POLL).toBe("1");
    expect(await page.locator("[data-stage-caption]").textContent()).toContain(
      "As measured, over as specified",
    );
    await page.locator('[data-choice="against"]').selectOption("nothing");
    await expect.poll(() => page.locator("[data-difference]").count(), POLL).toBe(0);
    await page.goBack();
    await expect.poll(() => page.locator("[data-difference]").count(), POLL).toBe(1);
  });

  it("fit a phone, where a finger moves the divider and the view pane has the choice", async () => {
    const page = await app.open(`${TRIED}&two=wipe&pane=view`, PHONE);
    await drawn(page);
    await page.getByRole("heading", { name: "Two states" }).waitFor(PATIENCE);
    const box = await boxOf(page);
    const divider = page.locator("[data-divider]");
    await page.touchscreen.tap(box.x + box.width / 2 + 15, box.y + box.height / 2);
    await expect
      .poll(async () => Number(await divider.getAttribute("data-divider")), POLL)
      .toBeGreaterThan(0.52);
    await app.shoot(page, "compare-phone");
    await page.getByRole("radio", { name: "Beside it" }).check();
    await expect.poll(() => page.locator("[data-half]").count(), POLL).toBe(2);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
