/**
 * The record file: the text that leaves a phone, and what is refused when one comes in.
 *
 * @typedef {import("./chain.mjs").Entry} Entry
 *
 * @typedef {object} RecordFile
 * @property {string} job
 * @property {string} by                     device that wrote the file
 * @property {Object<string, [number, string]>} heads
 * @property {Entry[]} entries
 * @property {boolean} whole                 false: damaged; the entries that could be read are here
 * @property {string} reason                 a sentence when not whole
 */

/** A file that is no record of this job; the message says why. */
export class Refused extends Error {}

/**
 * Read a record file.
 * @param {string} text
 * @param {string} job     name of the job
 * @returns {RecordFile}
 */
export function parseRecord(text, job) {
  throw new Error("not written yet");
}
