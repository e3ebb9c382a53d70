/** One question at a time, in a dialog that opens from the bottom edge, where the thumb is. */

import { all, element } from "./element.mjs";
import { roles, say } from "./words.mjs";

/**
 * @typedef {{name: string, role: string}} Person
 * @typedef {Object} Question
 * @property {string} question
 * @property {string} [detail]
 * @property {string} yes what the button that agrees says
 * @property {boolean} [only] there is nothing to turn back from
 * @property {Node} [inside] what stands between the question and its fields
 * @property {{label: string, missing: string|null}} [words] asks for words, and what to say when there are none; null:
 *   there need be none
 * @property {{text: string, keep: (text: string) => void}} [draft] where the words are kept until they are saved
 * @property {Person|null} [person] asks who it is, with this one chosen; leave out where it doesn't matter
 * @property {string} [phone] asks what the phone is called, with this name proposed
 * @property {(answer: Answer) => string|null|Promise<string|null>} [refuse] why this answer will not do; while it is
 *   being looked at, the question stays
 *
 * @typedef {{words: string, person: Person|null, phone: string}} Answer
 */

/**
 * @param {Question} question @param {Person[]} people to choose from
 * @returns {Promise<Answer|null>} null where the person turned back
 */
export function ask(question, people) {
  const words = question.words ? wordsField(question.words.label, question.draft) : null;
  const person = question.person === undefined ? null : personChoice(question.person, people);
  const phone = question.phone === undefined ? null
    : labelled(say("who.phone"), element("input", { class: "field", type: "text", maxlength: 40, value: question.phone }));
  const refused = element("p", { class: "refused", role: "alert", "data-part": "ask-refused" });
  const yes = element("button", { class: "act", "data-part": "ask-yes" }, question.yes);
  const no = element("button", { type: "button" }, say("page.cancel"));
  const form = element("form", { method: "dialog" },
    element("h2", { id: "ask-question" }, question.question), question.detail ? element("p", {}, question.detail) : null,
    question.inside, words, person, phone, refused, element("div", { class: "choices" }, yes, question.only ? null : no));
  const dialog = element("dialog", { class: "ask", "aria-labelledby": "ask-question" }, form);

  return new Promise((answered) => {
    const finish = (answer) => {
      // Turned back, they are not wanted; answered, the record has them or says that it hasn't.
      if (answer === null) question.draft?.keep("");
      dialog.close();
      dialog.remove();
      answered(answer);
    };
    let busy = false;
    form.onsubmit = async (event) => {
      event.preventDefault();
      if (busy) return;
      busy = true;
      const answer = {
        words: typed(words), phone: typed(phone), person: person && chosenPerson(person, people),
      };
      const refusal = missing(question, answer) ?? await question.refuse?.(answer) ?? null;
      busy = false;
      if (refusal === null) finish(answer);
      else refused.textContent = refusal;
    };
    no.onclick = () => finish(null);
    dialog.oncancel = (event) => {
      event.preventDefault();
      finish(null);
    };
    document.body.append(dialog);
    dialog.showModal();
    const [first] = [...all(form, "textarea"), ...all(form, "input:checked"), yes];
    first.focus();
  });
}

function missing(question, answer) {
  if (question.words?.missing && !answer.words) return question.words.missing;
  if (question.person !== undefined && !answer.person) return say("who.choose");
  if (question.person !== undefined && !answer.person.name) return say("who.name_missing");
  if (question.phone !== undefined && !answer.phone) return say("who.phone_missing");
  return null;
}

function wordsField(label, draft) {
  const field = element("textarea", { class: "field", rows: 3, maxlength: 2000 }, draft?.text);
  field.oninput = () => draft?.keep(field.value.trim());
  return labelled(label, draft?.text ? element("span", { class: "note unsaved" }, say("step.unsaved")) : null, field);
}

function labelled(label, ...fields) {
  return element("label", {}, element("span", { class: "label" }, label), ...fields);
}

function typed(labelledField) {
  return labelledField?.querySelector(".field").value.trim() ?? "";
}

function personChoice(person, people) {
  const listed = people.findIndex((one) => one.name === person?.name && one.role === person?.role);
  const unlisted = person !== null && listed < 0;
  const choice = (value, checked, ...inside) => element("label", { class: "person" },
    element("input", { type: "radio", name: "person", value, checked }), element("span", {}, ...inside));
  const other = element("div", { class: "other", hidden: !unlisted },
    labelled(say("who.name"), element("input", { class: "field", type: "text", autocomplete: "name", maxlength: 80, value: unlisted ? person.name : "" })),
    labelled(say("who.role"), element("select", { class: "field" },
      ...roles().map((role) => element("option", { value: role, selected: unlisted && role === person.role }, say(`roles.${role}`))))));
  const group = element("fieldset", {}, element("legend", { class: "label" }, say("who.label")),
    element("div", { class: "people" },
      ...people.map((one, at) => choice(at, at === listed, `${one.name} `, element("small", {}, say(`roles.${one.role}`)))),
      choice("other", unlisted, say("who.other"))),
    other);
  group.onchange = () => { other.hidden = chosen(group) !== "other"; };
  return group;
}

function chosen(group) {
  return group.querySelector("input[name=person]:checked")?.value;
}

function chosenPerson(group, people) {
  const choice = chosen(group);
  if (choice === undefined) return null;
  if (choice !== "other") return people[Number(choice)];
  return { name: group.querySelector("input.field").value.trim(), role: group.querySelector("select").value };
}
