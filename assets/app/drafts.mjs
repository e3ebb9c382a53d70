/** What is typed and not saved yet: leaving the page, or a browser that is killed, does not take it along. */

export class Drafts {
  /** @param {import("./keep.mjs").Keep} keep */
  constructor(keep) {
    this.keep = keep;
  }

  /**
   * @param {string} place where it is typed, as "sheet step"
   * @returns {{text: string, keep: (text: string) => void}} what was typed there before; an empty text forgets it
   */
  at(place) {
    return {
      text: this.#all()[place] ?? "",
      keep: (text) => {
        const { [place]: _, ...others } = this.#all();
        if (text || _ !== undefined) this.keep.set("drafts", text ? { ...others, [place]: text } : others);
      },
    };
  }

  #all() {
    return this.keep.get("drafts") ?? {};
  }
}
