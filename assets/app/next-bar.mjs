/** The bar under the thumb: it names the next thing to do, and does it where that is in plain sight. */

import { element, part } from "./element.mjs";
import { placeOf } from "./blocks.mjs";
import { say } from "./words.mjs";

/** A second tap of a trembling thumb must not answer the step that moved up in the meantime. */
const REST = 600;

export class NextBar {
  /** @param {HTMLElement} bar @param {Object} page the sheet's page */
  constructor(bar, page) {
    this.page = page;
    this.inSight = false;
    this.restUntil = 0;
    this.button = part(bar, "next");
    this.button.onclick = (event) => this.#act(event);
    part(bar, "sheet-snag").onclick = () => page.raiseSnag(null);
    this.sight = new IntersectionObserver((seen) => {
      this.inSight = seen.at(-1).isIntersecting;
      this.#name();
    }, { rootMargin: "0px 0px -96px 0px", threshold: 0.9 });
  }

  /** @param {import("./progress.mjs").SheetState} state */
  show(state) {
    this.state = state;
    this.line = state.next === null ? null : this.page.lines.get(state.next);
    this.sight.disconnect();
    this.inSight = false;
    if (this.line) this.sight.observe(this.line.target);
    this.#name();
  }

  /** Names the action again after something was typed. */
  typed() {
    if (this.state) this.#name();
  }

  #name() {
    this.action = this.#chosen();
    const about = this.line && this.action.act !== this.page.leave ? this.line.node.querySelector(".say").textContent.trim().replace(/\.$/, "") : "";
    this.button.replaceChildren(
      element("span", { class: "verb" }, this.action.verb),
      about ? element("span", { class: "about" }, about) : "");
  }

  #chosen() {
    const { state, line, page } = this;
    if (page.hand.person === null) return { verb: say("who.ask"), act: () => page.hand.askPerson() };
    if (state.state === "closed") return { verb: say("sheet.next_none"), act: page.leave };
    if (line === null && state.left.length === 0) return { verb: say("sheet.next_close"), act: () => page.close() };
    if (line === null) return { verb: say("sheet.next_hold_blocked"), act: () => location.assign(placeOf(state.left[0], page.hand)) };
    if (!this.inSight) return { verb: say("sheet.next_go"), act: () => page.goTo(state.next) };
    return line.nextAction();
  }

  #act(event) {
    if (event.timeStamp < this.restUntil) return;
    this.restUntil = event.timeStamp + REST;
    this.action.act();
  }
}
