/** Snags: raised by anyone, in words, and open until a named person says what was done. */

import { ask } from "./ask.mjs";
import { element } from "./element.mjs";
import { byLine } from "./said.mjs";
import { say } from "./words.mjs";

/** @param {Object} page the sheet's page @param {string|null} step null: the whole sheet */
export async function raiseSnag(page, step) {
  const draft = page.hand.drafts.at(`snag ${page.sheet.id} ${step ?? ""}`);
  const answer = await ask({
    question: say("snag.ask"), detail: say("snag.ask_detail"), yes: say("snag.raise_it"), draft,
    words: { label: say("snag.words"), missing: say("snag.words_missing") }, person: page.hand.person,
  }, page.hand.people);
  if (answer && await page.attempt({ kind: "snag", step, value: answer.words, waits_for: null }, answer.person)) draft.keep("");
}

async function closeSnag(snag, page) {
  const answer = await ask({
    question: say("snag.close_ask"), detail: snag.entry.value, yes: say("snag.close_yes"),
    words: { label: say("snag.close_words"), missing: say("snag.close_missing") }, person: page.hand.person,
  }, page.hand.people);
  if (answer === null) return;
  await page.attempt({ kind: "snag-closed", step: snag.entry.step, value: answer.words, about: [snag.entry.id] }, answer.person);
}

/** @param {import("./answers.mjs").Snag[]} snags @param {Object} page @returns {HTMLElement[]} */
export function snagList(snags, page) {
  return snags.map((snag) => element("div", { class: "snag", "data-closed": snag.closed !== null },
    snag.closed ? null : element("strong", {}, say("snag.open")),
    element("p", {}, snag.closed ? element("s", {}, snag.entry.value) : snag.entry.value),
    element("p", {}, byLine(snag.entry, page.hand)),
    snag.closed
      ? element("p", {}, say("snag.closed", { done: snag.closed.value }), " ", byLine(snag.closed, page.hand))
      : element("button", { type: "button", class: "quiet", click: () => closeSnag(snag, page) }, say("snag.close"))));
}
