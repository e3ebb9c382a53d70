/** Where a value comes from, and whether a person may decide by it. The same as builder/compile/origin.py. */

import { words } from "./showing.mjs";

// The weakest first: a working is no firmer than the weakest value in it.
const WEAKEST_FIRST = ["memory", "practice", "derived", "published", "agreed", "job", "reading", "library"];
// A source of this grade is a forum, a mirror or an exam question.
const WEAK_GRADE = 3;
export const ASK = "Ask for the maker's or the local figure.";

const plainly = (from, where) => ({ from, where, source: null, basis: from, unconfirmed: [] });

/** A value that the job file gives. */
export const fromJob = (where) => plainly("job", where);

/** A reading of this sheet. */
export const fromReading = (where) => plainly("reading", where);

/** A value written out in the library. */
export const fromLibrary = (text) => plainly("library", text);

/** A value of a table: what an overlay put there, or what its row rests on. */
export function fromTable(table, entry, column, called, sources) {
  const changed = entry.changed?.[column];
  if (changed) {
    return { from: "overlay", where: `${changed.agreed_by}: ${changed.because}`, source: null, basis: "agreed", unconfirmed: [] };
  }
  const { source = null, basis } = entry;
  const grade = entry.grade ?? sources[source]?.grade;
  const what = `${table.title}, ${words(called).toLowerCase()}`;
  const unconfirmed = [];
  if (basis === "memory") unconfirmed.push(`${what}: this figure is from memory. ${ASK}`);
  else if (grade === WEAK_GRADE) unconfirmed.push(`${what}: this figure has a weak source. ${ASK}`);
  return { from: "table", where: entry.where ? `${table.title}, ${entry.where}` : table.title, source, basis, unconfirmed };
}

/** One origin for a value that rests on several. */
export function together(origins) {
  if (origins.length === 0) return fromLibrary("");
  return {
    from: origins[0].from,
    where: [...new Set(origins.map(({ where }) => where))].join("; "),
    source: origins.find(({ source }) => source)?.source ?? null,
    basis: weakest(origins.map(({ basis }) => basis)),
    unconfirmed: [...new Set(origins.flatMap(({ unconfirmed }) => unconfirmed))],
  };
}

/** The origin of a working's outputs: its formula and every input together. */
export function ofWorking(title, signature, inputs, sources) {
  const doubts = [...formulaUnconfirmed(title, signature, sources), ...inputs.flatMap(({ unconfirmed }) => unconfirmed)];
  const basis = weakest([...signature.source, ...inputs].map((one) => one.basis));
  return { from: "working", where: title, source: null, basis, unconfirmed: [...new Set(doubts)] };
}

/** The weakest of several bases. */
export function weakest(bases) {
  return WEAKEST_FIRST.find((basis) => bases.includes(basis));
}

/** What a formula rests on, in one line. */
export function formulaSource(signature, sources) {
  const plain = { derived: "derived", practice: "trade practice", memory: "from memory" };
  return signature.source.map(({ basis, key, where }) => {
    const named = plain[basis] ?? sources[key]?.title ?? key;
    return where ? `${named}: ${where}` : named;
  }).join("; ");
}

/** A sentence where nothing that a formula rests on is firm. */
export function formulaUnconfirmed(title, signature, sources) {
  const firm = signature.source.some(({ basis, key }) => basis !== "memory" && sources[key]?.grade !== WEAK_GRADE);
  return firm ? [] : [`${title}: the formula has no firm source. ${ASK}`];
}
