/** Snags: raised by anyone, in words, and open until a named person says what was done. */

import { ask } from "./ask.mjs";
import { element } from "./element.mjs";
import { photoButton, photoStrip } from "./photos.mjs";
import { byLine } from "./said.mjs";
import { roles, say } from "./words.mjs";

/** @param {Object} page the sheet's page @param {string|null} step null: the whole sheet */
export async function raiseSnag(page, step) {
  const draft = page.hand.drafts.at(`snag ${page.sheet.id} ${step ?? ""}`);
  const waits = waitsForChoice(page.hand);
  const answer = await ask({
    question: say("snag.ask"), detail: say("snag.ask_detail"), yes: say("snag.raise_it"), inside: waits.node, draft,
    words: { label: say("snag.words"), missing: say("snag.words_missing") }, person: page.hand.person,
  }, page.hand.people);
  const told = { kind: "snag", step, value: answer?.words, waits_for: waits.chosen() };
  if (answer && await page.attempt(told, answer.person)) draft.keep("");
}

/** Whom it waits for: anybody the job or the record names, or a role. */
function waitsForChoice({ people, entries }) {
  const names = [...new Set([...people.map(({ name }) => name), ...entries.map(({ who }) => who)])];
  const option = (value, words) => element("option", { value }, words);
  const field = element("select", { class: "field" }, option("", say("snag.waits_for_nobody")),
    ...names.map((name) => option(name, name)), ...roles().map((role) => option(role, say(`roles.${role}`))));
  return { node: element("label", {}, element("span", { class: "label" }, say("snag.waits_for")), field), chosen: () => field.value || null };
}

/** @param {import("./payload.mjs").Said} snag @returns {HTMLElement|null} whom it waits for */
export function waitsFor({ waits_for: name }) {
  return name && element("p", { class: "waits" }, say("snag.waits", { name: roles().includes(name) ? say(`roles.${name}`) : name }));
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
    snag.closed ? null : waitsFor(snag.entry),
    element("p", {}, byLine(snag.entry, page.hand)),
    ...photoStrip(page.state.photos.filter(({ about }) => about[0] === snag.entry.id), page.hand),
    snag.closed ? element("p", {}, say("snag.closed", { done: snag.closed.value }), " ", byLine(snag.closed, page.hand)) : snagChoices(snag, page)));
}

function snagChoices(snag, page) {
  return element("div", { class: "choices" },
    photoButton(say("photo.of_snag"), { step: snag.entry.step, about: [snag.entry.id] }, page),
    element("button", { type: "button", class: "quiet", click: () => closeSnag(snag, page) }, say("snag.close")));
}
