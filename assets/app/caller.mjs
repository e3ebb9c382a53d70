/**
 * Calling a formula: inputs held against its signature, outputs too, a reason where there is no
 * answer. The same as builder/compile/caller.py.
 */

import { ALIKE, CannotTell, NO_ANSWER, cannot_tell } from "./mathematics.mjs";
import { amount, oneOf, rangeText, words } from "./showing.mjs";
import { say } from "./words.mjs";

/**
 * A formula's outputs by name, in SI. Throws CannotTell with a sentence wherever there is no answer.
 * @param {Function} formula
 * @param {Object} signature
 * @param {Object<string, any>} given input name → number in SI, word, list of rows; absent or null where there is none
 */
export function call(formula, signature, given) {
  const taken = signature.inputs.map((part) => taking(part, given[part.name] ?? null, words(part.name)));
  let result = formula(...taken);
  const { gives } = signature;
  if (result === null || typeof result !== "object") result = { [gives[0].name]: result };
  return Object.fromEntries(gives.map((part) => [part.name, givingBack(part, result[part.name], words(part.name))]));
}

function taking(part, value, called) {
  if (value === null) {
    if (part.optional) return null;
    throw new CannotTell(say("formula.not_given", { called }));
  }
  if (part.kind === "number") {
    if (typeof value !== "number" || !Number.isFinite(value)) throw new CannotTell(say("formula.no_number", { called }));
    if (!within(part, value)) {
      throw new CannotTell(say("formula.out_of_range", { called, amount: amount(value, part.unit), range: rangeText(part) }));
    }
    return value;
  }
  if (part.kind === "word") {
    if (!part.one_of.includes(value)) {
      throw new CannotTell(say("formula.other_word", { called, word: value, words: oneOf(part.one_of) }));
    }
    return value;
  }
  if (value.length === 0) throw new CannotTell(say("formula.nothing_listed", { called }));
  return value.map((row, index) => Object.fromEntries(part.columns.map((column) => {
    const where = say("formula.row", { called, row: index + 1, column: words(column.name).toLowerCase() });
    return [column.name, taking(column, row[column.name] ?? null, where)];
  })));
}

function givingBack(part, value, called) {
  if (part.kind === "rows") {
    return value.map((row) => Object.fromEntries(
      part.columns.map((column) => [column.name, givingBack(column, row[column.name], called)]),
    ));
  }
  if (part.kind === "word") return value;
  if (!Number.isFinite(value)) cannot_tell(NO_ANSWER);
  if (!within(part, value)) {
    throw new CannotTell(say("formula.untrusted", { called, amount: amount(value, part.unit), range: rangeText(part) }));
  }
  return value + 0; // no minus zero
}

function within(part, value) {
  const { low_si: low, high_si: high } = part;
  return low - ALIKE * Math.abs(low) <= value && value <= high + ALIKE * Math.abs(high);
}
