/** Sheets that nobody has to work now: closed, or started again and wanted by nothing. */

/** @param {string} state of a sheet */
export function isOver(state) {
  return state === "closed" || state === "rests";
}
