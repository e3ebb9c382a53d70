/** The pull day: one pull watched from the winch, with its call large enough for everybody who stands there. */

import { announce } from "./announce.mjs";
import { ask } from "./ask.mjs";
import { element, part } from "./element.mjs";
import { notice } from "./needed.mjs";
import { callNow, inGauge, showCall } from "./pull-call.mjs";
import { PullForm } from "./pull-form.mjs";
import { pullsRead } from "./pull-readings.mjs";
import { LENGTH_IN } from "./pull-steps.mjs";
import { ScreenAwake } from "./screen-awake.mjs";
import { fromSi } from "./quantity.mjs";
import { byLine } from "./said.mjs";
import { showSheetHead } from "./sheet-page.mjs";
import { besideIts, plainText, shownIn, withUnit } from "./showing.mjs";
import { tensionPlot } from "./tension-plot.mjs";
import { units } from "./units.mjs";
import { lettersAcross } from "./worked-out.mjs";
import { plain, say, unbroken } from "./words.mjs";

const NOTED = ["note", "stop", "go"];

/** @param {import("./job-in-hand.mjs").JobInHand} hand @param {WakeLock|undefined} wakeLock */
export function openPullPage(hand, wakeLock) {
  const awake = new ScreenAwake(wakeLock, document, (state) => {
    part(document, "awake").textContent = say(`pull.${state}`);
  });
  let opened = null;
  const open = () => {
    const sheet = showSheetHead(hand.job, location);
    part(document, "bar").hidden = sheet === null;
    part(document, "back").href = new URL(sheet ? `tasks/${sheet.task}.html#${encodeURIComponent(sheet.item)}` : "index.html", hand.site).href;
    if (sheet?.id !== opened?.sheet.id) opened = sheet && new PullPage(hand, sheet, awake);
    hand.keep.set("last", sheet?.id ?? null);
    hand.keep.set("watched", sheet?.id ?? null);
    opened?.show();
  };
  hand.watch(() => opened?.show());
  addEventListener("hashchange", open);
  open();
}

class PullPage {
  #said = "";

  #stopping = false;

