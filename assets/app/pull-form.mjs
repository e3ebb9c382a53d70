/** Where something measured on the pull is typed: one number, its unit, and what is refused said beside it. */

import { twoWays } from "./believed.mjs";
import { announce } from "./announce.mjs";
import { part } from "./element.mjs";
import { pullReading } from "./pull-readings.mjs";
import { shownIn } from "./showing.mjs";
import { units } from "./units.mjs";

export class PullForm {
  /**
   * @param {HTMLFormElement} form
   * @param {Object} page the pull's page
   * @param {() => {step: string, quantity: string, label: string}} asked what the form asks for now
   */
  constructor(form, page, asked) {
    this.form = form;
    this.page = page;
    this.asked = asked;
    this.field = /** @type {HTMLInputElement} */ (form.querySelector("[name=value]"));
    form.onsubmit = (event) => {
      event.preventDefault();
      this.#save();
    };
    form.oninput = () => this.#typed();
    this.#typed();
  }

  /** Names what is asked for, and whether it may be answered. @param {boolean} open */
  show(open) {
    const { quantity, label } = this.asked();
    part(this.form, "value-label").textContent = label;
    part(this.form, "value-unit").textContent = units[shownIn(this.page.day[quantity].unit)].shown;
    this.form.hidden = !open;
  }

  async #save() {
    if (this.saving) return;
    const { step, quantity } = this.asked();
    const unit = this.page.hand.ucum(shownIn(this.page.day[quantity].unit));
    const value = this.field.value.trim();
    const { refused } = pullReading(this.page.day, step, { text: value, unit });
    const doubt = refused ?? twoWays({ name: step, unit }, value);
    if (doubt) {
      this.#refuse(doubt);
      return;
    }
    this.saving = true;
    try {
      if (await this.page.measure({ step, value, unit })) {
        this.field.value = "";
        // The keyboard goes, so that the call is in sight.
        this.field.blur();
        this.#typed();
      }
    } catch (problem) {
      this.#refuse(problem.message);
    } finally {
      this.saving = false;
    }
  }

  #refuse(reason) {
    part(this.form, "refused").textContent = reason;
    this.field.setAttribute("aria-invalid", "true");
    this.field.focus();
    announce(reason);
  }

  #typed() {
    part(this.form, "refused").textContent = "";
    this.field.removeAttribute("aria-invalid");
    const { unsaved } = this.page.hand;
    if (this.field.value.trim()) unsaved.add(this.form);
    else unsaved.delete(this.form);
  }
}
