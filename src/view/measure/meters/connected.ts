/**
 * What a meter that is connected to the browser adds to the session's `MeterSource`, and what adapters have in common.
 *
 * To add another kind of meter, write a function that returns a {@link ConnectedMeter}: `open` asks for the device and begins to
 * read, every piece of its stream (bytes or text, cut anywhere) goes to `feed` of {@link lineFeed}, which tells the listeners each
 * whole line; `close` ends both. Nothing of a line needs to be understood: the session takes lengths from texts such as `7.421`,
 * `7421 mm` or `D= 7.421 m`. A meter whose messages aren't lines of text puts one line a reading together and gives it to `pass`.
 */
import { decodeChunk, decodeEnd, EMPTY_DECODER, type MeterSource } from "../../../readings/session/index.ts";

/** A meter that may go of itself: unplugged, switched off, out of reach. */
export interface ConnectedMeter extends MeterSource {
  /** Whoever listens is told once that the meter is gone without `close`; returns how to stop listening. */
  onGone(listener: () => void): () => void;
}

export interface LineFeed {
  readonly onReading: MeterSource["onReading"];
  readonly onGone: ConnectedMeter["onGone"];
  /** A piece of the stream. */
  feed(chunk: string | Uint8Array): void;
  /** One reading that is whole. */
  pass(line: string): void;
  /** Ends the stream; what is left of it is a line too. */
  end(): void;
  gone(): void;
}

/** Listeners, and the way from a stream to lines for them. */
export function lineFeed(): LineFeed {
  const readers = new Set<(text: string) => void>();
  const mourners = new Set<() => void>();
  let decoder = EMPTY_DECODER;
  const pass = (line: string): void => {
    for (const reader of readers) reader(line);
  };
  return {
    onReading: (listener) => {
      readers.add(listener);
      return () => readers.delete(listener);
    },
    onGone: (listener) => {
      mourners.add(listener);
      return () => mourners.delete(listener);
    },
    feed: (chunk) => {
      const decoded = decodeChunk(decoder, chunk);
      decoder = decoded.decoder;
      decoded.lines.forEach(pass);
    },
    pass,
    end: () => {
      const rest = decodeEnd(decoder);
      decoder = EMPTY_DECODER;
      rest.forEach(pass);
    },
    gone: () => {
      for (const mourner of mourners) mourner();
    },
  };
}
