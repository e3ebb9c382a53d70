/**
 * Values as a person reads them: amounts with units, names as words, formula lines with numbers in
 * them. The same as builder/compile/showing.py.
 */

import { functions } from "./formulas.mjs";
import { fromSi } from "./quantity.mjs";
import { units } from "./units.mjs";
import { local, plain, say } from "./words.mjs";

const { number_text, plain_text } = functions;

/** Figures of a number that is shown as it was given. */
export const AS_GIVEN = 6;
const SYMBOL = /[A-Za-z\u0391-\u03c9][A-Za-z\u0391-\u03c90-9_]*/g;
const RAISED = /^\s*(\*\*|\^|²|³)/;

/** A number as it is shown; `plainNumber` is the same as people type it and records keep it. */
export const numberText = (number, figures, side) => local(number_text(number, figures, side));
export const plainText = (number, figures, side) => local(plain_text(number, figures, side));
export { plain_text as plainNumber };

/** `length-in-hand` or `length_in_hand` as `Length in hand`. */
export function words(name) {
  const text = plain(name);
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** A word of a job, a table or a formula as text. */
export function wordText(value) {
  if (typeof value === "boolean") return say(value ? "amount.is_so" : "amount.is_not");
  return plain(value);
}

/** `single, cradled or triangular`. */
export function oneOf(names) {
  const shown = names.map(wordText);
  return shown.length === 1 ? shown[0] : say("amount.either", { others: shown.slice(0, -1).join(", "), last: shown.at(-1) });
}

/** A number's text with its unit. */
export function withUnit(text, symbol) {
  const { shown } = units[symbol];
  return shown === "°" ? text + shown : `${text} ${shown}`.trimEnd();
}

/** A number in SI as text with its unit, without zeros that only fill the figures. */
export function amount(si, symbol, figures = AS_GIVEN, side = "nearest") {
  return withUnit(plainText(fromSi(si, symbol), figures, side), symbol);
}

/** An output as its formula says that it is shown, with its unit. */
export function outputAmount(si, part) {
  return local(recordedText(part, si));
}

/** What the record says that an output came to: the same in every language, so that the desk finds the same. */
export function recordedText(part, value) {
  if (part.kind === "number") return withUnit(number_text(fromSi(value, part.unit), part.figures, part.side), part.unit);
  return part.kind === "word" ? String(value).replaceAll("_", " ").replaceAll("-", " ") : `${value.length} listed`;
}

/** `0 to 5000 m`. */
export function rangeText(part) {
  const [low, high] = [part.low, part.high].map((end) => plainText(end, AS_GIVEN, "nearest"));
  return say("amount.range", { low, high: withUnit(high, part.unit) });
}

// The rule that a formula's own line stands for, where an output says by what the result was ruled.
const BY_ITS_LINE = ["computed", "barrel", "table"];

/**
 * The formula's lines with numbers in place of symbols, left of the equals sign excepted.
 * @param {Object} signature
 * @param {Object<string, string>} texts symbol → amount; a line that names something else is left out
 * @param {string} [ruledBy] what set the result; a line that did not is left out
 * @returns {string[]}
 */
export function filledLines(signature, texts, ruledBy) {
  const filled = [];
  const rules = signature.gives.find(({ name }) => name === "ruled_by")?.one_of ?? [];
  const byLine = BY_ITS_LINE.find((rule) => rules.includes(rule)) ?? ruledBy;
  for (const line of signature.lines) {
    const at = line.indexOf(" = ");
    if (byLine !== ruledBy && line.slice(0, at) === signature.gives[0].symbol) continue;
    const right = line.slice(at + 3);
    const named = new Set(right.match(SYMBOL) ?? []);
    if (at < 0 || signature.symbols.some((symbol) => named.has(symbol) && !Object.hasOwn(texts, symbol))) continue;
    const put = right.replace(SYMBOL, (symbol, place) => {
      if (!Object.hasOwn(texts, symbol)) return symbol;
      const text = texts[symbol];
      const raised = text.includes(" ") && RAISED.test(right.slice(place + symbol.length));
      return text.startsWith("−") || raised ? `(${text})` : text;
    });
    filled.push(local(line.slice(0, at + 3) + put));
  }
  return filled;
}
