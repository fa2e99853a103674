/** A meter on a serial port (a cable, an adapter, or a wireless link that the system shows as a port), read as lines of text. */
import { type ConnectedMeter, lineFeed } from "./connected.ts";

/** Speeds that serial devices usually have [baud]. */
export const BAUD_RATES: readonly number[] = [1200, 2400, 4800, 9600, 19_200, 38_400, 57_600, 115_200];
export const USUAL_BAUD_RATE = 9600;

/** Undefined where the browser has no Web Serial. */
export function browserSerial(): Serial | undefined {
  return globalThis.navigator?.serial;
}

/**
 * A serial meter. `open` lets the person choose the port, which the browser only allows upon a click or key, and rejects where none
 * is chosen or the port is taken.
 *
 * @param name for the person to know it by
 */
export function serialMeter(serial: Serial, baudRate: number, name: string): ConnectedMeter {
  const lines = lineFeed();
  let port: SerialPort | undefined;
  let reader: ReadableStreamDefaultReader<Uint8Array> | undefined;
  let reading: Promise<void> = Promise.resolve();
  let isClosing = false;

  const readOn = async (from: SerialPort): Promise<void> => {
    // After an error on the line (noise, an overrun) the port gives another stream to read on from.
    while (from.readable !== null && !isClosing) {
      reader = from.readable.getReader();
      try {
        for (;;) {
          const { value, done } = await reader.read();
          if (done) break;
          lines.feed(value);
        }
        if (!isClosing && port === from) break;
      } catch {
        if (from.readable === null) break;
      } finally {
        reader.releaseLock();
      }
    }
    lines.end();
    if (!isClosing) lines.gone();
  };

  return {
    name,
    onReading: lines.onReading,
    onGone: lines.onGone,
    open: async () => {
      const chosen = await serial.requestPort();
      await chosen.open({ baudRate });
      port = chosen;
      isClosing = false;
      reading = readOn(chosen);
    },
    close: async () => {
      isClosing = true;
      await reader?.cancel().catch(() => undefined);
      await reading;
      await port?.close().catch(() => undefined);
      port = undefined;
    },
  };
}
