/**
 * Which build a sheet is worked under: the one that this phone began it with, until it is closed.
 *
 * Told from the entries alone, so that every build tells it alike, whatever it would ask on that sheet.
 *
 * @typedef {import("./payload.mjs").Said} Said
 */

/**
 * @param {Said[]} entries   of one sheet, sorted
 * @param {string|undefined} dev   this phone
 * @returns {string|null} the build; null: not begun on this phone, or finished
 */
export function begunWith(entries, dev) {
  const withdrawn = new Set(entries.filter(({ kind }) => kind === "withdraw").flatMap(({ about }) => about));
  const closes = entries.filter(({ kind, id }) => kind === "close" && !withdrawn.has(id));
  const finished = (entry) => closes.some((close) => (
    close.dev === entry.dev ? close.seq >= entry.seq : (close.seen[entry.dev] ?? -1) >= entry.seq));
  return entries.find((entry) => entry.dev === dev && !finished(entry))?.build ?? null;
}

/** Every build that a sheet in hand was begun with. @param {Said[]} entries sorted @param {string|undefined} dev */
export function buildsInHand(entries, dev) {
  const sheets = new Map();
  for (const entry of entries) {
    if (sheets.has(entry.sheet)) sheets.get(entry.sheet).push(entry);
    else if (entry.sheet !== null) sheets.set(entry.sheet, [entry]);
  }
  return [...new Set([...sheets.values()].map((said) => begunWith(said, dev)))].filter((build) => build !== null);
}
