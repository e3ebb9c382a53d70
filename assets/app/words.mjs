/** The app's own words, from the one list (words.json) that the pages were made from as well. */

let list = {};

/**
 * Takes up the list; once, before anything is said.
 * @param {Object} words @param {Object<string, string>} [names] what the libraries' own names are called in its language
 */
export function useWords(words, names = {}) {
  list = { ...words, names: { ...words.names, ...names } };
}

/**
 * @param {string} place where the words stand in the list, as "step.done"
 * @param {Object<string, string|number>} [values] what goes in the {braces}; `count` chooses one or many
 * @returns {string}
 */
export function say(place, values = {}) {
  const found = place.split(".").reduce((level, key) => level?.[key], list);
  const text = typeof found === "object" ? found[values.count === 1 ? "one" : "many"] : found;
  if (text === undefined) throw new Error(`no words for ${place}`);
  return text.replace(/\{(\w+)\}/g, (braces, name) => (name in values ? String(values[name]) : braces));
}

/** @returns {string[]} every role that a person may have */
export function roles() {
  return Object.keys(list.roles);
}

/** A name from the job file or a word of its own, as people read it. */
export function plain(name) {
  const text = String(name);
  return nameOf(text) ?? text.replaceAll("-", " ").replaceAll("_", " ");
}

/** What a name is called in the language of the list, where it has a word for it. @param {string} name */
export function nameOf(name) {
  return own(list.names, name.replaceAll("_", "-"));
}

/** A sentence that is written in English where it arises, as in a formula: in the language of the list. @param {string} english */
export function translated(english) {
  return own(list.sentences, english) ?? english;
}

/** What stands in a list, and not what every object has by itself: these names come from people. */
function own(words, name) {
  return words && Object.hasOwn(words, name) ? words[name] : undefined;
}

/** The sign before the decimals. */
export function decimalSign() {
  return list.number.decimal;
}

/** Numbers in a text with the decimal sign of the language. What was typed is kept as typed; this is for showing. @param {string} text */
export function local(text) {
  return text.replace(/(\d)\.(?=\d)/g, `$1${decimalSign()}`);
}

/** A number and its unit stay on one line. @param {string} text */
export function unbroken(text) {
  return text.replace(/(\d) (?=[%A-Za-z°µΩ])/g, "$1\u00a0");
}

/** Wording with its emphasis marks taken off, for where a step is named in passing. @param {string} text */
export function unmarked(text) {
  return text.replace(/[*`]/g, "");
}

/**
 * When an entry was made, by the phone that made it: the hour today, the date as well on any other day.
 * Cut from the text as written, since a phone's clock is a claim to be shown and not to be converted.
 * @param {string} at RFC 3339 @param {string} today the same, for this moment
 */
export function moment(at, today) {
  const [day, hour] = [at.slice(0, 10), at.slice(11, 16)];
  return day === today.slice(0, 10) ? hour : `${day} ${hour}`;
}
