/** Search over what this phone holds: sheets by title and item, steps by their wording. */

import { unmarked } from "./words.mjs";

/**
 * @typedef {Object} Found
 * @property {Object|null} step  as job.json has it; null: the sheets themselves
 * @property {Object[]} sheets   elements of job.sheets
 */

/**
 * @param {Object} job job.json
 * @returns {(text: string) => Found[]} sheets first, then steps; every word must be somewhere, in any order
 */
export function searchOf(job) {
  const sheets = job.sheets.map((sheet) => ({
    sheet, text: folded([sheet.item, job.items[sheet.kind][sheet.item].title, job.tasks[sheet.task].title, job.tasks[sheet.task].library_title].join(" ")),
  }));
  const steps = Object.entries(job.tasks).flatMap(([task, { steps: all }]) => {
    const here = sheets.filter(({ sheet }) => sheet.task === task);
    return all.map((step) => ({ step, text: folded(unmarked(step.say)), here }));
  });
  return (typed) => {
    const words = folded(typed).split(/\s+/).filter(Boolean);
    if (words.length === 0) return [];
    const titled = sheets.filter(({ text }) => words.every((word) => text.includes(word)));
    const worded = steps.flatMap(({ step, text, here }) => {
      const left = words.filter((word) => !text.includes(word));
      if (left.length === words.length) return [];
      const fitting = here.filter(({ text: title }) => left.every((word) => title.includes(word)));
      return fitting.length === 0 ? [] : [{ step, sheets: fitting.map(({ sheet }) => sheet) }];
    });
    return [...titled.map(({ sheet }) => ({ step: null, sheets: [sheet] })), ...worded];
  };
}

/** Small letters without accents: a gloved thumb types neither. */
function folded(text) {
  return text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
}
