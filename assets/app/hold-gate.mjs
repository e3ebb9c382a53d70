/** A hold on the screen: a gate from edge to edge, what keeps it shut, and its release. */

import { ask } from "./ask.mjs";
import { blockList } from "./blocks.mjs";
import { element, mark, part } from "./element.mjs";
import { byLine, earlierAnswers } from "./said.mjs";
import { notice } from "./needed.mjs";
import { photoStrip } from "./photos.mjs";
import { SignPad } from "./sign-pad.mjs";
import { signing, tellSigned } from "./signing.mjs";
import { snagList } from "./snags.mjs";
import { workingPanels } from "./working-panel.mjs";
import { mayRelease } from "./standing.mjs";
import { announce } from "./announce.mjs";
import { say, unmarked } from "./words.mjs";

export class HoldGate {
  /** @param {HTMLElement} node @param {Object} step as job.json has it @param {Object} page the sheet's page */
  constructor(node, step, page) {
    this.node = node;
    this.step = step;
    this.page = page;
    part(node, "form").onsubmit = (event) => {
      event.preventDefault();
      this.release();
    };
  }

  /** Whether the conduit runs on past this gate. */
  get laid() {
    return this.node.dataset.state === "open";
  }

  /** What has to be in sight before the bar may act on this gate. */
  get target() {
    return part(this.node, "form").hidden ? part(this.node, "gate-state") : part(this.node, "form");
  }

  /** @param {import("./progress.mjs").SheetState} sheet @param {boolean} fresh whether it was released just now */
  show(sheet, fresh) {
    const hold = this.hold = sheet.holds[this.step.name];
    const state = this.state = sheet.steps[this.step.name];
    const beyond = state.state === "shut";
    const ready = !hold.in_force && !beyond && sheet.state !== "closed" && hold.blocks.every((block) => this.#goesByReleasing(block));
    this.node.dataset.state = state.state === "not-applying" ? state.state : hold.in_force ? "open" : "shut";
    mark(this.node, "fresh", fresh);
    part(this.node, "gate-state").textContent = say(
      hold.in_force ? "hold.open" : isUnsigned(hold) ? "hold.unsigned" : hold.released ? "hold.lapsed" : ready ? "hold.ready" : "hold.shut");
    part(this.node, "answer").replaceChildren(...this.#answer(hold, state, sheet));
    const blocks = beyond ? hold.blocks.filter((block) => block.kind === "hold") : hold.blocks;
    part(this.node, "blocks").replaceChildren(
      ...(hold.in_force || blocks.length === 0 ? [] : blockList(blocks, this.page.hand)),
      ...this.#setAside(sheet), ...this.#heardOf());
    part(this.node, "workings").replaceChildren(...workingPanels(this.step, sheet, this.page, part(this.node, "workings")));
    part(this.node, "photos").replaceChildren(
      ...photoStrip(sheet.photos.filter((photo) => photo.step === this.step.name && photo.about.length === 0), this.page.hand));
    part(this.node, "snags").replaceChildren(
      ...snagList(sheet.snags.filter((snag) => snag.entry.step === this.step.name), this.page));
    part(this.node, "form").hidden = !ready;
    if (fresh && hold.in_force) announce(say("hold.open"));
  }

  nextAction() {
    if (part(this.node, "form").hidden) return { verb: say("sheet.next_hold_blocked"), act: () => this.#firstBlock() };
    return { verb: say("hold.release"), act: () => this.release() };
  }

  async release() {
    const { hand } = this.page;
    const needs = this.step.released_by;
    const words = this.node.querySelector(".say").textContent.trim();
    const pad = this.step.signed ? new SignPad() : null;
    const answer = await ask({
      question: say("hold.release_ask"), detail: `${words} ${say("hold.release_detail")}`, yes: say("hold.release_yes"), inside: pad?.node,
      person: mayRelease(hand.person?.role, needs) ? hand.person : null,
      refuse: ({ person }) => (mayRelease(person.role, needs) ? null : say("hold.role_short",
        { name: person.name, has: say(`roles.${person.role}`), needs: say(`roles.${needs}`) })),
    }, hand.people);
    if (answer === null) return;
    const released = await this.page.attempt({ kind: "release", step: this.step.name, value: answer.person.role }, answer.person);
    if (released && pad) await tellSigned(released, pad, this.page).catch((problem) => notice(say("saved.failed"), problem.message));
  }

  async #takeBack(release) {
    const answer = await ask({
      question: say("step.take_back_ask"), detail: say("step.take_back_detail"), yes: say("step.take_back"),
      words: { label: say("step.reason"), missing: say("step.reason_missing") }, person: this.page.hand.person,
    }, this.page.hand.people);
    if (answer === null) return;
    await this.page.attempt({ kind: "withdraw", step: this.step.name, value: answer.words, about: [release.id] }, answer.person);
  }

  /** Steps before this gate that somebody set aside: whoever releases it answers for that too. */
  #setAside({ steps }) {
    const names = this.page.task.steps.map(({ name }) => name);
    const aside = this.page.task.steps.slice(0, names.indexOf(this.step.name)).filter(({ name }) => steps[name].state === "aside");
    return aside.length === 0 ? [] : [
      element("p", { class: "blocks-title" }, say("hold.set_aside", { count: aside.length })),
      element("ul", { class: "blocks" }, ...aside.map(({ name, say: asked }) => element("li", {},
        element("a", { href: `#${this.page.sheet.item}/${name}` },
          `${unmarked(asked)} ${say("step.said_aside", { reason: steps[name].answer.value })}`)))),
    ];
  }

  /** What other sheets say is only what this phone has been told. */
  #heardOf() {
    const { needs, locks } = this.page.sheet;
    const asked = (needs?.[this.step.name] ?? []).length > 0 || locks?.[this.step.name];
    return !asked ? [] : [element("p", { class: "note" }, say("hold.heard"))];
  }

  /** Whether a block asks for nothing but another look: what changed since the release is itself in order. */
  #goesByReleasing({ kind, sheet, step }) {
    if (!this.hold.released) return false;
    if (kind === "lock") return sheet === this.page.sheet.id;
    const there = this.page.hand.progress.sheet(sheet);
    if (kind === "need") return step ? there.holds[step].in_force : there.left.length === 0;
    return kind === "step" && step !== null && ["answered", "aside"].includes(there.steps[step].state);
  }

  #answer(hold, state, sheet) {
    const earlier = earlierAnswers(state, this.step, this.page.hand);
    const differ = state.heads.length > 1 && this.hold.blocks.some(({ kind, step }) => kind === "conflict" && step === this.step.name);
    return [...(differ ? [element("p", {}, element("strong", {}, say("conflict.title")), ". ", say("conflict.release"))] : []),
      ...state.heads.filter((head) => head.kind === "release").flatMap((head) => [
      element("p", { class: "given" },
        element("span", { class: "plain" }, say("hold.released_as", { role: say(`roles.${head.value}`) })), " ",
        byLine(head, this.page.hand)),
      ...signing(head, this.page),
      sheet.state === "closed" ? null : element("button", { type: "button", class: "quiet", click: () => this.#takeBack(head) }, say("step.take_back")),
    ]).filter(Boolean), ...earlier];
  }

  #firstBlock() {
    part(this.node, "blocks").querySelector("a")?.focus();
    part(this.node, "blocks").scrollIntoView({ block: "nearest", behavior: "smooth" });
  }
}

function isUnsigned({ blocks }) {
  return blocks.length > 0 && blocks.every(({ kind }) => kind === "signature");
}
