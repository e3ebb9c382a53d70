/**
 * Values as a person reads them: amounts with units, names as words, formula lines with numbers in
 * them. The same as builder/compile/showing.py.
 */

import { functions } from "./formulas.mjs";
import { fromSi, toSi } from "./quantity.mjs";
import { units } from "./units.mjs";
import { local, plain, say } from "./words.mjs";

const { number_text, plain_text } = functions;

/** Figures of a number that is shown as it was given. */
export const AS_GIVEN = 6;
/** Fewest figures of what stands beside a metric amount: a limit that is rounded to its safe side gives little away. */
const BESIDE = 4;
let customary = false;
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

/** From now on every amount has feet and pounds beside it, for a crew that works in them. @param {boolean} whether */
export function showCustomary(whether) {
  customary = whether;
}

/** The unit in which a number that stands alone is shown: on a scale, at the head of a column. @param {string} symbol */
export function shownIn(symbol) {
  return (customary && units[symbol].customary) || symbol;
}

/**
 * ` (151 ft)`: what stands beside a metric amount, rounded to the same side; nothing where it is the same for everybody.
 * @param {number} si @param {string} symbol @param {string} written the metric number, which says how many figures count
 * @param {string} side @param {boolean} [difference] whether it is the distance between two: a degree of room is no temperature
 */
export function beside(si, symbol, written, side, difference = false) {
  const other = shownIn(symbol);
  if (other === symbol) return "";
  const figures = Math.max(BESIDE, written.replace(/[^0-9]/g, "").replace(/^0+/, "").length);
  return ` (${withUnit(plainText(difference ? si / units[other].factor : fromSi(si, other), figures, side), other)})`;
}

/** A number in SI as text with its unit, without zeros that only fill the figures. */
export function amount(si, symbol, figures = AS_GIVEN, side = "nearest") {
  return besideIts(plainText(fromSi(si, symbol), figures, side), si, symbol, side);
}

/** A metric number as it is written, with its unit and what stands beside it. */
export function besideIts(written, si, symbol, side) {
  return withUnit(written, symbol) + beside(si, symbol, written, side);
}

/** An output as its formula says that it is shown, with its unit. */
export function outputAmount(si, part) {
  const text = local(recordedText(part, si));
  return part.kind === "number" ? text + beside(si, part.unit, text.split(" ")[0], part.side) : text;
}

/** What the record says that an output came to: the same in every language, so that the desk finds the same. */
export function recordedText(part, value) {
  if (part.kind === "number") return withUnit(number_text(fromSi(value, part.unit), part.figures, part.side), part.unit);
  return part.kind === "word" ? String(value).replaceAll("_", " ").replaceAll("-", " ") : `${value.length} listed`;
}

/** `0 to 5000 m`. */
export function rangeText({ low, high, unit }) {
  return spanText("amount.range", low, high, unit);
}

/** Two numbers of one unit in the words of a place: `1 and 2000 m`. */
export function spanText(place, low, high, symbol) {
  const written = (unit, figures) => {
    const [least, most] = [low, high].map((end) => plainText(fromSi(toSi(end, symbol), unit), figures, "nearest"));
    return say(place, { low: least, high: withUnit(most, unit) });
  };
  const other = shownIn(symbol);
  return written(symbol, AS_GIVEN) + (other === symbol ? "" : ` (${written(other, BESIDE)})`);
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
