/** A sheet in hand: one task, worked for the item that the address names. */

import { announce } from "./announce.mjs";
import { element, mark, part } from "./element.mjs";
import { keepingFocus } from "./focus.mjs";
import { HoldGate } from "./hold-gate.mjs";
import { NextBar } from "./next-bar.mjs";
import { photoStrip } from "./photos.mjs";
import { raiseSnag, snagList } from "./snags.mjs";
import { StepLine } from "./step-line.mjs";
import { ask } from "./ask.mjs";
import { blockList } from "./blocks.mjs";
import { Environment } from "./environment.mjs";
import { notice } from "./needed.mjs";
import { pullsRead } from "./pull-readings.mjs";
import { byLine } from "./said.mjs";
import { unsent } from "./send.mjs";
import { verdictWord } from "./verdict-sign.mjs";
import { openForPaper } from "./working-panel.mjs";
import { signing } from "./signing.mjs";
import { say } from "./words.mjs";

/** The item and the step that an address names: `#R1/length-in-hand`. */
export function addressed(location) {
  const [item, step] = decodeURIComponent(location.hash.slice(1)).split("/");
  return { item, step: step ?? null };
}

/** @returns {Object|null} the sheet that an address names on this page */
export function sheetAt(job, location) {
  const { task } = part(document, "head").dataset;
  return job.sheets.find((one) => one.task === task && one.item === addressed(location).item) ?? null;
}

/**
 * Names the item in the head; enough to read the sheet by where no record can be kept.
 * @returns {Object|null} the sheet, where the address names one
 */
export function showSheetHead(job, location) {
  const sheet = sheetAt(job, location);
  part(document, "items").hidden = sheet !== null;
  part(document, "sheet").hidden = sheet === null;
  part(document, "plate").hidden = sheet === null;
  if (sheet !== null) {
    const { task, item } = sheet;
    const { title, summary } = job.items[sheet.kind][item];
    part(document, "plate").textContent = item;
    const told = part(document, "summary");
    if (told) told.textContent = [title, summary].filter(Boolean).join(" · ");
    const board = part(document, "lock-board");
    const [asked] = Object.values(sheet.locks ?? {});
    if (board && asked) board.hash = encodeURIComponent(asked.points[0]);
    document.title = `${item} · ${job.tasks[task].title}`;
  }
  return sheet;
}

/** @param {import("./job-in-hand.mjs").JobInHand} hand */
export function openSheetPage(hand) {
  let opened = null;
  const open = () => {
    const sheet = showSheetHead(hand.job, location);
    if (sheet?.id !== opened?.sheet.id) {
      opened = sheet && new SheetPage(hand, sheet);
      hand.keep.set("last", sheet?.id ?? null);
      hand.keep.set("watched", null);
    }
    const drawn = opened?.show();
    mark(document.documentElement, "filled", true);
    part(document, "bar").hidden = opened === null;
    const { step } = addressed(location);
    if (opened && step) drawn.then(() => opened.goTo(step));
  };
  hand.watch(() => opened?.show());
  addEventListener("hashchange", open);
  addEventListener("beforeprint", () => addEventListener("afterprint", openForPaper(), { once: true }));
  open();
}

// Milliseconds of drawing between two chances for a tap.
const SLICE = 12;
// Lines that fit on a screen at once: drawn one by one, they would jump before the eyes.
const IN_SIGHT = 4;

// A release is given by name and is taken back by name, with a reason.
const UNDOABLE = ["done", "reading", "aside", "release"];

class SheetPage {
  constructor(hand, sheet) {
    this.hand = hand;
    this.sheet = sheet;
    this.task = hand.job.tasks[sheet.task];
    this.lines = new Map(this.task.steps.map((step) => {
      const node = document.getElementById(`step-${step.name}`);
      const Line = step.kind === "hold" ? HoldGate : StepLine;
      return [step.name, new Line(node, step, this)];
    }));
    this.bar = new NextBar(part(document, "bar"), this);
    this.fresh = null;
    this.turn = 0;
    const watch = part(document, "watch");
    if (watch) watch.hash = encodeURIComponent(sheet.item);
    mark(part(document, "sheet"), "brief", true);
  }

