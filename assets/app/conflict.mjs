/** Two answers that did not know of each other, side by side, until a named person settles which one stands. */

import { ask } from "./ask.mjs";
import { element } from "./element.mjs";
import { answerText, byLine } from "./said.mjs";
import { verdictSign } from "./verdict-sign.mjs";
import { say } from "./words.mjs";

/**
 * @param {import("./payload.mjs").Said[]} heads the answers that differ
 * @param {Object} step @param {Object} page the sheet's page
 * @returns {HTMLElement}
 */
export function showConflict(heads, step, page) {
  return element("div", { class: "conflict" },
    element("strong", {}, say("conflict.title")),
    element("p", {}, say("conflict.detail")),
    ...heads.map((head) => element("div", { class: "side" },
      element("p", { class: "given" }, element("b", {}, answerText(head, step, page.hand)), " ", byLine(head, page.hand),
        page.hand.phoneName(head.dev) === null ? element("span", { class: "by" }, say("conflict.this_phone")) : null),
      ...(head.shown?.verdict ? [verdictSign(head.shown.verdict, "")] : []),
      element("button", { type: "button", click: () => settle(head, heads, step, page) }, say("conflict.keep")))));
}

async function settle(head, heads, step, page) {
  const answer = await ask({
    question: say("conflict.ask"), detail: answerText(head, step, page.hand), yes: say("conflict.settle"), person: page.hand.person,
  }, page.hand.people);
  if (answer === null) return;
  await page.attempt({ kind: "settle", step: step.name, value: head.id, about: heads.map((one) => one.id) }, answer.person);
}
