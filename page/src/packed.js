// Bytes as printable letters, 13 bits in two of them: shorter than base64 by a thirteenth, and quicker to unpack. None of the
// letters means anything in HTML, and all of them are the same in every encoding that a server may name.

import { ZSTDDecoder } from "three/examples/jsm/libs/zstddec.module.js";

const LETTERS = Array.from({ length: 94 }, (_, at) => 33 + at).filter((code) => !"<>&".includes(String.fromCharCode(code)));
const BITS = 13;

/**
 * The number of bytes, then their letters.
 * @param {Uint8Array} bytes
 * @returns {string}
 */
export function packed(bytes) {
  const codes = new Uint8Array(2 * Math.ceil((bytes.length * 8) / BITS));
  let [held, count, at] = [0, 0, 0];
  const put = () => {
    const group = held & 0x1fff;
    codes[at++] = LETTERS[group % 91] ?? 0;
    codes[at++] = LETTERS[Math.floor(group / 91)] ?? 0;
  };
  for (const byte of bytes) {
    held |= byte << count;
    count += 8;
    if (count < BITS) continue;
    put();
    held >>= BITS;
    count -= BITS;
  }
  if (count > 0) put();
  return `${bytes.length}:${new TextDecoder().decode(codes.subarray(0, at))}`;
}

/**
 * What a block of the page holds: its letters are bytes that zstd compressed (vite.config.ts). gzip, which every browser
 * decompresses by itself, is a fifth larger.
 * @param {string} text
 * @returns {Promise<Uint8Array<ArrayBuffer>>}
 */
export async function contents(text) {
  const zstd = new ZSTDDecoder();
  await zstd.init();
  return /** @type {Uint8Array<ArrayBuffer>} */ (zstd.decode(unpacked(text)));
}

/**
 * The bytes that were packed into this text.
 * @param {string} text
 * @returns {Uint8Array<ArrayBuffer>}
 */
function unpacked(text) {
  const start = text.indexOf(":") + 1;
  const bytes = new Uint8Array(Number(text.slice(0, start - 1)));
  const values = new Uint8Array(128);
  LETTERS.forEach((code, value) => { values[code] = value; });
  let [held, count, at] = [0, 0, 0];
  for (let place = start; at < bytes.length; place += 2) {
    const group = (values[text.charCodeAt(place)] ?? 0) + 91 * (values[text.charCodeAt(place + 1)] ?? 0);
    held |= group << count;
    count += BITS;
    while (count >= 8 && at < bytes.length) {
      bytes[at++] = held & 0xff;
      held >>= 8;
      count -= 8;
    }
  }
  return bytes;
}
