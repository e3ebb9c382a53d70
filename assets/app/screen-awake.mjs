/** Keeps the screen lit while a pull runs, where the browser can; where it can't, the page says so. */

export class ScreenAwake {
  #lock = null;

  #wanted = false;

  /**
   * @param {WakeLock|undefined} wakeLock navigator.wakeLock
   * @param {Document} page @param {(state: "lit"|"unlit"|"refused") => void} told
   */
  constructor(wakeLock, page, told) {
    this.wakeLock = wakeLock;
    this.page = page;
    this.told = told;
    // The browser takes the light away whenever the page is out of sight.
    page.addEventListener("visibilitychange", () => this.#ask());
  }

  /** @param {boolean} wanted */
  keep(wanted) {
    if (wanted === this.#wanted) return;
    this.#wanted = wanted;
    if (wanted) this.#ask();
    else this.#lock?.release();
  }

  async #ask() {
    if (!this.#wanted || this.page.visibilityState !== "visible") return;
    if (!this.wakeLock) {
      this.told("refused");
      return;
    }
    try {
      this.#lock = await this.wakeLock.request("screen");
      this.#lock.addEventListener("release", () => this.told("unlit"));
      this.told("lit");
    } catch {
      // A low battery is reason enough for a browser to refuse.
      this.told("refused");
    }
  }
}
