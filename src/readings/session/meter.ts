/**
 * Meters that send text instead of typing it. What a meter is connected by is left to whoever builds a source: here are the
 * shape of a source, the way from a stream of characters to lines, and a simulated meter for tests and for trying things out.
 */

/**
 * A meter as a session wants it: one text a reading, taken by `enter` just as if it were typed. `open` may ask the person
 * for leave and fails (rejects) with a sentence for them; lines before `open` or after `close` aren't passed on.
 */
export interface MeterSource {
  /** For the person to choose by. */
  readonly name: string;
  open(): Promise<void>;
  /** Whoever listens gets each line; returns how to stop listening. */
  onReading(listener: (text: string) => void): () => void;
  close(): Promise<void>;
}

/** What is left of a stream between two chunks. */
export interface LineDecoder {
  readonly rest: string;
}

export const EMPTY_DECODER: LineDecoder = { rest: "" };

/** A line beyond this is noise of a wrong speed setting: it is cut there and passed on, so that the person sees it [characters]. */
const LONGEST_LINE = 200;

/**
 * Adds a chunk of a stream, as text or as bytes of single-byte characters, and returns the lines that are whole with it. A line
 * ends with CR, LF, both, NUL or ETX (3); STX (2) and other control characters are dropped, and so are empty lines.
 */
export function decodeChunk(
  decoder: LineDecoder,
  chunk: string | Uint8Array,
): { readonly decoder: LineDecoder; readonly lines: readonly string[] } {
  const text = typeof chunk === "string" ? chunk : String.fromCharCode(...chunk);
  const parts = (decoder.rest + text)
    .replaceAll("\u0000", "\n")
    .replaceAll("\u0003", "\n")
    .split(/[\r\n]/u);
  const rest = parts.pop() ?? "";
  const lines = parts.flatMap(cut);
  if (rest.length <= LONGEST_LINE) return { decoder: { rest }, lines };
  return { decoder: EMPTY_DECODER, lines: [...lines, ...cut(rest)] };
}

/** The last line, where a stream ends without a line's end. */
export function decodeEnd(decoder: LineDecoder): readonly string[] {
  return cut(decoder.rest);
}

function cut(line: string): string[] {
  const plain = line
    .replace(/\p{Cc}/gu, "")
    .trim()
    .slice(0, LONGEST_LINE);
  return plain === "" ? [] : [plain];
}

/** A meter without hardware: whatever is sent to it comes out as lines. */
export interface SimulatedMeter extends MeterSource {
  /** A piece of its stream, cut anywhere. */
  send(chunk: string | Uint8Array): void;
}

/**
 * Makes a simulated meter.
 *
 * @param refusal where given, `open` fails with it, as a meter does that is switched off
 */
export function simulatedMeter(name = "simulated meter", refusal?: string): SimulatedMeter {
  const listeners = new Set<(text: string) => void>();
  let decoder = EMPTY_DECODER;
  let isOpen = false;
  const pass = (lines: readonly string[]): void => {
    for (const line of lines) for (const listener of listeners) listener(line);
  };
  return {
    name,
    open: async () => {
      if (refusal !== undefined) throw new Error(refusal);
      decoder = EMPTY_DECODER;
      isOpen = true;
    },
    onReading: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    close: async () => {
      if (isOpen) pass(decodeEnd(decoder));
      decoder = EMPTY_DECODER;
      isOpen = false;
    },
    send: (chunk) => {
      if (!isOpen) return;
      const decoded = decodeChunk(decoder, chunk);
      decoder = decoded.decoder;
      pass(decoded.lines);
    },
  };
}