  constructor(hand, sheet, awake) {
    this.hand = hand;
    this.sheet = sheet;
    this.awake = awake;
    this.task = hand.job.tasks[sheet.task];
    this.day = this.task.pull_day;
    this.station = part(document, "station");
    this.station.onchange = () => this.#forms();
    part(document, "by").onchange = () => this.#forms();
    this.reading = new PullForm(part(document, "reading"), this, () => this.#asksFor());
    this.length = new PullForm(part(document, "length"), this, () => ({ step: LENGTH_IN, quantity: "length", label: say("pull.length", { unit: this.#sign("length") }) }));
    part(document, "stop").onclick = () => this.#stop();
    part(document, "go").onclick = () => this.#go();
    part(document, "note").onclick = () => this.#note();
  }

  /** Draws everything again from where the pull stands. */
  show() {
    this.state = this.hand.progress.sheet(this.sheet.id);
    this.working = this.state.environment.working(this.day.call);
    const call = callNow(this.state, this.day, this.hand);
    if (this.#stopping) Object.assign(call, { call: "stop", word: this.day.radio.stop.say, reasons: [say("pull.stopping")] });
    showCall(part(document, "call"), call, call.call === "shut" ? this.#gateLink() : null);
    this.#tell(`${call.word}. ${call.reasons.join(" ")}`);
    const running = this.state.holds[this.day.after].in_force && this.state.state !== "closed";
    this.awake.keep(running);
    part(document, "go").hidden = this.state.stops.length === 0;
    this.#choices();
    this.#forms(running);
    part(document, "figures").replaceChildren(...this.#figures());
    part(document, "drawing").replaceChildren(...this.#drawing());
    part(document, "stations").replaceChildren(...this.#stations());
    part(document, "shows").replaceChildren(...this.#shows());
    part(document, "notes").replaceChildren(...this.#notes());
    const { person } = this.hand;
    part(document, "crew").replaceChildren(element("button", { type: "button", class: "quiet", click: () => this.hand.askPerson() },
      person ? say("who.shown", { name: person.name, role: say(`roles.${person.role}`) }) : say("who.ask")));
  }

  /**
   * Adds something measured, with what the screen says once it stands.
   * @returns {Promise<boolean>} whether it was saved
   */
  async measure(told) {
    if (this.hand.person === null && await this.hand.askPerson() === null) return false;
    const entry = { kind: "measured", sheet: this.sheet.id, ...told };
    const texts = this.hand.asIf(entry).sheet(this.sheet.id).environment.recorded(this.day.call);
    const said = await this.hand.tell({ ...entry, shown: { verdict: null, working: { [this.day.call]: texts } } });
    if (said !== null) announce(say("saved.spoken"));
    return said !== null;
  }

  /** A person's stop shows before it is saved, and stays where saving fails. */
  async #stop() {
    this.#stopping = true;
    this.show();
    if (await this.#attempt({ kind: "stop", value: "" })) {
      this.#stopping = false;
      this.show();
    }
  }

  async #go() {
    const answer = await ask({
      question: say("pull.go_ask"), detail: say("pull.go_detail"), yes: say("pull.go_yes"),
      words: { label: say("pull.go_why"), missing: say("pull.go_missing") }, person: this.hand.person,
    }, this.hand.people);
    if (answer && await this.#attempt({ kind: "go", value: answer.words }, answer.person)) this.#stopping = false;
    this.show();
  }

  async #note() {
    const answer = await ask({
      question: say("pull.note_ask"), yes: say("pull.note_yes"), words: { label: say("pull.note_words"), missing: say("pull.note_missing") },
    }, this.hand.people);
    if (answer) await this.#attempt({ kind: "note", value: answer.words });
  }

  async #takeBack(step) {
    const answer = await ask({
      question: say("step.take_back_ask"), detail: say("step.take_back_detail"), yes: say("step.take_back"),
      words: { label: say("step.reason"), missing: say("step.reason_missing") }, person: this.hand.person,
    }, this.hand.people);
    const standing = this.hand.entries.filter((one) => one.sheet === this.sheet.id && one.step === step && one.kind === "measured");
    for (const { id } of answer ? standing : []) {
      if (!this.hand.entries.some((one) => one.kind === "withdraw" && one.about[0] === id)) {
        await this.#attempt({ kind: "withdraw", step, value: answer.words, about: [id] }, answer.person);
      }
    }
  }

  async #attempt(told, person) {
    try {
      return await this.hand.tell({ sheet: this.sheet.id, step: null, ...told }, person) !== null;
    } catch (problem) {
      notice(say("saved.failed"), problem.message);
      return false;
    }
  }

  /** Said aloud at once, whatever else is being read, and once. */
  #tell(words) {
    if (words === this.#said) return;
    this.#said = words;
    part(document, "called").textContent = words;
  }

  #gateLink() {
    const href = new URL(`tasks/${this.sheet.task}.html#${encodeURIComponent(this.sheet.item)}/${this.day.after}`, this.hand.site).href;
    return element("a", { class: "plain-act", href }, say("pull.to_gate"));
  }

  /** What stands read at a station, as it was typed. */
  #readAt(station) {
    const reading = this.state.environment.readings[`station-${station}`];
    if (!reading) return null;
    const { quantity = "tension", text, si } = reading;
    if (quantity === "people") return say("pull.counted", { count: text });
    return si === undefined ? text : besideIts(text, si, this.day[quantity].unit, "nearest");
  }

  /** The unit in which a quantity is typed on this phone, as it is shown. */
  #sign(quantity) {
    return units[shownIn(this.day[quantity].unit)].shown;
  }

  #rows() {
    const rows = this.working.outputs.stations?.rows
      ?? this.working.inputs.find(({ name }) => name === "segments")?.rows?.map(({ shape }, at) => ({ station: { si: at + 1 }, shape: { word: shape } })) ?? [];
    return [{ station: { si: 0 }, shape: { word: "mouth" } }, ...rows];
  }

  /** The stations to choose from; the next without a reading is chosen unless somebody has chosen another. */
  #choices() {
    const rows = this.#rows();
    const read = rows.map(({ station }) => this.#readAt(station.si) !== null);
    const next = Math.min(read.lastIndexOf(true) + 1, rows.length - 1);
    if (next === this.next && this.station.options.length === rows.length) return;
    this.next = next;
    this.station.replaceChildren(...rows.map((row) => element("option", { value: row.station.si, selected: row.station.si === next }, this.#called(row))));
  }

  #called({ station, shape, way }) {
    const kind = shape.word === "mouth" || shape.word === "straight" ? shape.word : shape.word === "bend_level" ? "bend" : "bend_up_down";
    const name = say(`pull.after_${kind}`, { station: station.si });
    return way ? `${name} · ${withUnit(plainText(fromSi(way.si, shownIn("m")), 3, "nearest"), shownIn("m"))}` : name;
  }

  #asksFor() {
    const people = !part(document, "by").hidden && part(document, "by").querySelector("input:checked").value === "people";
    const quantity = people ? "people" : "tension";
    return { step: `station-${this.station.value}`, quantity, label: say(`pull.${quantity}_at`, { unit: this.#sign(quantity) }) };
  }

  #forms(running = this.running) {
    this.running = running;
    const { people } = this.day;
    part(document, "by").hidden = !people || this.state.environment.condition(people.when)[0] !== true;
    this.reading.show(running);
    this.length.show(running);
  }

  #figures() {
    const { outputs, cannot_tell } = this.working;
    if (cannot_tell) return [];
    const gauge = (name, side = "up") => inGauge(outputs[name].si, this.day, side);
    const reckoned = say(`pull.from_${outputs.friction_from.word}`);
    const from = outputs.because.word === "counted_people" ? "estimate" : outputs.call.word === "not_measured" ? "planned" : "now";
    const met = outputs.met.si > 0 ? outputs.met.text : say("pull.not_yet");
    const length = this.state.environment.readings[LENGTH_IN];
    return [
      ["stop_at", gauge("stop_at", "down")], [from, gauge("pull_now")], ["next", gauge("next_tension")], ["end", gauge("tension_at_end")],
      ["met", met], ["reckoned", `${outputs.reckoned_with.text} ${reckoned}`],
      ...(length?.si === undefined ? [] : [["length", besideIts(length.text, length.si, this.day.length.unit, "nearest")]]),
    ].map(([name, text]) => element("div", { "data-figure": name }, element("dt", {}, say(`pull.figure_${name}`)), element("dd", {}, unbroken(text))));
  }

  /** The route with its limit, what was planned, what was read, and what is still to come. */
  #drawing() {
    const { environment } = this.state;
    const planned = Object.keys(this.task.workings).find((name) => this.task.workings[name].formula === "route_tension");
    const plan = planned ? environment.working(planned) : null;
    if (!plan || plan.cannot_tell || this.working.cannot_tell) return [];
    const { outputs } = this.working;
    const reached = outputs.reached.si;
    // An estimate is no place to set out from: then it is the plan that goes on.
    const here = outputs.because.word === "counted_people" && reached > 0 ? outputs.stations.rows[reached - 1].planned : outputs.pull_now;
    const forecast = [{ station: reached, tension_newton: here.si }, ...outputs.stations.rows
      .filter((row) => row.station.si > reached).map((row) => ({ station: row.station.si, tension_newton: row.expected.si }))];
    return [tensionPlot(plan, {
      limit: outputs.limit.si, measured: pullsRead(environment.readings), forecast, feed: outputs.feeds_from.word, width: lettersAcross(),
    })];
  }

  #stations() {
    return this.#rows().map((row) => {
      const { si } = row.station;
      const read = this.#readAt(si);
      const expected = row.expected ? say(si > this.working.outputs.reached.si ? "pull.expected" : "pull.was_planned", { pull: inGauge(row.expected.si, this.day, "up") }) : "";
      return element("li", { "data-read": read !== null, "data-next": si === this.next },
        element("span", { class: "name" }, this.#called(row)), read ? element("b", {}, read) : null, element("span", { class: "by" }, expected),
        read ? element("button", { type: "button", class: "quiet", click: () => this.#takeBack(`station-${si}`) }, say("step.take_back")) : null);
    });
  }

  #shows() {
    const { environment } = this.state;
    const useful = Object.keys(this.day.shows).filter((name) => environment.condition(this.day.shows[name])[0] !== false);
    return useful.map((name) => {
      const { title, outputs, cannot_tell } = environment.working(name);
      const texts = Object.entries(outputs).map(([output, { text }]) => `${plain(output)} ${text}`);
      return element("div", {}, element("dt", {}, title), element("dd", {}, cannot_tell ?? texts.join(" · ")));
    });
  }

  #notes() {
    const noted = this.hand.entries.filter((one) => one.sheet === this.sheet.id && NOTED.includes(one.kind));
    return noted.sort((one, other) => (one.at < other.at ? 1 : -1)).map((one) => element("li", { "data-kind": one.kind },
      element("span", {}, one.kind === "note" ? one.value : say(`pull.said_${one.kind}`, { why: one.value })), " ", byLine(one, this.hand)));
  }
}
