/**
 * What the boards say: which locks stand on which point, whose and since when, and who is in the zone.
 *
 * Doubt is answered to the safe side, and a lock has two. Whoever wants to switch on asks whether it may still be
 * there: `on`. Whoever works behind it asks whether it surely is: `sure`. What is said against a lock and doesn't
 * count leaves it on, and sure no longer.
 *
 * @typedef {import("./payload.mjs").Said} Said
 *
 * @typedef {object} Against       something said against a lock
 * @property {Said} entry
 * @property {string|null} why     why it doesn't count; null where it does
 *
 * @typedef {object} Lock          one lock on one point
 * @property {Said} entry
 * @property {"on"|"off"|"never"} state   never: its owner took back that it went on
 * @property {boolean} sure        on, with nothing said against it and nothing missing before it
 * @property {Against[]} against   what was said against it and stands, counting or not
 * @property {Against[]} looked    who looked for its owner in vain, as `absent` entries that were not taken back, counting or not
 *
 * @typedef {object} Point         the locks of one point
 * @property {string} name
 * @property {Lock[]} locks
 * @property {Against[]} strays    said to be off, of locks that are not on this board
 * @property {boolean} unknown     a lock is spoken of that has not come here
 *
 * @typedef {object} Boards
 * @property {any} job
 * @property {any} told            the answers that they are read from
 * @property {(name: string) => Point} point
 * @property {() => Point[]} points
 * @property {(name: string, heads: Said[]) => boolean} stoodSince
 * @property {() => string[]} missing
 * @property {() => Lock[][]} doubles
 * @property {() => Said[]} zone
 */

import { isSupervisor, nameKey, samePerson } from "./standing.mjs";
import { say } from "./words.mjs";

export const SITE = "site";

/** Where entries about the locks on a point are said. @param {string} point */
export function boardOf(point) {
  return `locks/${point}`;
}

/**
 * The boards of a job.
 * @param {any} job  job.json
 * @param {any} told  from `answers`
 * @param {string|null} [at]  id of the entry as of which they are looked at: what its phone had not heard of then is left out
 * @returns {Boards}
 */
