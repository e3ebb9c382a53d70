/**
 * For crews that work in feet and pounds: beside every metric quantity on the screen stands the same in theirs.
 *
 * Limits and verdicts are worked out in SI and stay as they are; what stands beside them is to read by. Wherever a
 * text comes from, it passes here, so that none is forgotten.
 */

import { plainText } from "./showing.mjs";
import { fromSi, toSi } from "./quantity.mjs";
import { units } from "./units.mjs";

const SHOWN = new Map(Object.entries(units).filter(([, unit]) => unit.customary).map(([symbol, unit]) => [unit.shown, symbol]));
const LONGEST_FIRST = [...SHOWN.keys()].sort((a, b) => b.length - a.length).map((shown) => shown.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&"));
const QUANTITY = new RegExp(`(?<![\\w.,])([+\u2212-]?\\d+(?:[.,]\\d+)?)[ \u00a0](${LONGEST_FIRST.join("|")})(?![\\w/\u00b7\u00b2\u00b3^])`, "gu");

/** @param {string} text @returns {string} the text with each metric quantity in feet and pounds beside it */
export function withCustomary(text) {
  return text.replace(QUANTITY, (found, number, shown) => `${found} (${inCustomary(number, SHOWN.get(shown))})`);
}

function inCustomary(written, symbol) {
  const number = Number(written.replace("\u2212", "-").replace(",", "."));
  const other = units[symbol].customary;
  const figures = Math.max(3, written.replace(/[^0-9]/g, "").replace(/^0+/, "").length);
  return `${plainText(fromSi(toSi(number, symbol), other), figures, "nearest")} ${units[other].shown}`;
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
