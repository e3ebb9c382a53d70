/**
 * What compiled formulas and expressions call: the arithmetic of Python's floats, failing where
 * Python fails, so that both sides give a number or both give none.
 */

import { translated } from "./words.mjs";

export const NO_ANSWER = "These numbers have no answer in this formula.";

/** A formula or expression has no answer; the message says why, to the crew. */
export class CannotTell extends Error {}

/** A value is not there: the job file or a table gives none. */
export class Missing extends CannotTell {}

/** A reading is not entered yet. */
export class NotEntered extends Missing {}

/** @param {string} reason @returns {never} */
export function cannot_tell(reason) {
  throw new CannotTell(translated(reason));
}

const noAnswer = () => cannot_tell(NO_ANSWER);

export const pi = Math.PI;

export function divide(a, b) {
  return b === 0 ? noAnswer() : a / b;
}

export function power(a, b) {
  const result = a ** b;
  if (Number.isFinite(a) && Number.isFinite(b) && !Number.isFinite(result)) noAnswer();
  return result;
}

/** A function of one number that Python's math refuses where the result is no number or too large. */
function checked(f) {
  return (x) => {
    const result = f(x);
    const spoilt = Number.isNaN(result) ? !Number.isNaN(x) : !Number.isFinite(result) && Number.isFinite(x);
    return spoilt ? noAnswer() : result;
  };
}

export const sqrt = checked(Math.sqrt);
export const exp = checked(Math.exp);
export const log = checked(Math.log);
export const sin = checked(Math.sin);
export const cos = checked(Math.cos);
export const tan = checked(Math.tan);
export const asin = checked(Math.asin);
export const acos = checked(Math.acos);
export const atan = checked(Math.atan);
export const sinh = checked(Math.sinh);
export const cosh = checked(Math.cosh);
export const asinh = checked(Math.asinh);
export const floor = (x) => (Number.isFinite(x) ? Math.floor(x) : noAnswer());
export const ceil = (x) => (Number.isFinite(x) ? Math.ceil(x) : noAnswer());
export const abs = Math.abs;
export const len = (rows) => rows.length;

/** The first of the greatest, as Python takes it; Math.max treats zero and NaN otherwise. */
export function max(first, ...others) {
  return others.reduce((best, one) => (one > best ? one : best), first);
}

export function min(first, ...others) {
  return others.reduce((best, one) => (one < best ? one : best), first);
}

/** A whole number as text. */
export function str(whole) {
  if (!Number.isSafeInteger(whole)) throw new TypeError(`${whole} is not a whole number`);
  return String(whole + 0);
}

/** What a condition asks must be true or false. */
export function truth(value) {
  if (typeof value !== "boolean") throw new TypeError(`${value} is neither true nor false`);
  return value;
}

/** A row of rows by its place, or a column of a row by its name. */
export function at(of, key) {
  const found = of[typeof key === "number" && key < 0 ? of.length + key : key];
  return found === undefined ? noAnswer() : found;
}

export function* range(start, end) {
  for (let i = start; i < end; i += 1) yield i;
}

export const ALIKE = 1e-9;

/**
 * Two numbers that differ by less than any instrument can show are one: a limit of 12.5 mm that
 * came out of a sum is met by a reading of 12.5 mm.
 */
export function alike(a, b) {
  if (typeof a !== "number" || typeof b !== "number") return a === b;
  if (!Number.isFinite(a) || !Number.isFinite(b)) noAnswer();
  return Math.abs(a - b) <= ALIKE * Math.max(Math.abs(a), Math.abs(b));
}

export const atLeast = (a, b) => alike(a, b) || a > b;
export const atMost = (a, b) => alike(a, b) || a < b;
export const above = (a, b) => !alike(a, b) && a > b;
export const below = (a, b) => !alike(a, b) && a < b;
