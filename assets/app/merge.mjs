/**
 * Bring records together: a union of entries, whatever the order they come in.
 *
 * What an entry is worth is worked out from the whole set each time, never from the order of arrival, so
 * that merging commutes, associates and may be repeated.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./chain.mjs").Entry} Entry
 *
 * @typedef {object} Aside          kept, but never counted
 * @property {Entry} entry
 * @property {"broken"|"foreign"} verdict
 * @property {string} reason
 *
 * @typedef {object} Held
 * @property {Entry[]} entries      signature good; sorted by device, number, id
 * @property {Entry[]} waiting      nothing wrong, but entry 0 with the key has not come yet
 * @property {Aside[]} aside
 *
 * @typedef {object} Verdict
 * @property {string} id
 * @property {"new"|"known"|"early"|"forked"|"broken"|"foreign"} verdict
 * @property {string} reason        a sentence, empty for new and known
 *
 * @typedef {object} Standing
 * @property {Map<string, string>} early    id → the gap before it, as a sentence
 * @property {Map<string, string>} forked   id → what stands against it
 * @property {Map<string, number>} forks    device → lowest number it used twice
 */

import { openEntry, publicKey, signatureHolds } from "./chain.mjs";
import { NotAccepted } from "./payload.mjs";
import { say } from "./words.mjs";

const NO_KEY = "Entry 0 of this phone is missing, so its signature can't be checked yet.";

/**
 * @param {SubtleCrypto} subtle
 * @param {Held} held
 * @param {Entry[]} incoming
 * @param {string} job
 * @returns {Promise<{held: Held, said: Said[], verdicts: Verdict[]}>}  said: held.entries opened
 */
export async function merge(subtle, held, incoming, job) {
  const entries = new Map(held.entries.map((entry) => [entry.id, entry]));
  const waiting = new Map(held.waiting.map((entry) => [entry.id + entry.sig, entry]));
  const aside = new Map(held.aside.map((kept) => [asText(kept.entry), kept]));
  const said = new Map(held.entries.map((entry) => [entry.id, { ...JSON.parse(entry.payload), id: entry.id }]));
  const known = new Set(said.keys());
  const keys = await keysOf(subtle, said.values());
  const faults = new Map();

  /** @type {[Entry, Said][]} */
  const opened = [];
  for (const entry of [...held.waiting, ...incoming]) {
    if (asText(entries.get(entry.id)) === asText(entry)) continue;
    try {
      opened.push([entry, await openEntry(subtle, entry, job)]);
    } catch (fault) {
      keepAside(entry, fault);
    }
  }
  opened.sort(([, one], [, other]) => one.seq - other.seq);
  for (const [entry, fields] of opened) {
    const first = fields.seq === 0;
    if (!first && !keys.has(fields.dev)) {
      waiting.set(entry.id + entry.sig, entry);
      continue;
    }
    waiting.delete(entry.id + entry.sig);
    const key = first ? await publicKey(subtle, fields.key) : keys.get(fields.dev);
    if (!await signatureHolds(subtle, key, entry)) {
      keepAside(entry, new NotAccepted("broken", "Its signature does not fit its text and its phone's key."));
      continue;
    }
    if (first) keys.set(fields.dev, key);
    const before = entries.get(entry.id);
    // A second good signature of the same text adds nothing; keeping the smaller makes the order not matter.
    if (!before || entry.sig < before.sig) entries.set(entry.id, entry);
    said.set(entry.id, fields);
  }

  function keepAside(entry, fault) {
    if (!(fault instanceof NotAccepted)) throw fault;
    faults.set(asText(entry), fault);
    aside.set(asText(entry), { entry, verdict: fault.verdict, reason: fault.message });
  }

  const sorted = [...said.values()].sort(inOrder);
  const stands = standing(sorted);
  const verdicts = incoming.map((entry) => {
    const fault = faults.get(asText(entry));
    if (fault) return { id: entry.id, verdict: fault.verdict, reason: fault.message };
    const verdict = verdictOf(entry, known, waiting, stands);
    known.add(entry.id);
    return verdict;
  });
  return {
    held: {
      entries: sorted.map(({ id }) => entries.get(id)),
      waiting: [...waiting.values()].sort(byText),
      aside: [...aside.values()].sort((one, other) => byText(one.entry, other.entry)),
    },
    said: sorted,
    verdicts,
  };
}

/**
 * Which entries have a gap before them, and which devices went two ways.
 * @param {Said[]} entries  sorted
 * @returns {Standing}
 */
export function standing(entries) {
  const early = new Map();
  const forked = new Map();
  const forks = new Map();
  const gaps = new Map();
  const reached = new Set();
  let before = [];
  let lastSeq = -1;
  for (const [dev, seq, same] of bySeq(entries)) {
    if (seq === 0 || before[0]?.dev !== dev) [before, lastSeq] = [[], -1];
    const neighbours = seq === lastSeq + 1 ? before : [];
    for (const entry of same) {
      const parent = neighbours.find(({ id }) => id === entry.prev);
      if (same.length > 1) fork(entry, seq, say("record_why.twice", { seq }));
      if (seq === 0 || (parent && reached.has(parent.id))) {
        reached.add(entry.id);
      } else if (!parent && neighbours.length > 0) {
        fork(entry, seq - 1, say("record_why.not_before", { seq: seq - 1 }));
        gaps.set(entry.id, say("record_why.another", { seq: seq - 1 }));
      } else {
        gaps.set(entry.id, (parent && gaps.get(parent.id)) ?? missing(lastSeq + 1, seq - 1));
      }
      if (gaps.has(entry.id)) early.set(entry.id, gaps.get(entry.id));
    }
    [before, lastSeq] = [same, seq];
  }

  function fork(entry, seq, reason) {
    forked.set(entry.id, forked.get(entry.id) ?? reason);
    forks.set(entry.dev, Math.min(seq, forks.get(entry.dev) ?? seq));
  }

  return { early, forked, forks };
}

/** @param {Said} one @param {Said} other */
export function inOrder(one, other) {
  return compared(one.dev, other.dev) || one.seq - other.seq || compared(one.id, other.id);
}

/** @returns {Verdict} */
function verdictOf(entry, known, waiting, { early, forked }) {
  const { id } = entry;
  if (waiting.has(id + entry.sig)) return { id, verdict: "early", reason: NO_KEY };
  if (known.has(id)) return { id, verdict: "known", reason: "" };
  if (forked.has(id)) return { id, verdict: "forked", reason: forked.get(id) };
  if (early.has(id)) return { id, verdict: "early", reason: early.get(id) };
  return { id, verdict: "new", reason: "" };
}

async function keysOf(subtle, said) {
  const keys = new Map();
  for (const fields of said) {
    if (fields.seq === 0) keys.set(fields.dev, await publicKey(subtle, fields.key));
  }
  return keys;
}

function* bySeq(entries) {
  let start = 0;
  for (let end = 1; end <= entries.length; end += 1) {
    const { dev, seq } = entries[start];
    if (entries[end]?.dev === dev && entries[end].seq === seq) continue;
    yield [dev, seq, entries.slice(start, end)];
    start = end;
  }
}

function missing(lowest, highest) {
  return lowest === highest ? say("record_why.gap", { seq: lowest }) : say("record_why.gaps", { lowest, highest });
}

function asText(entry) {
  return entry && `${entry.id} ${entry.sig} ${entry.payload}`;
}

function byText(one, other) {
  return compared(asText(one), asText(other));
}

function compared(one, other) {
  return one < other ? -1 : Number(one > other);
}
