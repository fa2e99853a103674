/** The checksum of ZIP files. */

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let value = byte;
  for (let bit = 0; bit < 8; bit++) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  return value >>> 0;
});

/**
 * CRC-32 of bytes: polynomial 0x04C11DB7 reflected, as in ISO/IEC 8802-3 and ZIP (APPNOTE 4.4.7). Finds any damage of up to
 * 32 bits in a row and all but one in four thousand million others. It is no help against someone who means to deceive.
 */
export function crc32(bytes: Uint8Array): number {
  let value = 0xffffffff;
  for (const byte of bytes) value = (TABLE[(value ^ byte) & 0xff] as number) ^ (value >>> 8);
  return (value ^ 0xffffffff) >>> 0;
}
