/**
 * What has been said to each step: from entries to answers, without any of the job's sums.
 *
 * @typedef {import("./payload.mjs").Said} Said
 *
 * @typedef {object} Answer        what has been said to one step
 * @property {"open"|"answered"|"aside"|"conflict"} state
 * @property {Said|null} answer    the entry that stands
 * @property {Said[]} heads        entries that no other answers over; a `settle` of a conflict names these ids
 * @property {Said[]} earlier      history
 * @property {Said[]} [photos]     photos of it that count: of this round, and since the gates before it were released
 *
 * @typedef {object} Snag
 * @property {Said} entry
 * @property {Said|null} closed    the snag-closed or withdraw entry
 *
 * @typedef {object} SheetAnswers
 * @property {number} round              1, or more when a release started the sheet again
 * @property {boolean} begun             something counts in this round
 * @property {Object<string, Answer>} steps
 * @property {Snag[]} snags              of every round: starting again mends nothing
 * @property {Said[]} photos            of every round, and of snags; not those taken back
 * @property {Said[]} signatures        the same
 * @property {Said[]} closes            closing entries not withdrawn
 * @property {Said[]} uncounted          kept, but no answer here: wrong kind, standing too low, after a gap
 * @property {Said[]} gaps               of these, the ones that came without the entries before them
 * @property {Object<string, import("./pull-day.mjs").Measured>} measured   on a pull
 * @property {Said[]} stops              of a pull, called and not lifted
 */

import { ANSWERING } from "./entry-kinds.mjs";
import { standing } from "./merge.mjs";
import { measuredIn, stopsIn } from "./pull-day.mjs";
import { isMeasured } from "./pull-steps.mjs";
import { countsAsRelease } from "./standing.mjs";

const ANSWERS = { do: ["done", "aside"], look: ["done", "aside"], read: ["reading", "aside"], hold: ["release"] };

/**
 * @param {object} job       job.json
 * @param {Said[]} entries   sorted
 */
