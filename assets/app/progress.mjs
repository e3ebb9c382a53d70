/**
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./answers.mjs").Snag} Snag
 *
 * @typedef {object} Block
 * @property {"step"|"verdict"|"conflict"|"snag"|"hold"|"need"} kind
 * @property {string} sheet
 * @property {string|null} step
 * @property {string} say          a sentence
 *
 * @typedef {object} StepState
 * @property {"open"|"answered"|"aside"|"conflict"|"not-applying"|"waiting"|"shut"} state
 * @property {"within"|"outside"|"cant-tell"|null} verdict
 * @property {string} reason
 * @property {Said|null} answer    the entry that stands
 * @property {Said[]} heads        one, or the answers that differ
 * @property {Said[]} earlier      what was said before, oldest first
 *
 * @typedef {object} HoldState
 * @property {boolean} released
 * @property {boolean} in_force
 * @property {Block[]} blocks
 *
 * @typedef {object} SheetState
 * @property {string} sheet
 * @property {"not-started"|"in-hand"|"held"|"worked"|"closed"} state
 * @property {number} round        1, or more when a release started the sheet again
 * @property {string|null} next    first step not finished
 * @property {Object<string, StepState>} steps
 * @property {Object<string, HoldState>} holds
 * @property {Snag[]} snags
 * @property {Block[]} left        what `close` still waits for; empty when worked
 * @property {object} environment  what environmentFor gave, for showing workings and verdicts
 */

/**
 * Where every sheet stands. Sheets are worked out when asked for.
 * @param {object} job                  job.json
 * @param {Said[]} entries
 * @param {(sheet: object, readings: Object<string, {text: string, unit: string|null}>) => object} environmentFor
 *        sheet is an element of job.sheets; the answer has step(name) and working(name)
 * @returns {{sheet: (id: string) => SheetState, sheets: () => SheetState[]}}
 */
export function progress(job, entries, environmentFor) {
  throw new Error("not written yet");
}
