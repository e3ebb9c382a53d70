/** Signatures under a release or a closing: shown, and given by the person who is named there. */

import { ask } from "./ask.mjs";
import { element } from "./element.mjs";
import { signature, SignPad } from "./sign-pad.mjs";
import { say } from "./words.mjs";

/**
 * The signatures under an entry, or else the button to give one.
 * @param {import("./payload.mjs").Said} entry a release or a closing @param {Object} page the sheet's page
 * @returns {HTMLElement[]}
 */
export function signing(entry, page) {
  const given = page.state.signatures.filter(({ about }) => about[0] === entry.id);
  if (given.length > 0) return given.map(signature);
  return [element("button", { type: "button", class: "quiet", click: () => sign(entry, page) }, say("sign.sign"))];
}

/** Asks for the signature of the person who said `entry`. */
async function sign(entry, page) {
  const pad = new SignPad();
  await ask({
    question: say("sign.ask", { name: entry.who }), detail: say("sign.ask_detail"), inside: pad.node, yes: say("sign.yes"),
    refuse: () => tellSigned(entry, pad, page).then(() => null, (problem) => problem.message),
  }, page.hand.people);
}

/** @param {import("./payload.mjs").Said} entry @param {SignPad} pad @param {Object} page */
export function tellSigned(entry, pad, page) {
  return page.tell({ kind: "signed", step: entry.step, about: [entry.id], ...pad.signed }, { name: entry.who });
}
