/**
 * What an entry's payload may say, and the one text that says it.
 *
 * A payload is accepted only in the form that `payloadText` writes, so that no two readers can read the
 * same bytes differently.
 *
 * @typedef {object} Shown          what the screen said when a reading was taken
 * @property {"within"|"outside"|"cant-tell"|null} verdict
 * @property {Object<string, Object<string, string>>} working   working → output → text; empty: can't tell
 *
 * @typedef {object} Said           an entry opened for reading: its payload's fields, and its id
 * @property {string} id
 * @property {number} v
 * @property {string} dev           first 32 hex digits of SHA-256 of the public key
 * @property {number} seq
 * @property {string|null} prev     id of the entry before
 * @property {Object<string, number>} seen   newest number held of each other device
 * @property {string} at            the phone's clock: a label, never an order
 * @property {string} who
 * @property {string} job
 * @property {string} build
 * @property {string} kind
 * @property {string|null} sheet
 * @property {string|null} step
 * @property {string} value         as typed
 * @property {string|null} unit     UCUM
 * @property {Shown|null} shown     readings only
 * @property {string[]} about       ids of the entries this one speaks of
 * @property {string} [key]         entry 0: public key, base64url of the raw point
 * @property {string|null} [continues]   entry 0: the device whose chain this phone goes on from
 */

export const MOST_BYTES = 65536;
export const KINDS = [
  "device", "done", "reading", "aside", "snag", "snag-closed", "release", "withdraw", "settle", "close",
];
const KEYS = [
  "v", "dev", "seq", "prev", "seen", "at", "who", "job", "build",
  "kind", "sheet", "step", "value", "unit", "shown", "about",
];
const FIRST_KEYS = [...KEYS, "key", "continues"];

const DEV = /^[0-9a-f]{32}$/;
const ID = /^[0-9a-f]{64}$/;
const BUILD = /^[0-9a-f]{12}$/;
const NAME = /^[a-z][a-z0-9_-]*$/;
const AT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/;
// The last digit carries spare bits, which must be zero: one value, one text.
const KEY = /^[A-Za-z0-9_-]{86}[AEIMQUYcgkosw048]$/;

/** Why an entry is kept aside. */
export class NotAccepted extends Error {
  /** @param {"broken"|"foreign"} verdict @param {string} reason */
  constructor(verdict, reason) {
    super(reason);
    this.verdict = verdict;
  }
}

/**
 * The payload's text, keys in their order.
 * @param {object} fields  a `Said` without id and v
 */
export function payloadText(fields) {
  const payload = { ...fields, v: 1 };
  const keys = fields.seq === 0 ? FIRST_KEYS : KEYS;
  return written(Object.fromEntries(keys.map((key) => [key, payload[key]])));
}

/**
 * The fields of a payload text, or why it can't be accepted.
 * @param {string} text
 */
export function openPayload(text) {
  const fields = parsed(text);
  if (Number.isInteger(fields.v) && fields.v !== 1) {
    throw new NotAccepted("foreign", "It was written by a version that is not known here.");
  }
  if (fields.v === 1 && typeof fields.kind === "string" && !KINDS.includes(fields.kind)) {
    throw new NotAccepted("foreign", `Its kind \`${fields.kind}\` is not known here.`);
  }
  const keys = fields.seq === 0 ? FIRST_KEYS : KEYS;
  if (JSON.stringify(Object.keys(fields)) !== JSON.stringify(keys) || written(fields) !== text) {
    throw new NotAccepted("broken", "Its text is not written the way entries are written.");
  }
  for (const key of keys) {
    if (!FORMS[key](fields[key], fields)) {
      throw new NotAccepted("broken", `Its \`${key}\` is not in the form version 1 asks for.`);
    }
  }
  return fields;
}

function parsed(text) {
  let fields = null;
  if (bytesOf(text).length > MOST_BYTES) throw new NotAccepted("broken", "It is longer than 64 KiB.");
  try {
    fields = JSON.parse(text);
  } catch {
    fields = null;
  }
  if (!isObject(fields) || deep(fields)) {
    throw new NotAccepted("broken", "Its text is not written the way entries are written.");
  }
  return fields;
}

const FORMS = {
  v: (value) => value === 1,
  dev: (value) => matches(DEV, value),
  seq: (value, fields) => isCount(value) && (value === 0) === (fields.kind === "device"),
  prev: (value, fields) => (fields.seq === 0 ? value === null : matches(ID, value)),
  seen: (value, fields) => isObject(value)
    && Object.entries(value).every(([dev, seq]) => DEV.test(dev) && dev !== fields.dev && isCount(seq)),
  at: (value) => matches(AT, value),
  who: isText,
  job: isText,
  build: (value) => matches(BUILD, value),
  kind: (value) => typeof value === "string",
  sheet: (value, { kind }) => (kind === "device" ? value === null : isText(value)),
  step: (value, { kind }) => {
    if (kind === "device" || kind === "close") return value === null;
    return isText(value) || (value === null && ["snag", "snag-closed", "withdraw"].includes(kind));
  },
  value: (value, { kind }) => (["done", "close"].includes(kind) ? typeof value === "string" : isText(value)),
  unit: (value, { kind }) => value === null || (kind === "reading" && isText(value)),
  shown: (value, { kind }) => value === null || (kind === "reading" && isShown(value)),
  about: (value, fields) => Array.isArray(value) && value.every((id) => matches(ID, id))
    && new Set(value).size === value.length && speaksOf(value, fields),
  key: (value) => matches(KEY, value),
  continues: (value, fields) => value === null || (matches(DEV, value) && value !== fields.dev),
};

function speaksOf(about, { kind, value }) {
  if (kind === "settle") return about.length > 1 && about.includes(value);
  return about.length === (kind === "withdraw" || kind === "snag-closed" ? 1 : 0);
}

function isShown(value) {
  return isObject(value) && JSON.stringify(Object.keys(value)) === '["verdict","working"]'
    && [null, "within", "outside", "cant-tell"].includes(value.verdict)
    && isObject(value.working)
    && Object.entries(value.working).every(([name, outputs]) => NAME.test(name) && isObject(outputs)
      && Object.entries(outputs).every(([output, text]) => NAME.test(output) && typeof text === "string"));
}

function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isText(value) {
  return typeof value === "string" && value.length > 0;
}

function isCount(value) {
  return Number.isSafeInteger(value) && value >= 0;
}

function matches(form, value) {
  return typeof value === "string" && form.test(value);
}

/** Python's reader gives up on deep nesting; both sides give up at the same depth. */
function deep(value) {
  let level = [value];
  for (let depth = 0; level.length > 0; depth += 1) {
    if (depth > 8) return true;
    level = level.flatMap((held) => (typeof held === "object" && held !== null ? Object.values(held) : []));
  }
  return false;
}

/** JSON text; half a character becomes a whole one, and so gives the text away. */
function written(fields) {
  return JSON.stringify(fields, (_, held) => (typeof held === "string" ? held.toWellFormed() : held));
}

export function bytesOf(text) {
  return new TextEncoder().encode(text);
}
