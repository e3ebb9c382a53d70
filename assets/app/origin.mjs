/** Where a value comes from, and whether a person may decide by it. The same as builder/compile/origin.py. */

import { words } from "./showing.mjs";
import { say } from "./words.mjs";

// The weakest first: a working is no firmer than the weakest value in it.
const WEAKEST_FIRST = ["memory", "practice", "derived", "published", "agreed", "job", "reading", "library"];
// A source of this grade is a forum, a mirror or an exam question.
const WEAK_GRADE = 3;

// What a working stands on, in one word, the weakest first: a guess, a table, the maker's data, or no more than what
// was drawn, measured and read for this job.
const STANDS_WEAKEST_FIRST = ["estimate", "table", "maker", "job"];
// A working ruled by one of these is the maker's number, whatever else went into it.
const MAKERS_RULE = ["maker", "label"];

const plainly = (from, where) => ({ from, where, source: null, basis: from, stands: "job", unconfirmed: [] });

/** A value that the job file gives; what it tells of a cable, a label or in a maker's field is the maker's. */
export function fromJob(where, kind, field) {
  const makers = kind === "cables" || field === "cables" || /^(maker|label)_/.test(field);
  return { ...plainly("job", where), stands: makers ? "maker" : "job" };
}

/** A reading of this sheet. */
export const fromReading = (where) => plainly("reading", where);

/** A value written out in the library. */
export const fromLibrary = (text) => plainly("library", text);

/** A value of a table: what an overlay put there, or what its row rests on. */
export function fromTable(table, entry, column, called, sources) {
  const changed = entry.changed?.[column];
  if (changed) {
    return { from: "overlay", where: `${changed.agreed_by}: ${changed.because}`, source: null, basis: "agreed", stands: "table", unconfirmed: [] };
  }
  const { source = null, basis } = entry;
  const grade = entry.grade ?? sources[source]?.grade;
  const figure = say("origin.figure", { table: table.title, figure: words(called).toLowerCase() });
  const unconfirmed = [];
  if (basis === "memory") unconfirmed.push(say("origin.from_memory", { figure }));
  else if (grade === WEAK_GRADE) unconfirmed.push(say("origin.weak_source", { figure }));
  return { from: "table", where: entry.where ? `${table.title}, ${entry.where}` : table.title, source, basis, stands: unconfirmed.length ? "estimate" : "table", unconfirmed };
}

/** One origin for a value that rests on several. */
export function together(origins) {
  if (origins.length === 0) return fromLibrary("");
  return {
    from: origins[0].from,
    where: [...new Set(origins.map(({ where }) => where))].join("; "),
    source: origins.find(({ source }) => source)?.source ?? null,
    basis: weakest(origins.map(({ basis }) => basis)),
    stands: weakestStand(origins),
    unconfirmed: [...new Set(origins.flatMap(({ unconfirmed }) => unconfirmed))],
  };
}

/** The origin of a working's outputs: its formula and every input that decides, together. */
export function ofWorking({ title, formula }, signature, inputs, ruledBy, sources) {
  const doubts = [...formulaUnconfirmed(title, signature, sources), ...inputs.flatMap(({ unconfirmed }) => unconfirmed)];
  const basis = weakest([...signature.source, ...inputs].map((one) => one.basis));
  let stands = weakestStand(inputs);
  if (MAKERS_RULE.includes(ruledBy)) stands = "maker";
  else if (doubts.length || formula.endsWith("_estimate")) stands = "estimate";
  return { from: "working", where: title, source: null, basis, stands, unconfirmed: [...new Set(doubts)] };
}

function weakestStand(origins) {
  return STANDS_WEAKEST_FIRST.find((stand) => origins.some(({ stands }) => stands === stand)) ?? "job";
}

/** The weakest of several bases. */
export function weakest(bases) {
  return WEAKEST_FIRST.find((basis) => bases.includes(basis));
}

/** What a formula rests on, in one line. */
export function formulaSource(signature, sources) {
  return signature.source.map(({ basis, key, where }) => {
    const named = basis === "published" ? sources[key]?.title ?? key : say(`origin.${basis}`);
    return where ? `${named}: ${where}` : named;
  }).join("; ");
}

/** A sentence where nothing that a formula rests on is firm. */
export function formulaUnconfirmed(title, signature, sources) {
  const firm = signature.source.some(({ basis, key }) => basis !== "memory" && sources[key]?.grade !== WEAK_GRADE);
  return firm ? [] : [say("origin.no_firm_source", { working: title })];
}
