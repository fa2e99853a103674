import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { useApp } from "./harness.ts";

const DESK = { viewport: { width: 1440, height: 900 } };
const PHONE = { viewport: { width: 390, height: 844 }, isMobile: true, hasTouch: true };
const PATIENCE = { timeout: 60_000 };
vi.setConfig({ testTimeout: 240_000 });

const EDIT = "/#wing=school&pane=plan&plan=edit";
const CASCADE = "/#wing=school&pane=plan";
const { plan } = DEMOS.school;
if (!("mirrored" in plan.sides)) throw new Error("The demo plan was meant to give one half.");
const { lines } = plan.sides.mirrored;
const indexOf = (id: string): number => lines.findIndex((line) => line.id === id);
const at = (id: string, field: string): string => `sides.mirrored.lines[${indexOf(id)}].${field}`;

async function drawn(page: Page): Promise<void> {
  await page.locator('[data-stage-ready="true"]').waitFor(PATIENCE);
}
/** Until the whole plan has been read as it stands. */
async function checked(page: Page): Promise<void> {
  await page.locator('[data-editor][data-checked="true"]').waitFor(PATIENCE);
}
const cell = (page: Page, place: string) => page.locator(`[data-at="${place}"]`);
const text = (page: Page, place: string) => cell(page, place).locator("span").last().textContent();
const lit = (page: Page) => page.locator("[data-cascade-part] g[data-picked]");

async function typeInto(page: Page, place: string, typed: string, end = "Enter"): Promise<void> {
  await cell(page, place).click();
  await page.keyboard.type(typed);
  await page.keyboard.press(end);
  await checked(page);
}

