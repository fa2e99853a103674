import { strFromU8, strToU8, unzipSync, Zip, ZipDeflate, type Zippable, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import {
  ARCHIVE_LIMITS,
  addNote,
  mergeRecords,
  NO_RECORDS,
  newWing,
  readArchive,
  type WingRecords,
  writeArchive,
} from "../../src/record/index.ts";
import { fullWing, PLAN_TEXT, planText, recordsOf, stamp } from "./made.ts";

const WRITTEN = "2026-06-01T12:00:00.000Z";
const records = mergeRecords(
  recordsOf(fullWing()),
  recordsOf(
    addNote(newWing("Zweite Möwe", stamp(undefined, "m")), { day: "2026-01-01", text: "dry" }, stamp()),
  ),
);
const archive = writeArchive(records, WRITTEN);
const FOLDER = "wings/Quiet-Rook_w1";

/** The archive packed anew with some files changed, added, or (undefined) taken out. */
function repacked(changes: Readonly<Record<string, Uint8Array | undefined>>): Uint8Array {
  const files: Zippable = {};
  for (const [path, bytes] of Object.entries({ ...unzipSync(archive), ...changes }))
    if (bytes !== undefined) files[path] = bytes;
  return zipSync(files);
}

const told = (bytes: Uint8Array): readonly string[] =>
  readArchive(bytes).problems.map(({ where, message }) => `${where}: ${message}`);

/** Place of some bytes in the archive. */
function placeIn(bytes: Uint8Array, text: string, from = 0): number {
  const at = Buffer.from(bytes).indexOf(text, from, "latin1");
  if (at < 0) throw new Error(`no ${text} in the archive`);
  return at;
}

function flipped(bytes: Uint8Array, at: number): Uint8Array {
  const changed = bytes.slice();
  changed[at]! ^= 0x10;
  return changed;
}

/** Texts and ids of everything in a record. */
function itemsOf({ wings }: WingRecords): ReadonlySet<string> {
  return new Set(
    wings.flatMap(({ id, plans, checks, books, notes, hours, photos }) =>
      [...plans, ...checks, ...books, ...notes, ...hours, ...photos].map((item) =>
        JSON.stringify([id, item.id, "text" in item ? item.text : "bytes" in item ? [...item.bytes] : 0]),
      ),
    ),
  );
}

describe("an archive", () => {
  it("gives back what was written, all of it", () => {
    expect(readArchive(archive)).toEqual({ whole: records, problems: [] });
    expect(readArchive(writeArchive(NO_RECORDS, WRITTEN))).toEqual({ whole: NO_RECORDS, problems: [] });
  });

  it("is the same for the same record", () => {
    expect(writeArchive(structuredClone(records), WRITTEN)).toEqual(archive);
  });

  it("has plans and checks as files that are read without this program", () => {
    const files = unzipSync(archive);
    expect(Object.keys(files)).toEqual([
      "manifest.json",
      "wings/Zweite-Mo-we_m1/wing.json",
      `${FOLDER}/wing.json`,
      `${FOLDER}/plans/2025-05-01_w2.json`,
      `${FOLDER}/plans/2026-03-14_x1.json`,
      `${FOLDER}/checks/2025-05-01_w3.json`,
      `${FOLDER}/checks/2026-03-14_x2.csv`,
      `${FOLDER}/books/2025-05-01_w4.json`,
      `${FOLDER}/photos/2025-05-01_w7.jpg`,
    ]);
    expect(strFromU8(files[`${FOLDER}/plans/2025-05-01_w2.json`] ?? new Uint8Array())).toBe(PLAN_TEXT);
    const manifest = JSON.parse(strFromU8(files["manifest.json"] ?? new Uint8Array()));
    expect(manifest).toMatchObject({ format: "linewright-record", version: 2, written: WRITTEN });
    expect(manifest.entries.length).toBe(8);
  });

  it("is read alike when another program has packed it anew", () => {
    expect(readArchive(repacked({}))).toEqual({ whole: records, problems: [] });
  });
});

describe("an archive packed anew as a stream, sizes behind the files", () => {
  const pieces: Uint8Array[] = [];
  const zip = new Zip((_, piece) => pieces.push(piece));
  for (const [path, bytes] of Object.entries(unzipSync(archive))) {
    const file = new ZipDeflate(path);
    zip.add(file);
    file.push(bytes, true);
  }
  zip.end();
  const streamed = Uint8Array.from(pieces.flatMap((piece) => [...piece]));

  it("is read alike", () => {
    expect(new DataView(streamed.buffer).getUint16(6, true) & 8).toBe(8);
    expect(readArchive(streamed)).toEqual({ whole: records, problems: [] });
  });

  it("is read file by file where it is cut off before its list of contents", () => {
    const { whole, problems } = readArchive(streamed.subarray(0, placeIn(streamed, "PK\x01\x02")));
    expect(whole).toEqual(records);
    expect(problems.map(({ where }) => where)).toEqual(["the archive"]);
  });
});

describe("a damaged archive", () => {
  it("that was cut off gives what comes before the cut, and names each file that is gone", () => {
    const cut = archive.subarray(
      0,
      placeIn(archive, "PK\x03\x04", placeIn(archive, "/checks/2025-05-01_w3.json")),
    );
    const { whole, problems } = readArchive(cut);
    const wing = whole.wings.find(({ id }) => id === "w1");
    expect(wing?.plans.map(({ id }) => id)).toEqual(["w2", "x1"]);
    expect(wing?.checks.map(({ id }) => id)).toEqual(["w3"]);
    expect(wing?.notes.length).toBe(1);
    expect(problems.map(({ where }) => where)).toEqual([
      "the archive",
      `${FOLDER}/checks/2026-03-14_x2.csv`,
      `${FOLDER}/books/2025-05-01_w4.json`,
      `${FOLDER}/photos/2025-05-01_w7.jpg`,
    ]);
  });

  it("with one byte wrong in a file loses that file, and says which", () => {
    const inPhoto = placeIn(archive, "_w7.jpg") + 500;
    const { whole, problems } = readArchive(flipped(archive, inPhoto));
    expect(problems.map(({ where, message }) => [where, message])).toEqual([
      [`${FOLDER}/photos/2025-05-01_w7.jpg`, "The file is damaged: its bytes don’t agree with its checksum."],
    ]);
    expect(whole.wings.map(({ photos, plans }) => [photos.length, plans.length])).toEqual([
      [0, 0],
      [0, 2],
    ]);
  });

  it("never loses more than one file to one wrong byte, wherever it is, and never loses one without a word", () => {
    const all = itemsOf(records);
    const perWing = new Map(records.wings.map((wing) => [wing.id, itemsOf(recordsOf(wing))]));
    let lost = 0;
    let healed = 0;
    for (let at = 0; at < archive.length; at += 13) {
      const { whole, problems } = readArchive(flipped(archive, at));
      const items = itemsOf(whole);
      const gone = [...all].filter((item) => !items.has(item));
      // The description of a wing holds its notes and hours: three of them here.
      expect(gone.length, `byte ${at}`).toBeLessThanOrEqual(3);
      expect(
        [...items].filter((item) => !all.has(item)),
        `byte ${at}`,
      ).toEqual([]);
      if (gone.length > 0) expect(problems.length, `byte ${at}`).toBeGreaterThan(0);
      lost += gone.length > 0 ? 1 : 0;
      healed += gone.length === 0 ? 1 : 0;
    }
    expect(perWing.size).toBe(2);
    expect(lost).toBeGreaterThan(60);
    expect(healed).toBeGreaterThan(30);
  });

  it("cut off anywhere gives whole files only, and merged into the record changes nothing there", () => {
    const all = itemsOf(records);
    for (let length = 0; length < archive.length; length += 61) {
      const { whole, problems } = readArchive(archive.subarray(0, length));
      expect(problems.length).toBeGreaterThan(0);
      expect([...itemsOf(whole)].filter((item) => !all.has(item))).toEqual([]);
      expect(mergeRecords(records, whole)).toEqual(records);
    }
  });

  it("without its manifest is read by the names of its files", () => {
    const { whole, problems } = readArchive(repacked({ "manifest.json": undefined }));
    expect(whole).toEqual(records);
    expect(problems.map(({ where }) => where)).toEqual(["manifest.json"]);
  });

  it("without a wing’s description gives its files with what their names say", () => {
    const { whole, problems } = readArchive(repacked({ [`${FOLDER}/wing.json`]: undefined }));
    const wing = whole.wings.find(({ id }) => id === "w1");
    expect(wing?.name.value).toBe("Quiet Rook");
    expect(wing?.plans.map(({ text }) => text)).toEqual([PLAN_TEXT, planText("B row")]);
    expect([wing?.checks.length, wing?.books.length, wing?.photos[0]?.type]).toEqual([2, 1, "image/jpeg"]);
    expect(wing?.notes).toEqual([]);
    expect(problems.map(({ where }) => where)).toContain(`${FOLDER}/wing.json`);
    // A record that knows more keeps what it knows; only a table stands twice, as what was asked about it is lost.
    const [, merged] = mergeRecords(records, whole).wings;
    const [, known] = records.wings;
    expect({ ...merged, checks: [] }).toEqual({ ...known, checks: [] });
    expect(merged?.checks.map(({ differsFrom }) => differsFrom)).toEqual([undefined, "x2", undefined]);
  });

  it("without a file that the wing’s description names says so once, with and without a manifest", () => {
    const path = `${FOLDER}/checks/2025-05-01_w3.json`;
    const message = `${path}: The file is missing from the archive.`;
    expect(told(repacked({ [path]: undefined }))).toEqual([message]);
    expect(told(repacked({ [path]: undefined, "manifest.json": undefined }))).toEqual([
      "manifest.json: The manifest is missing, so nothing tells whether all files are there.",
      message,
    ]);
  });

  it("with an entry of the wrong shape loses that entry alone", () => {
    const files = unzipSync(archive);
    const wing = JSON.parse(strFromU8(files[`${FOLDER}/wing.json`] ?? new Uint8Array()));
    wing.hours[0].totalHours = "many";
    const { whole, problems } = readArchive(
      repacked({ [`${FOLDER}/wing.json`]: strToU8(JSON.stringify(wing)) }),
    );
    expect(whole.wings.find(({ id }) => id === "w1")?.hours.length).toBe(1);
    expect(problems.map(({ where }) => where)).toEqual([
      `${FOLDER}/wing.json`,
      `${FOLDER}/wing.json: hours[0].totalHours`,
    ]);
  });
});

describe("an archive that was meddled with", () => {
  it("is told where a file was changed, and taken as it stands", () => {
    const path = `${FOLDER}/plans/2025-05-01_w2.json`;
    const changed = repacked({ [path]: strToU8(planText("changed by hand")) });
    expect(told(changed)).toEqual([
      `${path}: The file isn’t as it was written: it was changed in the archive since. It is taken as it stands.`,
    ]);
    // Merged into what is there it takes no plan's place.
    const [, wing] = mergeRecords(records, readArchive(changed).whole).wings;
    expect(wing?.plans.length).toBe(3);
    expect(wing?.plans.filter(({ differsFrom }) => differsFrom === "w2").length).toBe(1);
  });

  it("with foreign files leaves them out by name", () => {
    const paths = ["../../etc/passwd", "__MACOSX/x", `${FOLDER}/plans/evil.exe`];
    const { whole, problems } = readArchive(
      repacked(Object.fromEntries(paths.map((path) => [path, strToU8("x")]))),
    );
    expect(whole).toEqual(records);
    expect(problems.map(({ where }) => where)).toEqual(paths);
  });

  it("that would unpack to more than is allowed isn’t unpacked", () => {
    const bomb = zipSync({ [`${FOLDER}/plans/2026-01-01_b.json`]: new Uint8Array(2_000_000) });
    const { whole, problems } = readArchive(bomb, { ...ARCHIVE_LIMITS, mostBytes: 1_000_000 });
    expect(whole.wings).toEqual([]);
    expect(problems.map(({ message }) => message)).toContain(
      "The file would be larger than 1 MB, and is left out.",
    );
    const inAll = readArchive(archive, { ...ARCHIVE_LIMITS, mostBytesInAll: 3000 });
    expect(inAll.problems.length).toBeGreaterThan(3);
  });

  it("that lies about a file’s size unpacks no more than it says", () => {
    const bomb = zipSync({ [`${FOLDER}/plans/2026-01-01_b.json`]: new Uint8Array(2_000_000) });
    const lying = bomb.slice();
    const view = new DataView(lying.buffer);
    for (const at of [22, placeIn(lying, "PK\x01\x02") + 24]) view.setUint32(at, 100, true);
    const { whole, problems } = readArchive(lying);
    expect(whole.wings).toEqual([]);
    expect(problems.map(({ message }) => message)).toContain(
      "The file is damaged: its bytes don’t agree with its checksum.",
    );
  });

  it("with too many files reads as many as are allowed, and says so", () => {
    const { problems } = readArchive(archive, { ...ARCHIVE_LIMITS, mostFiles: 4 });
    expect(problems.map(({ message }) => message)).toContain(
      "It has more than 4 files; the rest was not looked at.",
    );
  });

  it("of a newer version isn’t read at all", () => {
    const newer = repacked({
      "manifest.json": strToU8(JSON.stringify({ format: "linewright-record", version: 3, entries: [] })),
    });
    expect(told(newer)).toEqual(["manifest.json: What was kept is of version 3; understood: 2."]);
  });
});

describe("what is no archive", () => {
  it.each([
    ["nothing", new Uint8Array()],
    ["a text", strToU8(PLAN_TEXT)],
    ["the signature alone", strToU8("PK\x03\x04")],
    ["noise", Uint8Array.from({ length: 5000 }, (_, at) => (at * 2654435761) >>> 13)],
  ])("(%s) gives nothing and says so", (_, bytes) => {
    const { whole, problems } = readArchive(bytes);
    expect(whole).toEqual(NO_RECORDS);
    expect(problems.length).toBe(1);
  });
});
