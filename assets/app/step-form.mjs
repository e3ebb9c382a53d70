/** Where a step is answered: a tap, a choice, words, or a number that can be believed. */

import { announce } from "./announce.mjs";
import { element, part } from "./element.mjs";
import { believed, twoWays } from "./believed.mjs";
import { units } from "./units.mjs";
import { say } from "./words.mjs";

export class StepForm {
  /** @param {HTMLFormElement} form @param {Object} step @param {Object} page */
  constructor(form, step, page) {
    this.form = form;
    this.step = step;
    this.page = page;
    // The form outlives the sheet it is shown for: the same page serves every item of its task.
    form.onsubmit = (event) => {
      event.preventDefault();
      this.save(/** @type {HTMLButtonElement|null} */ (event.submitter)?.value);
    };
    form.oninput = () => this.#typed();
    form.reset();
    this.unit = page.hand.typedIn(step.unit);
    this.#label();
    this.draft = page.hand.drafts.at(`${page.sheet.id} ${step.name}`);
    form.querySelector(".unsaved")?.remove();
    if (this.field && this.draft.text) {
      this.field.value = this.draft.text;
      part(form, "refused").before(element("p", { class: "note unsaved" }, say("step.unsaved")));
    }
    this.#typed();
  }

  /** @returns {HTMLInputElement|null} */
  get field() {
    return this.form.querySelector("[name=reading]");
  }

  /** @returns {string} what is typed and not saved */
  get typed() {
    return this.field?.value.trim() ?? "";
  }

  /** @param {boolean} whether */
  shown(whether) {
    this.form.hidden = !whether;
  }

  focus() {
    (this.field ?? this.form.querySelector("button")).focus();
  }

  /** @returns {{verb: string, act: () => void}} what the bar does about this form */
  nextAction() {
    const { step } = this;
    if (step.kind !== "read") return { verb: say(step.kind === "look" ? "step.looked" : "step.done"), act: () => this.save() };
    if (step.one_of.length > 0) return { verb: say("sheet.next_choice"), act: () => this.focus() };
    if (this.typed) return { verb: say("sheet.next_save", { text: this.typed }), act: () => this.save() };
    return { verb: say("sheet.next_read"), act: () => this.focus() };
  }

  /** Saves what the form holds, or says beside the field why it can't be believed. */
  async save(choice) {
    if (this.saving) return;
    const told = this.#told(choice);
    if (told === null) return;
    this.saving = true;
    this.form.setAttribute("aria-busy", "true");
    try {
      if (await this.page.tell(told)) {
        this.form.reset();
        this.#typed();
        this.page.goOn(this.step.name);
      }
    } catch (problem) {
      // The answer stays where it was typed; the store says what happened and what to do.
      this.#refuse(problem.message);
    } finally {
      this.saving = false;
      this.form.removeAttribute("aria-busy");
    }
  }

  #told(choice) {
    const { step, page } = this;
    if (step.kind !== "read") return { kind: "done", step: step.name };
    const unit = step.unit ? page.hand.ucum(this.unit) : null;
    const read = believed(page.task, step, choice || this.typed, unit);
    const refused = read.reason ?? twoWays(step, this.typed);
    if (refused !== null) {
      this.#refuse(refused);
      return null;
    }
    return { kind: "reading", step: step.name, value: choice || this.typed, unit, shown: page.shownWith(step.name, read) };
  }

  /** The unit that is typed on this phone, where it has one to its name. */
  #label() {
    const sign = this.form.querySelector(".unit");
    if (!sign) return;
    sign.textContent = units[this.unit].shown;
    this.form.querySelector("label").textContent = `${say("step.reading_in")} ${units[this.unit].shown}`;
  }

  #refuse(reason) {
    part(this.form, "refused").textContent = reason;
    this.field?.setAttribute("aria-invalid", "true");
    this.field?.focus();
    announce(reason);
  }

  #typed() {
    part(this.form, "refused").textContent = "";
    this.field?.removeAttribute("aria-invalid");
    const { unsaved } = this.page.hand;
    if (this.typed) unsaved.add(this.form);
    else unsaved.delete(this.form);
    if (this.field) this.draft.keep(this.typed);
    if (!this.typed) this.form.querySelector(".unsaved")?.remove();
    this.page.bar?.typed();
  }
}
