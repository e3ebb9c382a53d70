/** What is typed and not saved yet: leaving the page, or a browser that is killed, does not take it along. */

import { later } from "./database.mjs";

const SLOT = "draft ";

export class Drafts {
  #texts = new Map();

  /** @param {import("./database.mjs").Database} database */
  constructor(database) {
    this.database = database;
  }

  /** Reads what was typed before. */
  async open() {
    const read = await this.database.transaction("readonly", ["device"], ({ device }) => later(device.getAll(IDBKeyRange.bound(SLOT, `${SLOT}\uffff`))));
    this.#texts = new Map(read.result.map(({ slot, text }) => [slot.slice(SLOT.length), text]));
  }

  /**
   * @param {string} place where it is typed, as "sheet step"
   * @returns {{text: string, keep: (text: string) => void}} what was typed there before; an empty text forgets it
   */
  at(place) {
    return {
      text: this.#texts.get(place) ?? "",
      keep: (text) => {
        if (text === (this.#texts.get(place) ?? "")) return;
        this.#texts.set(place, text);
        this.#put(SLOT + place, text);
      },
    };
  }

  /** No entry stands behind a draft: it need not be on the disk itself, and a phone that is full does without. */
  #put(slot, text) {
    this.database.transaction("readwrite", ["device"], ({ device }) => {
      if (text) device.put({ slot, text });
      else device.delete(slot);
      // A page that is left right after the last letter gives up what is not committed.
      device.transaction.commit();
    }, "relaxed").catch(() => {});
  }
}
