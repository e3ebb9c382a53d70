/**
 * Small things a phone remembers beside the record: the sheet last worked, when it last sent, which units it shows.
 * Losing them loses no evidence, so a browser without such a store is served as well.
 */

export class Keep {
  /** @param {() => Storage} storage may throw where the browser refuses @param {string} job name of the job */
  constructor(storage, job) {
    this.prefix = `pitslate/${job}/`;
    try {
      this.storage = storage();
    } catch {
      this.storage = null;
    }
  }

  /** @param {string} name @returns {any} what was kept under this name, or null */
  get(name) {
    try {
      return JSON.parse(this.storage?.getItem(this.prefix + name) ?? "null");
    } catch {
      return null;
    }
  }

  /** @param {string} name @param {any} value */
  set(name, value) {
    try {
      this.storage?.setItem(this.prefix + name, JSON.stringify(value));
    } catch {
      // The next start asks again.
    }
  }
}
