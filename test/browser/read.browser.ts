import type { Page } from "playwright-core";
import { describe, expect, it, vi } from "vitest";
import { demoFiles } from "../../src/demo/index.ts";
import { parsePlanText } from "../../src/plan/index.ts";
import { defaultFrame, expectedReadingM, lookUp, type Target } from "../../src/readings/index.ts";
import { catalogueOf, ENGLISH, type Key } from "../../src/words/index.ts";
import { openApp, useApp } from "./harness.ts";

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

const READ = "/#wing=school&pane=read";
const planText = demoFiles().find(
  ({ name }) => name.endsWith(".plan.json") && name.startsWith("tidewrack"),
)?.text;
const parsed = parsePlanText(planText ?? "");
if (!parsed.ok) throw new Error("The school wing's plan can't be read.");
const wing = parsed.value;
const lookup = lookUp(wing);
const frame = defaultFrame(wing, "2026-11-25");

/** What stands in the page as asked for: `tab left A1`. */
const asked = (page: Page): Promise<string> =>
  page
    .locator("[data-measure=session]")
    .getAttribute("data-asked")
    .then((key) => key ?? "");

/** What a target should read, as a person would see it on the instrument [mm]. */
function shouldMm(key: string): number {
  const [kind, side, id] = key.split(" ") as [Target["kind"], Target["side"], string];
  const valueM = expectedReadingM(lookup, { kind, side, id }, frame);
  if (valueM === undefined) throw new Error(`The plan has no ${key}.`);
  return Math.round(valueM * 1000);
}

async function started(page: Page): Promise<void> {
  await page.locator('[data-action="start"]').click(PATIENCE);
  await page.locator('[data-measure="session"]').waitFor(PATIENCE);
}

/** Until another line is asked for. */
const moved = (page: Page, from: string): Promise<void> =>
  expect.poll(() => asked(page), POLL).not.toBe(from);

async function tapped(page: Page, digits: string): Promise<void> {
  for (const digit of digits) await page.locator(`[data-key="${digit}"]`).tap();
  await page.locator('[data-key="take"]').tap();
}

/** Types the asked line's length on the keyboard and waits for the next. */
async function typed(page: Page, off = 0): Promise<string> {
  const key = await asked(page);
  await page.keyboard.type(String(shouldMm(key) + off));
  await page.keyboard.press("Enter");
  await moved(page, key);
  return key;
}

const readCount = (page: Page): Promise<string | null> =>
  page.locator("[data-measure=session]").getAttribute("data-read");

const cell = (page: Page, key: string) => page.locator(`[data-cell="${key}"]`);

