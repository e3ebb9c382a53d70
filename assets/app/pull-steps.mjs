/** The names under which things are measured on a pull: `station-3`, the mouth being `station-0`, and `length-in`. */

export const LENGTH_IN = "length-in";
const STATION = /^station-(0|[1-9][0-9]{0,3})$/;

/** @param {string|null} step @returns {number|null} 3 for `station-3`, the mouth being 0 */
export function stationOf(step) {
  const found = STATION.exec(step ?? "");
  return found ? Number(found[1]) : null;
}

/** Is this the name of something measured on the pull and of no step of a sheet? @param {string|null} step */
export function isMeasured(step) {
  return step === LENGTH_IN || stationOf(step) !== null;
}
