/**
 * A device's chain of entries: its key, the id of an entry and its signature.
 *
 * A payload is signed, stored and sent exactly as written.
 *
 * @typedef {import("./payload.mjs").Said} Said
 *
 * @typedef {object} Entry          what is stored and sent
 * @property {string} payload       the signed text
 * @property {string} id            hex SHA-256 of 0x00 and the payload's bytes
 * @property {string} sig           base64url of r and s, 64 bytes
 *
 * @typedef {object} Device
 * @property {string} dev
 * @property {string} key
 * @property {CryptoKey} privateKey  can't be taken out of the browser
 */

import { bytesOf, NotAccepted, openPayload, payloadText } from "./payload.mjs";
import { say } from "./words.mjs";

const CURVE = { name: "ECDSA", namedCurve: "P-256" };
const SIGNING = { name: "ECDSA", hash: "SHA-256" };
// The last digit carries spare bits, which must be zero: one value, one text.
const SIG = /^[A-Za-z0-9_-]{85}[AQgw]$/;
const SIGNED_AS = new TextEncoder().encode("pitslate/entry/1");

/**
 * A new device: its signing key, and the name that the key's hash gives it.
 * @param {SubtleCrypto} subtle
 * @returns {Promise<Device>}
 */
export async function newDevice(subtle) {
  const pair = await subtle.generateKey(CURVE, false, ["sign", "verify"]);
  const point = new Uint8Array(await subtle.exportKey("raw", pair.publicKey));
  return { dev: await deviceOf(subtle, point), key: toBase64url(point), privateKey: pair.privateKey };
}

/**
 * The entry that a device signs for these fields.
 * @param {SubtleCrypto} subtle
 * @param {CryptoKey} privateKey
 * @param {object} fields
 * @returns {Promise<Entry>}
 */
export async function signedEntry(subtle, privateKey, fields) {
  const payload = payloadText(fields);
  openPayload(payload);
  const signature = await subtle.sign(SIGNING, privateKey, signedBytes(bytesOf(payload)));
  return { payload, id: await entryId(subtle, payload), sig: toBase64url(new Uint8Array(signature)) };
}

/** @param {SubtleCrypto} subtle @param {string} payload */
export async function entryId(subtle, payload) {
  const bytes = bytesOf(payload);
  const marked = new Uint8Array(bytes.length + 1);
  marked.set(bytes, 1);
  return toHex(await subtle.digest("SHA-256", marked));
}

/**
 * Open an entry: text whole, id right, shape right, key and device name agree. The signature is not
 * looked at here, because the key stands in entry 0.
 * @param {SubtleCrypto} subtle
 * @param {Entry} entry
 * @param {string} job   entries of another job are foreign
 * @returns {Promise<Said>}
 */
export async function openEntry(subtle, entry, job) {
  if (!entry.payload.isWellFormed()) throw new NotAccepted("broken", "Its text holds half a character.");
  if (await entryId(subtle, entry.payload) !== entry.id) {
    throw new NotAccepted("broken", "Its text is not the text its id was made from.");
  }
  const fields = openPayload(entry.payload);
  if (fields.job !== job) throw new NotAccepted("foreign", say("record_why.job", { job: fields.job }));
  if (!SIG.test(entry.sig)) throw new NotAccepted("broken", "Its signature is not in the form of one.");
  if (fields.seq === 0 && await deviceOf(subtle, fromBase64url(fields.key)) !== fields.dev) {
    throw new NotAccepted("broken", "Its device name is not the one its key gives.");
  }
  return { ...fields, id: entry.id };
}

/** @param {SubtleCrypto} subtle @param {string} key @returns {Promise<CryptoKey|null>} null: not a point */
export async function publicKey(subtle, key) {
  try {
    return await subtle.importKey("raw", fromBase64url(key), CURVE, false, ["verify"]);
  } catch {
    return null;
  }
}

/** @param {SubtleCrypto} subtle @param {CryptoKey|null} key @param {Entry} entry @returns {Promise<boolean>} */
export async function signatureHolds(subtle, key, entry) {
  if (key === null) return false;
  return subtle.verify(SIGNING, key, fromBase64url(entry.sig), signedBytes(bytesOf(entry.payload)));
}

function signedBytes(payload) {
  const bytes = new Uint8Array(SIGNED_AS.length + 4 + payload.length);
  bytes.set(SIGNED_AS);
  new DataView(bytes.buffer).setUint32(SIGNED_AS.length, payload.length);
  bytes.set(payload, SIGNED_AS.length + 4);
  return bytes;
}

async function deviceOf(subtle, point) {
  return toHex(await subtle.digest("SHA-256", point)).slice(0, 32);
}

export function toHex(buffer) {
  return Array.from(new Uint8Array(buffer), (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function toBase64url(bytes) {
  return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function fromBase64url(text) {
  const binary = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}
