/** One question at a time, in the page's own dialog. */

import { part } from "./element.mjs";
import { say } from "./words.mjs";

/**
 * @typedef {{name: string, role: string}} Person
 * @typedef {Object} Question
 * @property {string} question
 * @property {string} [detail]
 * @property {string} yes what the button that agrees says
 * @property {{label: string, missing: string}} [words] asks for words, and what to say when there are none
 * @property {Person|null} [person] asks who it is, with this one chosen; leave out where it doesn't matter
 * @property {string} [phone] asks what the phone is called, with this name proposed
 * @property {(answer: Answer) => string|null} [refuse] why this answer will not do
 *
 * @typedef {{words: string, person: Person|null, phone: string}} Answer
 */

/**
 * @param {Question} question @param {Person[]} people of the job, in the order of the dialog's list
 * @returns {Promise<Answer|null>} null where the person turned back
 */
export function ask(question, people) {
  const dialog = part(document, "ask");
  const inside = (name) => part(dialog, name);
  const text = dialog.querySelector("#ask-text");
  const phone = dialog.querySelector("#ask-phone");

  inside("question").textContent = question.question;
  inside("detail").textContent = question.detail ?? "";
  inside("detail").hidden = !question.detail;
  inside("ask-words").hidden = !question.words;
  inside("ask-label").textContent = question.words?.label ?? "";
  text.value = "";
  inside("ask-person").hidden = question.person === undefined;
  choosePerson(dialog, question.person ?? null, people);
  inside("ask-phone").hidden = question.phone === undefined;
  phone.value = question.phone ?? "";
  inside("ask-refused").textContent = "";
  inside("ask-yes").textContent = question.yes;

  return new Promise((answered) => {
    const away = new AbortController();
    const finish = (answer) => {
      away.abort();
      dialog.close();
      answered(answer);
    };
    const agree = () => {
      const answer = { words: text.value.trim(), person: chosenPerson(dialog, people), phone: phone.value.trim() };
      const refusal = missing(question, answer) ?? question.refuse?.(answer) ?? null;
      if (refusal === null) finish(answer);
      else inside("ask-refused").textContent = refusal;
    };
    const on = (node, event, act) => node.addEventListener(event, act, { signal: away.signal });
    on(inside("ask-yes"), "click", agree);
    on(inside("ask-no"), "click", () => finish(null));
    on(dialog, "cancel", (event) => (event.preventDefault(), finish(null)));
    on(dialog, "submit", (event) => (event.preventDefault(), agree()));
    on(dialog, "change", () => showOther(dialog));
    dialog.showModal();
    (question.words ? text : dialog.querySelector("input[name=person]:checked") ?? inside("ask-yes")).focus();
  });
}

function missing(question, answer) {
  if (question.words && !answer.words) return question.words.missing;
  if (question.person !== undefined && !answer.person) return say("who.choose");
  if (question.person !== undefined && !answer.person.name) return say("who.name_missing");
  if (question.phone !== undefined && !answer.phone) return say("who.phone_missing");
  return null;
}

function choosePerson(dialog, person, people) {
  const listed = people.findIndex((one) => one.name === person?.name && one.role === person?.role);
  const wanted = person === null ? null : listed < 0 ? "other" : String(listed);
  for (const choice of dialog.querySelectorAll("input[name=person]")) choice.checked = choice.value === wanted;
  dialog.querySelector("#ask-name").value = wanted === "other" ? person.name : "";
  if (wanted === "other") dialog.querySelector("#ask-role").value = person.role;
  showOther(dialog);
}

function chosenPerson(dialog, people) {
  const choice = dialog.querySelector("input[name=person]:checked")?.value;
  if (choice === undefined) return null;
  if (choice !== "other") return people[Number(choice)];
  return { name: dialog.querySelector("#ask-name").value.trim(), role: dialog.querySelector("#ask-role").value };
}

function showOther(dialog) {
  part(dialog, "other-person").hidden = dialog.querySelector("input[name=person]:checked")?.value !== "other";
}