  /**
   * Draws everything again from where the sheet stands: what was just answered, what is next and the bar at once,
   * the rest a few lines at a time, so that a slow phone takes the next tap in between.
   */
  show() {
    const state = this.state = this.hand.progress.sheet(this.sheet.id);
    state.measured = pullsRead(state.environment.readings);
    this.lastSaid = this.#lastSaid();
    const turn = this.turn += 1;
    keepingFocus(() => {
      for (const name of new Set([this.fresh, state.next])) this.lines.get(name)?.show(state, name === this.fresh);
      this.#notes(state);
      this.#farEnd(state);
      this.#crew();
      this.bar.show(state);
    });
    return this.#showLines(state, () => turn === this.turn);
  }

  /** @param {() => boolean} stands whether nothing newer is being drawn */
  async #showLines(state, stands) {
    const lines = this.#drawn(state);
    let drawn = 0;
    while (stands()) {
      const until = performance.now() + SLICE;
      let done = false;
      keepingFocus(() => {
        for (; !done && (drawn < IN_SIGHT || performance.now() < until); drawn += 1) done = Boolean(lines.next().done);
      });
      if (done) return;
      await new Promise((go) => setTimeout(go));
    }
  }

  /** Draws one line after the other: how the conduit runs past it depends on those before. */
  *#drawn(state) {
    let [fed, beyond] = [true, false];
    for (const [name, line] of this.lines) {
      line.show(state, name === this.fresh);
      // Past a step that does not apply, the conduit runs on as it came.
      const passed = state.steps[name].state === "not-applying" ? fed : line.laid;
      mark(line.node, "fed", fed && !beyond);
      mark(line.node, "laid", passed && !beyond);
      mark(line.node, "beyond", beyond);
      mark(line.node, "next", name === state.next && state.state !== "closed");
      fed = passed;
      beyond ||= name in state.holds && state.steps[name].state !== "not-applying" && !state.holds[name].in_force;
      yield name;
    }
  }

  /**
   * Adds one entry for this sheet, and says that it is saved once it is.
   * @returns {Promise<import("./payload.mjs").Said|null>} null where it was not saved
   */
  async tell(told, person = null, photo = null) {
    this.fresh = told.step ?? null;
    const said = await this.hand.tell({ sheet: this.sheet.id, step: null, ...told }, person, photo);
    if (said !== null) announce(say("saved.spoken"));
    return said;
  }

  /** The same where no form holds the answer: a failure is told above everything. */
  async attempt(told, person = null) {
    try {
      return await this.tell(told, person);
    } catch (problem) {
      notice(say("saved.failed"), problem.message);
      return null;
    }
  }

  /** What this phone said last to this sheet, of what still stands. */
  #lastSaid() {
    const { dev } = this.hand.record.device ?? {};
    const stands = ({ id, step }) => this.state.steps[step]?.heads.some((head) => head.id === id);
    return this.hand.entries.findLast((one) => one.dev === dev && one.sheet === this.sheet.id && UNDOABLE.includes(one.kind) && stands(one));
  }

  /** One tap takes an answer back, by a further entry; what was said stays in sight, struck through. */
  undoButton(entry) {
    return element("button", {
      type: "button", class: "quiet undo", "aria-describedby": entry.step && `say-${entry.step}`, click: async () => {
        if (!await this.attempt({ kind: "withdraw", step: entry.step, value: say("step.undone"), about: [entry.id] })) return;
        announce(say("step.undone_spoken"));
        this.goTo(entry.step ?? this.state.next);
      },
    }, say("step.undo"));
  }

  /** What the screen says once this reading stands: the verdict, and each working of the step in words. */
  shownWith(name, read) {
    const { environment } = this.state;
    const then = new Environment(this.hand.job, this.sheet, { ...environment.readings, [name]: read });
    const working = {};
    for (const wanted of this.hand.step(this.sheet.task, name).workings) {
      working[wanted] = then.recorded(wanted);
    }
    return { verdict: then.step(name).verdict, working };
  }

  /** After an answer: on to the next step, unless this one has something to show first. */
  goOn(name) {
    const { verdict, reason } = this.state.steps[name];
    if (verdict !== null) announce(`${verdictWord(verdict)}. ${reason}`);
    const quiet = verdict === null && this.hand.step(this.sheet.task, name).workings.length === 0;
    this.goTo(quiet ? this.state.next ?? name : name);
  }

  leave = () => location.assign(new URL("index.html", this.hand.site));

  /** Brings a step before the eyes and the keyboard. */
  goTo(name) {
    const node = this.lines.get(name)?.node;
    if (!node) return;
    node.scrollIntoView({ block: "nearest", behavior: "smooth" });
    node.focus({ preventScroll: true });
  }

  /** @param {string|null} step */
  raiseSnag(step) {
    return raiseSnag(this, step);
  }

  async close() {
    const answer = await ask({
      question: say("sheet.close_ask"), detail: say("sheet.close_detail"), yes: say("sheet.close"), person: this.hand.person,
    }, this.hand.people);
    if (answer) await this.tell({ kind: "close" }, answer.person);
  }

  #notes(state) {
    const builds = new Set(this.hand.entries.filter((one) => one.sheet === this.sheet.id).map((one) => one.build));
    builds.delete(this.hand.build);
    part(document, "sheet-notes").replaceChildren(
      ...(this.hand.earlier ? [element("p", { class: "note" }, say("sheet.as_begun", { build: this.hand.build }))] : []),
      ...[...builds].map((build) => element("p", { class: "notice" }, say("sheet.older", { build, now: this.hand.build }))),
      ...photoStrip(state.photos.filter((photo) => photo.step === null && photo.about.length === 0), this.hand),
      ...snagList(state.snags.filter((snag) => snag.entry.step === null), this));
  }

  #farEnd(state) {
    const inside = [];
    if (state.state === "closed") {
      const closed = this.hand.entries.findLast((one) => one.kind === "close" && one.sheet === this.sheet.id);
      inside.push(element("p", {}, element("strong", {}, say("job.closed")), " ", byLine(closed, this.hand)), ...signing(closed, this));
      if (closed.dev === this.hand.record.device?.dev) inside.push(this.undoButton(closed));
    } else if (state.next === null && state.left.length > 0) {
      inside.push(...blockList(state.left, this.hand));
    }
    const idle = Object.values(state.steps).filter((step) => step.state === "not-applying").length;
    if (idle > 0) inside.push(this.#foldButton(idle));
    part(document, "far-end").replaceChildren(...inside);
    part(document, "stamp").textContent = say("sheet.stamp", { build: this.hand.build, head: this.hand.head() });
  }

  /** Shows or folds away the steps that do not apply to this item. */
  #foldButton(count) {
    const sheet = part(document, "sheet");
    return element("button", {
      type: "button", class: "quiet", "aria-expanded": String(!("brief" in sheet.dataset)),
      click: () => {
        mark(sheet, "brief", !("brief" in sheet.dataset));
        this.#farEnd(this.state);
      },
    }, say("brief" in sheet.dataset ? "sheet.unfold" : "sheet.fold", { count }));
  }

  #crew() {
    const person = this.hand.person;
    part(document, "crew").replaceChildren(element("button", {
      type: "button", class: "quiet", click: () => this.hand.askPerson(),
    }, person ? say("who.shown", { name: person.name, role: say(`roles.${person.role}`) }) : say("who.ask")),
    ...(unsent(this.hand) > 0 ? [element("a", { class: "plain-act quiet", href: new URL("index.html#send-title", this.hand.site).href },
      say("job.tally_unsent", { count: unsent(this.hand) }))] : []));
  }
}