describe("the plan in tables", () => {
  const app = useApp();

  it("takes a length with a decimal comma, shows what it does to the totals, brings these in step, and uses the plan with its readings", async () => {
    const page = await app.open(EDIT, DESK);
    await drawn(page);
    await checked(page);
    const read = await page.locator("header").first().textContent();
    expect(await page.locator('[data-do="use"]').isDisabled()).toBe(true);
    await typeInto(page, at("AL1", "lengthMm"), "4950,5");
    expect(await text(page, at("AL1", "lengthMm"))).toBe("4950.5");
    // The totals that the plan states no longer fit: told at the cell, and nothing can be used.
    expect(await cell(page, at("AL1", "lengthMm")).getAttribute("data-problem")).toBe("error");
    expect(await page.locator(`[data-note="${at("AL1", "lengthMm")}"]`).textContent()).toContain("7475.5 mm");
    expect(await page.locator('[data-do="use"]').isDisabled()).toBe(true);
    expect(await page.locator("#edit-use-why").textContent()).toContain("1 fault");
    await app.shoot(page, "plan-edit-fault");
    await page.locator('[data-do="totals"]').click();
    await checked(page);
    expect(await page.locator("[data-problems]").getAttribute("data-problems")).toBe("0");
    expect(await page.locator("[data-changes]").getAttribute("data-changes")).toBe("5");
    await page.locator('[data-do="use"]').click();
    await page.waitForURL(/wing=own/);
    await page.locator('[data-work="ready"]').waitFor(PATIENCE);
    expect(await page.locator("h1").first().textContent()).toContain(plan.wing.name);
    // Date and number of readings stand in the head as before.
    for (const part of read?.match(/14 and 21 March 2026|\d+ of \d+ tabs?/g) ?? []) {
      expect(await page.locator("header").first().textContent()).toContain(part);
    }
    expect(read).toContain("14 and 21 March 2026");
    expect(await page.locator("[data-changes]").getAttribute("data-changes")).toBe("0");
    await page.reload();
    await drawn(page);
    expect(await text(page, at("AL1", "lengthMm"))).toBe("4950.5");
  });

  it("shows a broken reference at its cell while it is being typed, goes there from the list, and takes it back", async () => {
    const page = await app.open(EDIT, DESK);
    await checked(page);
    const place = at("A1", "hangsOn");
    await cell(page, place).click();
    await page.keyboard.type("AM77");
    await page.locator(`[data-note="${place}"]`).waitFor(PATIENCE);
    expect(await page.locator(`[data-note="${place}"]`).textContent()).toContain("AM77");
    await page.keyboard.press("Enter");
    await checked(page);
    await page.locator('[data-editor] input[value="materials"]').check({ force: true });
    await page.locator(`[data-goto="${place}"]`).click();
    await page.waitForFunction(
      (want) => (document.activeElement as HTMLElement | null)?.dataset.cell === want,
      place,
    );
    await page.keyboard.press("Control+z");
    await checked(page);
    expect(await text(page, place)).toBe("AM1");
    expect(await page.locator("[data-problems]").getAttribute("data-problems")).toBe("0");
  });

  it("fills a column that was copied in a spreadsheet, renames a line with what hangs on it, and takes one change back", async () => {
    const page = await app.open(EDIT, { ...DESK, permissions: ["clipboard-read", "clipboard-write"] });
    await checked(page);
    await page.evaluate(() => navigator.clipboard.writeText("897\n806,5\n"));
    await cell(page, at("A1", "lengthMm")).click();
    await page.keyboard.press("Control+v");
    await checked(page);
    expect([await text(page, at("A1", "lengthMm")), await text(page, at("A2", "lengthMm"))]).toEqual([
      "897",
      "806.5",
    ]);
    await typeInto(page, at("AM1", "id"), "inner");
    expect([await text(page, at("A1", "hangsOn")), await text(page, at("A2", "hangsOn"))]).toEqual([
      "inner",
      "inner",
    ]);
    const changes = page.locator("[data-change]");
    expect(await changes.evaluateAll((rows) => rows.map((row) => row.getAttribute("data-change")))).toEqual([
      "inner id",
      "A1 lengthMm",
      "A2 lengthMm",
    ]);
    await page.locator('[data-change="A1 lengthMm"] button').click();
    await checked(page);
    expect(await text(page, at("A1", "lengthMm"))).toBe("896");
    expect(await changes.count()).toBe(2);
    await app.shoot(page, "plan-edit-changes");
  });

  it("loses nothing on a reload, not even what is being typed", async () => {
    const page = await app.open(EDIT, DESK);
    await checked(page);
    await typeInto(page, at("AL1", "colour"), "green");
    await cell(page, at("A2", "lengthMm")).click();
    await page.keyboard.type("80");
    await page.reload();
    await checked(page);
    expect(await text(page, at("AL1", "colour"))).toBe("green");
    expect(await text(page, at("A2", "lengthMm"))).toBe("80");
    await page.locator('[data-do="undo"]').click();
    await page.locator('[data-do="undo"]').click();
    await checked(page);
    expect(await text(page, at("AL1", "colour"))).toBe("red");
    expect(await page.locator("[data-changes]").getAttribute("data-changes")).toBe("0");
  });

  it("picks the row’s line in the 3D, and goes to the row of a line that is picked there", async () => {
    const page = await app.open(EDIT, DESK);
    await drawn(page);
    await checked(page);
    await cell(page, at("A5", "lengthMm")).click();
    await page.waitForURL(/line=left:A5/);
    await page.evaluate(() => {
      location.hash = location.hash.replace("line=left:A5", "line=right:D6");
    });
    await page.locator('[data-row="D6"][data-picked]').waitFor(PATIENCE);
    // What was typed into has the focus still.
    expect(await page.evaluate(() => (document.activeElement as HTMLElement).dataset.cell)).toBe(
      at("A5", "lengthMm"),
    );
  });

  it("names what hangs on a line before it is removed, and removes it all when told so", async () => {
    const page = await app.open(EDIT, DESK);
    await checked(page);
    await cell(page, at("AM1", "id")).click();
    await page.locator('[data-do="remove"]').click();
    expect(await page.locator('[data-asks="remove"]').textContent()).toContain("2 lines and 2 tabs: A1, A2");
    await page.locator('[data-do="remove-all"]').click();
    await checked(page);
    expect(await page.locator("[data-change]").count()).toBe(5);
    await page.locator('[data-do="undo"]').click();
    await checked(page);
    expect(await page.locator("[data-change]").count()).toBe(0);
  });

  it("says which readings have no place before a plan without their tab is used", async () => {
    const page = await app.open(EDIT, DESK);
    await checked(page);
    await page.locator('[data-editor] input[value="tabs"]').check({ force: true });
    await typeInto(page, "sides.mirrored.tabs[0].id", "A1 new");
    await page.locator('[data-do="use"]').click();
    expect(await page.locator('[data-asks="use"]').textContent()).toMatch(
      /2 readings of the check .* tab A1/,
    );
    await page.locator('[data-do="use-still"]').click();
    await page.waitForURL(/wing=own/);
  });

  it("speaks German, with its words for what the file has in English, and its decimal comma", async () => {
    const page = await app.open(EDIT, { ...DESK, locale: "de-DE" });
    await checked(page);
    await typeInto(page, at("AL1", "lengthMm"), "4897.5");
    expect(await text(page, at("AL1", "lengthMm"))).toBe("4897,5");
    expect(await page.locator('[data-do="use"]').textContent()).toBe("Plan übernehmen");
    await page.locator('[data-editor] input[value="wing"]').check({ force: true });
    expect(await text(page, "reference.from")).toBe("Tragegurt unten");
    await app.shoot(page, "plan-edit-german");
  });

  it("is typed into on a phone, with the problem in sight", async () => {
    const page = await app.open(EDIT, PHONE);
    await checked(page);
    await cell(page, at("AM1", "lengthMm")).tap();
    await page.keyboard.type("12x");
    await page.locator(`[data-note="${at("AM1", "lengthMm")}"]`).waitFor(PATIENCE);
    await app.shoot(page, "plan-edit-phone");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});

describe("the cascade of the plan", () => {
  const app = useApp();

  it("picks a line in the 3D, and shows one that is picked there, on its side", async () => {
    const page = await app.open(CASCADE, DESK);
    await drawn(page);
    await page.locator('[data-cascade-part] text[data-line="BM2"]').first().click();
    await page.waitForURL(/line=left:BM2/);
    expect(await lit(page).getAttribute("data-line")).toBe("BM2");
    await page.evaluate(() => {
      location.hash = location.hash.replace("line=left:BM2", "line=right:CL2");
    });
    await page.locator('[data-cascade-part] g[data-line="CL2"][data-picked]').waitFor(PATIENCE);
    expect(await page.locator("[data-cascade-part]").getAttribute("data-side")).toBe("right");
    await app.shoot(page, "plan-cascade");
  });

  it("lights up what is under the pointer in the 3D, and the other way round", async () => {
    const page = await app.open(CASCADE, DESK);
    await drawn(page);
    await page.locator('[data-cascade-part] text[data-line="AM2"]').first().hover();
    await page
      .locator("main")
      .getByText(/^AM2 left/)
      .first()
      .waitFor(PATIENCE);
    const stage = await page.locator("canvas").first().boundingBox();
    if (stage === null) throw new Error("There is no stage.");
    const hovered = page.locator("[data-cascade-part] g[data-hovered]");
    await page.mouse.move(stage.x + 4, stage.y + 4);
    await page.waitForFunction(() => document.querySelector("[data-cascade-part] g[data-hovered]") === null);
    // Somewhere along a level line through the lower lines there is one.
    for (let share = 0.1; share < 0.9 && (await hovered.count()) === 0; share += 0.01) {
      await page.mouse.move(stage.x + share * stage.width, stage.y + 0.55 * stage.height);
      await page.waitForTimeout(40);
    }
    expect(await hovered.count()).toBe(1);
  });

  it("shows deviations as figures, and dashes what wasn’t measured", async () => {
    const page = await app.open(CASCADE, DESK);
    await drawn(page);
    await page.locator('[data-cascade-part] input[value="deviation"]').last().check({ force: true });
    const figures = await page
      .locator('[data-row="brake"] text[data-kind="tab"]')
      .evaluateAll((labels) => labels.map((label) => label.lastElementChild?.textContent ?? ""));
    expect(figures.some((figure) => /^−\d+$/.test(figure))).toBe(true);
    const dashed = await page.locator("[data-cascade-part] path[stroke-dasharray]").count();
    expect(dashed).toBeGreaterThan(0);
    expect(dashed).toBeLessThan(lines.length / 4);
  });

  it("is printed on A4 across, two rows a sheet, each with the wing, the check and the caution", async () => {
    const page = await app.open(CASCADE, DESK);
    await drawn(page);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const boxes = [...pdf.toString("latin1").matchAll(/\/MediaBox\s*\[([^\]]+)\]/g)].map(([, box]) =>
      (box ?? "").trim().split(/\s+/).map(Number),
    );
    expect(boxes).toHaveLength(3);
    for (const [, , width = 0, height = 0] of boxes) expect(width).toBeGreaterThan(height);
    await page.emulateMedia({ media: "print" });
    const heads = page.locator("[data-paper-head]");
    expect(await heads.count()).toBe(3);
    expect(await heads.first().isVisible()).toBe(true);
    const head = await heads.first().textContent();
    for (const said of [plan.wing.name, "14 March 2026", "50 N", "riser"]) expect(head).toContain(said);
    const caution = page.locator("[data-paper-caution]").last();
    expect(await caution.isVisible()).toBe(true);
    expect(await caution.textContent()).toMatch(/not a clearance to fly/i);
  });
});
