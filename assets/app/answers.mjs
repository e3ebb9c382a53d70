/**
 * @typedef {import("./payload.mjs").Said} Said
 *
 * @typedef {object} Answer        what has been said to one step
 * @property {"open"|"answered"|"aside"|"conflict"} state
 * @property {Said|null} answer    the entry that stands
 * @property {Said[]} heads        entries that no other answers over; a `settle` of a conflict names these ids
 * @property {Said[]} earlier      history, oldest first
 *
 * @typedef {object} Snag
 * @property {Said} entry
 * @property {Said|null} closed    the snag-closed or withdraw entry
 */
