/**
 * The kinds of entry, and what each one carries. `builder/record/entry_kinds.py` says the same.
 *
 * @typedef {object} EntryKind
 * @property {"none"|"named"|"either"} step   whether it speaks of a step
 * @property {boolean} [empty]                 its value may be empty
 * @property {[number, number]} [about]        how few and how many entries it speaks of
 * @property {string[]} [keys]                 what it carries besides what every entry has
 */



/** @type {Object<string, EntryKind>} */
export const KINDS = {
  device: { step: "none", keys: ["key", "continues"] },
  // Answers to the steps of a sheet.
  done: { step: "named", empty: true },
  reading: { step: "named" },
  aside: { step: "named" },
  release: { step: "named" },
  settle: { step: "named", about: [2, Infinity] },
  close: { step: "none", empty: true },
  withdraw: { step: "either", about: [1, 1] },
  // What stands beside the answers.
  snag: { step: "either", keys: ["waits_for"] },
  "snag-closed": { step: "either", about: [1, 1] },
  note: { step: "either" },
  photo: { step: "either", empty: true, about: [0, 1], keys: ["photo"] },
  signed: { step: "either", empty: true, about: [0, 1], keys: ["drawn"] },
  // A pull while it runs.
  measured: { step: "named" },
  stop: { step: "none", empty: true },
  go: { step: "none" },
  // The boards: locks on a point, and who is on site.
  "lock-on": { step: "none" },
  absent: { step: "none", about: [1, 1] },
  "lock-off": { step: "none", empty: true, about: [1, 2] },
  arrived: { step: "none", empty: true },
  briefed: { step: "none" },
  left: { step: "none", empty: true },
};

/** Kinds that answer a step, settle between answers or take one back. */
export const ANSWERING = ["done", "reading", "measured", "aside", "release", "withdraw", "settle"];

/** Kinds whose value is a number with a unit. */
export const WITH_UNIT = ["reading", "measured"];
