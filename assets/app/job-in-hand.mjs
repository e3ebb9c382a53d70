/** The job as this phone has it: its data, its record, where every sheet stands and who holds the phone. */

import { ask } from "./ask.mjs";
import { setBack } from "./clock-marks.mjs";
import { Drafts } from "./drafts.mjs";
import { believed } from "./believed.mjs";
import { Environment } from "./environment.mjs";
import { inOrder } from "./merge.mjs";
import { notice } from "./needed.mjs";
import { Pictures } from "./pictures.mjs";
import { progress } from "./progress.mjs";
import { pullReading } from "./pull-readings.mjs";
import { stamp } from "./stamp.mjs";
import { units } from "./units.mjs";
import { say } from "./words.mjs";

/**
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./ask.mjs").Person} Person
 */

export class JobInHand {
  #asked = 0;

  #shown = 0;

  /**
   * @param {Object} parts
   * @param {any} parts.job job.json
   * @param {string} parts.build
   * @param {any} parts.record from openRecord
   * @param {import("./keep.mjs").Keep} parts.keep
   * @param {() => Date} parts.clock
   * @param {URL} parts.site where the job's own page lies
   * @param {boolean} [parts.earlier] whether this page goes on under an earlier build than the one in use
   */
  constructor({ job, build, record, keep, clock, site, earlier = false }) {
    this.job = job;
    this.build = build;
    this.record = record;
    this.keep = keep;
    this.drafts = new Drafts(record.database);
    this.clock = clock;
    this.site = site;
    this.earlier = earlier;
    this.sheets = new Map(this.job.sheets.map((sheet) => [sheet.id, sheet]));
    this.pictures = new Pictures(record.photos);
    this.watchers = [];
    this.unsaved = new Set();
  }

  /** @returns {Person[]} */
  get people() {
    return this.job.job.people;
  }

  /** @returns {Person|null} who holds the phone now */
  get person() {
    return this.record.device && !this.record.lost ? this.record.person : null;
  }

