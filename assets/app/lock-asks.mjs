/** What is asked before a lock goes on or comes off, and before somebody goes into the zone or leaves it. */

import { ask } from "./ask.mjs";
import { boardOf, SITE } from "./boards.mjs";
import { element } from "./element.mjs";
import { isSupervisor, nameKey, samePerson } from "./standing.mjs";
import { moment, say } from "./words.mjs";

/**
 * @typedef {import("./job-in-hand.mjs").JobInHand} JobInHand
 * @typedef {import("./boards.mjs").Lock} Lock
 * @typedef {{told: Object, person: import("./ask.mjs").Person}} Told   what is to be entered, and by whom
 */

/** @param {JobInHand} hand @returns {{point: string, lock: Lock}[]} every lock that may be on */
export function locksOn(hand) {
  return hand.progress.boards.points().flatMap(({ name, locks }) =>
    locks.filter(({ state }) => state === "on").map((lock) => ({ point: name, lock })));
}

/** @param {JobInHand} hand @param {string} point @returns {Promise<Told|null>} */
export async function askOn(hand, point) {
  const number = element("input", { class: "field", type: "text", autocomplete: "off", maxlength: 20, value: usualNumber(hand) });
  const asked = ask({
    question: say("locks.on_ask", { point }), detail: say("locks.on_detail"), yes: say("locks.on_yes"), person: hand.person,
    inside: element("label", {}, element("span", { class: "label" }, say("locks.number")), number),
    refuse: () => {
      const wanted = nameKey(number.value);
      if (wanted === "") return say("locks.number_missing");
      const twin = locksOn(hand).find(({ lock }) => nameKey(lock.entry.value) === wanted);
      return twin ? say("locks.number_twice", { number: number.value.trim(), who: twin.lock.entry.who, point: twin.point }) : null;
    },
  }, hand.people);
  if (number.value === "") number.focus();
  const answer = await asked;
  return answer && { told: { kind: "lock-on", sheet: boardOf(point), value: number.value.trim() }, person: answer.person };
}

/** The number of the lock that whoever holds the phone hung up last. */
function usualNumber(hand) {
  const own = hand.entries.filter(({ kind, who }) => kind === "lock-on" && hand.person && samePerson(who, hand.person.name));
  return own.sort((one, other) => (one.at < other.at ? -1 : 1)).at(-1)?.value ?? "";
}

/** @param {JobInHand} hand @param {string} point @param {Lock} lock @returns {Promise<Told|null>} */
export async function askOff(hand, point, { entry }) {
  const owner = entry.who;
  const answer = await ask({
    question: say("locks.off_ask", { number: entry.value, point }), detail: say("locks.off_detail"), yes: say("locks.off_yes"),
    person: hand.person && samePerson(hand.person.name, owner) ? hand.person : null,
    refuse: ({ person }) => (samePerson(person.name, owner) ? null : say("locks.not_yours", { owner })),
  }, hand.people);
  return answer && { told: { kind: "lock-off", sheet: boardOf(point), about: [entry.id] }, person: answer.person };
}

/** The owner can't be found: first somebody looks for them, and says how. @returns {Promise<Told|null>} */
export async function askLooked(hand, point, { entry }) {
  const owner = entry.who;
  const answer = await ask({
    question: say("locks.absent_ask", { owner }), yes: say("locks.absent_yes"), person: null, inside: absentSteps(owner),
    words: { label: say("locks.absent_words"), missing: say("locks.absent_missing") },
    refuse: ({ person }) => stillHere(hand, owner) ?? (samePerson(person.name, owner) ? say("locks.absent_self", { owner }) : null),
  }, hand.people);
  return answer && { told: { kind: "absent", sheet: boardOf(point), value: answer.words, about: [entry.id] }, person: answer.person };
}

/** Then another takes the lock off, and one of the two is a supervisor. @returns {Promise<Told|null>} */
export async function askOffWithout(hand, point, { entry }, looked) {
  const owner = entry.who;
  const answer = await ask({
    question: say("locks.without_ask", { number: entry.value, owner }), yes: say("locks.without_yes"), person: null, inside: absentSteps(owner),
    detail: say("locks.looked", { who: looked.who, time: moment(looked.at, hand.now()), how: looked.value }),
    refuse: ({ person }) => {
      if (samePerson(person.name, owner) || samePerson(person.name, looked.who)) return say("locks.without_three", { owner, looked: looked.who });
      const supervised = isSupervisor(hand.job, person.name) || isSupervisor(hand.job, looked.who);
      return stillHere(hand, owner) ?? (supervised ? null : say("locks.without_supervisor"));
    },
  }, hand.people);
  return answer && { told: { kind: "lock-off", sheet: boardOf(point), about: [entry.id, looked.id] }, person: answer.person };
}

/**
 * Takes back something said on a board.
 * @param {JobInHand} hand @param {import("./payload.mjs").Said} entry what is taken back @param {string} question
 * @param {string[]|null} may names of whom that counts from; null: anybody's
 * @returns {Promise<Told|null>}
 */
export async function askBack(hand, entry, question, may) {
  const allowed = ({ name }) => may === null || may.some((one) => samePerson(one, name));
  const answer = await ask({
    question, detail: say("step.take_back_detail"), yes: say("step.take_back"), person: hand.person && allowed(hand.person) ? hand.person : null,
    words: { label: say("step.reason"), missing: say("step.reason_missing") },
    refuse: ({ person }) => (allowed(person) ? null : say("locks.back_only", { who: [...new Set(may)].join(", ") })),
  }, hand.people);
  return answer && { told: { kind: "withdraw", sheet: entry.sheet, value: answer.words, about: [entry.id] }, person: answer.person };
}

function absentSteps(owner) {
  return element("ol", { class: "absent-steps" }, ...[1, 2, 3, 4, 5].map((step) => element("li", {}, say(`locks.absent_${step}`, { owner }))));
}

/** An owner who has signed on and not left is somewhere behind the lock. */
function stillHere(hand, owner) {
  return hand.progress.boards.zone().some(({ who }) => samePerson(who, owner)) ? say("locks.absent_here", { owner }) : null;
}

/** @param {JobInHand} hand @returns {Promise<Told|null>} */
export async function askIn(hand) {
  const answer = await ask({
    question: say("locks.in_ask"), detail: say("locks.in_detail"), yes: say("locks.in_yes"), person: hand.person,
    refuse: ({ person: { name } }) => (isIn(hand, name) ? say("locks.is_in", { name }) : null),
  }, hand.people);
  return answer && { told: { kind: "arrived", sheet: SITE }, person: answer.person };
}

/** @param {JobInHand} hand @returns {Promise<Told|null>} */
export async function askOut(hand) {
  const answer = await ask({
    question: say("locks.out_ask"), detail: say("locks.out_detail"), yes: say("locks.out_yes"), person: hand.person,
    refuse: ({ person: { name } }) => {
      const own = locksOn(hand).find(({ lock }) => samePerson(lock.entry.who, name));
      if (own) return say("locks.out_lock", { number: own.lock.entry.value, point: own.point });
      return isIn(hand, name) ? null : say("locks.is_out", { name });
    },
  }, hand.people);
  return answer && { told: { kind: "left", sheet: SITE }, person: answer.person };
}

function isIn(hand, name) {
  return hand.progress.boards.zone().some(({ who }) => samePerson(who, name));
}
