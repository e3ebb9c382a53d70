/** One day on site: who is here, what was briefed, and who has signed on to it. The same as builder/record/site_day.py. */

import { SITE } from "./boards.mjs";
import { samePerson } from "./standing.mjs";

/**
 * @typedef {import("./payload.mjs").Said} Said
 *
 * @typedef {object} Briefing
 * @property {string} words
 * @property {Said[]} signed        the first entry of each person
 *
 * @typedef {object} SiteDay
 * @property {Said[]} here          the `arrived` entry of everybody who has not left
 * @property {Briefing[]} briefings  in the order in which they were first given
 * @property {Said[]} unsigned      of those here, who has not signed on to the last briefing
 * @property {Said[]} list          all that was said that day, as each phone's clock has it
 */

/**
 * @param {Said[]} entries sorted @param {import("./boards.mjs").Boards} boards @param {string} day as 2026-03-04
 * @returns {SiteDay}
 */
export function siteDay(entries, boards, day) {
  const said = entries.filter(({ sheet }) => sheet === SITE);
  const back = new Set(said.filter(({ kind }) => kind === "withdraw").map(({ about }) => about[0]));
  const list = said.filter(({ id, kind, at }) => ["arrived", "briefed", "left"].includes(kind) && at.startsWith(day) && !back.has(id))
    .sort((one, other) => (one.at < other.at ? -1 : Number(one.at > other.at)));
  const briefings = [];
  // Behind a gap somebody may have taken it back: that is no sign-on to rely on.
  for (const entry of list.filter(({ kind, id }) => kind === "briefed" && !boards.told.early.has(id))) {
    const words = entry.value.trim();
    let briefing = briefings.find((one) => one.words === words);
    if (!briefing) briefings.push(briefing = { words, signed: [] });
    if (!briefing.signed.some(({ who }) => samePerson(who, entry.who))) briefing.signed.push(entry);
  }
  const here = boards.zone();
  const signed = briefings.at(-1)?.signed ?? [];
  return { here, briefings, unsigned: here.filter(({ who }) => !signed.some((one) => samePerson(one.who, who))), list };
}