export function boards(job, told, at = null) {
  const { past, early, forks, byId, bySheet } = told;
  const then = at === null ? null : byId.get(at);
  const read = new Map();

  function saidOn(board) {
    return (bySheet.get(board) ?? []).filter((entry) => then === null || entry === then || past(entry, then));
  }

  function point(name) {
    if (!read.has(name)) read.set(name, readPoint(name));
    return read.get(name);
  }

  function points() {
    return Object.keys(job.points ?? {}).map(point);
  }

  function readPoint(name) {
    const said = saidOn(boardOf(name));
    const about = spokenOf(said);
    const locks = said.filter(({ kind }) => kind === "lock-on").map((entry) => lockOf(entry, about));
    const here = new Set(locks.map(({ entry }) => entry.id));
    const off = said.filter(({ kind }) => kind === "lock-off" || kind === "absent");
    const loose = off.filter((entry) => !here.has(entry.about[0]) && entry.kind === "lock-off");
    const named = said.filter((entry) => off.includes(entry) || entry.kind === "withdraw").map((entry) => entry.about[0]);
    return {
      name,
      locks,
      strays: loose.map((entry) => ({ entry, why: stray(entry) })),
      unknown: named.some((id) => !byId.has(id)),
    };
  }

  function stray(entry) {
    return say(byId.has(entry.about[0]) ? "lock_why.stray" : "lock_why.unheard");
  }

  function lockOf(on, about) {
    const said = about.get(on.id) ?? [];
    const against = said.filter(({ kind }) => kind === "lock-off" || kind === "withdraw")
      .map((entry) => againstOf(on, entry, about)).filter((one) => one !== null);
    const counting = against.filter(({ why }) => why === null).map(({ entry }) => entry.kind);
    const state = counting.includes("withdraw") ? "never" : counting.includes("lock-off") ? "off" : "on";
    return {
      entry: on,
      state,
      sure: state === "on" && against.length === 0 && unsound(on) === null,
      against,
      looked: said.filter((entry) => entry.kind === "absent" && takenBack(entry, about).length === 0)
        .map((entry) => ({ entry, why: whyNotAbsent(on.who, entry) })),
    };
  }

  /** What one entry does against a lock; null where whoever may has taken it back. */
  function againstOf(on, entry, about) {
    const back = takenBack(entry, about);
    if (back.length === 0) return { entry, why: whyNot(on, entry, about) };
    // Anybody puts a lock back on the board. That it hangs there only its owner, or who said it was off, can say.
    const may = back.filter(({ who }) => samePerson(who, on.who) || samePerson(who, entry.who));
    if (may.some((one) => unsound(one) === null)) return null;
    return { entry, why: say("lock_why.back", { who: back[0].who, other: entry.who }) };
  }

  /** Why what was said against a lock doesn't count. */
  function whyNot(on, entry, about) {
    const owner = on.who;
    const fault = unsound(entry);
    if (fault !== null) return fault;
    if (samePerson(entry.who, owner)) return null;
    if (entry.kind === "withdraw") return say("lock_why.only_back", { owner });
    if (entry.about.length === 1) return say("lock_why.only_off", { owner });
    const tried = (about.get(on.id) ?? []).find(({ id, kind }) => id === entry.about[1] && kind === "absent");
    if (!tried || takenBack(tried, about).length > 0 || unsound(tried) !== null) return say("lock_why.not_looked", { owner });
    const here = whyNotAbsent(owner, tried) ?? whyNotAbsent(owner, entry);
    if (here !== null) return here;
    if (new Set([owner, tried.who, entry.who].map(nameKey)).size < 3) return say("lock_why.three", { owner });
    if (!isSupervisor(job, tried.who) && !isSupervisor(job, entry.who)) return say("lock_why.no_supervisor");
    return null;
  }

  /** Why an owner was not absent as far as whoever wrote `entry` had heard: signed on and not left is behind the lock. */
  function whyNotAbsent(owner, entry) {
    const fault = unsound(entry);
    if (fault !== null) return fault;
    const as = boards(job, told, entry.id);
    if (as.zone().some(({ who }) => samePerson(who, owner))) return say("lock_why.here", { owner });
    return as.missing().length > 0 ? say("lock_why.who_is_here") : null;
  }

  /** Why what lets go can't be relied on: what stands before it is missing, or stands in two ways. */
  function unsound({ id, dev, seq }) {
    if (early.has(id)) return say("lock_why.gap");
    return seq >= (forks.get(dev) ?? Infinity) ? say("lock_why.fork") : null;
  }

  /**
   * Whether it can be shown that a lock stood on a point all the time since one of these entries. Locks may take
   * turns: the next one has to be on, and known to be, before the last one goes.
   */
  function stoodSince(name, heads) {
    const locks = point(name).locks.filter(({ state }) => state !== "never");
    const staying = locks.filter(({ sure }) => sure);
    for (;;) {
      const following = locks.filter((lock) => !staying.includes(lock) && lock.against.length > 0
        && lock.against.every(({ entry }) => staying.some((other) => stoodAt(other, entry))));
      if (following.length === 0) break;
      staying.push(...following);
    }
    return staying.some((lock) => heads.some((head) => stoodAt(lock, head)));
  }

  /** Whether a lock was on, and nothing said against it, as far as whoever wrote `entry` had heard. */
  function stoodAt(lock, entry) {
    return past(lock.entry, entry) && !lock.against.some((one) => one.entry === entry || past(one.entry, entry));
  }

  /** Devices of which entries are known to have been written, and are not here. */
  function missing() {
    const newest = new Map();
    const gaps = new Map();
    for (const entry of byId.values()) {
      newest.set(entry.dev, entry);
      if (early.has(entry.id) && !gaps.has(entry.dev)) gaps.set(entry.dev, entry.seq);
    }
    const heard = then === null ? [...newest.values()].map(({ seen }) => seen) : [then.seen];
    const known = new Map(then === null ? gaps : []);
    for (const seen of heard) {
      for (const [dev, seq] of Object.entries(seen)) known.set(dev, Math.max(seq, known.get(dev) ?? -1));
    }
    return [...known].filter(([dev, seq]) => !newest.has(dev) || seq > newest.get(dev).seq || seq >= (gaps.get(dev) ?? Infinity) - 1)
      .map(([dev]) => dev).sort();
  }

  /** Locks of one number that are on more than once: one lock can't hang in two places. */
  function doubles() {
    const numbered = new Map();
    for (const lock of points().flatMap(({ locks }) => locks).filter(({ state }) => state === "on")) {
      const key = nameKey(lock.entry.value);
      numbered.set(key, [...(numbered.get(key) ?? []), lock]);
    }
    return [...numbered.values()].filter((locks) => locks.length > 1);
  }

  /** Who has signed on and not left since, as the `arrived` entry of each. */
  function zone() {
    const said = saidOn(SITE);
    const about = spokenOf(said);
    const left = said.filter((entry) => entry.kind === "left" && unsound(entry) === null && takenBack(entry, about).length === 0);
    const here = new Map();
    for (const entry of said) {
      const key = nameKey(entry.who);
      const own = ({ who }) => nameKey(who) === key;
      if (entry.kind !== "arrived" || takenBack(entry, about).some((one) => own(one) && unsound(one) === null)
        || left.some((one) => own(one) && past(entry, one))) continue;
      if (!here.has(key) || past(here.get(key), entry)) here.set(key, entry);
    }
    return [...here.values()];
  }

  return { job, told, point, points, stoodSince, missing, doubles, zone };
}

/** What each entry's first word is about: id → the entries that speak of it. */
function spokenOf(said) {
  const about = new Map();
  for (const entry of said) {
    if (entry.about.length > 0) about.set(entry.about[0], [...(about.get(entry.about[0]) ?? []), entry]);
  }
  return about;
}

/** What takes an entry back. Taken back is taken back: there is no way on from there but saying it anew. */
function takenBack(entry, about) {
  return (about.get(entry.id) ?? []).filter(({ kind }) => kind === "withdraw");
}
