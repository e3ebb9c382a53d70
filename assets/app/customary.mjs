/**
 * For crews that work in feet and pounds: beside every metric quantity in a sentence stands the same in theirs.
 *
 * What is worked out has it beside it from the start, rounded to its safe side. This is for what comes written: the
 * words of a library, of a job, of somebody's note.
 */

import { beside } from "./showing.mjs";
import { toSi } from "./quantity.mjs";
import { units } from "./units.mjs";

const SHOWN = new Map(Object.entries(units).filter(([, unit]) => unit.customary).map(([symbol, unit]) => [unit.shown, symbol]));
const LONGEST_FIRST = [...SHOWN.keys()].sort((a, b) => b.length - a.length).map((shown) => shown.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&"));
const OTHERS = [...new Set(Object.values(units).map(({ customary }) => customary).filter(Boolean))].map((symbol) => units[symbol].shown).join("|");
const QUANTITY = new RegExp(`(?<![\\w.,])([+\u2212-]?\\d+(?:[.,]\\d+)?)[ \u00a0](${LONGEST_FIRST.join("|")})(?![\\w/\u00b7\u00b2\u00b3^]| \\([^()]*(?:${OTHERS})\\))`, "gu");

/** @param {string} text @returns {string} the text with each metric quantity in feet and pounds beside it */
export function withCustomary(text) {
  return text.replace(QUANTITY, (found, written, shown) => {
    const symbol = SHOWN.get(shown);
    return found + beside(toSi(Number(written.replace("\u2212", "-").replace(",", ".")), symbol), symbol, written, "nearest");
  });
}

/** Watches a part of the page and puts the customary quantity beside each metric one that comes. @param {Node} root */
export function readInCustomary(root) {
  const written = new WeakMap();
  const read = (node) => {
    if (written.get(node) === node.data || ["SCRIPT", "STYLE", "TEXTAREA", "OPTION"].includes(node.parentElement?.tagName)) return;
    const text = withCustomary(node.data);
    written.set(node, text);
    if (text !== node.data) node.data = text;
  };
  const readAll = (node) => {
    if (node.nodeType === Node.TEXT_NODE) read(node);
    else node.childNodes.forEach(readAll);
  };
  readAll(root);
  new MutationObserver((changes) => changes.forEach(({ target, addedNodes }) => {
    if (target.nodeType === Node.TEXT_NODE) read(target);
    addedNodes.forEach(readAll);
  })).observe(root, { childList: true, subtree: true, characterData: true });
}
