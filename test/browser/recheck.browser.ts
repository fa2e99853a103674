import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMO_WORK, demoFiles } from "../../src/demo/index.ts";
import { useApp } from "./harness.ts";

const STILL = { viewport: { width: 1440, height: 900 }, reducedMotion: "reduce" as const };
const PHONE = {
  viewport: { width: 390, height: 844 },
  isMobile: true,
  hasTouch: true,
  reducedMotion: "reduce" as const,
};
const PATIENCE = { timeout: 45_000 };
const POLL = { timeout: 30_000 };
vi.setConfig({ testTimeout: 240_000 });

const textOf = (end: string): string => {
  const found = demoFiles().find(({ name }) => name.startsWith("tidewrack") && name.endsWith(end));
  if (found === undefined) throw new Error(`The demo has no file that ends in ${end}.`);
  return found.text;
};
const file = (end: string) => ({
  name: `mine${end}`,
  mimeType: "text/plain",
  buffer: Buffer.from(textOf(end)),
});
const work = DEMO_WORK.school;
if (work === undefined) throw new Error("Nothing was done to the school wing.");
/** What was done, as the address has it. */
const TIED = work.changes.map(({ lineKey, to }) => `loop=${to.kind.id}@${lineKey}`).join("&");

async function settled(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
  await page.locator('[data-states="settled"]').waitFor(PATIENCE);
}

async function compared(page: Page): Promise<void> {
  await settled(page);
  await page.locator('[data-recheck="rows"]').waitFor(PATIENCE);
}

/** The user's own wing with plan, readings and book, and no check after the work. */
async function openOwn(page: Page): Promise<void> {
  await settled(page);
  await page.locator('[data-pane="files"]').click();
  await page
    .locator('[data-input="files"]')
    .setInputFiles([file(".plan.json"), file(".check.json"), file(".loops.json")]);
  await expect.poll(() => page.url(), POLL).toContain("wing=own");
  await settled(page);
  await page.locator('[data-pane="after"]').click();
  await page.locator('[data-recheck-pane="before"]').waitFor(PATIENCE);
}

