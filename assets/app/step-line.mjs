/** One step of a sheet on the screen: its mark, its answer, its form and what may be done about it. */

import { showConflict } from "./conflict.mjs";
import { all, element, mark, part } from "./element.mjs";
import { photoButton, photoStrip } from "./photos.mjs";
import { earlierAnswers, standingAnswer } from "./said.mjs";
import { snagList } from "./snags.mjs";
import { ask } from "./ask.mjs";
import { StepForm } from "./step-form.mjs";
import { verdictSign } from "./verdict-sign.mjs";
import { workingPanels } from "./working-panel.mjs";
import { say, unmarked } from "./words.mjs";

export class StepLine {
  /** @param {HTMLElement} node @param {Object} step as job.json has it @param {Object} page the sheet's page */
  constructor(node, step, page) {
    this.node = node;
    this.step = step;
    this.page = page;
    this.form = new StepForm(part(node, "form"), step, page);
    // What was typed before and not saved is never left behind a closed form.
    this.again = this.form.typed !== "";
  }

  /** Whether the conduit is laid past this step. */
  get laid() {
    return ["done", "aside"].includes(this.node.dataset.shown);
  }

  /** What has to be in sight before the bar may answer this step. */
  get target() {
    return this.form.form.hidden ? this.node : this.form.form;
  }

  /** @returns {{verb: string, act: () => void}} what the bar does about this step */
  nextAction() {
    const { state } = this.state;
    if (this.state.lacks_photo) return { verb: say("photo.take"), act: () => part(this.node, "photos").querySelector("input").click() };
    if (state === "conflict") return { verb: say("sheet.next_conflict"), act: () => all(this.node, ".conflict button")[0].focus() };
    if (this.form.form.hidden) return { verb: say("sheet.next_look"), act: () => this.page.goTo(this.step.name) };
    return this.form.nextAction();
  }

  /** @param {import("./progress.mjs").SheetState} sheet @param {boolean} fresh whether it was answered just now */
  show(sheet, fresh) {
    const state = this.state = sheet.steps[this.step.name];
    const { hand } = this.page;
    const shown = shownAs(state);
    this.node.dataset.state = state.state;
    this.node.dataset.shown = shown;
    mark(this.node, "fresh", fresh);
    if (fresh) this.again = false;

    part(this.node, "answer").replaceChildren(...this.#answer(sheet, state, hand, fresh));
    part(this.node, "verdict").replaceChildren(
      ...(state.state === "answered" && state.verdict ? [verdictSign(state.verdict, state.reason)] : []));
    part(this.node, "workings").replaceChildren(
      ...(state.state === "not-applying" ? [] : workingPanels(this.step, sheet, this.page, part(this.node, "workings"))));
    const workable = sheet.state !== "closed" && !["shut", "not-applying", "waiting"].includes(state.state);
    const photos = sheet.photos.filter((photo) => photo.step === this.step.name && photo.about.length === 0);
    part(this.node, "photos").replaceChildren(...photoStrip(photos, hand), ...this.#photoAsked(workable, state, photos));
    part(this.node, "snags").replaceChildren(
      ...snagList(sheet.snags.filter((snag) => snag.entry.step === this.step.name), this.page));
    this.form.shown(workable && (state.state === "open" || this.again));
    this.#more(workable, state, shown);
  }

  /** Of the steps that this one comes after, the one that it waits for, where that can be answered now. */
  #first(sheet) {
    const waits = (this.step.after ?? []).find((name) => !["answered", "aside", "not-applying", "shut"].includes(sheet.steps[name].state)
      || ["outside", "cant-tell"].includes(sheet.steps[name].verdict));
    return waits ? this.page.hand.step(this.page.sheet.task, waits) : null;
  }

  #answer(sheet, state, hand, fresh) {
    const earlier = earlierAnswers(state, this.step, hand);
    if (state.state === "conflict") return [...earlier, showConflict(state.heads, this.step, this.page)];
    const first = state.state === "shut" && this.#first(sheet);
    if (first) return [...earlier, note(say("step.first", { say: unmarked(first.say) }))];
    if (state.state === "shut") return [...earlier, element("span", { class: "unseen" }, say("sheet.beyond"))];
    if (state.state === "not-applying") return [...earlier, note(say("step.not_applying"), state.reason)];
    if (state.state === "waiting") return [...earlier, note(say("step.waiting", { reason: state.reason }))];
    const undo = sheet.state !== "closed" && this.page.lastSaid === state.answer && state.answer !== null;
    return [...(state.answer ? [standingAnswer(state.answer, this.step, hand, fresh)] : []),
      ...(undo ? [this.page.undoButton(state.answer)] : []), ...earlier];
  }

  /** Asked for as long as none is there: what is needed keeps the step unfinished, what is wanted does not. */
  #photoAsked(workable, state, photos) {
    const { photo } = this.step;
    if (!workable || !photo || (photos.length > 0 && !state.lacks_photo)) return [];
    return [note(say(`photo.${photo}`)), photoButton(say("photo.take"), { step: this.step.name }, this.page)];
  }

  #more(workable, state, shown) {
    const more = part(this.node, "more");
    const button = (words, act) => element("button", { type: "button", class: "quiet", click: act }, say(words));
    const answered = ["answered", "aside"].includes(state.state);
    more.hidden = !workable;
    more.querySelector("summary").textContent = say(answered ? "step.change" : "step.more");
    part(more, "choices").replaceChildren(
      ...(answered && this.step.kind === "read" && state.state === "answered"
        ? [button("step.again", () => this.enterAgain())] : []),
      ...(answered ? [button("step.take_back", () => this.takeBack())] : []),
      photoButton(say("photo.here"), { step: this.step.name }, this.page),
      button("snag.here", () => this.page.raiseSnag(this.step.name)),
      ...(state.state === "open" && !this.step.must ? [button("step.aside", () => this.setAside())] : []));
    if (shown !== this.lastShown) more.open = shown === "outside" || shown === "cant-tell";
    this.lastShown = shown;
  }

  /** Opens the form again over an answer; what is saved then stands instead, and the first stays visible. */
  enterAgain() {
    this.again = true;
    this.form.shown(true);
    this.form.focus();
  }

  async takeBack() {
    const { hand } = this.page;
    const answer = await ask({
      question: say("step.take_back_ask"), detail: say("step.take_back_detail"), yes: say("step.take_back"),
      words: { label: say("step.reason"), missing: say("step.reason_missing") }, person: hand.person,
    }, hand.people);
    if (answer === null) return;
    // One entry takes back whatever stands: it has every answer of before in its past.
    const told = { kind: "withdraw", step: this.step.name, value: answer.words, about: [this.state.heads[0].id] };
    await this.page.attempt(told, answer.person);
  }

  async setAside() {
    const { hand } = this.page;
    const answer = await ask({
      question: say("step.aside_ask"), detail: say("step.aside_detail"), yes: say("step.aside_yes"),
      words: { label: say("step.reason"), missing: say("step.reason_missing") }, person: hand.person,
    }, hand.people);
    if (answer) await this.page.attempt({ kind: "aside", step: this.step.name, value: answer.words }, answer.person);
  }
}

function shownAs({ state, verdict, lacks_photo: lacksPhoto }) {
  if (state !== "answered") return state;
  if (verdict === "outside" || verdict === "cant-tell") return verdict;
  return lacksPhoto ? "photo" : "done";
}

function note(...sentences) {
  return element("p", { class: "note" }, sentences.filter(Boolean).join(" "));
}
