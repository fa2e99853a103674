/** What a file's bytes are, before anything is made of them: what can be read, what can't, and what is too much. */

/** `text`: JSON or a table of separated values; `workbook`: an archive, as XLSX files are; the others can't be read. */
export type FileKind = "text" | "workbook" | "open document" | "old workbook" | "pdf" | "picture" | "unknown";

/** What a field for files offers, by names and by media types. */
export const ACCEPTED =
  ".json,.csv,.tsv,.txt,.xlsx,application/json,text/csv,text/tab-separated-values,text/plain,application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";

/** A plan, a check or a table of one wing is far below this [bytes]. */
export const MOST_BYTES = 8_000_000;
/** What a workbook's sheets may hold once unpacked [bytes]: some fifty thousand rows, which take a second or two. */
export const MOST_UNPACKED_BYTES = 8_000_000;
/** A table of one wing has some hundred rows. */
export const MOST_ROWS = 2000;
export const MOST_COLUMNS = 200;

const begins = (bytes: Uint8Array, ...signs: readonly number[]): boolean =>
  signs.every((sign, place) => bytes[place] === sign);

const latin = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));

/** Told from the first bytes, not from the name: names lie. */
export function kindOfBytes(bytes: Uint8Array): FileKind {
  if (begins(bytes, 0x50, 0x4b, 3, 4))
    return latin(bytes, 30, 90).startsWith("mimetypeapplication/vnd.oasis") ? "open document" : "workbook";
  if (begins(bytes, 0xd0, 0xcf, 0x11, 0xe0)) return "old workbook";
  if (latin(bytes, 0, 5) === "%PDF-") return "pdf";
  const isPicture =
    begins(bytes, 0x89, 0x50, 0x4e, 0x47) ||
    begins(bytes, 0xff, 0xd8, 0xff) ||
    latin(bytes, 0, 4) === "GIF8" ||
    (latin(bytes, 0, 4) === "RIFF" && latin(bytes, 8, 12) === "WEBP") ||
    /^ftyp(?:hei|mif|avif)/.test(latin(bytes, 4, 12));
  if (isPicture) return "picture";
  if (isWide(bytes)) return "text";
  return bytes.subarray(0, 4096).includes(0) ? "unknown" : "text";
}

/** UTF-16, by its byte order mark. */
function isWide(bytes: Uint8Array): boolean {
  return begins(bytes, 0xff, 0xfe) || begins(bytes, 0xfe, 0xff);
}

/** A text's characters: UTF-8, UTF-16 with its mark, else as spreadsheets on Windows write western Europe's. */
export function textOfBytes(bytes: Uint8Array): string {
  if (begins(bytes, 0xff, 0xfe)) return new TextDecoder("utf-16le").decode(bytes);
  if (begins(bytes, 0xfe, 0xff)) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/**
 * How large the XML files in a ZIP archive are once unpacked, by its central directory [bytes] (APPNOTE.TXT of PKWARE,
 * sections 4.3.12 and 4.3.16; from memory); undefined where there is none that can be read. Pictures in a workbook are never
 * unpacked here.
 */
export function unpackedBytes(bytes: Uint8Array): number | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const END = 0x06054b50;
  const ENTRY = 0x02014b50;
  const COMMENT_MOST = 65_535;
  for (let at = bytes.length - 22; at >= Math.max(0, bytes.length - 22 - COMMENT_MOST); at--) {
    if (view.getUint32(at, true) !== END) continue;
    const entries = view.getUint16(at + 10, true);
    let place = view.getUint32(at + 16, true);
    let sum = 0;
    for (let entry = 0; entry < entries; entry++) {
      if (place + 46 > bytes.length || view.getUint32(place, true) !== ENTRY) return undefined;
      const name = latin(bytes, place + 46, place + 46 + view.getUint16(place + 28, true));
      if (name.endsWith(".xml")) sum += view.getUint32(place + 24, true);
      place +=
        46 +
        view.getUint16(place + 28, true) +
        view.getUint16(place + 30, true) +
        view.getUint16(place + 32, true);
    }
    return sum;
  }
  return undefined;
}

/** How many lines a text has, without splitting it. */
export function lineCount(text: string): number {
  let count = 1;
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) count += 1;
  return count;
}