describe("a reading session", () => {
  const app = useApp();

  it("is done on a phone with one thumb: asked, doubted, asked again, put off, noted, taken back", async () => {
    const page = await app.open(READ, PHONE);
    await page.locator('[data-measure="start"]').waitFor(PATIENCE);
    await app.shoot(page, "read-phone-start");
    await started(page);
    const pad = page.locator("[data-pad]");
    const { height: keyHeight = 0, width: keyWidth = 0 } =
      (await page.locator('[data-key="5"]').boundingBox()) ?? {};
    expect(keyHeight).toBeGreaterThanOrEqual(48);
    expect(keyWidth).toBeGreaterThanOrEqual(48);
    expect(await page.locator('[data-input="reading"]').getAttribute("inputmode")).toBe("none");

    const first = await asked(page);
    expect(first).toBe("tab left A1");
    expect(await page.locator("[data-prompt]").textContent()).toMatch(/left.*A1/);
    await tapped(page, String(shouldMm(first)));
    await moved(page, first);
    const second = await asked(page);
    expect(second).toBe("tab right A1");
    await tapped(page, String(shouldMm(second) + 2));
    await moved(page, second);

    // A digit that slipped: asked for again, not refused.
    const third = await asked(page);
    await tapped(page, String(shouldMm(third) + 100));
    await page.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    expect(await asked(page)).toBe(third);
    expect(await page.locator('[data-doubt="doubtful"]').textContent()).toContain("Read A2 left again");
    expect(await page.locator("[data-prompt]").getAttribute("data-asking")).toBe("again");
    const bottom = (await pad.boundingBox()) ?? { y: 0, height: 0 };
    const tabs = (await page.locator('[role="tablist"]').boundingBox()) ?? { y: 0 };
    expect(bottom.y + bottom.height).toBeLessThanOrEqual(tabs.y + 1);
    await app.shoot(page, "read-phone-doubt");
    await tapped(page, String(shouldMm(third)));
    await moved(page, third);

    // A number that the person stands by counts once.
    const fourth = await asked(page);
    await tapped(page, String(shouldMm(fourth) - 60));
    await page.locator('[data-action="keep as read"]').tap(PATIENCE);
    await moved(page, fourth);
    expect(await readCount(page)).toBe("4");

    const fifth = await asked(page);
    await page.locator('[data-action="skip"]').tap();
    await moved(page, fifth);
    const sixth = await asked(page);
    await page.locator('[data-action="note"]').tap();
    await page.locator('[data-input="note"]').fill("knot");
    await page.getByRole("button", { name: "Keep the note" }).tap();
    await page.locator('[data-said="noted"]').waitFor(PATIENCE);
    await page.locator('[data-action="undo"]').tap();
    await page.locator('[data-said="undone"]').waitFor(PATIENCE);
    await page.locator('[data-action="undo"]').tap();
    await expect.poll(() => asked(page), POLL).toBe(fifth);
    await page.locator('[data-action="skip"]').tap();
    await expect.poll(() => asked(page), POLL).toBe(sixth);

    // Nothing has to be scrolled for: prompt, field, pad and tabs are in sight.
    const body = page.locator("#pane");
    expect(await body.evaluate((element) => element.scrollHeight - element.clientHeight)).toBeLessThanOrEqual(
      1,
    );
    expect(await page.evaluate(() => window.document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await app.shoot(page, "read-phone");

    await page.locator('[data-action="map"]').tap();
    expect(await cell(page, fifth).getAttribute("data-state")).toBe("skipped");
    expect(await cell(page, fourth).getAttribute("data-state")).toBe("read");
    await app.shoot(page, "read-phone-list");
    await cell(page, "tab right A9").tap();
    await expect.poll(() => asked(page), POLL).toBe("tab right A9");
  });

  it("is done by keyboard alone, and by a meter that types, in an order changed midway", async () => {
    const page = await app.open(READ, STILL);
    await page.locator('[data-action="start"]').focus(PATIENCE);
    await page.keyboard.press("Enter");
    await page.locator('[data-measure="session"]').waitFor(PATIENCE);
    const first = await typed(page);
    const second = await typed(page, 1);
    await page.keyboard.press("s");
    await moved(page, "tab left A2");
    await page.keyboard.press("u");
    await expect.poll(() => asked(page), POLL).toBe("tab left A2");

    await page.keyboard.press("r");
    await expect
      .poll(() => page.locator("[data-prompt]").getAttribute("data-asking"), POLL)
      .toBe("once more");
    await page.keyboard.type(String(shouldMm(second)));
    await page.keyboard.press("Enter");
    await expect.poll(() => asked(page), POLL).toBe("tab left A2");

    await page.keyboard.press("n");
    await page.locator('[data-input="note"]').waitFor(PATIENCE);
    await page.keyboard.type("7 knots, left");
    await page.keyboard.press("Enter");
    await page.locator('[data-said="noted"]').waitFor(PATIENCE);
    await page.keyboard.press("g");
    await page.locator('[data-input="go to"]').waitFor(PATIENCE);
    await page.keyboard.type("c4 r");
    await page.keyboard.press("Enter");
    await expect.poll(() => asked(page), POLL).toBe("tab right C4");

    // The focus stands on a button, and a meter types metres with a comma and words of its own.
    await page.locator('[data-action="skip"]').focus();
    const metres = (shouldMm("tab right C4") / 1000).toFixed(3).replace(".", ",");
    await page.keyboard.type(`D= ${metres} m`, { delay: 4 });
    await page.keyboard.press("Enter");
    await moved(page, "tab right C4");
    expect(await cell(page, "tab right C4").getAttribute("data-state")).toBe("read");
    expect(await readCount(page)).toBe("3");

    await page.locator('[data-input="order"]').selectOption("sides");
    await expect.poll(() => asked(page), POLL).toBe("tab left A2");
    await typed(page);
    expect(await asked(page)).toBe("tab left A3");
    expect(await cell(page, first).getAttribute("data-state")).toBe("read");

    // A doubt, kept by its key; numbers two at a time from a hasty meter, each for its own line.
    const doubted = await asked(page);
    await page.keyboard.type(String(shouldMm(doubted) + 100));
    await page.keyboard.press("Enter");
    await page.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    await app.shoot(page, "read-doubt");
    await page.keyboard.press("k");
    await moved(page, doubted);
    await page.keyboard.type(`${shouldMm("tab left A4")}\n${shouldMm("tab left A5") + 1}\n`);
    await expect.poll(() => asked(page), POLL).toBe("tab left A6");
    expect(await cell(page, "tab left A5").getAttribute("data-state")).toBe("read");
    await app.shoot(page, "read");
  });

  it("loses nothing when the page is closed, when it crashes, and when it is loaded anew", async () => {
    const page = await app.open(READ, STILL);
    await started(page);
    await typed(page);
    await typed(page);
    // Killed at once after Enter: what was shown as taken is kept.
    const context = page.context();
    await page.close();

    const second = await context.newPage();
    await openApp(second, `${app.origin}${READ}`);
    await expect.poll(() => readCount(second), PATIENCE).toBe("2");
    expect(await asked(second)).toBe("tab left A2");
    await typed(second);
    await second.keyboard.type(String(shouldMm(await asked(second)) + 100));
    await second.keyboard.press("Enter");
    await second.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    const session = await context.newCDPSession(second);
    await Promise.race([
      session.send("Page.crash").catch(() => undefined),
      new Promise((resolve) => second.once("crash", resolve)),
    ]);

    const third = await context.newPage();
    await openApp(third, `${app.origin}${READ}`);
    await expect.poll(() => readCount(third), PATIENCE).toBe("3");
    expect(await asked(third)).toBe("tab right A2");
    await third.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    await third.reload();
    await third.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);

    // Two windows: neither writes over the other, and what was typed in the one that lags behind stays in its field.
    const other = await context.newPage();
    await openApp(other, `${app.origin}${READ}`);
    await other.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    await typed(third);
    const late = String(shouldMm("tab right A2") + 1);
    await other.keyboard.type(`${late}\n`);
    await other.locator('[data-said="elsewhere"]').waitFor(PATIENCE);
    expect(await other.locator('[data-input="reading"]').inputValue()).toBe(late);
    expect(await readCount(other)).toBe("4");
    await other.close();

    // Left for later, it is offered; on another wing's screen it isn't mixed with that wing.
    await third.locator('[data-action="leave"]').click();
    await third.locator("[data-session]").waitFor(PATIENCE);
    expect(await third.locator("[data-session]").textContent()).toContain("4 of 146 read");
    await third.evaluate(() => {
      location.hash = "#wing=second&pane=read";
    });
    await third.locator('[data-action="go to wing"]').click(PATIENCE);
    await third.locator('[data-measure="session"]').waitFor(PATIENCE);
    expect(await asked(third)).toBe("tab left A3");
  });

  it("takes readings from a meter on a serial port, and says when it is gone", async () => {
    const page = await app.open("/", STILL);
    await page.addInitScript(() => {
      let controller: ReadableStreamDefaultController<Uint8Array>;
      const port = {
        readable: null as ReadableStream<Uint8Array> | null,
        open: async ({ baudRate }: { baudRate: number }) => {
          Object.assign(window, { baudRate });
          port.readable = new ReadableStream({
            start: (made) => {
              controller = made;
            },
          });
        },
        close: async () => {},
      };
      Object.defineProperty(navigator, "serial", { value: { requestPort: async () => port } });
      Object.assign(window, {
        meter: (text: string) => controller.enqueue(new TextEncoder().encode(text)),
        unplug: () => {
          port.readable = null;
          controller.error(new Error("unplugged"));
        },
      });
    });
    await page.goto(`${app.origin}${READ}`);
    await page.reload();
    await started(page);
    await page.locator('[data-fold="meter"] > summary').click();
    await page.locator('[data-input="baud"]').selectOption("19200");
    await page.locator('[data-action="connect serial"]').click();
    await page.locator('[data-meter="connected"]').waitFor(PATIENCE);
    expect(await page.evaluate("window.baudRate")).toBe(19_200);
    const [one, other] = [shouldMm("tab left A1"), shouldMm("tab right A1") + 1];
    // Cut anywhere, two in one piece.
    await page.evaluate((chunk) => (window as unknown as Device).meter(chunk), `${one}`.slice(0, 2));
    await page.evaluate(
      (chunk) => (window as unknown as Device).meter(chunk),
      `${`${one}`.slice(2)} mm\r\n${other} mm\r`,
    );
    await expect.poll(() => asked(page), POLL).toBe("tab left A2");
    expect(await readCount(page)).toBe("2");
    await page.evaluate(() => (window as unknown as Device).unplug());
    await page.locator('[data-meter="gone"]').waitFor(PATIENCE);
    await page.locator('[data-input="reading"]').focus();
    await typed(page);
    expect(await readCount(page)).toBe("3");
  });

  it("becomes the wing's readings when it is used, and the wing is judged by them", async () => {
    const page = await app.open(READ, STILL);
    await page.locator('[data-measure="start"]').waitFor(PATIENCE);
    for (const row of ["B", "C", "D", "Tip", "Brake"])
      await page
        .locator('[data-form="session"]')
        .getByRole("checkbox", { name: row, exact: true })
        .uncheck({ force: true });
    await page
      .locator('[data-form="session"]')
      .getByRole("checkbox", { name: "Right" })
      .uncheck({ force: true });
    const count = Number(await page.locator("[data-count]").getAttribute("data-count"));
    expect(count).toBeLessThan(20);
    await started(page);
    for (let i = 0; i < count; i++) {
      const key = await asked(page);
      await page.keyboard.type(`${shouldMm(key) - 12}\n`);
      await moved(page, key);
    }
    await page.locator("[data-done]").waitFor(PATIENCE);
    expect(await page.locator("[data-done]").textContent()).toContain("All lines are read");
    await app.shoot(page, "read-done");
    await page.locator('[data-action="hand on"]').click();
    await page.locator("[data-waiting]").waitFor(PATIENCE);
    await page.getByRole("button", { name: "Put them in place of those there" }).click();
    await expect.poll(() => page.url(), PATIENCE).toContain("wing=own");
    await page.locator('[data-work="ready"]').waitFor(PATIENCE);
    const kept = await page.evaluate(() => JSON.parse(localStorage.getItem("linewright.own") ?? "{}"));
    const check: { readings: { tab: string; mm: number }[] } = JSON.parse(kept.readings.text);
    expect(check.readings.length).toBe(count);
    expect(check.readings[0]?.mm).toBe(shouldMm("tab left A1") - 12);
    await page.locator('[data-pane="findings"]').click();
    await page.locator("[data-severity]").first().waitFor(PATIENCE);

    // The session stays until it is let go of, and can be taken back.
    await page.locator('[data-pane="read"]').click();
    await page.locator('[data-action="leave"]').click(PATIENCE);
    await page.locator('[data-session] [data-action="let go"]').click();
    await page.locator('[data-fold="let go"] > summary').click();
    await page.locator('[data-action="take back session"]').click();
    await page.locator("[data-session]").waitFor(PATIENCE);
  });

  it("speaks German where German is chosen, with nothing of it left in English", async () => {
    const page = await app.open("/", STILL);
    await page.evaluate(() =>
      localStorage.setItem("linewright.speech", JSON.stringify({ language: "de", unit: "mm" })),
    );
    await page.goto(`${app.origin}${READ}`);
    await page.reload();
    await page.locator('[data-measure="start"]').waitFor(PATIENCE);
    const german = await catalogueOf("de");
    const english = (Object.keys(ENGLISH) as Key[])
      .filter((key) => /^measure\./.test(key) && !ENGLISH[key].includes("{"))
      .filter((key) => ENGLISH[key].length > 6 && !german[key].includes(ENGLISH[key]))
      .map((key) => ENGLISH[key]);
    expect(english.length).toBeGreaterThan(50);
    const left = async (): Promise<string[]> => {
      const text = (await page.locator("#pane").textContent()) ?? "";
      return english.filter((one) => text.includes(one));
    };
    expect(await left()).toEqual([]);
    await started(page);
    expect(await page.locator("[data-prompt]").textContent()).toContain("links");
    await typed(page);
    await typed(page);
    await page.keyboard.type(`${shouldMm(await asked(page)) + 100}\n`);
    await page.locator('[data-doubt="doubtful"]').waitFor(PATIENCE);
    expect(await page.locator('[data-action="read again"]').textContent()).toContain("Nochmals messen");
    expect(await left()).toEqual([]);
    await app.shoot(page, "read-german");
  });
});

interface Device {
  meter(text: string): void;
  unplug(): void;
}
