/**
 * What is measured while a cable is pulled: which readings can be believed, and the rows that a formula is given.
 * The same as builder/compile/pull_readings.py.
 */

import { believed } from "./believed.mjs";
import { CannotTell } from "./mathematics.mjs";
import { LENGTH_IN, isMeasured, stationOf } from "./pull-steps.mjs";
import { words } from "./showing.mjs";
import { units } from "./units.mjs";
import { say } from "./words.mjs";

const ROW = { station: null, tension: null, people: null, length: null, known: null };

/**
 * One measured value as typed, ready for an environment.
 * @param {Object} pullDay of the task
 * @param {string} step
 * @param {{text: string, unit: string, known?: number|null, differ?: boolean}} given unit as UCUM
 * @returns {{text: string, quantity?: string, si?: number, known?: number|null, refused?: string}}
 */
export function pullReading(pullDay, step, given) {
  const [called, { text }] = [words(step), given];
  if (given.differ) return { text, refused: say("reading.differ", { called }) };
  for (const quantity of step === LENGTH_IN ? ["length"] : ["tension", "people"]) {
    const asked = pullDay[quantity];
    const { ucum, customary } = units[asked?.unit] ?? {};
    if (!ucum || (ucum !== given.unit && units[customary]?.ucum !== given.unit)) continue;
    const asStep = { name: step, unit: asked.unit, plausible: asked.plausible, one_of: [], text: false };
    const read = believed({ steps: [asStep] }, asStep, text, given.unit);
    return read.reason === undefined ? { text: read.text, quantity, si: read.si, known: given.known ?? null } : { text, refused: read.reason };
  }
  return { text, refused: say("reading.no_unit", { called, unit: given.unit }) };
}

/** Pulls read on a gauge, as a plot of the route takes them. @param {Object<string, Object>} readings */
export function pullsRead(readings) {
  return Object.keys(readings).filter((step) => readings[step].quantity === "tension")
    .map((step) => ({ station: stationOf(step), tension_newton: readings[step].si }));
}

/**
 * Rows by station, the length last; a first row that says nothing, since before the first reading there is a pull too.
 * @param {Object<string, Object>} readings
 */
export function pullRows(readings) {
  const rank = (step) => stationOf(step) ?? Infinity;
  const measured = Object.keys(readings).filter(isMeasured).sort((a, b) => rank(a) - rank(b));
  return [ROW, ...measured.map((step) => {
    const { refused, quantity, si, known } = readings[step];
    if (refused) throw new CannotTell(refused);
    return { ...ROW, station: stationOf(step), [quantity]: si, known };
  })];
}
