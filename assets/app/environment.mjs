/**
 * What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings.
 * The same as builder/compile/evaluate.py, word for word.
 */

import { call } from "./caller.mjs";
import { expressions } from "./expressions.mjs";
import { functions } from "./formulas.mjs";
import { Lookup } from "./lookup.mjs";
import { CannotTell, Missing, NotEntered } from "./mathematics.mjs";
import { formulaSource, ofWorking } from "./origin.mjs";
import { amount, filledLines, outputAmount, recordedText, wordText, words } from "./showing.mjs";
import { FIGURES, limitOf, readingText, sentence } from "./verdict.mjs";
import { local, say } from "./words.mjs";

export { plausible } from "./verdict.mjs";

/**
 * @typedef {{text: string, si?: number, unit?: string, word?: string}} Reading
 * @typedef {{si?: number, word?: string, rows?: Object[], text: string, unit?: string}} Output
 *   where rows are [{column: Output}]
 * @typedef {{name: string, symbol: string, text: string, rows?: Object[], from: string, where: string,
 *   source: string|null, basis: string, stands: string, unconfirmed: string[]}} Input
 * @typedef {{name: string, title: string, formula: string, outputs: Object<string, Output>, lines: string[],
 *   numbers: string[], inputs: Input[], source: string, basis: string, stands: "maker"|"table"|"estimate"|"job",
 *   unconfirmed: string[], cannot_tell: string|null}} Working
 * @typedef {{op: string, si: number|null, text: string, unit: string|null, margin_text: string|null,
 *   margin_ratio: number|null, margin_share: string|null, met: boolean|null, what: string, found: string|null,
 *   workings: string[]}} Limit
 * @typedef {{applies: boolean|null, applies_reason: string, verdict: "within"|"outside"|"cant-tell"|null,
 *   reason: string, limits: Limit[]}} StepState
 */

/** One sheet with its readings, ready to be asked. Never throws for anything that a person entered. */
export class Environment extends Lookup {
  #reckoned = new Map();

  /**
   * @param {string} name
   * @returns {Working} a working of this task, worked out; `unconfirmed` names each value from memory,
   *   or of grade 3, that it rests on
   */
  working(name) {
    const asked = this.task.workings[name];
    const { signature, inputs: given, values, restsOn, cannot_tell } = this.#reckon(name);
    const inputs = given.map(({ part, value, restsOn: from }) => (
      { name: part.name, symbol: part.symbol ?? "", text: inputText(part, value), ...(part.kind === "rows" && { rows: value }), ...from }
    ));
    const texts = Object.fromEntries(inputs.filter(({ symbol }) => symbol).map(({ symbol, text }) => [symbol, text]));
    /** @type {Object<string, Output>} */
    const outputs = {};
    for (const part of values ? signature.gives : []) {
      outputs[part.name] = outputOf(part, values[part.name]);
      if (part.kind === "number") texts[part.symbol] = outputs[part.name].text;
    }
    return {
      name, title: asked.title, formula: asked.formula, outputs, lines: signature.lines.map(local),
      numbers: values ? filledLines(signature, texts, values.ruled_by) : [], inputs, source: formulaSource(signature, this.sources),
      basis: restsOn.basis, stands: restsOn.stands, unconfirmed: restsOn.unconfirmed, cannot_tell,
    };
  }

  /** @param {string} name @returns {Object<string, string>} what the record says that a working came to; nothing where it can't be told */
  recorded(name) {
    const { signature, values } = this.#reckon(name);
    return values ? Object.fromEntries(signature.gives.map((part) => [part.name, recordedText(part, values[part.name])])) : {};
  }

  /**
   * Whether a step applies, and what its acceptance says.
   * @param {string} name @param {boolean} [judged] whether the acceptance is asked for as well @returns {StepState}
   */
  step(name, judged = true) {
    const step = this.task.steps.find((one) => one.name === name);
    const [applies, applies_reason] = this.condition(step.when);
    const state = { applies, applies_reason, verdict: null, reason: "", limits: [] };
    if (!judged || applies !== true || !step.accept) return state;
    const expression = expressions[step.accept];
    state.limits = this.#limits(step, expression);
    const { value: met, reason, restsOn } = this.asked(expression.value);
    if (reason !== null) return { ...state, verdict: "cant-tell", reason };
    if (restsOn.unconfirmed.length) return { ...state, verdict: "cant-tell", reason: restsOn.unconfirmed[0] };
    return { ...state, verdict: met ? "within" : "outside", reason: sentence(state.limits, met) };
  }

  /** @param {string|null} text @returns {[boolean|null, string]} a `when`, and the reason where it can't be told */
  condition(text) {
    if (!text) return [true, ""];
    const { value: met, reason, restsOn } = this.asked(expressions[text].value);
    if (reason !== null) return [null, reason];
    // A doubtful figure may ask for a step; it may not spare anyone one.
    if (!met && restsOn.unconfirmed.length) return [null, restsOn.unconfirmed[0]];
    return [met, ""];
  }

  /** A working's outputs in SI, and their origin. Throws CannotTell where it has none. */
  outputsOf(name) {
    const { values, restsOn, cannot_tell } = this.#reckon(name);
    if (cannot_tell !== null) throw new CannotTell(cannot_tell);
    return { values, restsOn };
  }

