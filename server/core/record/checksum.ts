/** The checksum at the end of an exported run: CRC-32 as in zip and PNG, over UTF-8. Finds damage, proves no authorship. */

const POLYNOMIAL = 0xedb88320;

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit += 1) crc = crc & 1 ? (crc >>> 1) ^ POLYNOMIAL : crc >>> 1;
  return crc;
});

/** CRC-32 of `text` as UTF-8, 0 to 2³²−1; given the CRC of what stood before it, of both together. Lone surrogates count as U+FFFD. */
export function crc32(text: string, before = 0): number {
  let crc = ~before;
  for (const character of text) {
    const code = character.codePointAt(0)!;
    if (code < 0x80) crc = withByte(crc, code);
    else for (const byte of utf8(code)) crc = withByte(crc, byte);
  }
  return ~crc >>> 0;
}

function withByte(crc: number, byte: number): number {
  return (crc >>> 8) ^ TABLE[(crc ^ byte) & 0xff]!;
}

function utf8(code: number): number[] {
  if (code >= 0xd800 && code <= 0xdfff) return utf8(0xfffd);
  if (code < 0x800) return [0xc0 | (code >> 6), continued(code)];
  if (code < 0x10000) return [0xe0 | (code >> 12), continued(code >> 6), continued(code)];
  return [0xf0 | (code >> 18), continued(code >> 12), continued(code >> 6), continued(code)];
}

function continued(bits: number): number {
  return 0x80 | (bits & 0x3f);
}