export function answers(job, entries) {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const { early, forks } = standing(entries);
  const bySheet = grouped(entries.filter(({ sheet }) => sheet !== null), ({ sheet }) => sheet);
  const sheets = new Map(job.sheets.map((sheet) => [sheet.id, sheet]));
  const endings = endingsOf(job.sheets);
  const releases = new Map();

  /** Is `one` in the past of `other`: did the device that wrote `other` hold `one`? */
  function past(one, other) {
    const fork = forks.get(one.dev) ?? Infinity;
    if (one.dev !== other.dev) return one.seq < fork && one.seq <= (other.seen[one.dev] ?? -1);
    if (one.seq < fork) return one.seq < other.seq;
    let entry = other;
    while (entry && entry.seq > one.seq) entry = byId.get(entry.prev);
    return entry === one && one !== other;
  }

  function counts(entry) {
    if (early.has(entry.id)) return stops(entry);
    if (entry.kind === "measured") return isMeasured(entry.step) && isPulled(entry.sheet);
    if (!["done", "reading", "aside", "release"].includes(entry.kind)) return true;
    const step = stepOf(entry);
    if (!step || !ANSWERS[step.kind].includes(entry.kind)) return false;
    if (entry.kind === "release") return countsAsRelease(job, entry, step.released_by);
    return entry.kind !== "aside" || !step.must;
  }

  /** What stops the work counts at once; what lets it go on waits until the gap before it is filled. */
  function stops(entry) {
    const { kind, about, sheet, step } = entry;
    if (kind === "withdraw") return byId.has(about[0]) && byId.get(about[0]).kind !== "snag";
    if (kind !== "release") return kind === "snag" || kind === "stop";
    const ends = sheets.get(sheet)?.ends?.[step] ?? [];
    return ends.length > 0 && Boolean(stepOf(entry)) && countsAsRelease(job, entry, stepOf(entry).released_by);
  }

  function isPulled(id) {
    return Boolean(job.tasks[sheets.get(id)?.task]?.pull_day);
  }

  function stepOf({ sheet, step }) {
    return job.tasks[sheets.get(sheet)?.task]?.steps.find(({ name }) => name === step);
  }

  /** Releases that count, withdrawn or not: people may have acted on one before it was withdrawn. */
  function releasesOf(sheet, hold) {
    const name = `${sheet} ${hold}`;
    if (!releases.has(name)) {
      releases.set(name, (bySheet.get(sheet) ?? []).filter((entry) => entry.kind === "release"
        && entry.step === hold && counts(entry)));
    }
    return releases.get(name);
  }

  /** Releases that start this sheet again. */
  function startingOf(id) {
    return (endings.get(id) ?? []).flatMap((ending) => releasesOf(ending.sheet, ending.hold));
  }

  /**
   * @param {string} id
   * @param {string[]} besides     ids of releases before which the sheet is looked at: they have not started it
   *   again yet. What was said after them is left out, but for taking something back: that was wrong from the start.
   * @returns {SheetAnswers}
   */
  function sheet(id, besides = []) {
    const all = bySheet.get(id) ?? [];
    const counted = all.filter(counts);
    const starting = startingOf(id);
    const started = starting.filter((release) => !besides.includes(release.id));
    const later = starting.filter((release) => besides.includes(release.id));
    const now = counted.filter((entry) => started.every((release) => past(release, entry))
      && (entry.kind === "withdraw" || !later.some((release) => past(release, entry))));
    const current = new Set(now);
    const byStep = grouped(counted, ({ step }) => step);
    const { steps } = job.tasks[sheets.get(id).task];
    const pulled = isPulled(id);
    const told = { past, answer: (said) => answerTo(said, current) };
    const withdrawn = withdrawnIn(now);
    const given = Object.fromEntries(steps.map(({ name }) => [name, answerTo(byStep.get(name) ?? [], current)]));
    const uncounted = all.filter((entry) => !counts(entry));
    const takenBack = withdrawnIn(counted);
    const beside = (wanted) => counted.filter(({ id: one, kind }) => kind === wanted && !takenBack.has(one));
    const photos = beside("photo");
    return {
      round: started.length + 1,
      begun: now.length > 0,
      steps: behindGates(steps, given, photos.filter((photo) => current.has(photo) && photo.about.length === 0)),
      snags: snagsIn(counted),
      photos,
      signatures: beside("signed"),
      closes: now.filter((entry) => entry.kind === "close" && !withdrawn.has(entry.id)),
      uncounted,
      gaps: uncounted.filter(({ id: one }) => early.has(one)),
      measured: pulled ? measuredIn(told, now) : {},
      stops: pulled ? stopsIn(told, now) : [],
    };
  }

  /**
   * An answer or a photo behind a hold counts when it had seen the release that stands: what was before is old.
   * The same of an answer and the steps that its step comes `after`.
   */
  function behindGates(steps, given, photos) {
    const gates = [];
    const isSince = (entries, before) => before.every((one) => covered(one.heads, entries));
    for (const { name, kind, after } of steps) {
      const { heads, earlier } = given[name];
      const before = (after ?? []).map((one) => given[one]).filter((one) => one.heads.length > 0);
      if (heads.length && !isSince(heads, [...gates, ...before])) {
        given[name] = { state: "open", answer: null, heads: [], earlier: [...earlier, ...heads] };
      }
      given[name].photos = photos.filter((photo) => photo.step === name && isSince([photo], gates));
      if (kind === "hold" && given[name].state === "answered") gates.push(given[name]);
    }
    return given;
  }

  /** Had one of these seen one of these answers, or is it one of them? */
  function covered(heads, by) {
    return by.some((one) => heads.some((head) => head === one || past(head, one)));
  }

  function answerTo(said, current) {
    const given = said.filter(({ kind }) => ANSWERING.includes(kind));
    const heads = headsOf(sound(given.filter((entry) => current.has(entry))));
    const standingOnes = heads.map(resolved);
    const same = new Set(standingOnes.map(meaning));
    const earlier = given.filter((entry) => !heads.includes(entry));
    if (same.size > 1) return { state: "conflict", answer: null, heads, earlier };
    const answer = standingOnes[0] ?? null;
    if (!answer || answer.kind === "withdraw") return { state: "open", answer: null, heads, earlier };
    return { state: answer.kind === "aside" ? "aside" : "answered", answer, heads, earlier };
  }

  /**
   * Entries that no other answers over. A settle answers over what it names and what those answered over; any
   * other entry, over its past.
   */
  function headsOf(now) {
    const newest = new Map();
    for (const { dev, seq, kind } of now) if (kind !== "settle") newest.set(dev, seq);
    const last = now.filter(({ dev, seq }) => seq >= Math.min(newest.get(dev) ?? 0, forks.get(dev) ?? Infinity));
    const named = new Set(last.flatMap(({ about }) => about));
    for (const id of named) if (byId.get(id).kind === "settle") byId.get(id).about.forEach((below) => named.add(below));
    const plain = [...last, ...[...named].map((id) => byId.get(id))].filter(({ kind }) => kind !== "settle");
    const seen = new Map();
    for (const entry of plain) {
      for (const [dev, seq] of [...Object.entries(entry.seen), [entry.dev, entry.seq - 1]]) {
        seen.set(dev, Math.max(seq, seen.get(dev) ?? -1));
      }
    }
    const isOver = (entry) => (entry.seq < (forks.get(entry.dev) ?? Infinity)
      ? entry.seq <= (seen.get(entry.dev) ?? -1)
      : plain.some((other) => other.dev === entry.dev && past(entry, other)));
    return last.filter((entry) => !named.has(entry.id) && !isOver(entry));
  }

  /** The answer that a head stands for: a settle stands for the one it chose. */
  function resolved(head) {
    let entry = head;
    while (entry.kind === "settle") entry = byId.get(entry.value);
    return entry;
  }

  /** Every release that started some sheet again. */
  function startingAgain() {
    return [...endings.values()].flat().flatMap((ending) => releasesOf(ending.sheet, ending.hold));
  }

  return { sheet, past, covered, releasesOf, startingOf, startingAgain, early, forks, byId, bySheet };
}

