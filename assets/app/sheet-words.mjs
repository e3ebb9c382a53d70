/** Where a sheet stands, in words. */

import { plain, say } from "./words.mjs";

/** Whether a step is behind the crew. @param {import("./progress.mjs").SheetState} sheet @param {string} name */
export function finished(sheet, name) {
  if (sheet.holds[name]) return sheet.holds[name].in_force;
  const { state, verdict, lacks_photo: lacksPhoto } = sheet.steps[name];
  return ["aside", "not-applying"].includes(state) || (state === "answered" && !lacksPhoto && !["outside", "cant-tell"].includes(verdict));
}

/** @param {import("./progress.mjs").SheetState} sheet */
export function sheetWords(sheet) {
  const steps = Object.keys(sheet.steps).filter((name) => sheet.steps[name].state !== "not-applying");
  const done = steps.filter((name) => finished(sheet, name)).length;
  const outside = steps.filter((name) => sheet.steps[name].verdict === "outside").length;
  const words = [say(`job.${sheet.state}`, { done, all: steps.length, hold: plain(sheet.next ?? "") })];
  if (outside > 0) words.push(say("job.outside", { count: outside }));
  const open = openSnags(sheet).length;
  if (open > 0) words.push(say("job.tally_snags", { count: open }));
  return words.join(" · ");
}

/** @param {import("./progress.mjs").SheetState} sheet */
export function openSnags(sheet) {
  return sheet.snags.filter((snag) => snag.closed === null);
}
