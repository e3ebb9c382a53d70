/** Ways to find a sheet: by stage, by place, by what can be done now, on the plan, or by a word. */

import { announce } from "./announce.mjs";
import { placeOf } from "./blocks.mjs";
import { all, element, part } from "./element.mjs";
import { nowView } from "./now-view.mjs";
import { placeView } from "./place-view.mjs";
import { planView } from "./plan-view.mjs";
import { searchOf } from "./search.mjs";
import { say, unmarked } from "./words.mjs";

const WAYS = ["stage", "place", "now", "plan"];
/** More than this nobody scrolls through; another word makes it fewer. */
const MOST = 40;

export class Finding {
  /** @param {import("./job-in-hand.mjs").JobInHand} hand @param {() => void} changed called when another way is chosen */
  constructor(hand, changed) {
    this.hand = hand;
    // Each branch is one node, which moves to where the chosen way lists it.
    this.branches = all(document, ".branch").map((node) => ({ node, home: node.parentElement, sheet: hand.sheets.get(node.dataset.sheet) }));
    this.field = part(document, "search");
    this.find = null;
    this.field.oninput = () => this.#search();
    addEventListener("hashchange", () => {
      this.field.value = "";
      this.#choose();
      changed();
      announce(say(`ways.${this.way}`));
    });
    this.#choose();
    part(document, "ways").hidden = false;
  }

  /** Draws the way that is chosen, from where the sheets stand now. */
  show() {
    if (this.way === "now" || this.way === "plan") {
      part(document, `way-${this.way}`).replaceChildren(...(this.way === "now" ? nowView : planView)(this.hand));
    }
    if (this.field.value) this.#search();
  }

  #choose() {
    const asked = location.hash.slice(1);
    this.way = [asked, this.hand.keep.get("way")].find((way) => WAYS.includes(way)) ?? WAYS[0];
    this.hand.keep.set("way", this.way);
    for (const link of all(document, ".ways a")) {
      if (link.hash === `#${this.way}`) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
    if (this.way === "place") this.#toPlaces();
    else for (const { node, home } of this.branches) if (node.parentElement !== home) home.append(node);
    this.#reveal();
  }

  #toPlaces() {
    const view = part(document, "way-place");
    if (view.childElementCount === 0) view.append(...placeView(this.hand.job));
    const lists = new Map(all(view, "[data-place]").map((list) => [list.dataset.place, list]));
    for (const { node, sheet } of this.branches) lists.get(`${sheet.kind}/${sheet.item}`).append(node);
  }

  #reveal() {
    const searching = this.field.value.trim() !== "";
    for (const way of WAYS) part(document, `way-${way}`).hidden = searching || way !== this.way;
    part(document, "found").hidden = !searching;
  }

  #search() {
    this.#reveal();
    this.find ??= searchOf(this.hand.job);
    const found = this.find(this.field.value);
    part(document, "found").replaceChildren(
      element("p", { role: "status" }, this.field.value.trim() ? say("ways.found", { count: found.length }) : ""),
      element("ul", { class: "found" }, ...found.slice(0, MOST).map((one) => this.#foundNode(one))),
      found.length > MOST ? element("p", {}, say("ways.more", { count: MOST })) : "");
  }

  #foundNode({ step, sheets }) {
    const link = ({ id, item }, ...inside) => element("a", { class: "plain-act quiet", href: placeOf({ sheet: id, step: step?.name ?? null }, this.hand) }, ...inside);
    if (step === null) return element("li", {}, link(sheets[0], this.hand.sheetTitle(sheets[0].id)));
    return element("li", {}, element("p", {}, unmarked(step.say)), element("p", { class: "note" }, this.hand.job.tasks[sheets[0].task].title),
      element("div", { class: "choices" }, ...sheets.map((sheet) => link(sheet, sheet.item))));
  }
}
