/**
 * A pull while it runs, from entries: what stands of what was measured, and the stops that nobody has lifted.
 * The same as builder/record/pull_day.py, word for word.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {{text: string, unit: string|null, known: number|null, differ: boolean}} Measured
 *   known: highest station that the phone already held when this was read first; a length, when it was last read.
 *   differ: two phones read it and neither knew of the other.
 */

import { LENGTH_IN, isMeasured, stationOf } from "./pull-steps.mjs";

/**
 * @param {{past: (one: Said, other: Said) => boolean, answer: (said: Said[]) => any}} told
 * @param {Said[]} entries
 * @returns {Object<string, Measured>} step → what stands
 */
export function measuredIn(told, entries) {
  /** @type {Object<string, Said[]>} */
  const said = {};
  for (const entry of entries) if (isMeasured(entry.step)) (said[entry.step] ??= []).push(entry);
  const standing = Object.fromEntries(Object.keys(said).sort().map((step) => [step, told.answer(said[step])]));
  /** @type {Object<string, Measured>} */
  const found = {};
  for (const [step, { state, answer, heads }] of Object.entries(standing)) {
    if (state === "open") continue;
    const head = answer ?? heads.at(-1);
    const readings = step === LENGTH_IN ? [head] : said[step].filter(({ kind }) => kind === "measured");
    const known = Object.keys(standing).filter((other) => other !== step && other !== LENGTH_IN
      && standing[other].state !== "open" && wasBefore(told, said[other], readings)).map(stationOf);
    found[step] = {
      text: head.value, unit: head.unit, known: known.length > 0 ? Math.max(...known) : null, differ: state === "conflict",
    };
  }
  return found;
}

/** Did one reading that was not taken back stand before every one of these was made? */
function wasBefore(told, said, readings) {
  const takenBack = takenBackIn(said);
  return said.some((one) => one.kind === "measured" && !takenBack.has(one.id)
    && readings.every((reading) => told.past(one, reading)));
}

/** Stops that were called and not taken back, and that no word to go on has seen. @param {Said[]} said */
export function stopsIn(told, said) {
  const takenBack = takenBackIn(said);
  const standing = (kind) => said.filter((entry) => entry.kind === kind && !takenBack.has(entry.id));
  const lifted = standing("go");
  return standing("stop").filter((stop) => !lifted.some((go) => told.past(stop, go)));
}

function takenBackIn(said) {
  return new Set(said.filter(({ kind }) => kind === "withdraw").map(({ about }) => about[0]));
}
