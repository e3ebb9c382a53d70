/**
 * Heads: the newest entry of each device, and what they tell about a record that came in.
 *
 * @typedef {object} Head
 * @property {string} dev
 * @property {number} seq      newest number ever seen
 * @property {string} id
 * @property {number} whole    how far the chain is held without a gap, -1: not at all
 */

import { standing } from "./merge.mjs";
import { say } from "./words.mjs";

/** @param {import("./payload.mjs").Said[]} said  sorted @returns {Head[]} */
export function headsOf(said) {
  const { early } = standing(said);
  const heads = new Map();
  for (const { dev, seq, id } of said) {
    const whole = early.has(id) ? heads.get(dev)?.whole ?? -1 : seq;
    heads.set(dev, { dev, seq, id, whole });
  }
  return [...heads.values()];
}

/** Heads as held now, but never forgetting a higher one seen before. @param {Head[]} before @param {Head[]} now */
export function remembered(before, now) {
  const heads = new Map(now.map((head) => [head.dev, head]));
  for (const old of before) {
    const held = heads.get(old.dev);
    if (!held || held.seq < old.seq) heads.set(old.dev, { ...old, whole: held?.whole ?? -1 });
  }
  return [...heads.values()];
}

/**
 * What a person should know about a record that came in, as sentences.
 * @param {import("./record-file.mjs").RecordFile} file
 * @param {Head[]} before                             heads before it came
 * @param {import("./payload.mjs").Said[]} said       everything held since, sorted
 */
export function remarksOn(file, before, said) {
  const { early, forks } = standing(said);
  const names = new Map(said.filter(({ seq }) => seq === 0).map(({ dev, value }) => [dev, value]));
  const called = (dev) => names.get(dev) ?? dev.slice(0, 8);
  const gaps = new Set(said.filter(({ id }) => early.has(id)).map(({ dev, id }) => `${called(dev)}: ${early.get(id)}`));
  const remarks = file.whole ? [...gaps] : [file.reason, ...gaps];
  for (const dev of forks.keys()) {
    remarks.push(say("remark.forked", { phone: called(dev) }));
  }
  const had = before.find(({ dev }) => dev === file.by);
  const now = file.heads[file.by]?.[0] ?? -1;
  // A file of nothing but photos says nothing of heads.
  if (file.whole && file.entries.length > 0 && had && now < had.seq) {
    remarks.push(say("remark.older", { phone: called(file.by), now, had: had.seq }));
  }
  const newest = new Map(said.map(({ dev, seq }) => [dev, seq]));
  for (const [dev, [seq]] of Object.entries(file.heads)) {
    if (seq > (newest.get(dev) ?? -1)) {
      remarks.push(say("remark.short", { phone: called(dev), entry: seq }));
    }
  }
  return remarks;
}