describe("a check after the work", () => {
  const app = useApp();

  it("of the invented wing names the loop that was left in, and what rows, limits and paths became", async () => {
    const page = await app.open(`/#wing=school&shown=measured&pane=after&${TIED}`, STILL);
    await compared(page);
    const rows = page.locator('[data-table="changes"] tbody tr');
    expect(await rows.count()).toBe(work.changes.length);
    const otherwise = page.locator('[data-change][data-mark="otherwise"]');
    const named = await otherwise.evaluateAll((found) => found.map((row) => row.getAttribute("data-change")));
    expect(named).toEqual(work.leftIn);
    expect(await otherwise.first().textContent()).toContain("looks not done");
    expect(await otherwise.first().locator("svg").count()).toBe(1);
    expect(await page.locator('[data-recheck="verdict"]').textContent()).toContain("DL2 right");
    expect(await page.locator('[data-recheck="shift"]').textContent()).toContain("taken out");
    const d = page.locator('[data-table="recheck rows"] tr[data-row="D"]');
    expect(await d.textContent()).toContain("−20");
    expect(await page.locator('[data-chart="recheck rows"]').count()).toBe(1);
    expect(await page.locator('[data-table="recheck limits"] [data-total]').count()).toBe(1);
    expect(await page.locator('[data-recheck="caution"]').textContent()).toMatch(
      /inflate on the ground first/,
    );

    await page.locator('[data-fold="recheck paths"] > summary').click();
    await page.locator('[data-table="recheck paths"] thead button').last().click();
    const worst = page.locator("[data-path]").first();
    expect(await worst.getAttribute("data-path")).toMatch(/^right:D/);
    await app.shoot(page, "recheck");
  });

  it("is shown against what was planned, beside it and divided from it, and the chart has both lines", async () => {
    const page = await app.open(`/#wing=school&shown=measured&pane=after&${TIED}`, STILL);
    await compared(page);
    await page.getByRole("radio", { name: "Planned ↔ after" }).check({ force: true });
    await expect.poll(() => page.url(), POLL).toContain("shown=after&");
    expect(page.url()).toContain("against=tried");
    expect(page.url()).toContain("tint=difference");
    await expect
      .poll(() => page.locator("[data-stage-caption]").textContent(), POLL)
      .toContain("As measured after the work, over as tried");
    expect(await page.locator("[data-held]").count()).toBe(1);
    expect(await page.locator('[data-band-key="held"]').textContent()).toContain("as tried");

    await page.getByRole("radio", { name: "Beside it" }).check({ force: true });
    await expect
      .poll(() => page.locator("[data-half]").allTextContents(), POLL)
      .toEqual(["As tried", "As measured after the work"]);
    await page.getByRole("radio", { name: "Divided" }).check({ force: true });
    await page.locator("[data-divider]").waitFor(PATIENCE);
    await app.shoot(page, "recheck-divided");

    await page.locator('[data-strip="rib"]').click();
    await expect
      .poll(() => page.locator('[data-rib-half="right"] [data-outline="after"]').count(), POLL)
      .toBe(1);
    await page.getByRole("radio", { name: "As measured" }).check({ force: true });
    await expect.poll(() => page.locator('[data-outline="after"]').count(), POLL).toBe(0);
  });

  it("is brought by file for the own wing, stays after a reload, and becomes the readings to go on from", async () => {
    const page = await app.open("/", STILL);
    await openOwn(page);
    expect(await page.locator('[data-recheck="measure"]').textContent()).toContain("nothing yet");
    await page.locator('[data-input="after"]').setInputFiles(file(".check-after.json"));
    await compared(page);
    expect(page.url()).toContain("shown=after");
    await page.locator('[data-recheck="nothing done"]').waitFor(PATIENCE);
    await page.reload();
    await compared(page);
    expect(await page.locator("h2", { hasText: "21 March 2026 against 14 March 2026" }).count()).toBe(1);

    await page.locator('[data-action="take plan"]').click(PATIENCE);
    await page.locator('[data-table="changes"]').waitFor(PATIENCE);
    await settled(page);
    const [left] = work.leftIn;
    expect(await page.locator(`[data-done="${left}"]`).isChecked()).toBe(false);
    const other = work.changes.find(({ lineKey }) => lineKey !== left)?.lineKey;
    expect(await page.locator(`[data-done="${other}"]`).isChecked()).toBe(true);
    await page.locator('[data-action="go on"]').click();
    await page.locator('[data-recheck-pane="before"]').waitFor(PATIENCE);
    await settled(page);
    expect(page.url()).not.toContain("loop=");
    const kept = await page.evaluate(() => JSON.parse(localStorage.getItem("linewright.own") ?? "{}"));
    expect(kept.after).toBeUndefined();
    expect(JSON.parse(kept.readings.text).date).toBe("2026-03-21");
    const present: { side: string; line: string }[] = JSON.parse(kept.book.text).present;
    const keys = present.map(({ side, line }) => `${side}:${line}`);
    expect(keys).toContain(other);
    expect(keys).not.toContain(left);
    expect(await page.locator("dd", { hasText: "21 March 2026" }).count()).toBeGreaterThan(0);
  });

  it("brought among the files is asked about, and nothing gives way unasked", async () => {
    const page = await app.open("/", STILL);
    await openOwn(page);
    await page.locator('[data-pane="files"]').click();
    await page.locator('[data-input="files"]').setInputFiles(file(".check-after.json"));
    await page.locator("[data-waiting]").waitFor(PATIENCE);
    expect(await page.locator("h1 + dl dd", { hasText: "14 March 2026" }).count()).toBe(1);
    await page.getByRole("button", { name: "These are readings after the work" }).click();
    await compared(page);
    await page.locator('[data-pane="files"]').click();
    expect(await page.getByRole("button", { name: /^Readings after the work/ }).count()).toBe(1);
    expect(await page.getByRole("button", { name: /book of loops/ }).count()).toBe(1);

    await page.locator('[data-pane="after"]').click();
    await page.locator('[data-action="drop after"]').click();
    await page.locator('[data-recheck-pane="before"]').waitFor(PATIENCE);
  });

  it("as a sheet asks for its frame in the pane it was brought in", async () => {
    const page = await app.open("/#wing=second&pane=after", STILL);
    await settled(page);
    const csv = ["tab,left,right", "A1,7000,7001"].join("\r\n");
    await page
      .locator('[data-input="after"]')
      .setInputFiles({ name: "later.csv", mimeType: "text/csv", buffer: Buffer.from(csv) });
    const form = page.locator("[data-recheck-pane] form");
    await form.waitFor(PATIENCE);
    expect(await form.getByRole("radio", { name: "Read after the work" }).isChecked()).toBe(true);
    await form.locator('input[type="date"]').fill("2026-05-02");
    await form.getByRole("button", { name: "Use these readings" }).click();
    await expect.poll(() => page.url(), POLL).toContain("wing=own");
    await page.locator('[role="tab"][data-pane="after"]').click();
    await page.locator("h2", { hasText: "2 May 2026 against" }).waitFor(PATIENCE);
  });

  it("dropped on the pane comes after the work, not in place of the readings", async () => {
    const page = await app.open("/#wing=second&pane=after", STILL);
    await settled(page);
    const field = page.locator('[data-drop="after"]');
    const text = demoFiles().find(({ name }) => name === "thistledrift-22.check.json")?.text ?? "";
    const dataTransfer = await page.evaluateHandle(
      (later) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([later], "later.json", { type: "application/json" }));
        return transfer;
      },
      text.replace(/"date": "[^"]+"/, '"date": "2026-06-01"'),
    );
    await page.locator("main").dispatchEvent("dragover", { dataTransfer });
    await page.getByText("Let go to bring these files").waitFor(PATIENCE);
    await field.first().dispatchEvent("drop", { dataTransfer });
    await page.locator("h2", { hasText: "1 June 2026 against" }).waitFor(PATIENCE);
    expect(await page.getByText("Let go to bring these files").count()).toBe(0);
  });

  it("fits a phone", async () => {
    const page = await app.open(`/#wing=school&shown=after&against=tried&pane=after&${TIED}`, PHONE);
    await compared(page);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const wide = await page
      .locator("[data-recheck-pane] table, [data-recheck-pane] fieldset")
      .evaluateAll((found) => found.filter((each) => each.scrollWidth > each.clientWidth + 1).length);
    expect(wide).toBe(0);
    await app.shoot(page, "recheck-phone");
  });
});
