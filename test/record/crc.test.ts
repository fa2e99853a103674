import { strToU8 } from "fflate";
import { describe, expect, it } from "vitest";
import { crc32 } from "../../src/record/crc.ts";

describe("the checksum of archives", () => {
  it("is the usual CRC-32: CBF43926 for the nine figures", () => {
    // Check value of CRC-32/ISO-HDLC in the catalogue of parametrised CRC algorithms, from memory.
    expect(crc32(strToU8("123456789"))).toBe(0xcbf43926);
    expect(crc32(new Uint8Array())).toBe(0);
  });

  it("tells any single flipped bit", () => {
    const bytes = strToU8("A3 left 7421 mm");
    const whole = crc32(bytes);
    for (let bit = 0; bit < bytes.length * 8; bit++) {
      const flipped = bytes.slice();
      flipped[bit >> 3]! ^= 1 << (bit & 7);
      expect(crc32(flipped)).not.toBe(whole);
    }
  });
});
