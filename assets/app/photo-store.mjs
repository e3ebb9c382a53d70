/**
 * The photos on this phone, of every phone's record.
 *
 * @typedef {object} PhotosBrought
 * @property {number} came            photos that were not here before
 * @property {string[]} reasons       why some were not kept, a sentence each
 * @property {import("./payload.mjs").Said[]} missing   entries whose photo is not on this phone
 */

import { later, NotSaved } from "./database.mjs";
import { NoPhoto, openPhoto, photoText } from "./photo.mjs";
import { MOST_PHOTO_CHARACTERS } from "./record-file.mjs";

export class PhotoStore {
  /** @param {import("./database.mjs").Database} database @param {SubtleCrypto} subtle */
  constructor(database, subtle) {
    this.database = database;
    this.subtle = subtle;
  }

  /** @param {string} sha256 @returns {Promise<Uint8Array<ArrayBuffer>|null>} its bytes, or null where it is not here */
  async bytes(sha256) {
    const read = await this.#read((photos) => photos.get(IDBKeyRange.bound([sha256], [sha256, []])));
    return read?.bytes ?? null;
  }

  /** @returns {Promise<[string, number][]>} name and size of every photo */
  async held() {
    return this.#read((photos) => photos.getAllKeys());
  }

  /**
   * Look at photos that came in, and keep the good ones. One that finds no room leaves the others and the
   * entries where they are.
   * @param {Object<string, any>} photos   as a record file has them
   * @param {import("./payload.mjs").Said[]} said   everything held
   * @returns {Promise<PhotosBrought>}
   */
  async bring(photos, said) {
    const had = new Set((await this.held()).map(([sha256]) => sha256));
    const reasons = [];
    let came = 0;
    for (const [name, text] of Object.entries(photos)) {
      if (had.has(name)) continue;
      try {
        const photo = await openPhoto(this.subtle, name, text);
        await this.database.transaction("readwrite", ["photos"], (stores) => { stores.photos.put(photo); });
        had.add(name);
        came += 1;
      } catch (fault) {
        if (!(fault instanceof NoPhoto || fault instanceof NotSaved)) throw fault;
        reasons.push(fault.message);
      }
    }
    return { came, reasons, missing: said.filter(({ photo }) => photo && !had.has(photo.sha256)) };
  }

  /** Names of all photos, shared out over files; one lot at least. @returns {Promise<string[][]>} */
  async lots() {
    const lots = [[]];
    let characters = 0;
    for (const [sha256, size] of await this.held()) {
      characters += Math.ceil(size / 3) * 4;
      if (characters > MOST_PHOTO_CHARACTERS) {
        lots.push([]);
        characters = Math.ceil(size / 3) * 4;
      }
      lots.at(-1).push(sha256);
    }
    return lots;
  }

  /** Photos as a record file carries them. @param {string[]} names @returns {Promise<Object<string, string>>} */
  async texts(names) {
    /** @type {Object<string, string>} */
    const texts = {};
    for (const name of names) {
      const bytes = await this.bytes(name);
      if (bytes) texts[name] = photoText(bytes);
    }
    return texts;
  }

  async #read(request) {
    return (await this.database.transaction("readonly", ["photos"], ({ photos }) => later(request(photos)))).result;
  }
}
