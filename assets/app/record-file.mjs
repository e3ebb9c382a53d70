/**
 * The record file: the text that leaves a phone, and what is refused when one comes in.
 *
 * @typedef {import("./chain.mjs").Entry} Entry
 *
 * @typedef {object} RecordFile
 * @property {string} job
 * @property {string} by                     device that wrote the file
 * @property {Object<string, [number, string]>} heads   device → newest number and its id
 * @property {Entry[]} entries
 * @property {Object<string, object>} asked  build → what its sheets asked, see `askedOf`
 * @property {Object<string, any>} photos    SHA-256 → base64, as the file has it; nothing is believed of it yet
 * @property {boolean} whole                 false: damaged; the entries that could be read are here
 * @property {string} reason                 a sentence when not whole
 */

import { say } from "./words.mjs";

export const FORMAT = "pitslate/record/1";
export const MOST_CHARACTERS = 32 * 1024 * 1024;
export const MOST_ENTRIES = 50000;
// Photos beyond this go into files of their own, so that a share sheet or a letter takes each of them.
export const MOST_PHOTO_CHARACTERS = 12 * 1024 * 1024;

const KEYS = '["format","job","exported_at","by","heads","entries","asked"';
const ENTRY = /\{"payload":"[^"\\]*(?:\\.[^"\\]*)*","id":"[0-9a-f]{64}","sig":"[A-Za-z0-9_-]{86}"\}/g;
const PHOTO = /"([0-9a-f]{64})":"([A-Za-z0-9+/]+={0,2})"/g;
const OUTSIDE_STRINGS = /("[^"\\]*(?:\\.[^"\\]*)*")|\s+/g;

/** A file that is no record of this job; the message says why. */
export class Refused extends Error {}

/**
 * @param {{job: string, exportedAt: string, by: string, heads?: Object<string, any>, entries?: Entry[],
 *   asked?: Object<string, any>, photos?: Object<string, string>}} record
 */
export function recordText({ job, exportedAt, by, heads = {}, entries = [], asked = {}, photos = {} }) {
  return JSON.stringify({
    format: FORMAT,
    job,
    exported_at: exportedAt,
    by,
    heads,
    entries: entries.map(({ payload, id, sig }) => ({ payload, id, sig })),
    asked,
    ...(Object.keys(photos).length > 0 ? { photos } : {}),
  });
}

/** @param {string} job @param {string} phone  its given name @param {string} exportedAt @param {number} number  of the file, from 1 */
export function recordName(job, phone, exportedAt, number = 1) {
  const plain = (text) => text.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "") || "phone";
  const more = number > 1 ? `-photos-${number}` : "";
  return `pitslate-${plain(job)}-${plain(phone)}-${exportedAt.slice(0, 10)}${more}.json`;
}

/**
 * The part of job.json that these sheets rest on, so that a record can be read without anything else.
 * @param {object} job           job.json
 * @param {Set<string>} sheets   ids of the sheets touched
 */
export function askedOf(job, sheets) {
  const touched = job.sheets.filter(({ id }) => sheets.has(id));
  const tasks = new Set(touched.map(({ task }) => task));
  return {
    ...job,
    tasks: Object.fromEntries(Object.entries(job.tasks).filter(([name]) => tasks.has(name))),
    sheets: touched,
  };
}

/**
 * Read a record file. What can still be read of a damaged one is read.
 * @param {string} text
 * @param {string} job     name of the job
 * @returns {RecordFile}
 */
export function parseRecord(text, job) {
  if (text.length > MOST_CHARACTERS) throw new Refused("The file is larger than 32 MB. No phone of this app writes one so large.");
  const plain = text.replace(/^\uFEFF/, "");
  const file = parsed(plain);
  if (file === null) return salvaged(plain);
  if (file.format !== FORMAT) throw new Refused("The file is not a record, or comes from a newer app.");
  if (!inForm(file)) throw new Refused("The file says it is a record, but is not in the form of one.");
  if (file.job !== job) throw new Refused(say("record_why.file_job", { theirs: file.job, job }));
  if (file.entries.length > MOST_ENTRIES) throw new Refused(say("record_why.file_long", { most: MOST_ENTRIES }));
  if (plain.replace(OUTSIDE_STRINGS, "$1") !== JSON.stringify(file)) {
    return { ...salvaged(plain), reason: say("record_why.file_changed") };
  }
  return { ...file, entries: file.entries.map(asEntry), photos: file.photos ?? {}, whole: true, reason: "" };
}

function parsed(text) {
  try {
    const file = JSON.parse(text);
    return typeof file === "object" && file !== null ? file : {};
  } catch {
    return null;
  }
}

function inForm(file) {
  return [`${KEYS}]`, `${KEYS},"photos"]`].includes(JSON.stringify(Object.keys(file)))
    && [file.job, file.exported_at, file.by].every((text) => typeof text === "string")
    && Array.isArray(file.entries)
    && [file.heads, file.asked, file.photos ?? {}].every((map) => typeof map === "object" && map !== null && !Array.isArray(map))
    && Object.values(file.heads).every((head) => Array.isArray(head) && head.length === 2
      && Number.isSafeInteger(head[0]) && typeof head[1] === "string");
}

/** Something else in an entry's place becomes an entry that can't be accepted, so that it is kept and named. */
function asEntry(item) {
  const texts = item && [item.payload, item.id, item.sig];
  const isEntry = texts && Object.keys(item).length === 3 && texts.every((text) => typeof text === "string");
  return isEntry ? item : { payload: JSON.stringify(item), id: "", sig: "" };
}

function salvaged(text) {
  if (!text.startsWith(`{"format":"${FORMAT}"`)) throw new Refused("The file is not a record.");
  const entries = Array.from(text.matchAll(ENTRY), ([entry]) => parsed(entry)).filter(Boolean).slice(0, MOST_ENTRIES);
  return {
    job: "", by: "", heads: {}, entries, asked: {}, whole: false,
    // A photo is as good as its name: what was cut is found out when it is looked at.
    photos: Object.fromEntries(Array.from(text.matchAll(PHOTO), ([, name, photo]) => [name, photo])),
    reason: say("record_why.file_cut", { count: entries.length }),
  };
}
