/**
 * What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings.
 * The same as builder/compile/evaluate.py, word for word.
 */

import { call } from "./caller.mjs";
import { expressions } from "./expressions.mjs";
import { functions, signatures } from "./formulas.mjs";
import { CannotTell, Missing, NotEntered, alike, atLeast } from "./mathematics.mjs";
import {
  ASK, formulaSource, formulaUnconfirmed, fromJob, fromLibrary, fromReading, fromTable, fromWorking, together, weakest,
} from "./origin.mjs";
import { parseQuantity } from "./quantity.mjs";
import { amount, filledLines, outputAmount, words } from "./showing.mjs";
import { limitOf, sentence } from "./verdict.mjs";

export { plausible } from "./verdict.mjs";

/**
 * @typedef {{text: string, si?: number, unit?: string, word?: string}} Reading
 * @typedef {{si?: number, word?: string, rows?: Object[], text: string, unit?: string}} Output
 *   where rows are [{column: Output}]
 * @typedef {{name: string, symbol: string, text: string, from: string, where: string, source: string|null, basis: string,
 *   unconfirmed: string[]}} Input
 * @typedef {{name: string, title: string, formula: string, outputs: Object<string, Output>, lines: string[],
 *   numbers: string[], inputs: Input[], source: string, basis: string, unconfirmed: string[],
 *   cannot_tell: string|null}} Working
 * @typedef {{op: string, si: number|null, text: string, unit: string|null, margin_text: string|null,
 *   margin_ratio: number|null, met: boolean|null}} Limit
 * @typedef {{applies: boolean|null, applies_reason: string, verdict: "within"|"outside"|"cant-tell"|null,
 *   reason: string, limits: Limit[]}} StepState
 */

/** One sheet with its readings, ready to be asked. Never throws for anything that a person entered. */
export class Environment {
  #workings = new Map();
  #touched = [];

  /**
   * @param {Object} job job.json
   * @param {Object} sheet the sheet as job.json has it: at least task, kind and item
   * @param {Object<string, Reading>} readings step name → the answer that stands
   */
  constructor(job, sheet, readings) {
    Object.assign(this, { job, sheet, readings, task: job.tasks[sheet.task], sources: job.sources ?? {} });
  }