function withdrawnIn(entries) {
  const held = new Map(entries.map((entry) => [entry.id, entry]));
  return new Map(entries.filter(({ kind, about, step }) => kind === "withdraw" && held.get(about[0])?.step === step)
    .map((entry) => [entry.about[0], entry]));
}

function snagsIn(entries) {
  const withdrawn = withdrawnIn(entries);
  const closing = entries.filter(({ kind, id }) => kind === "snag-closed" && !withdrawn.has(id));
  const closed = new Map([...withdrawn, ...closing.map((entry) => [entry.about[0], entry])]);
  return entries.filter(({ kind }) => kind === "snag")
    .map((entry) => ({ entry, closed: closed.get(entry.id) ?? null }));
}

function grouped(entries, by) {
  const groups = new Map();
  for (const entry of entries) {
    const group = groups.get(by(entry));
    if (group) group.push(entry);
    else groups.set(by(entry), [entry]);
  }
  return groups;
}

function meaning({ kind, value, unit }) {
  return kind === "withdraw" ? "withdraw" : JSON.stringify([kind, value, unit]);
}

/** Entries that speak of nothing but each other, all the way down: a settle of what is not here settles nothing. */
function sound(entries) {
  const ids = new Set(entries.map(({ id }) => id));
  const restingOn = new Map();
  for (const entry of entries) {
    for (const id of entry.about) restingOn.set(id, [...(restingOn.get(id) ?? []), entry]);
  }
  const loose = entries.filter(({ about }) => !about.every((id) => ids.has(id)));
  for (const { id } of loose) if (ids.delete(id)) loose.push(...(restingOn.get(id) ?? []));
  return entries.filter(({ id }) => ids.has(id));
}

/** Sheet → the holds whose release starts it again. */
function endingsOf(sheets) {
  const endings = new Map();
  for (const { id, ends } of sheets) {
    for (const [hold, ended] of Object.entries(ends ?? {})) {
      for (const { sheet } of ended) endings.set(sheet, [...(endings.get(sheet) ?? []), { sheet: id, hold }]);
    }
  }
  return endings;
}
