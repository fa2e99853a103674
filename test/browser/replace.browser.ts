import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { useApp } from "./harness.ts";

const STILL = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" as const };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const PATIENCE = { timeout: 60_000 };
const POLL = { timeout: 30_000 };
vi.setConfig({ testTimeout: 240_000 });

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
}

const go = (page: Page, step: string) => page.locator(`[data-go="${step}"]`).click();
const file = (name: string, value: unknown) => ({
  name,
  mimeType: "application/json",
  buffer: Buffer.from(JSON.stringify(value)),
});
const linesOf = (page: Page, card: string, list: "recording" | "closing") =>
  page
    .locator(`[data-card="${card}"] [data-${list}] > li`)
    .evaluateAll((items) => items.map((item) => item.getAttribute("data-line")));

describe("a damaged line", () => {
  const app = useApp();

  it("of the own wing is found, ordered, recorded, measured and tried; all of it is there after a reload", async () => {
    const page = await app.open("/#pane=files", STILL);
    await drawn(page);
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles([file("a.plan.json", DEMOS.school.plan), file("a.check.json", DEMOS.school.check)]);
    await expect.poll(() => page.url(), POLL).toContain("wing=own");
    await drawn(page);
    await page.locator('[data-pane="replace"]').click();

    // Found by a tab above it, with the reason.
    await page.locator('[data-part="search"] input').fill("tab C6 left lower");
    const found = page.locator('[data-list="found"] [data-line]');
    await expect.poll(() => found.count(), POLL).toBe(1);
    expect(await found.textContent()).toMatch(/carries tabs.*C6/);
    await page.keyboard.press("Enter");
    await page.locator('[data-traced="left:CL2"]').waitFor(PATIENCE);
    expect(page.url()).toContain("line=left:CL2");
    expect(await page.locator("[data-stop]").textContent()).toMatch(/isn’t to be flown/);
    await page.locator('[data-act="replace"]').click();

    // Both of the pair, unless one alone is wanted.
    await go(page, "order");
    const order = page.locator('[data-list="order"] > li');
    expect(await order.count()).toBe(1);
    expect(await order.textContent()).toMatch(/2 × CL2/);
    await page.getByLabel("only CL2 left").check();
    await page
      .locator('[data-list="order-warnings"]')
      .getByText(/Only CL2 left is ordered/)
      .waitFor(PATIENCE);
    await page.getByLabel("CL2 left and right").check();
    await expect.poll(() => order.textContent(), POLL).toMatch(/2 × CL2/);
    const [csv] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Download CSV" }).click(),
    ]);
    expect(csv.suggestedFilename()).toMatch(/\.csv$/);
    expect(await page.locator("[data-order-text]").textContent()).toMatch(/CL2 +left \+ right +2/);

    // The maillon's card: by keys, by hand, recorded, closed in another order.
    await go(page, "maillon");
    const before = await linesOf(page, "C left", "recording");
    await page.locator('[data-card="C left"] [data-line="left:CL1"] [data-handle]').focus();
    await page.keyboard.press("ArrowDown");
    await expect
      .poll(() => linesOf(page, "C left", "recording"), POLL)
      .toEqual([before[1], before[0], ...before.slice(2)]);
    const handle = page.locator('[data-card="C left"] [data-line="left:CL1"] [data-handle]');
    await expect
      .poll(() => handle.evaluate((element) => element === document.activeElement), POLL)
      .toBe(true);
    const top = page.locator('[data-card="C left"] [data-recording] > li').first();
    await handle.scrollIntoViewIfNeeded();
    await top.scrollIntoViewIfNeeded();
    const [from, to] = [await handle.boundingBox(), await top.boundingBox()];
    if (from === null || to === null) throw new Error("no room on the screen");
    await page.mouse.move(from.x + 20, from.y + from.height / 2);
    await page.mouse.down();
    await page.mouse.move(to.x + 20, to.y + 10, { steps: 4 });
    await page.mouse.up();
    await expect.poll(() => linesOf(page, "C left", "recording"), POLL).toEqual(before);
    await page.locator('[data-card="C left"] [data-act="record"]').click();
    const tick = (key: string) =>
      page.locator(`[data-card="C left"] [data-closing] [data-line="${key}"] input`).check();
    await tick("left:CL1");
    await page.locator('[data-card-status="open"]').waitFor(PATIENCE);
    await tick("left:CL3");
    await tick("left:CL2");
    const status = page.locator('[data-card="C left"] [data-card-status]');
    await expect.poll(() => status.getAttribute("data-card-status"), POLL).toBe("differs");
    expect(await status.textContent()).toMatch(/CL3 went back in place 2; it was recorded in place 3/);

    // Lengths, then a loop: the 3D follows.
    await go(page, "swap");
    await page.locator('[data-step="stop"]').check();
    for (const side of ["left", "right"]) {
      const row = page.locator(`[data-lengths="${side}"]`);
      const plan = Number((await row.locator("small").first().textContent())?.replace(/\D/g, ""));
      await row
        .locator("input")
        .nth(0)
        .fill(String(plan - 12));
      await row.locator("input").nth(0).press("Enter");
      await row.locator("input").nth(1).fill(`${plan},0`);
      await row.locator("input").nth(1).press("Enter");
    }
    await page.getByText("The new one is 12 mm longer.").first().waitFor(PATIENCE);
    const left = page.locator('[data-landings="left"]');
    expect(await left.locator("[data-suggested]").count()).toBe(1);
    await left.locator('[data-loop="plain"] input').click();
    await page.locator('[data-tried="yes"]').waitFor(PATIENCE);
    await expect.poll(() => page.url(), POLL).toMatch(/try=12@left:CL2/);
    expect(page.url()).toContain("shown=tried");
    expect(await left.locator("[data-chosen]").getAttribute("data-loop")).toBe("plain");
    await page.locator('[data-lengths="left"] input').nth(1).fill("4000");
    await page.locator('[data-lengths="left"] input').nth(1).press("Enter");
    await page.locator("[data-doubt]").waitFor(PATIENCE);
    await page.keyboard.press("Tab");
    await app.shoot(page, "replace-swap");

    await page.reload();
    await drawn(page);
    await page.locator('[data-step-shown="swap"]').waitFor(PATIENCE);
    expect(await page.locator('[data-step="stop"]').isChecked()).toBe(true);
    expect(await page.locator('[data-lengths="left"] input').nth(1).inputValue()).toBe("4000");
    expect(await left.locator("[data-chosen]").getAttribute("data-loop")).toBe("plain");
    await go(page, "maillon");
    expect(await linesOf(page, "C left", "closing")).toEqual(before);
    expect(await page.locator('[data-card="C left"] [data-closing] input:checked').count()).toBe(3);

    await go(page, "after");
    await page.locator('[data-full-check="true"]').waitFor(PATIENCE);
    await page.locator('[data-reason="lower line replaced"]').getByRole("button").click();
    await page.getByRole("heading", { name: "2 lines" }).waitFor(PATIENCE);
    await page.locator('[data-act="replaced"]').click();
    await page.getByText(/CL2 left and right: replaced/).waitFor(PATIENCE);
  });

  it("prints as two sheets at most, with boxes to tick and all cautions", async () => {
    const page = await app.open("/#pane=replace&line=left:AL1", STILL);
    await drawn(page);
    await page.locator('[data-act="replace"]').click();
    await page.locator('[data-replace="AL1"]').waitFor(PATIENCE);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator("[data-paper]").isVisible()).toBe(true);
    expect(await page.locator("[data-paper]").textContent()).toMatch(/Nothing here is an inspection/);
    const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
    expect(pdf.match(/\/Type\s*\/Page\b/g)?.length).toBeLessThanOrEqual(2);
  });

  it("without a loop, a maillon or readings says so", async () => {
    const page = await app.open("/#pane=replace&line=left:BRL1", STILL);
    await drawn(page);
    await page.locator('[data-act="replace"]').click();
    await go(page, "maillon");
    expect(await page.locator('[data-empty="maillon"]').textContent()).toMatch(/through the pulley/);
    await page.locator('[data-pane="files"]').click();
    await page
      .locator('input[type="file"]')
      .first()
      .setInputFiles([file("b.plan.json", DEMOS.second.plan)]);
    await expect.poll(() => page.url(), POLL).toContain("wing=own");
    await drawn(page);
    await page.locator('[data-pane="replace"]').click();
    await page.locator('[data-part="search"] input').fill("BL1 right");
    await page.keyboard.press("Enter");
    await page.locator('[data-act="replace"]').click();
    await go(page, "swap");
    await page
      .getByText(/There are no readings: what is met/)
      .first()
      .waitFor(PATIENCE);
    expect(await page.locator('[data-act="try"]').isDisabled()).toBe(true);
    await go(page, "after");
    await page.locator('[data-reason="no readings"]').waitFor(PATIENCE);
  });

  it("has room on a phone: nothing overflows, what is touched is large", async () => {
    const page = await app.open("/#pane=replace&line=left:AL2", PHONE);
    await drawn(page);
    await page.locator('[data-act="replace"]').tap();
    for (const step of ["line", "order", "maillon", "swap", "after"]) {
      await page.locator(`[data-go="${step}"]`).tap();
      await page.locator(`[data-step-shown="${step}"]`).waitFor(PATIENCE);
      const over = await page.evaluate(() => {
        const body = document.getElementById("pane");
        return [
          document.documentElement.scrollWidth - innerWidth,
          (body?.scrollWidth ?? 0) - (body?.clientWidth ?? 0),
        ];
      });
      expect(over, step).toEqual([0, 0]);
      if (step !== "maillon") continue;
      await app.shoot(page, "replace-maillon-phone");
      const sizes = await page
        .locator("[data-card] button:not([disabled]), [data-card] select")
        .evaluateAll((all) => all.map((one) => one.getBoundingClientRect().height));
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(42);
    }
  });
});
