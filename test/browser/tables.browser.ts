/** Tables of readings as people have them, brought by file, by drop and by paste, confirmed and taken. */
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { DEMOS } from "../../src/demo/index.ts";
import { parsePlan } from "../../src/plan/index.ts";
import type { Cell } from "../../src/readings/index.ts";
import { tabsOutwards } from "../../src/readings/tables/tab-numbers.ts";
import { workbook } from "../readings/tables/workbook.ts";
import { useApp } from "./harness.ts";

const parsed = parsePlan(DEMOS.school.plan);
if (!parsed.ok) throw new Error("The school wing's plan can't be read.");
const wing = parsed.value;
const ids = [...new Set(wing.tabs.map(({ id }) => id))];
const PATIENCE = { timeout: 120_000 };
const STILL = { reducedMotion: "reduce" } as const;
const PHONE = { viewport: { width: 390, height: 844 }, ...STILL };

function mm(id: string, side: "left" | "right"): number {
  const path = wing.paths.find(({ tabKey }) => tabKey === `${side}:${id}`);
  if (path === undefined) throw new Error(`no ${id} on the ${side}`);
  return Math.round(path.specifiedM * 1000);
}

/** Tab numbers down, rows across, of one side or of both beside each other. */
function matrix(sides: readonly ("left" | "right")[]): readonly (readonly Cell[])[] {
  const rows = ["A", "B", "C"] as const;
  const count = tabsOutwards(wing, "A", "left").length;
  return Array.from({ length: count }, (_, at) =>
    sides.flatMap((side) => [
      at + 1,
      ...rows.map((row) => {
        const tab = tabsOutwards(wing, row, side)[at];
        return tab === undefined ? null : mm(tab.id, side);
      }),
    ]),
  );
}

async function calculated(page: Page): Promise<void> {
  await page.locator('[data-work="ready"]').waitFor(PATIENCE);
}

const form = (page: Page) => page.locator("form[data-table-waiting]");
const summary = (page: Page) => page.locator("[data-summary]");
const take = (page: Page) => form(page).locator('button[type="submit"]');

async function paste(page: Page, text: string): Promise<void> {
  await page.evaluate((plain) => {
    const clipboardData = new DataTransfer();
    clipboardData.setData("text/plain", plain);
    const event = new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true });
    document.body.dispatchEvent(event);
  }, text);
  await form(page).waitFor(PATIENCE);
}

async function choose(page: Page, ...files: { name: string; bytes: Uint8Array | string }[]): Promise<void> {
  await page.locator('[data-input="files"]').setInputFiles(
    files.map(({ name, bytes }) => ({
      name,
      mimeType: "application/octet-stream",
      buffer: Buffer.from(bytes),
    })),
  );
}

/** What stands on the page of the wing and its check. */
async function identity(page: Page): Promise<string> {
  return `${await page.locator("h1").textContent()} ${await page.locator("h1 + dl").textContent()}`;
}

