/** What a file is, from its first bytes. */
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { kindOfBytes, lineCount, textOfBytes, unpackedBytes } from "../../../src/view/model/intake-files.ts";
import { workbook } from "../../readings/tables/workbook.ts";

describe("a file's kind", () => {
  it("is told from its bytes, whatever its name", () => {
    expect(kindOfBytes(strToU8("tab;left\nA1;7421"))).toBe("text");
    expect(kindOfBytes(workbook({ name: "x", rows: [["a"]] }))).toBe("workbook");
    expect(kindOfBytes(strToU8("%PDF-1.7 and so on"))).toBe("pdf");
    expect(kindOfBytes(Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10))).toBe("picture");
    expect(kindOfBytes(Uint8Array.of(0xff, 0xd8, 0xff, 0xe0))).toBe("picture");
    expect(kindOfBytes(strToU8("\0\0\0\x18ftypheic\0\0"))).toBe("picture");
    expect(kindOfBytes(Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1))).toBe("old workbook");
    expect(kindOfBytes(Uint8Array.of(1, 2, 0, 3))).toBe("unknown");
    expect(kindOfBytes(new Uint8Array())).toBe("text");
  });

  it("is that of an open document where the archive says so first", () => {
    const file = zipSync({
      mimetype: [strToU8("application/vnd.oasis.opendocument.spreadsheet"), { level: 0 }],
    });
    expect(kindOfBytes(file)).toBe("open document");
  });

  it("is text in UTF-16 too, as spreadsheets save it", () => {
    const wide = Uint8Array.from([0xff, 0xfe, ...[..."A1\t7"].flatMap((sign) => [sign.charCodeAt(0), 0])]);
    expect([kindOfBytes(wide), textOfBytes(wide)]).toEqual(["text", "A1\t7"]);
  });
});

describe("a text's characters", () => {
  it("are UTF-8, or as Windows writes western Europe's where they aren't", () => {
    expect(textOfBytes(strToU8("Aufhängung"))).toBe("Aufhängung");
    expect(textOfBytes(Uint8Array.of(0x41, 0xe4, 0x42))).toBe("AäB");
  });
});

describe("an archive's size once unpacked", () => {
  it("is the sum that its directory gives for the sheets and the like, without pictures", () => {
    const file = zipSync({
      "xl/a.xml": new Uint8Array(100_000),
      "b.xml": strToU8("seven"),
      "xl/media/photo.jpg": new Uint8Array(200_000),
    });
    expect(file.length).toBeLessThan(2000);
    expect(unpackedBytes(file)).toBe(100_005);
  });

  it("is unknown where the directory is cut off", () => {
    expect(unpackedBytes(workbook({ name: "x", rows: [["a"]] }).slice(0, 500))).toBeUndefined();
    expect(unpackedBytes(new Uint8Array(3))).toBeUndefined();
  });
});

it("lines are counted without splitting the text", () => {
  expect([lineCount(""), lineCount("a\nb"), lineCount("a\nb\n")]).toEqual([1, 2, 3]);
});
