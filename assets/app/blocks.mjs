/** What is in the way, each line a link to the place where it gets cleared. */

import { element } from "./element.mjs";
import { say, unmarked } from "./words.mjs";

/**
 * @param {import("./progress.mjs").Block[]} blocks @param {import("./job-in-hand.mjs").JobInHand} hand
 * @returns {HTMLElement[]}
 */
export function blockList(blocks, hand) {
  return [
    element("p", { class: "blocks-title" }, say("hold.blocked", { count: blocks.length })),
    element("ul", { class: "blocks" }, ...blocks.map((block) => element("li", { "data-kind": block.kind },
      element("a", { href: placeOf(block, hand) }, unmarked(block.say))))),
  ];
}

/** @returns {string} the address of a step, or of a sheet where the block names no step, or of a point's locks */
export function placeOf({ sheet, step }, hand) {
  if (sheet.startsWith("locks/")) return new URL(`locks.html#${encodeURIComponent(sheet.slice(6))}`, hand.site).href;
  const { task, item } = hand.sheets.get(sheet);
  const place = [item, step].filter(Boolean).map(encodeURIComponent).join("/");
  return new URL(`tasks/${task}.html#${place}`, hand.site).href;
}
