import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/demo/random.ts";
import {
  checkOf,
  decodeChunk,
  decodeEnd,
  EMPTY_DECODER,
  enter,
  simulatedMeter,
} from "../../../src/readings/session/index.ts";
import { JUDGE, shouldMm, started } from "./acted.ts";

const STREAM = "\u00027421\u0003\r\nD= 7.422 m\r7423 mm\n\n\r\n+0007424.\r\n";
const LINES = ["7421", "D= 7.422 m", "7423 mm", "+0007424."];

/** Each reading takes its time. */
let clockMs = 0;
const later = (): number => {
  clockMs += 10_000;
  return clockMs;
};

describe("a meter's stream", () => {
  it("gives the same lines wherever it is cut into chunks, as text or as bytes", () => {
    for (let seed = 1; seed <= 50; seed++) {
      const random = seededRandom(seed);
      let decoder = EMPTY_DECODER;
      const lines: string[] = [];
      for (let at = 0; at < STREAM.length; ) {
        const length = 1 + random.below(6);
        const piece = STREAM.slice(at, at + length);
        const chunk = random.even() < 0.5 ? piece : Uint8Array.from(piece, (one) => one.charCodeAt(0));
        const decoded = decodeChunk(decoder, chunk);
        decoder = decoded.decoder;
        lines.push(...decoded.lines);
        at += length;
      }
      expect(lines).toEqual(LINES);
      expect(decodeEnd(decoder)).toEqual([]);
    }
  });

  it("keeps a last line without an end, and isn't filled up by noise", () => {
    const { decoder, lines } = decodeChunk(EMPTY_DECODER, "7421");
    expect(lines).toEqual([]);
    expect(decodeEnd(decoder)).toEqual(["7421"]);
    let noise = EMPTY_DECODER;
    for (let i = 0; i < 100; i++) noise = decodeChunk(noise, "x".repeat(50)).decoder;
    expect(noise.rest.length).toBeLessThanOrEqual(200);
  });
});

describe("a simulated meter", () => {
  it("reads a wing through a session just as if its lines were typed", async () => {
    const meter = simulatedMeter();
    let session = started();
    const stop = meter.onReading((text) => {
      session = enter(session, text, later(), JUDGE).session;
    });
    meter.send("9999\r\n");
    await meter.open();
    for (let i = 0; i < 5; i++) {
      const text = `D= ${(shouldMm(session) / 1000).toFixed(3)} m\r\n`;
      meter.send(text.slice(0, 4));
      meter.send(text.slice(4));
    }
    stop();
    meter.send("9999\r\n");
    await meter.close();
    expect(session.journal.length).toBe(6);
    expect(checkOf(session).readings.length).toBe(5);
  });

  it("that is switched off says so", async () => {
    await expect(simulatedMeter("rail", "The meter doesn't answer.").open()).rejects.toThrow(
      "doesn't answer",
    );
  });
});
