/**
 * This phone's record of one job, on disk.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./chain.mjs").Entry} Entry
 * @typedef {import("./merge.mjs").Verdict} Verdict
 *
 * @typedef {object} Surroundings
 * @property {IDBFactory} indexedDB
 * @property {SubtleCrypto} subtle
 * @property {LockManager|undefined} locks    navigator.locks, where the browser has it
 * @property {() => Date} clock
 *
 * @typedef {object} Told             what the screen gives; the rest of an entry comes from the chain
 * @property {string} who
 * @property {string} kind
 * @property {string|null} [sheet]
 * @property {string|null} [step]
 * @property {string} [value]
 * @property {string|null} [unit]     UCUM
 * @property {import("./payload.mjs").Shown|null} [shown]
 * @property {string[]} [about]
 *
 * @typedef {object} Brought          what came of another phone's record
 * @property {Verdict[]} verdicts     one for each entry of the file, in its order
 * @property {string[]} remarks       sentences: gaps, forks, a record that went back
 */

/** Something was not saved; the message says why and what to do. */
export class NotSaved extends Error {}

/**
 * Open (or make) this phone's record of the job.
 * @param {Surroundings} surroundings
 * @param {object} job      job.json
 * @param {string} build
 * @returns {Promise<Record>}
 */
export async function openRecord(surroundings, job, build) {
  throw new Error("not written yet");
}

class Record {
  /** {dev, name} of this phone, or null before `begin`. */
  device = null;

  /** A sentence when the phone has lost entries that it once had, else null. */
  lost = null;

  /**
   * Make this phone's key and entry 0.
   * @param {{name: string, who: string, continues?: string|null}} phone
   * @returns {Promise<Said>}
   */
  async begin(phone) {}

  /**
   * Sign and add one entry. Resolves only when it is on disk; throws NotSaved.
   * @param {Told} told
   * @returns {Promise<Said>}
   */
  async append(told) {}

  /** Everything accepted, of all phones, sorted. @returns {Promise<Said[]>} */
  async readAll() {}

  /** Take in another phone's record (from `parseRecord`). @returns {Promise<Brought>} */
  async bring(file) {}

  /** The record file's text and name, read from disk. @returns {Promise<{text: string, name: string}>} */
  async export() {}

  close() {}
}
