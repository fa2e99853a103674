/**
 * The files of a ZIP archive that may be damaged. Both accounts that a ZIP keeps of each file are read, the directory at its end
 * and the header before the file's bytes; where the directory is lost the headers are found by their signatures. A file
 * counts as whole where one account leads to bytes of the right length and CRC-32 (PKWARE APPNOTE 6.3, sections 4.3 and 4.4).
 */
import { Inflate, strFromU8 } from "fflate";
import { crc32 } from "./crc.ts";

export interface ZipLimits {
  readonly mostFiles: number;
  /** Unpacked bytes of one file, and of all together. */
  readonly mostBytes: number;
  readonly mostBytesInAll: number;
}

export interface ZipFile {
  /** Names that the accounts give it: one, unless a name is damaged. */
  readonly names: readonly string[];
  /** Undefined where the file isn't whole. */
  readonly bytes: Uint8Array | undefined;
  /** CRC-32 of its bytes. */
  readonly crc: number | undefined;
  /** Why not: its bytes are damaged, it is larger than allowed, or packed in a way that isn't understood. */
  readonly fault: "damaged" | "large" | "unknown packing" | undefined;
}

export interface ZipParts {
  readonly files: readonly ZipFile[];
  /** Whether the directory at the end could be read, all of it. */
  readonly directory: boolean;
  /** Whether there were more files than allowed; the rest wasn't looked at. */
  readonly tooMany: boolean;
}

const LOCAL = 0x04034b50;
const CENTRAL = 0x02014b50;
const END = 0x06054b50;
const DESCRIPTOR = 0x08074b50;
const LOCAL_LENGTH = 30;
const CENTRAL_LENGTH = 46;
const END_LENGTH = 22;
/** Flags: encrypted; sizes stand behind the bytes; name in UTF-8. */
const ENCRYPTED = 1;
const SIZES_BEHIND = 8;
const UTF8 = 0x800;
const STORED = 0;
const DEFLATED = 8;
/** How much is unpacked between two looks at the size: a byte can become 1032 (RFC 1951). */
const PIECE = 4096;
const MOST_GROWTH = 1032;

interface Account {
  readonly name: string;
  readonly flags: number;
  readonly method: number;
  readonly crc: number;
  readonly packed: number;
  readonly unpacked: number;
  /** Where the packed bytes begin. */
  readonly at: number;
}

/** Takes an archive apart; never throws, whatever the bytes. */
export function zipParts(bytes: Uint8Array, limits: ZipLimits): ZipParts {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const central = centralAccounts(bytes, view, limits.mostFiles);
  const local = localAccounts(bytes, view, limits.mostFiles);
  const accounts = new Map<number, Account[]>();
  for (const [at, account] of [...central.found, ...local.found])
    accounts.set(at, [...(accounts.get(at) ?? []), account]);

  let left = limits.mostBytesInAll;
  const files: (ZipFile & { readonly from: number; readonly to: number })[] = [];
  for (const [at, known] of [...accounts].sort(([a], [b]) => a - b)) {
    let good: { readonly account: Account; readonly bytes: Uint8Array } | undefined;
    let fault: ZipFile["fault"];
    for (const account of known) {
      const tried = unpack(bytes, account, Math.min(limits.mostBytes, left));
      fault ??= tried.fault;
      if (tried.bytes === undefined) continue;
      good = { account, bytes: tried.bytes };
      break;
    }
    // What looks like a header within the bytes of a whole file, and leads to nothing, is a part of that file.
    if (
      good === undefined &&
      files.some((file) => file.bytes !== undefined && at > file.from && at < file.to)
    )
      continue;
    left -= good?.bytes.length ?? 0;
    const names = [...new Set(known.map(({ name }) => name))];
    if (names.every((name) => name.endsWith("/"))) continue;
    files.push({
      names,
      bytes: good?.bytes,
      crc: good?.account.crc,
      fault: good === undefined ? (fault ?? "damaged") : undefined,
      from: at,
      to: good === undefined ? at : good.account.at + good.account.packed,
    });
  }
  return {
    files: files.map(({ from: _, to: __, ...file }) => file),
    directory: central.complete,
    tooMany: central.tooMany || local.tooMany,
  };
}

interface Accounts {
  /** By the place of the file's own header. */
  readonly found: ReadonlyMap<number, Account>;
  readonly complete: boolean;
  readonly tooMany: boolean;
}