  #reckon(name) {
    if (!this.#reckoned.has(name)) {
      this.#reckoned.set(name, null);
      this.#reckoned.set(name, this.#workOut(this.task.workings[name]));
    }
    const found = this.#reckoned.get(name);
    if (found === null) throw new CannotTell(say("formula.circular", { working: this.task.workings[name].title }));
    return found;
  }

  /** A working before it is put into words. */
  #workOut(asked) {
    const signature = this.job.formulas[asked.formula];
    const inputs = [];
    let cannot_tell = null;
    for (const part of signature.inputs) {
      if (!Object.hasOwn(asked.with, part.name)) continue;
      const { value, restsOn, refusal } = this.asked(expressions[asked.with[part.name]].value);
      if (refusal) {
        // What a job or a table may lack, a formula may do without; a reading is waited for.
        const lacking = part.optional && refusal instanceof Missing && !(refusal instanceof NotEntered);
        cannot_tell ??= lacking ? null : refusal.message;
      } else {
        inputs.push({ part, value, restsOn });
      }
    }
    const given = Object.fromEntries(inputs.map(({ part, value }) => [part.name, value]));
    let values = null;
    if (cannot_tell === null) {
      const { value, reason } = this.asked(() => call(functions[asked.formula], signature, given));
      if (reason === null) values = value;
      else cannot_tell = reason;
    }
    const deciding = inputs.filter(({ part, restsOn: found }) => !(values && found.unconfirmed.length && part.optional
      && this.#sameWithout(asked.formula, signature, given, part.name, values)));
    const restsOn = ofWorking(asked, signature, deciding.map((input) => input.restsOn), values?.ruled_by, this.sources);
    return { signature, inputs, values, restsOn, cannot_tell };
  }

  /** Does a formula come to the same without one of its inputs? A doubtful value that rules nothing decides nothing. */
  #sameWithout(formula, signature, given, name, values) {
    const { [name]: _, ...others } = given;
    const { value, reason } = this.asked(() => call(functions[formula], signature, others));
    return reason === null && JSON.stringify(value) === JSON.stringify(values);
  }

  #limits(step, expression) {
    const called = step.name.replaceAll("-", "_");
    const found = [];
    for (const bound of expression.limits) {
      if (bound.name !== null && bound.name !== called) continue;
      const workings = bound.about.map((word) => word.replaceAll("_", "-")).filter((word) => Object.hasOwn(this.task.workings, word));
      const symbol = bound.name !== null ? step.unit : this.#heldIn(bound, workings);
      const held = bound.name !== null ? this.#readingHeld(step, workings) : symbol && this.#workingHeld(bound, symbol, workings);
      if (!held) continue;
      const { value, reason } = this.asked(bound.limit);
      if (reason !== null) continue; // the verdict gives the reason
      found.push(limitOf(bound.op, value, this.#part(bound.of)?.figures ?? null, symbol, held));
    }
    return found;
  }

  #readingHeld(step, workings) {
    const reading = this.readings[step.name];
    const what = words(step.name);
    return reading ? { what, value: reading.si ?? reading.word, text: readingText(step, reading), workings }
      : { what, value: null, text: null, workings };
  }

  /** The unit in which a working and its limit are shown; null where it is no working that is held. */
  #heldIn({ about, unitsOf }, workings) {
    if (about[0]?.replaceAll("_", "-") !== workings[0]) return null;
    return unitsOf.filter((path) => path.length > 0).map((path) => this.#unit(path)).find(Boolean) ?? null;
  }

  #workingHeld({ op, subject, unitsOf }, symbol, workings) {
    const { value, reason } = this.asked(subject);
    if (reason !== null) return null;
    const text = amount(value, symbol, (unitsOf[0].length > 0 && this.#part(unitsOf[0])?.figures) || FIGURES, op.startsWith("<") ? "up" : "down");
    return { what: this.task.workings[workings[0]].title, value, text, workings };
  }

  /** The unit of an output, or of a table's value. */
  #unit(path) {
    if (path[0] !== "table") return this.#part(path)?.unit ?? null;
    const table = this.job.tables[path[1].replaceAll("_", "-")];
    return (table.values ?? table.columns)[path[2]].unit ?? null;
  }

  /** An output as its formula declares it; none where the path is no working's. */
  #part(path) {
    const working = path && this.task.workings[path[0].replaceAll("_", "-")];
    return working && this.job.formulas[working.formula].gives.find((part) => part.name === path[1]);
  }
}

function inputText(part, value) {
  if (part.kind === "number") return amount(value, part.unit);
  return part.kind === "word" ? wordText(value) : say("amount.listed", { number: value.length });
}

function outputOf(part, value) {
  if (part.kind === "number") return { si: value, text: outputAmount(value, part), unit: part.unit };
  if (part.kind === "word") return { word: value, text: wordText(value) };
  const rows = value.map((row) => Object.fromEntries(part.columns.map((column) => [column.name, outputOf(column, row[column.name])])));
  return { rows, text: say("amount.listed", { number: rows.length }) };
}
