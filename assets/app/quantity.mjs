/** Quantities: a number with a unit, as a person writes it and as SI. The same as builder/quantity.py. */

import { units } from "./units.mjs";

// The blanks that a keyboard or a copied text brings along; both languages strip exactly these.
const BLANKS = /^[ \t\r\n\u00a0\u202f]+|[ \t\r\n\u00a0\u202f]+$/g;
const NUMBER = /^[+-]?[0-9]+([.,][0-9]+)?$/;
const QUANTITY = /^([+-]?[0-9]+(?:[.,][0-9]+)?)[ \t\u00a0\u202f]*(\S.*)?$/;

// A comma before three digits is a thousand to half the world and a decimal to the other half.
const TWO_WAYS = /^[+-]?[1-9][0-9]{0,2},[0-9]{3}$/;

/** @param {string} text @returns {string} the text without blanks at its ends */
export function stripped(text) {
  return text.replace(BLANKS, "");
}

/** Does a typed number mean one thing to half the world and a thousand times that to the other? */
export function readsTwoWays(text) {
  return TWO_WAYS.test(stripped(text));
}

/**
 * The number that a person typed: digits, with a point or a comma before the decimals.
 * @param {string} text
 * @returns {number|null} null where it is no such number
 */
export function parseNumber(text) {
  const typed = stripped(text);
  if (!NUMBER.test(typed) || readsTwoWays(typed)) return null;
  const number = Number(typed.replace(",", "."));
  return Number.isFinite(number) ? number : null;
}

/**
 * @param {string} text such as `46 m`; a bare number has the unit `1`
 * @returns {{si: number, unit: string, text: string}|null} null where it is no quantity
 */
export function parseQuantity(text) {
  const typed = stripped(text);
  const [, number, symbol = "1"] = QUANTITY.exec(typed) ?? [];
  if (number === undefined || !Object.hasOwn(units, symbol) || parseNumber(number) === null) return null;
  return { si: toSi(parseNumber(number), symbol), unit: symbol, text: typed };
}

/** A number in a unit, as SI. */
export function toSi(number, symbol) {
  return number * units[symbol].factor + units[symbol].offset;
}

/** An SI number, in a unit. */
export function fromSi(si, symbol) {
  return (si - units[symbol].offset) / units[symbol].factor;
}