/** The accounts of the directory at the end, as far as it can be read. */
function centralAccounts(bytes: Uint8Array, view: DataView, most: number): Accounts {
  const found = new Map<number, Account>();
  let end = -1;
  // A remark of up to 65,535 bytes may stand behind it.
  for (let at = view.byteLength - END_LENGTH; at >= 0 && at >= view.byteLength - END_LENGTH - 0xffff; at--)
    if (view.getUint32(at, true) === END) {
      end = at;
      break;
    }
  if (end < 0) return { found, complete: false, tooMany: false };
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  for (let entry = 0; entry < count; entry++) {
    if (found.size >= most) return { found, complete: false, tooMany: true };
    if (at + CENTRAL_LENGTH > end || view.getUint32(at, true) !== CENTRAL) {
      // Where one account is damaged, the next is found by its signature.
      at = signatureFrom(bytes, view, Math.min(at, end), [CENTRAL], end);
      if (at >= end) return { found, complete: false, tooMany: false };
    }
    const nameLength = view.getUint16(at + 28, true);
    const flags = view.getUint16(at + 8, true);
    const header = view.getUint32(at + 42, true);
    const next =
      at + CENTRAL_LENGTH + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (header + LOCAL_LENGTH <= view.byteLength)
      found.set(header, {
        name: nameAt(bytes, at + CENTRAL_LENGTH, nameLength, flags),
        flags,
        method: view.getUint16(at + 10, true),
        crc: view.getUint32(at + 16, true),
        packed: view.getUint32(at + 20, true),
        unpacked: view.getUint32(at + 24, true),
        at: bytesFrom(view, header),
      });
    at = next;
  }
  return { found, complete: found.size === count, tooMany: false };
}

/** The accounts before the files' bytes, from the first on; lost ones are skipped to the next signature. */
function localAccounts(bytes: Uint8Array, view: DataView, most: number): Accounts {
  const found = new Map<number, Account>();
  let at = signatureFrom(bytes, view, 0, [LOCAL]);
  while (at + LOCAL_LENGTH <= view.byteLength) {
    if (found.size >= most) return { found, complete: false, tooMany: true };
    const flags = view.getUint16(at + 6, true);
    const nameLength = view.getUint16(at + 26, true);
    const from = bytesFrom(view, at);
    const sizesBehind = (flags & SIZES_BEHIND) !== 0 && view.getUint32(at + 18, true) === 0;
    const packed = sizesBehind
      ? signatureFrom(bytes, view, from, [DESCRIPTOR, LOCAL, CENTRAL]) - from
      : view.getUint32(at + 18, true);
    const behind = from + packed;
    const descriptor =
      sizesBehind && behind + 16 <= view.byteLength && view.getUint32(behind, true) === DESCRIPTOR;
    found.set(at, {
      name: nameAt(bytes, at + LOCAL_LENGTH, nameLength, flags),
      flags,
      method: view.getUint16(at + 8, true),
      crc: view.getUint32(descriptor ? behind + 4 : at + 14, true),
      packed,
      unpacked: view.getUint32(descriptor ? behind + 12 : at + 22, true),
      at: from,
    });
    const known = [LOCAL, CENTRAL, DESCRIPTOR, END];
    const follows = behind + 4 <= view.byteLength && known.includes(view.getUint32(behind, true));
    at = signatureFrom(bytes, view, follows ? behind : at + 4, [LOCAL]);
  }
  return { found, complete: true, tooMany: false };
}

/** Where a file's packed bytes begin, behind its own header. */
function bytesFrom(view: DataView, header: number): number {
  return header + LOCAL_LENGTH + view.getUint16(header + 26, true) + view.getUint16(header + 28, true);
}

/** The next place of one of these signatures; the end where there is none. */
function signatureFrom(
  bytes: Uint8Array,
  view: DataView,
  from: number,
  signatures: readonly number[],
  end = view.byteLength,
): number {
  for (let at = bytes.indexOf(0x50, from); at >= 0 && at + 4 <= end; at = bytes.indexOf(0x50, at + 1))
    if (signatures.includes(view.getUint32(at, true))) return at;
  return end;
}

function nameAt(bytes: Uint8Array, from: number, length: number, flags: number): string {
  return strFromU8(bytes.subarray(from, from + length), (flags & UTF8) === 0);
}

type Unpacked = Pick<ZipFile, "bytes" | "fault">;

function unpack(bytes: Uint8Array, account: Account, most: number): Unpacked {
  const { flags, method, crc, packed, unpacked, at } = account;
  if ((flags & ENCRYPTED) !== 0 || (method !== STORED && method !== DEFLATED))
    return { bytes: undefined, fault: "unknown packing" };
  if (unpacked > most) return { bytes: undefined, fault: "large" };
  const damaged: Unpacked = { bytes: undefined, fault: "damaged" };
  if (at + packed > bytes.length) return damaged;
  const from = bytes.subarray(at, at + packed);
  const whole = method === STORED ? from.slice() : inflated(from, unpacked);
  return whole === undefined || whole.length !== unpacked || crc32(whole) !== crc
    ? damaged
    : { bytes: whole, fault: undefined };
}

/** Unpacks piece by piece, so that bytes that lie about their size can't fill the memory; undefined where they do, or are damaged. */
function inflated(packed: Uint8Array, expected: number): Uint8Array | undefined {
  if (expected > packed.length * MOST_GROWTH) return undefined;
  const whole = new Uint8Array(expected);
  let length = 0;
  let over = false;
  const stream = new Inflate((piece) => {
    if (length + piece.length > expected) over = true;
    else whole.set(piece, length);
    length += piece.length;
  });
  try {
    for (let at = 0; at < packed.length && !over; at += PIECE)
      stream.push(packed.subarray(at, at + PIECE), at + PIECE >= packed.length);
  } catch {
    return undefined;
  }
  return over || length !== expected ? undefined : whole;
}
