/**
 * @typedef {object} Verdict
 * @property {string} id
 * @property {"new"|"known"|"early"|"forked"|"broken"|"foreign"} verdict
 * @property {string} reason       a sentence, empty for new and known
 */
