/**
 * What an acceptance says of a reading: its limits, the room that is left, and one sentence.
 * The same as builder/compile/verdict.py.
 */

import { above, alike, atLeast, atMost, below } from "./mathematics.mjs";
import { marginShare, shareText } from "./margin.mjs";
import { fromSi, parseNumber, readsTwoWays, stripped, toSi } from "./quantity.mjs";
import { beside, besideIts, numberText, oneOf, plainText, spanText, withUnit, words } from "./showing.mjs";
import { units } from "./units.mjs";
import { local, nameOf, say } from "./words.mjs";

const COMPARED = { ">=": atLeast, ">": above, "<=": atMost, "<": below, "==": alike, "!=": (a, b) => !alike(a, b) };
const MUST_BE = { ">=": "at_least", ">": "more_than", "<=": "at_most", "<": "less_than", "==": "exactly", "!=": "other_than" };
// A least value is shown no lower than it is, a greatest no higher.
const SIDE = { ">=": "up", ">": "up", "<=": "down", "<": "down", "==": "nearest", "!=": "nearest" };
/** Figures of a limit that no working sets, and of what is held against a limit. */
export const FIGURES = 4;
const LONGEST_TEXT = 200;

/**
 * What is held against a limit: a reading, or what a working comes to.
 * @typedef {{what: string, value: number|string|null, text: string|null, workings: string[]}} Held
 */

/**
 * One limit as the sheet shows it.
 * @param {string} op @param {any} value @param {number|null} figures those of the working that sets it
 * @param {string|null} symbol of the unit that it is shown in @param {Held} held
 * @returns {import("./environment.mjs").Limit}
 */
export function limitOf(op, value, figures, symbol, held) {
  const limit = {
    op, si: null, text: (typeof value === "string" && nameOf(value)) || String(value), unit: null, margin_text: null, margin_ratio: null, margin_share: null, met: null,
    what: held.what, found: held.text, workings: held.workings,
  };
  if (typeof value !== "number") return { ...limit, met: held.text !== null && COMPARED[op](held.value, value) };
  const unit = units[symbol];
  const number = fromSi(value, symbol);
  const text = figures === null ? plainText(number, FIGURES, SIDE[op]) : numberText(number, figures, SIDE[op]);
  Object.assign(limit, { si: value, text: besideIts(text, value, symbol, SIDE[op]), unit: symbol });
  if (typeof held.value === "number") {
    limit.met = COMPARED[op](held.value, value);
    if (op !== "==" && op !== "!=") {
      const room = op === ">=" || op === ">" ? held.value - value : value - held.value;
      limit.margin_text = marginText(op, room, held.value, value, symbol);
      // A share of a temperature on a scale means nothing.
      limit.margin_ratio = value !== 0 && unit.offset === 0 ? room / Math.abs(value) : null;
      limit.margin_share = marginShare(op, limit.margin_ratio);
    }
  }
  return limit;
}

function marginText(op, room, reading, limit, symbol) {
  if (alike(reading, limit)) return say("verdict.nothing_to_spare");
  // A difference has no offset: 3 °C of room are 3 °C, not −270.
  const side = room > 0 ? "down" : "up";
  const text = plainText(Math.abs(room) / units[symbol].factor, 3, side);
  const amount = withUnit(text, symbol) + beside(Math.abs(room), symbol, text, side, true);
  if (room > 0) return say("verdict.to_spare", { room: amount });
  return say(op === ">=" || op === ">" ? "verdict.short" : "verdict.over", { room: amount });
}

/** What an acceptance says, in one sentence: the limit that fails, or else the first. */
export function sentence(limits, met) {
  const shown = limits.find((limit) => limit.met === met && limit.found !== null);
  if (!shown) return say(met ? "verdict.met" : "verdict.not_met");
  const share = shareText(shown.margin_ratio);
  const place = !shown.margin_text ? "told" : share ? "told_share" : "told_room";
  return say(`verdict.${place}`, { what: shown.what, found: shown.found, wanted: mustBe(shown), room: shown.margin_text, share });
}

/** `at least 5.2 kN` */
export function mustBe({ op, text }) {
  return say(`verdict.${MUST_BE[op]}`, { limit: text });
}

/** A reading as it was typed, with its unit. */
export function readingText(step, reading) {
  return typeof reading.si === "number" ? besideIts(local(reading.text), reading.si, step.unit, "nearest") : reading.text;
}

/**
 * A typed reading where it can be believed, else the reason.
 * @param {Object} task
 * @param {string} stepName
 * @param {string} text as typed
 * @returns {{si?: number, word?: string, text?: string, reason?: string}}
 */
export function plausible(task, stepName, text) {
  const step = task.steps.find(({ name }) => name === stepName);
  const called = words(stepName);
  const typed = stripped(text);
  if (step.one_of?.length) {
    return step.one_of.includes(typed) ? { word: typed, text: typed } : { reason: say("reading.choose", { called, words: oneOf(step.one_of) }) };
  }
  if (step.text) {
    const length = [...typed].length;
    if (length > 0 && length <= LONGEST_TEXT) return { word: typed, text: typed };
    return { reason: say("reading.write", { called, most: LONGEST_TEXT }) };
  }
  const [low, high] = step.plausible;
  const span = spanText("amount.between", low, high, step.unit);
  if (readsTwoWays(typed)) return { reason: say("reading.two_ways", { called, typed }) };
  const number = parseNumber(typed);
  if (number === null) return { reason: say("reading.number", { called, span }) };
  if (!(low <= number && number <= high)) {
    return { reason: say("reading.absurd", { called, typed: besideIts(typed, toSi(number, step.unit), step.unit, "nearest"), span }) };
  }
  return { si: toSi(number, step.unit), text: typed };
}
