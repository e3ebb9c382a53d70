/** A reading as it was given, in the step's own unit or in the customary one. The same as `believable` at the desk. */

import { fromSi, parseNumber, toSi } from "./quantity.mjs";
import { plainText } from "./showing.mjs";
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

/** A number as somebody would have typed it. */
function typed(number, figures) {
  return plainText(number, figures, "nearest").replace("−", "-");
}
