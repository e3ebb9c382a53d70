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
 * @property {string|null} sheet    where in the job it was said: a sheet, or a board: `locks/POINT`, `site`
 * @property {string|null} step
 * @property {string} value         as typed
 * @property {string|null} unit     UCUM
 * @property {Shown|null} shown     readings, and what is measured on a pull
 * @property {string[]} about       ids of the entries this one speaks of
 * @property {string} [key]         entry 0: public key, base64url of the raw point
 * @property {string|null} [continues]   entry 0: the device whose chain this phone goes on from
 * @property {string|null} [waits_for]   snags only: the person or role it waits for
 * @property {{sha256: string, bytes: number, width: number, height: number}} [photo]   photos only
 * @property {string} [drawn]            signatures only: strokes as a path on a field of 600 by 200; empty: none drawn
 */

import { KINDS, WITH_UNIT } from "./entry-kinds.mjs";
import { say } from "./words.mjs";

export const MOST_BYTES = 65536;
const KEYS = [
  "v", "dev", "seq", "prev", "seen", "at", "who", "job", "build",
  "kind", "sheet", "step", "value", "unit", "shown", "about",
];

const DEV = /^[0-9a-f]{32}$/;
const ID = /^[0-9a-f]{64}$/;
const BUILD = /^[0-9a-f]{12}$/;
const NAME = /^[a-z][a-z0-9_-]*$/;
const AT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d[+-]\d\d:\d\d$/;
// A drawn signature, on a field of 600 by 200: strokes of straight lines between whole points.
const DRAWN = /^(M\d{1,3} \d{1,3}(L\d{1,3} \d{1,3})*)+$/;
const MOST_DRAWN = 8192;
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
  return written(Object.fromEntries(keysOf(fields).map((key) => [key, payload[key]])));
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
  if (fields.v === 1 && typeof fields.kind === "string" && !isKind(fields.kind)) {
    throw new NotAccepted("foreign", say("record_why.kind", { kind: fields.kind }));
  }
  const keys = keysOf(fields);
  if (JSON.stringify(Object.keys(fields)) !== JSON.stringify(keys) || written(fields) !== text) {
    throw new NotAccepted("broken", "Its text is not written the way entries are written.");
  }
  for (const key of keys) {
    if (!FORMS[key](fields[key], fields)) {
      throw new NotAccepted("broken", say("record_why.form", { key }));
    }
  }
  return fields;
}

function isKind(kind) {
  return Object.hasOwn(KINDS, kind);
}

function keysOf({ kind }) {
  return isKind(kind) ? [...KEYS, ...KINDS[kind].keys ?? []] : KEYS;
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
  step: (value, { kind }) => (isText(value) ? KINDS[kind].step !== "none" : value === null && KINDS[kind].step !== "named"),
  value: (value, { kind }) => typeof value === "string" && (value !== "" || Boolean(KINDS[kind].empty)),
  unit: (value, { kind }) => (kind === "measured" ? isText(value) : value === null || (WITH_UNIT.includes(kind) && isText(value))),
  shown: (value, { kind }) => value === null || (WITH_UNIT.includes(kind) && isShown(value)),
  about: (value, fields) => Array.isArray(value) && value.every((id) => matches(ID, id))
    && new Set(value).size === value.length && speaksOf(value, fields),
  key: (value) => matches(KEY, value),
  continues: (value, fields) => value === null || (matches(DEV, value) && value !== fields.dev),
  waits_for: (value) => value === null || isText(value),
  photo: isPhoto,
  drawn: (value) => value === "" || (matches(DRAWN, value) && value.length <= MOST_DRAWN),
};

function speaksOf(about, { kind, value }) {
  const [fewest, most] = KINDS[kind].about ?? [0, 0];
  return fewest <= about.length && about.length <= most && (kind !== "settle" || about.includes(value));
}

function isPhoto(value) {
  return isObject(value) && JSON.stringify(Object.keys(value)) === '["sha256","bytes","width","height"]'
    && matches(ID, value.sha256) && [value.bytes, value.width, value.height].every((size) => isCount(size) && size > 0);
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
