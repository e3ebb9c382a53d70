/**
 * A photo: a JPEG picture, named by the SHA-256 of its bytes. Whatever comes in under such a name is looked at
 * before it is kept, and only ever shown as a picture. `builder/record/photo.py` says the same.
 *
 * @typedef {object} Photo
 * @property {string} sha256
 * @property {number} size          in bytes
 * @property {Uint8Array} bytes
 */

import { toHex } from "./chain.mjs";

export const MOST_BYTES = 2 * 1024 * 1024;
const MOST_POINTS = 4096;
const BASE64 = /^[A-Za-z0-9+/]+={0,2}$/;

/** Why something is no photo; the message is a sentence. */
export class NoPhoto extends Error {}

/**
 * Width and height of a JPEG, read from its first frame.
 * @param {Uint8Array} bytes
 * @returns {[number, number]}
 */
export function photoSize(bytes) {
  if (bytes.length > MOST_BYTES) throw new NoPhoto("It is larger than 2 MB.");
  if (bytes[0] !== 0xFF || bytes[1] !== 0xD8) throw new NoPhoto("It is no JPEG picture.");
  if (bytes.at(-2) !== 0xFF || bytes.at(-1) !== 0xD9) throw new NoPhoto("It is cut short.");
  const two = (at) => bytes[at] * 256 + bytes[at + 1];
  for (let at = 2; at + 9 <= bytes.length && bytes[at] === 0xFF; at += 2 + two(at + 2)) {
    const marker = bytes[at + 1];
    // A frame: C0 to CF, but for the tables C4 and CC and the reserved C8.
    if (marker < 0xC0 || marker > 0xCF || [0xC4, 0xC8, 0xCC].includes(marker)) continue;
    const [height, width] = [two(at + 5), two(at + 7)];
    if (width === 0 || height === 0) break;
    if (Math.max(width, height) > MOST_POINTS) throw new NoPhoto("It is more than 4096 points wide or high.");
    return [width, height];
  }
  throw new NoPhoto("It is no JPEG picture.");
}

/**
 * A photo as it stands in a record file, looked at.
 * @param {SubtleCrypto} subtle
 * @param {string} name
 * @param {any} text       base64
 * @returns {Promise<Photo>}
 */
export async function openPhoto(subtle, name, text) {
  if (typeof text !== "string" || text.length % 4 !== 0 || !BASE64.test(text)) {
    throw new NoPhoto("It is not written the way photos are written.");
  }
  const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
  photoSize(bytes);
  const photo = await namedPhoto(subtle, bytes);
  if (photo.sha256 !== name) throw new NoPhoto("Its bytes are not those it is named after.");
  return photo;
}

/** @param {SubtleCrypto} subtle @param {Uint8Array<ArrayBuffer>} bytes @returns {Promise<Photo>} */
export async function namedPhoto(subtle, bytes) {
  return { sha256: toHex(await subtle.digest("SHA-256", bytes)), size: bytes.length, bytes };
}

/** @param {Uint8Array} bytes @returns {string} base64 */
export function photoText(bytes) {
  const pieces = [];
  for (let at = 0; at < bytes.length; at += 8192) pieces.push(String.fromCharCode(...bytes.subarray(at, at + 8192)));
  return btoa(pieces.join(""));
}
