/**
 * Where a phone's clock was set back. A time is a label and never an order, so nothing moves: it is only said.
 *
 * @typedef {import("./payload.mjs").Said} Said
 */

// Milliseconds that a clock may be put right by without anybody being told.
const SLACK = 60000;

/** @param {Said[]} entries sorted @returns {Set<string>} ids of those that name an earlier time than one before them */
export function setBack(entries) {
  const marked = new Set();
  let [dev, latest] = ["", 0];
  for (const entry of entries) {
    const at = Date.parse(entry.at);
    if (entry.dev !== dev) [dev, latest] = [entry.dev, at];
    if (at < latest - SLACK) marked.add(entry.id);
    latest = Math.max(latest, at);
  }
  return marked;
}

/** @param {Said|undefined} last of this phone @param {Date} now @returns {boolean} whether the clock stands before it */
export function standsBehind(last, now) {
  return last !== undefined && now.getTime() < Date.parse(last.at) - SLACK;
}
