/** A verdict as a shape and a word: a dot between two posts, a dot outside them, or posts with no dot. */

import { drawn, element } from "./element.mjs";
import { say, unbroken } from "./words.mjs";

const SHAPES = {
  within: () => [posts(8, 36), drawn("circle", { class: "dot", cx: 22, cy: 14, r: 7 })],
  outside: () => [posts(4, 24), drawn("circle", { class: "dot", cx: 37, cy: 14, r: 7 })],
  "cant-tell": () => [posts(8, 36), drawn("path", { d: "M18 11c0-6 9-6 9-.5 0 3.5-4.5 3.500-4.5 7M22.5 22v.5" })],
};

const NAMES = { within: "step.within", outside: "step.outside", "cant-tell": "step.cant_tell" };

function posts(left, right) {
  return drawn("path", { d: `M${left} 3v22M${right} 3v22` });
}

/** @param {"within"|"outside"|"cant-tell"} verdict */
export function verdictWord(verdict) {
  return say(NAMES[verdict]);
}

/**
 * @param {"within"|"outside"|"cant-tell"} verdict @param {string} reason one or more whole sentences
 * @returns {HTMLElement}
 */
export function verdictSign(verdict, reason) {
  return element("div", { class: "verdict", "data-verdict": verdict },
    drawn("svg", { viewBox: "0 0 44 28", "aria-hidden": "true" }, ...SHAPES[verdict]()),
    element("strong", {}, verdictWord(verdict)),
    reason ? element("p", {}, unbroken(reason)) : null);
}
