/** What the app must have from the browser before it may say that it keeps a record. */

import { element, part } from "./element.mjs";
import { say } from "./words.mjs";

/**
 * @param {{isSecureContext: boolean, crypto?: Crypto, indexedDB?: IDBFactory, navigator: Navigator}} place
 * @returns {string[]} what is missing, as names of the app's words
 */
export function missingHere(place) {
  const missing = [];
  if (!place.isSecureContext) missing.push("lacks.secure");
  if (!place.crypto?.subtle) missing.push("lacks.signing");
  if (!place.indexedDB) missing.push("lacks.store");
  if (!place.navigator.serviceWorker) missing.push("lacks.worker");
  return missing;
}

/** @param {string[]} missing */
export function showMissing(missing) {
  notice(say("lacks.title"), ...missing.map((reason) => say(reason)), say("lacks.what_now"));
}

/**
 * A notice above everything else; it stays until the page is opened again.
 * @param {string} title @param {...(string|Node|null)} lines @returns {HTMLElement}
 */
export function notice(title, ...lines) {
  const shown = element("section", { class: "notice", role: "alert" }, element("h2", {}, title),
    ...lines.map((line) => (typeof line === "string" ? element("p", {}, line) : line)));
  part(document, "notices").append(shown);
  return shown;
}