  /**
   * @param {string} name
   * @returns {Working} a working of this task, worked out; `unconfirmed` names each value from memory,
   *   or of grade 3, that it rests on
   */
  working(name) {
    if (!this.#workings.has(name)) {
      const { title } = this.task.workings[name];
      // Stands while the working is worked out, should it ever ask for itself.
      this.#workings.set(name, {
        title, outputs: {}, basis: "library", unconfirmed: [], cannot_tell: `${title} needs itself to be worked out.`,
      });
      this.#workings.set(name, this.#workOut(name));
    }
    return this.#workings.get(name);
  }

  /** @param {string} name @returns {StepState} whether a step applies, and what its acceptance says */
  step(name) {
    const step = this.task.steps.find((one) => one.name === name);
    const [applies, applies_reason] = this.condition(step.when);
    const state = { applies, applies_reason, verdict: null, reason: "", limits: [] };
    if (applies !== true || !step.accept) return state;
    const expression = expressions[step.accept];
    state.limits = this.#limits(step, expression);
    const { value: met, reason, restsOn } = this.#asked(expression.value);
    if (reason !== null) return { ...state, verdict: "cant-tell", reason };
    if (restsOn.unconfirmed.length) return { ...state, verdict: "cant-tell", reason: restsOn.unconfirmed[0] };
    return { ...state, verdict: met ? "within" : "outside", reason: sentence(step, this.readings[name], state.limits, met) };
  }

  /** @param {string|null} text @returns {[boolean|null, string]} a `when`, and the reason where it can't be told */
  condition(text) {
    if (!text) return [true, ""];
    const { value: met, reason, restsOn } = this.#asked(expressions[text].value);
    if (reason !== null) return [null, reason];
    // A doubtful figure may ask for a step; it may not spare anyone one.
    if (!met && restsOn.unconfirmed.length) return [null, restsOn.unconfirmed[0]];
    return [met, ""];
  }

  /** What a closure gives: its value with the one origin of all that it touched, or the reason why it gives none. */
  #asked(closure) {
    const before = this.#touched;
    this.#touched = [];
    try {
      return { value: closure(this), restsOn: together(this.#touched), reason: null };
    } catch (refusal) {
      if (!(refusal instanceof CannotTell)) throw refusal;
      return { refusal, reason: refusal.message };
    } finally {
      this.#touched = before;
    }
  }

  #workOut(name) {
    const asked = this.task.workings[name];
    const signature = signatures[asked.formula];
    const given = {};
    const inputs = [];
    let cannot_tell = null;
    for (const part of signature.inputs) {
      if (!Object.hasOwn(asked.with, part.name)) continue;
      const { value, restsOn, refusal } = this.#asked(expressions[asked.with[part.name]].value);
      if (refusal) {
        // What a job or a table may lack, a formula may do without; a reading is waited for.
        const lacking = part.optional && refusal instanceof Missing && !(refusal instanceof NotEntered);
        cannot_tell ??= lacking ? null : refusal.message;
        continue;
      }
      given[part.name] = value;
      inputs.push({ name: part.name, symbol: part.symbol ?? "", text: inputText(part, value), ...restsOn });
    }
    let outputs = {};
    let numbers = [];
    if (cannot_tell === null) {
      const { value, refusal } = this.#asked(() => call(functions[asked.formula], signature, given));
      if (refusal) {
        cannot_tell = refusal.message;
      } else {
        outputs = Object.fromEntries(signature.gives.map((part) => [part.name, outputOf(part, value[part.name])]));
        const texts = Object.fromEntries(inputs.filter(({ symbol }) => symbol).map(({ symbol, text }) => [symbol, text]));
        for (const part of signature.gives) if (part.kind === "number") texts[part.symbol] = outputs[part.name].text;
        numbers = filledLines(signature, texts);
      }
    }
    const doubts = [...formulaUnconfirmed(asked.title, signature, this.sources), ...inputs.flatMap((input) => input.unconfirmed)];
    return {
      name, title: asked.title, formula: asked.formula, outputs, lines: signature.lines, numbers, inputs,
      source: formulaSource(signature, this.sources),
      basis: weakest([...signature.source, ...inputs].map(({ basis }) => basis)),
      unconfirmed: [...new Set(doubts)], cannot_tell,
    };
  }

  #limits(step, expression) {
    const called = step.name.replaceAll("-", "_");
    const found = [];
    for (const { name, op, of, limit } of expression.limits) {
      if (name !== called) continue;
      const { value, reason } = this.#asked(limit);
      if (reason !== null) continue; // the verdict gives the reason
      found.push(limitOf(op, value, this.#figures(of), step, this.readings[step.name]));
    }
    return found;
  }

  /** How many figures a limit is shown with: those of the working's output that it is. */
  #figures(of) {
    const working = of && this.task.workings[of[0].replaceAll("_", "-")];
    return (working && signatures[working.formula].gives.find((part) => part.name === of[1])?.figures) ?? null;
  }

  // What compiled expressions ask for.

  /** A reading, a working's output, a named value of a table, or a value of the job. */
  path(path) {
    const [first] = path;
    if (first === "table") return this.#namedValue(path[1], path[2]);
    if (first === "job" || first === this.sheet.kind) return this.#jobValue(path);
    const name = first.replaceAll("_", "-");
    if (Object.hasOwn(this.task.workings, name)) {
      const working = this.working(name);
      if (working.cannot_tell) throw new CannotTell(working.cannot_tell);
      this.#touched.push(fromWorking(working));
      const output = working.outputs[path[1]];
      return output.si ?? output.word ?? output.values;
    }
    const reading = this.readings[name];
    if (!reading) throw new NotEntered(`${words(name)} is not entered yet.`);
    this.#touched.push(fromReading(words(name)));
    return reading.si ?? reading.word;
  }

  #jobValue(path) {
    let value = this.job.job;
    let called = "";
    const stepInto = (kind, { title, values }) => {
      value = values;
      called = `${words(kind)} ${title}: `;
    };
    if (path[0] !== "job") stepInto(path[0], this.job.items[path[0]][this.sheet.item]);
    for (const field of path.slice(1)) {
      if (value.ref) {
        const [kind, name] = value.ref;
        stepInto(kind === "cables" ? "cable" : kind, kind === "cables" ? this.job.cables[name] : this.job.items[kind][name]);
      }
      value = value[field] ?? null;
      if (value === null) {
        const noSuch = `the job file gives no ${words(field).toLowerCase()}.`;
        throw new Missing(called ? called + noSuch : words(noSuch));
      }
    }
    this.#touched.push(fromJob(called ? called + words(path.at(-1)).toLowerCase() : words(path.at(-1))));
    return value;
  }

  #table(name) {
    return this.job.tables[name.replaceAll("_", "-")];
  }

  #namedValue(name, called) {
    const table = this.#table(name);
    const entry = table.values[called];
    if (entry.value === null) throw new Missing(`${table.title}: no figure for ${words(called).toLowerCase()}. ${ASK}`);
    this.#touched.push(fromTable(table, entry, "value", called, this.sources));
    return entry.value;
  }

  /** A value of a table's row: the first that matches every key, a band being matched up to its value. */
  cell(name, closures, column) {
    const table = this.#table(name);
    const keys = [];
    const doubts = [];
    for (const [key, closure] of Object.entries(closures)) {
      const { value, restsOn, refusal } = this.#asked(closure);
      if (refusal) throw refusal;
      keys.push([key, value]);
      doubts.push(...restsOn.unconfirmed);
    }
    const row = table.rows.find((one) => keys.every(([key, value]) => matches(table.keys[key], one[key], value)));
    if (!row) {
      const asked = keys.map(([key, value]) => `${words(key).toLowerCase()} ${keyText(table.keys[key], value)}`).join(", ");
      throw new Missing(`${table.title}: no row for ${asked}. ${ASK}`);
    }
    if ((row[column] ?? null) === null) {
      throw new Missing(`${table.title}: no figure for ${words(column).toLowerCase()} in that row. ${ASK}`);
    }
    const found = fromTable(table, row, column, column, this.sources);
    this.#touched.push({ ...found, unconfirmed: [...doubts, ...found.unconfirmed] });
    return row[column];
  }

  /** A quantity written out. */
  quantity(text) {
    this.#touched.push(fromLibrary(text));
    return parseQuantity(text).si;
  }

  /** Whether a value is there at all. */
  given(closure) {
    const before = this.#touched.length;
    try {
      closure();
    } catch (refusal) {
      if (refusal instanceof Missing) return false;
      throw refusal;
    } finally {
      this.#touched.length = before; // asking whether it is there is not resting on it
    }
    return true;
  }

  /** The first value that is there. Where none is, a reading not yet entered is what is waited for. */
  firstGiven(closures) {
    const missing = [];
    const before = this.#touched.length;
    for (const closure of closures) {
      try {
        return closure();
      } catch (refusal) {
        if (!(refusal instanceof Missing)) throw refusal;
        missing.push(refusal);
        this.#touched.length = before;
      }
    }
    throw missing.find((refusal) => refusal instanceof NotEntered) ?? missing[0];
  }
}

function matches(key, cell, asked) {
  if (key.up_to) return cell === null || atLeast(cell, asked);
  return cell !== null && alike(cell, asked);
}

function keyText(key, value) {
  return key.unit ? amount(value, key.unit) : wordText(value);
}

function wordText(value) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  return String(value).replaceAll("_", " ").replaceAll("-", " ");
}

function inputText(part, value) {
  if (part.kind === "number") return amount(value, part.unit);
  return part.kind === "word" ? wordText(value) : `${value.length} listed`;
}

function outputOf(part, value) {
  if (part.kind === "number") return { si: value, text: outputAmount(value, part), unit: part.unit };
  if (part.kind === "word") return { word: value, text: wordText(value) };
  const rows = value.map((row) => Object.fromEntries(part.columns.map((column) => [column.name, outputOf(column, row[column.name])])));
  return { rows, text: `${rows.length} listed`, values: value };
}
