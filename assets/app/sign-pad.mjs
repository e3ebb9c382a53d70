/**
 * A field to sign on, by finger, pen or mouse. Whoever can't draw leaves it empty: the typed name is enough.
 * Strokes are straight lines between whole points of a field of 600 by 200.
 */

import { drawn, element } from "./element.mjs";
import { say } from "./words.mjs";

const [WIDE, HIGH] = [600, 200];
// Points closer than this add bytes and no shape.
const APART = 4;
const MOST_CHARACTERS = 8000;

export class SignPad {
  path = "";

  constructor() {
    this.line = drawn("path", {});
    this.field = drawn("svg", { class: "sign-field", viewBox: `0 0 ${WIDE} ${HIGH}`, role: "img", "aria-label": say("sign.field") }, this.line);
    this.licence = element("input", { class: "field", type: "text", maxlength: 80, autocomplete: "off" });
    this.node = element("div", { class: "sign" },
      element("span", { class: "label" }, say("sign.draw")), this.field,
      element("button", { type: "button", class: "quiet", click: () => this.#draw("") }, say("sign.clear")),
      element("label", {}, element("span", { class: "label" }, say("sign.licence")), this.licence));
    const field = /** @type {any} */ (this.field);
    field.onpointerdown = (event) => this.#begin(event);
    field.onpointermove = (event) => this.#go(event);
    field.onpointerup = field.onpointercancel = () => { this.last = null; };
  }

  /** What an entry says of it. @returns {{value: string, drawn: string}} */
  get signed() {
    return { value: this.licence.value.trim(), drawn: this.path };
  }

  #begin(event) {
    event.preventDefault();
    this.field.setPointerCapture(event.pointerId);
    this.last = this.#point(event);
    // A dot is a stroke as well: two points in one place.
    this.#add(`M${this.last.join(" ")}L${this.last.join(" ")}`);
  }

  #go(event) {
    if (!this.last) return;
    const point = this.#point(event);
    if (Math.hypot(point[0] - this.last[0], point[1] - this.last[1]) < APART) return;
    this.last = point;
    this.#add(`L${point.join(" ")}`);
  }

  #add(piece) {
    if (this.path.length + piece.length <= MOST_CHARACTERS) this.#draw(this.path + piece);
  }

  #draw(path) {
    this.path = path;
    this.line.setAttribute("d", path);
  }

  #point({ clientX, clientY }) {
    const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(/** @type {any} */ (this.field).getScreenCTM().inverse());
    const within = (value, most) => Math.round(Math.min(most, Math.max(0, value)));
    return [within(x, WIDE), within(y, HIGH)];
  }
}

/** A signature as it was given. @param {import("./payload.mjs").Said} entry @returns {HTMLElement} */
export function signature({ who, value, drawn: path }) {
  const words = value ? say("sign.signed_licence", { name: who, licence: value }) : say("sign.signed", { name: who });
  return element("p", { class: "signed" }, words,
    path ? drawn("svg", { class: "signature", viewBox: `0 0 ${WIDE} ${HIGH}`, "aria-hidden": "true" }, drawn("path", { d: path })) : null);
}
