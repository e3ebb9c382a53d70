/**
 * What the names of an expression stand for on one sheet, and where each value comes from.
 * The same as builder/compile/lookup.py.
 */

import { CannotTell, Missing, NotEntered, alike, atLeast } from "./mathematics.mjs";
import { fromJob, fromLibrary, fromReading, fromTable, together } from "./origin.mjs";
import { pullRows } from "./pull-readings.mjs";
import { parseQuantity } from "./quantity.mjs";
import { amount, wordText, words } from "./showing.mjs";
import { say } from "./words.mjs";

/** The values that one sheet's expressions can reach: job, tables, readings and workings. */
export class Lookup {
  #touched = [];

  /**
   * @param {Object} job job.json
   * @param {Object} sheet the sheet as job.json has it: at least task, kind and item
   * @param {Object<string, Object>} readings step name → the answer that stands: {text, unit, si} or {text, word}
   */
  constructor(job, sheet, readings) {
    this.job = job;
    this.sheet = sheet;
    this.readings = readings;
    this.task = job.tasks[sheet.task];
    this.sources = job.sources ?? {};
  }

  /**
   * What a working comes to; `Environment` knows.
   * @param {string} name
   * @returns {{values: Object<string, any>, restsOn: Object}}
   */
  outputsOf(name) {
    throw new Error(`nothing works out ${name} here`);
  }

  /** What a closure gives: its value with the one origin of all that it touched, or the reason why it gives none. */
  asked(closure) {
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

  /** A reading, a working's output, a named value of a table, or a value of the job. */
  path(path) {
    const [first] = path;
    if (first === "table") return this.#namedValue(path[1], path[2]);
    if (first === "job" || first === this.sheet.kind) return this.#jobValue(path);
    if (first === "measured" && this.task.pull_day) {
      const rows = pullRows(this.readings);
      this.#touched.push(fromReading(say("lookup.measured")));
      return rows;
    }
    const name = first.replaceAll("_", "-");
    if (Object.hasOwn(this.task.workings, name)) {
      const { values, restsOn } = this.outputsOf(name);
      this.#touched.push(restsOn);
      return values[path[1]];
    }
    const reading = this.readings[name];
    if (!reading) throw new NotEntered(say("lookup.not_entered", { reading: words(name) }));
    this.#touched.push(fromReading(words(name)));
    return reading.si ?? reading.word;
  }

  #jobValue(path) {
    let value = this.job.job;
    let called = "";
    let of = "job";
    const stepInto = (kind, { title, values }) => {
      value = values;
      of = kind;
      called = `${words(kind === "cables" ? "cable" : kind)} ${title}`;
    };
    if (path[0] !== "job") stepInto(path[0], this.job.items[path[0]][this.sheet.item]);
    for (const field of path.slice(1)) {
      if (value.ref) {
        const [kind, name] = value.ref;
        stepInto(kind, kind === "cables" ? this.job.cables[name] : this.job.items[kind][name]);
      }
      value = value[field] ?? null;
      if (value === null) {
        throw new Missing(say(called ? "lookup.item_lacks" : "lookup.job_lacks", { item: called, field: words(field).toLowerCase() }));
      }
      if (typeof value === "number" && !Number.isFinite(value)) {
        throw new CannotTell(say("lookup.no_number", { field: fieldOf(called, field) }));
      }
    }
    const field = path.at(-1);
    this.#touched.push(fromJob(fieldOf(called, field), of, field));
    return value;
  }

  #table(name) {
    return this.job.tables[name.replaceAll("_", "-")];
  }

  #namedValue(name, called) {
    const table = this.#table(name);
    const entry = table.values[called];
    if (entry.value === null) throw new Missing(say("lookup.no_figure", { table: table.title, figure: words(called).toLowerCase() }));
    this.#touched.push(fromTable(table, entry, "value", called, this.sources));
    return entry.value;
  }

  /** A value of a table's row: the first that matches every key, a band being matched up to its value. */
  cell(name, closures, column) {
    const table = this.#table(name);
    const keys = [];
    const doubts = [];
    for (const [key, closure] of Object.entries(closures)) {
      const { value, restsOn, refusal } = this.asked(closure);
      if (refusal) throw refusal;
      keys.push([key, value]);
      doubts.push(...restsOn.unconfirmed);
    }
    const row = table.rows.find((one) => keys.every(([key, value]) => matches(table.keys[key], one[key], value)));
    if (!row) {
      const asked = keys.map(([key, value]) => `${words(key).toLowerCase()} ${keyText(table.keys[key], value)}`).join(", ");
      throw new Missing(say("lookup.no_row", { table: table.title, asked }));
    }
    if ((row[column] ?? null) === null) {
      throw new Missing(say("lookup.not_in_row", { table: table.title, figure: words(column).toLowerCase() }));
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

  /** Whether a value is there at all; a list that names nobody is not. */
  given(closure) {
    const before = this.#touched.length;
    try {
      const value = closure();
      return !(Array.isArray(value) && value.length === 0);
    } catch (refusal) {
      if (refusal instanceof Missing) return false;
      throw refusal;
    } finally {
      this.#touched.length = before; // asking whether it is there is not resting on it
    }
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

/** `Cable Al 300: mass`, or `Practice` of the job as a whole. */
function fieldOf(item, field) {
  return item ? say("lookup.of_item", { item, field: words(field).toLowerCase() }) : words(field);
}

function keyText(key, value) {
  return typeof value === "number" ? amount(value, key.unit ?? "1") : wordText(value);
}