describe("a table pasted from a spreadsheet", () => {
  const app = useApp();

  it("shows its mistakes by cell, has a column's meaning put right, and is taken", async () => {
    const page = await app.open("/#wing=school&pane=findings", STILL);
    await calculated(page);
    const rows = ids.map((id, at) => [
      id === "A3" ? "A33" : id,
      at === 4 ? "74l1" : String(mm(id, "left") + (at === 7 ? 150 : 2)),
      String(mm(id, "right") - 3),
    ]);
    await paste(page, [["Tab", "left [mm]", "second look"], ...rows].map((row) => row.join("\t")).join("\n"));
    expect(page.url()).toContain("pane=files");
    const filled = ids.length;
    // The wrong name and the wrong number cost two readings of the left.
    await expect
      .poll(() => summary(page).textContent(), PATIENCE)
      .toContain(`${filled - 2} readings will be taken: left ${filled - 2}, right 0; 2 cells aren’t`);
    await page.locator('select[data-column="2"]').selectOption("readings");
    await expect.poll(() => take(page).isDisabled(), PATIENCE).toBe(true);
    await page.locator('select[data-side-of="2"]').selectOption("right");
    await expect.poll(() => summary(page).textContent(), PATIENCE).toContain("3 cells aren’t");

    const number = page.locator('[data-listed="B6"]');
    expect(await number.textContent()).toMatch(/74l1.*expected a length/s);
    await number.getByRole("button", { name: "B6" }).click();
    const cell = page.locator('td[data-cell="B6"]');
    expect(await cell.getAttribute("data-state")).toBe("problem");
    await expect
      .poll(() => cell.evaluate((element) => element === document.activeElement), PATIENCE)
      .toBe(true);
    expect(await page.locator('td[data-cell="B2"]').getAttribute("data-state")).toBe("taken");
    expect(await page.locator("[data-far]").first().textContent()).toContain("A8 left, +150 mm");

    await page.getByRole("button", { name: "Read A4 as A3" }).click();
    await expect
      .poll(() => summary(page).textContent(), PATIENCE)
      .toContain(
        `${2 * filled - 1} readings will be taken: left ${filled - 1}, right ${filled}; 1 cell isn’t`,
      );
    await app.shoot(page, "tables-mistakes");
    await take(page).click();
    await expect.poll(() => page.url(), PATIENCE).toContain("wing=own");
    await page.locator('[data-outcome="taken in part"]', { hasText: `${2 * filled - 1} readings` }).waitFor();
    await calculated(page);
    await page.reload();
    await calculated(page);
    expect(await form(page).count()).toBe(0);
    await page
      .locator("dd:visible", { hasText: `${2 * filled - 1} of ${wing.tabs.length} tabs` })
      .first()
      .waitFor();
  });

  it("waits while another pane is looked at, and leaves the wing as it was when it is let go of", async () => {
    const page = await app.open("/#wing=school&pane=rows", STILL);
    await calculated(page);
    const before = await identity(page);
    await paste(page, "tab\tleft\tright\nA1\t7400\t7401\nA2\t7300\t7301");
    await page.locator('select[data-column="2"]').selectOption("ignored");
    await page.locator('[role="tab"][data-pane="rows"]').click();
    await page.locator('[role="tab"][data-pane="files"]').click();
    expect(await page.locator('select[data-column="2"]').inputValue()).toBe("ignored");
    await form(page).getByRole("button", { name: "Leave it" }).click();
    expect(await form(page).count()).toBe(0);
    expect(await identity(page)).toBe(before);
    expect(page.url()).toContain("wing=school");
    expect(await page.evaluate(() => localStorage.getItem("linewright.own"))).toBeNull();
  });

  it("isn't taken from a text that holds none, which is said", async () => {
    const page = await app.open("/#wing=school&pane=findings", STILL);
    await calculated(page);
    await page.evaluate(() => {
      const clipboardData = new DataTransfer();
      clipboardData.setData("text/plain", "Have a look at the left side");
      document.body.dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true }));
    });
    await page.locator('[data-outcome="not taken"]', { hasText: "without a table" }).waitFor(PATIENCE);
    expect(await form(page).count()).toBe(0);
  });
});