  /**
   * Tells every watcher where things stand.
   * @param {Said|null} [said] the one entry that has come since, and is on disk; without it the record is read again
   */
  async refresh(said = null) {
    this.#asked += 1;
    const turn = this.#asked;
    const entries = said && this.entries ? withOne(this.entries, said) : await this.record.readAll();
    // A slow reading must not put back what a later one has already shown.
    if (turn < this.#shown) return;
    this.#shown = turn;
    this.entries = entries;
    this.setBack = setBack(entries);
    this.progress = progress(this.job, this.entries, (sheet, readings) => this.#environment(sheet, readings));
    for (const watcher of this.watchers) watcher();
  }

  /** @param {() => void} watcher called after every change of the record */
  watch(watcher) {
    this.watchers.push(watcher);
  }

  /**
   * Adds one entry. Resolves once it is on disk.
   * @param {Object} told kind, and sheet, step, value, unit, shown, about where the kind has them
   * @param {Person|null} [person] who says so, where it is not who holds the phone
   * @param {import("./photo.mjs").Photo|null} [photo] what a photo's entry speaks of
   * @returns {Promise<Said|null>} null where nobody would say who they are
   */
  async tell(told, person = null, photo = null) {
    const who = person ?? this.person ?? await this.askPerson();
    if (who === null) return null;
    const said = await this.record.append({ ...told, who: who.name }, photo);
    this.keep.set("known", { dev: said.dev, seq: said.seq });
    // It is on disk now, whatever becomes of reading it back.
    await this.refresh(said).catch((problem) => notice(say("saved.unread"), problem.message));
    return said;
  }

  /** Where everything would stand with one entry more of this phone, told just now. */
  asIf(told) {
    const { dev } = this.record.device;
    const newest = new Map();
    for (const { dev: of, seq } of this.entries) if (seq === (newest.get(of) ?? -1) + 1) newest.set(of, seq);
    const last = this.entries.findLast((one) => one.dev === dev);
    const seen = Object.fromEntries([...newest].filter(([of]) => of !== dev));
    const entry = { id: "", dev, seq: last.seq + 1, prev: last.id, seen, at: this.now(), who: "", step: null, unit: null, about: [], ...told };
    const at = this.entries.lastIndexOf(last) + 1;
    const entries = [...this.entries.slice(0, at), entry, ...this.entries.slice(at)];
    return progress(this.job, entries, (sheet, readings) => this.#environment(sheet, readings));
  }

  /** Asks who is using the phone; the first time, what the phone is called as well. @returns {Promise<Person|null>} */
  async askPerson() {
    const { device, lost } = this.record;
    const first = device === null || lost !== null;
    const answer = await ask({
      question: say("who.ask"), detail: say("who.ask_detail"), yes: say("who.start"),
      person: this.record.person, ...(first ? { phone: device?.name ?? "" } : {}),
    }, this.people);
    if (answer === null) return null;
    // Before the first entry: a page that is left in between would know the phone and not who holds it.
    await this.record.heldBy(answer.person);
    if (first) await this.record.begin({ name: answer.phone, who: answer.person.name, continues: lost?.dev ?? null });
    if (first) this.keep.set("known", { dev: this.record.device.dev, seq: 0 });
    await this.refresh();
    return answer.person;
  }

  /** @param {string} task @param {string} name @returns {Object} a step of a task as job.json has it */
  step(task, name) {
    return this.job.tasks[task].steps.find((step) => step.name === name);
  }

  /** @returns {string} this moment, as entries write it */
  now() {
    return stamp(this.clock());
  }

  /** @param {string} dev @returns {string|null} what another phone is called; null for this one */
  phoneName(dev) {
    if (dev === this.record.device?.dev) return null;
    return this.entries.find((one) => one.dev === dev && one.seq === 0)?.value ?? dev.slice(0, 8);
  }

  /** @param {string} id of a sheet @returns {string} what people call it */
  sheetTitle(id) {
    const { task, item } = this.sheets.get(id);
    return `${item} ${this.job.tasks[task].title}`;
  }

  /** @param {string} id @returns {Said} */
  entry(id) {
    return this.entries.find((one) => one.id === id);
  }

  /** @returns {string} a short form of this phone's newest entry, for paper to witness */
  head() {
    const { dev, name } = this.record.device ?? {};
    const last = this.entries.findLast((one) => one.dev === dev);
    return last ? `${name} ${last.seq} ${last.id.slice(0, 8)}` : say("phone.no_entries");
  }

  /** @returns {boolean} whether this phone shows and takes feet and pounds */
  get customary() {
    return (this.keep.get("units") ?? (this.job.job.practice === "us" ? "customary" : "metric")) === "customary";
  }

  /** @param {string|null} symbol of a step's unit @returns {string|null} the unit that is typed on this phone */
  typedIn(symbol) {
    return (this.customary && symbol && units[symbol].customary) || symbol;
  }

  /** @param {string} symbol of a unit @returns {string} its UCUM code, which entries carry */
  ucum(symbol) {
    return units[symbol].ucum;
  }

  #environment(sheet, readings) {
    const task = this.job.tasks[sheet.task];
    const standing = {};
    for (const [name, reading] of Object.entries(readings)) {
      // What came in from another phone is held to the same unit and range as what is typed here.
      const step = this.step(sheet.task, name);
      if (!step) {
        // A wrong one is kept: without it the pull would look the better.
        standing[name] = pullReading(task.pull_day, name, reading);
        continue;
      }
      const read = believed(task, step, reading.text, reading.unit);
      if (read.reason === undefined) standing[name] = read;
    }
    return new Environment(this.job, sheet, standing);
  }
}

/** Entries with one more, which another page may have told of already. */
function withOne(entries, said) {
  return entries.some(({ id }) => id === said.id) ? entries : [...entries, said].sort(inOrder);
}
