/**
 * What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings.
 * The same as builder/compile/evaluate.py, word for word.
 */

/**
 * @typedef {{text: string, si?: number, unit?: string, word?: string}} Reading
 * @typedef {{si?: number, word?: string, rows?: Object[], text: string, unit?: string}} Output
 * @typedef {{name: string, symbol: string, text: string, from: string, where: string, source: string|null, basis: string}} Input
 * @typedef {{name: string, title: string, formula: string, outputs: Object<string, Output>, lines: string[],
 *   numbers: string[], inputs: Input[], source: string, basis: string, unconfirmed: string[],
 *   cannot_tell: string|null}} Working
 * @typedef {{op: string, si: number|null, text: string, unit: string|null, margin_text: string|null,
 *   margin_ratio: number|null}} Limit
 * @typedef {{applies: boolean|null, applies_reason: string, verdict: "within"|"outside"|"cant-tell"|null,
 *   reason: string, limits: Limit[]}} StepState
 */

/** One sheet with its readings, ready to be asked. Never throws for anything that a person entered. */
export class Environment {
  /**
   * @param {Object} job job.json
   * @param {Object} sheet the sheet as job.json has it: at least task, kind and item
   * @param {Object<string, Reading>} readings step name → the answer that stands
   */
  constructor(job, sheet, readings) {
    Object.assign(this, { job, sheet, readings });
  }

  /** @param {string} name @returns {Working} a working of this task, worked out */
  working(name) {}

  /** @param {string} name @returns {StepState} whether a step applies, and what its acceptance says */
  step(name) {}

  /** @param {string|null} text @returns {[boolean|null, string]} a `when`, and the reason where it can't be told */
  condition(text) {}
}

/** @returns {{si?: number, word?: string, text?: string, reason?: string}} a typed reading, or why it is refused */
export function plausible(task, step, text) {}
