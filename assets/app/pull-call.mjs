/** What the pull screen says largest: a sign of its own shape, a word across the whole width, and why. */

import { drawn, element } from "./element.mjs";
import { amount } from "./showing.mjs";
import { moment, say } from "./words.mjs";

/** Moving on, creeping, an eight-sided stop, a broken ring where nothing is measured, a lozenge where nothing can be told. */
const SIGNS = {
  go_on: "M8 10l14 14L8 38M26 10l14 14-14 14",
  ease_it: "M24 5l21 38H3Z",
  stop: "M15 3h18l12 12v18L33 45H15L3 33V15Z",
  not_measured: "M24 4a20 20 0 0 1 17 10M44 24a20 20 0 0 1-10 17M24 44a20 20 0 0 1-17-10M4 24a20 20 0 0 1 10-17",
  cant_tell: "M24 3 45 24 24 45 3 24Z",
  shut: "M4 12h40M4 36h40M12 12v24M24 12v24M36 12v24",
};
/** What is said because of a limit, so that the limit is named. */
const RULED = ["within", "later_too_much", "next_too_much", "too_much"];
const RADIO = { go_on: "go-on", ease_it: "ease-it", stop: "stop" };

/**
 * @typedef {Object} Call
 * @property {keyof typeof SIGNS} call
 * @property {string} word       as said over the radio
 * @property {string[]} reasons  whole sentences
 */

/**
 * What is to be said now. A person's stop stands before every sum, and a shut gate before that.
 * @param {import("./progress.mjs").SheetState} state @param {Object} day the task's pull day
 * @param {import("./job-in-hand.mjs").JobInHand} hand
 * @returns {Call}
 */
export function callNow(state, day, hand) {
  const working = state.environment.working(day.call);
  const reckoned = /** @type {Call} */ (reckonedCall(working, day));
  if (state.stops.length > 0) {
    const called = state.stops.map(({ who, at, value }) => say(value ? "pull.stopped_why" : "pull.stopped", { who, time: moment(at, hand.now()), why: value }));
    return { call: "stop", word: day.radio.stop.say, reasons: [...called, ...(reckoned.call === "stop" ? reckoned.reasons : [])] };
  }
  if (!state.holds[day.after].in_force) return { call: "shut", word: say("pull.shut"), reasons: [say("pull.shut_why")] };
  return reckoned;
}

function reckonedCall({ outputs, cannot_tell }, day) {
  if (cannot_tell) return { call: "cant_tell", word: say("pull.cant_tell"), reasons: [cannot_tell, say("pull.until_told")] };
  const call = /** @type {keyof typeof SIGNS} */ (outputs.call.word);
  const word = call in RADIO ? day.radio[RADIO[call]].say : say(`pull.${call}`);
  const at = (name) => inGauge(outputs[name].si, day, name === "stop_at" || name === "limit" ? "down" : "up");
  const numbers = {
    station: outputs.where.text, next: at("next_tension"), most: at("highest_tension"), now: at("pull_now"), line: at("stop_at"),
    limit: at("limit"), ruled_by: say(`pull.ruled_by.${outputs.ruled_by.word}`), ruled_at: outputs.ruled_at.text,
  };
  const reasons = [say(`pull.because.${outputs.because.word}`, numbers)];
  if (call === "cant_tell") reasons.push(say("pull.until_told"));
  else if (RULED.includes(outputs.because.word)) reasons.push(say("pull.ruled", numbers));
  return { call, word, reasons };
}

/** A pull in the gauge's own unit. */
export function inGauge(si, day, side) {
  return amount(si, day.tension.unit, 3, side);
}

/**
 * Draws a call into its place. The word is drawn as wide as the place is, whatever the word.
 * @param {HTMLElement} place @param {Call} call @param {...(Node|null)} below
 */
export function showCall(place, { call, word, reasons }, ...below) {
  place.dataset.call = call;
  const text = /** @type {SVGTextElement} */ (drawn("text", { y: 80, "font-size": 100 }));
  const lines = word.toUpperCase().split(" ").map((line, at) => drawn("tspan", { x: 0, dy: at === 0 ? 0 : 84 }, line));
  text.append(...lines);
  const large = drawn("svg", { class: "word", role: "img", "aria-label": word }, text);
  place.replaceChildren(
    drawn("svg", { class: "sign", viewBox: "0 0 48 48", "aria-hidden": "true" }, drawn("path", { d: SIGNS[call] })),
    large, ...reasons.map((reason) => element("p", {}, reason)), ...below.filter(Boolean));
  const { x, width } = text.getBBox();
  // A short word would otherwise fill the screen from top to bottom.
  const wide = Math.max(width, 250);
  large.setAttribute("viewBox", `${x} 4 ${wide} ${84 * lines.length + 2}`);
}