describe("a workbook", () => {
  const app = useApp();

  it("has its sheet found, its matrix shown with a row of the wing over each column, and is taken", async () => {
    const page = await app.open("/#wing=school&pane=files", STILL);
    await calculated(page);
    const head = ["No", "A", "B", "C"];
    const rows: readonly (readonly Cell[])[] = [
      ["All lengths in mm"],
      [null, "left", null, null, null, "right"],
      [...head, ...head],
      ...matrix(["left", "right"]),
    ];
    const bytes = workbook({ name: "Notes", rows: [["nothing here"]] }, { name: "Hall", rows });
    await choose(page, { name: "hall.xlsx", bytes });
    await form(page).waitFor(PATIENCE);
    expect(await page.locator('[data-input="sheet"] option:checked').textContent()).toBe("Hall");
    expect(await page.locator('select[data-column="1"]').inputValue()).toBe("row A");
    expect(await page.locator('select[data-side-of="5"]').inputValue()).toBe("right");
    const readings = matrix(["left", "right"])
      .flat()
      .filter((cell) => Number(cell) > 100).length;
    await expect.poll(() => summary(page).textContent(), PATIENCE).toContain(`${readings} readings`);
    await take(page).click();
    await page.locator("[data-outcome]", { hasText: `${readings} readings taken` }).waitFor(PATIENCE);
  });

  it("of one side can't be taken before it is said which", async () => {
    const page = await app.open("/#wing=school&pane=files", STILL);
    await calculated(page);
    const rows = [["No", "A", "B", "C"], ...matrix(["left"])];
    await choose(page, { name: "one.xlsx", bytes: workbook({ name: "Sheet1", rows }) });
    await page.locator("[data-questions]").waitFor(PATIENCE);
    expect(await take(page).isDisabled()).toBe(true);
    expect(await form(page).textContent()).toContain("First say which side");
    await page.locator("[data-questions]").getByRole("button", { name: "right" }).click();
    await expect.poll(() => take(page).isDisabled(), PATIENCE).toBe(false);
    expect(await summary(page).textContent()).toMatch(/left 0, right \d+/);
    expect(await page.locator("[data-questions]").count()).toBe(0);
  });

  it("of specified lengths points to building a plan, and isn't taken for readings", async () => {
    const page = await app.open("/#wing=school&pane=files", STILL);
    await calculated(page);
    const rows = [["Specified lengths, mm"], ["No", "A", "B", "C"], ...matrix(["left"])];
    await choose(page, { name: "manual.xlsx", bytes: workbook({ name: "Manual", rows }) });
    await page.locator('[data-hint="lengths"]').waitFor(PATIENCE);
    expect(await take(page).isDisabled()).toBe(true);
    await page.locator('[data-hint="lengths"]').getByRole("button", { name: "Build a plan" }).click();
    await expect.poll(() => page.url(), PATIENCE).toContain("pane=plan");
  });

  it("that is broken, a PDF and what is too large are said by name, and the page goes on", async () => {
    const page = await app.open("/#wing=school&pane=files", STILL);
    await calculated(page);
    const broken = workbook({ name: "x", rows: [["No", "A"]] }).slice(0, 700);
    await choose(
      page,
      { name: "broken.xlsx", bytes: broken },
      { name: "manual.pdf", bytes: "%PDF-1.7\nand so on" },
      { name: "long.csv", bytes: "A1;7421;7420\n".repeat(100_000) },
      { name: "huge.csv", bytes: "A1;7421;7420\n".repeat(1_600_000) },
    );
    for (const [name, said] of [
      ["broken.xlsx", "can’t be read"],
      ["manual.pdf", "A PDF was found; expected"],
      ["long.csv", "Found a table of"],
      ["huge.csv", "Found 20.8 MB; expected at most"],
    ] as const)
      await page
        .locator('[data-outcome="not taken"]', { hasText: name })
        .filter({ hasText: said })
        .waitFor(PATIENCE);
    expect(await form(page).count()).toBe(0);
    await page.locator('[role="tab"][data-pane="rows"]').click();
    await page.locator('[data-table="rows"]').waitFor(PATIENCE);
  });
});

describe("a CSV file dropped on the page", () => {
  const app = useApp();
  const text = [
    "# date: 2026-04-02",
    "Aufhängung;links [cm];rechts [cm]",
    ...ids.map((id) =>
      [
        id,
        ...(["left", "right"] as const).map((side) => (mm(id, side) / 10).toFixed(1).replace(".", ",")),
      ].join(";"),
    ),
  ].join("\r\n");

  async function drop(page: Page): Promise<void> {
    const dataTransfer = await page.evaluateHandle((csv) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([csv], "halle.csv", { type: "text/csv" }));
      return transfer;
    }, text);
    await page.dispatchEvent("main", "drop", { dataTransfer });
    await form(page).waitFor(PATIENCE);
  }

  it("with decimal commas and centimetres is read so, on the day that it states", async () => {
    const page = await app.open("/#wing=school&pane=findings", STILL);
    await calculated(page);
    await drop(page);
    expect(await page.locator('[data-input="table-unit"] option:checked').textContent()).toContain("cm");
    expect(await page.locator('[data-input="decimal-mark"] option:checked').textContent()).toContain("comma");
    expect(await page.locator('[data-frame] input[type="date"]').inputValue()).toBe("2026-04-02");
    expect(await summary(page).textContent()).toContain(`${2 * ids.length} readings will be taken`);
    await take(page).click();
    await expect.poll(() => page.url(), PATIENCE).toContain("wing=own");
    await page.locator("dd:visible", { hasText: "2 April 2026" }).first().waitFor(PATIENCE);
  });

  it("speaks German, and scrolls sideways in its own box on a phone", async () => {
    const page = await app.open("/#wing=school&pane=files", { ...PHONE, locale: "de-DE" });
    await calculated(page);
    await drop(page);
    expect(await form(page).textContent()).toContain("Ist halle.csv richtig verstanden?");
    expect(await summary(page).textContent()).toContain(`${2 * ids.length} Messwerte werden übernommen`);
    expect(await page.locator('select[data-column="0"] option:checked').textContent()).toBe("Aufhängung");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const wide = await page.locator("table[data-preview]").evaluate((table) => {
      const box = table.parentElement;
      return box === null ? 0 : box.scrollWidth - box.clientWidth;
    });
    expect(wide).toBeGreaterThan(0);
    await app.shoot(page, "tables-phone-german");
    await take(page).click();
    await page.locator("[data-outcome]", { hasText: "Messwerte übernommen" }).waitFor(PATIENCE);
  });
});
