/** A reading as it was given, in the step's own unit or in the customary one. The same as `believable` at the desk. */

import { fromSi, parseNumber, stripped, toSi } from "./quantity.mjs";
import { plainNumber, words } from "./showing.mjs";
import { decimalSign, say } from "./words.mjs";
import { units } from "./units.mjs";
import { plausible } from "./verdict.mjs";

/**
 * @param {Object} task @param {Object} step @param {string} text as typed @param {string|null} ucum
 * @returns {Object} {si, text} or {word, text} where it can be believed, else {reason}
 */
export function believed(task, step, text, ucum) {
  if (ucum === (step.unit ? units[step.unit].ucum : null)) return plausible(task, step.name, text);
  const other = step.unit ? units[step.unit].customary : null;
  if (!other || ucum !== units[other].ucum) return { reason: "" };
  const number = parseNumber(text);
  if (number === null) return plausible(task, step.name, text);
  const si = toSi(number, other);
  const own = fromSi(si, step.unit);
  const read = plausible(task, step.name, typed(own, 12));
  return read.reason === undefined ? { si, text: typed(own, 5) } : read;
}

// Where decimals have a comma, a point before three digits is a thousand to many.
const POINT_AND_THREE = /^[+-]?[1-9][0-9]{0,2}\.[0-9]{3}$/;

/** Why a number that is typed now can be read two ways in the language of the screen; null where it can't. */
export function twoWays(step, text) {
  const typed = stripped(text);
  return step.unit && decimalSign() === "," && POINT_AND_THREE.test(typed) ? say("reading.two_ways", { called: words(step.name), typed }) : null;
}

/** A number as somebody would have typed it. */
function typed(number, figures) {
  return plainNumber(number, figures, "nearest").replace("−", "-");
}
