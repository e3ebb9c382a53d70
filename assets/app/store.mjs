/**
 * This phone's record of one job, on disk.
 *
 * @typedef {import("./payload.mjs").Said} Said
 * @typedef {import("./chain.mjs").Entry} Entry
 * @typedef {import("./merge.mjs").Verdict} Verdict
 *
 * @typedef {object} Surroundings
 * @property {IDBFactory} indexedDB
 * @property {SubtleCrypto} subtle
 * @property {LockManager|undefined} locks    navigator.locks, where the browser has it
 * @property {() => Date} clock
 * @property {() => void} [written]           told after every writing, for the other pages of this phone
 * @property {{dev: string, seq: number}|null} [known]   the newest entry of this phone that was ever confirmed, as
 *   remembered outside the record
 *
 * @typedef {object} Told             what the screen gives; the rest of an entry comes from the chain
 * @property {string} who
 * @property {string} kind
 * @property {string|null} [sheet]
 * @property {string|null} [step]
 * @property {string} [value]
 * @property {string|null} [unit]     UCUM
 * @property {import("./payload.mjs").Shown|null} [shown]
 * @property {string[]} [about]
 * @property {string|null} [waits_for]
 * @property {{sha256: string, bytes: number, width: number, height: number}} [photo]
 * @property {string} [drawn]
 *
 * @typedef {object} Brought          what came of another phone's record
 * @property {Verdict[]} verdicts     one for each entry of the file, in its order
 * @property {string[]} remarks       sentences: what is missing, doubled or older than before
 * @property {import("./photo-store.mjs").PhotosBrought} photos
 */

import { newDevice, signedEntry } from "./chain.mjs";
import { Database, LAYOUT, later, NotSaved, ofDevice } from "./database.mjs";
import { headsOf, remarksOn, remembered } from "./heads.mjs";
import { inOrder, merge } from "./merge.mjs";
import { PhotoStore } from "./photo-store.mjs";
import { askedOf, recordName, recordText } from "./record-file.mjs";
import { stamp } from "./stamp.mjs";
import { say } from "./words.mjs";

export { NotSaved };

const MOST_TRIES = 50;
// So many entries more are read one by one before a new digest pays.
const WORTH_A_DIGEST = 300;

/**
 * Open (or make) this phone's record of the job.
 * @param {Surroundings} surroundings
 * @param {object} job      job.json
 * @param {string} build
 * @returns {Promise<Record>}
 */
export async function openRecord(surroundings, job, build) {
  const record = new Record(surroundings, job, build);
  await record.look();
  return record;
}

class Record {
  /** @type {{dev: string, key: string, name: string}|null} this phone, or null before `begin` */
  device = null;

  /** @type {{dev: string, say: string}|null} what this phone has lost; it then has to `begin` anew */
  lost = null;

  /** @type {import("./ask.mjs").Person|null} who holds it, as far as they said so */
  person = null;

  #privateKey = null;

  constructor({ indexedDB, subtle, locks, clock, written = () => {}, known = null }, job, build) {
    this.subtle = subtle;
    this.locks = locks;
    this.clock = clock;
    this.written = written;
    this.known = known;
    this.job = job;
    this.name = job.job.name;
    this.build = build;
    this.database = new Database(indexedDB, `pitslate-record-${this.name}`);
    this.photos = new PhotoStore(this.database, subtle);
  }

  /**
   * Make this phone's key and entry 0.
   * @param {{name: string, who: string, continues?: string|null}} phone
   * @returns {Promise<Said>}
   */
  async begin({ name, who, continues = null }) {
    const { privateKey, ...named } = await newDevice(this.subtle);
    const { entries, heads: before } = await this.#held();
    const heads = remembered(before, headsOf(opened(entries)));
    const fields = this.#fields(named.dev, null, heads, { who, kind: "device", value: name });
    const first = { ...fields, key: named.key, continues };
    const entry = await signedEntry(this.subtle, privateKey, first);
    await this.#add(first, entry, heads, { device: { slot: "this phone", ...named, name, privateKey } });
    await this.look();
    return { ...first, v: 1, id: entry.id };
  }

  /**
   * Sign and add one entry. Resolves only when it is on disk; throws NotSaved.
   * @param {Told} told
   * @param {import("./photo.mjs").Photo|null} [photo]   written with it, so that neither is there without the other
   * @returns {Promise<Said>}
   */
  async append(told, photo = null) {
    if (!this.device || this.lost) {
      throw new NotSaved(say("not_saved.lost", { why: this.lost?.say ?? say("lost.unnamed") }));
    }
    return this.#alone(() => this.#append(told, photo));
  }

  /**
   * Everything accepted, of all phones, sorted. Entries are only ever added, so a digest of as many as are held is
   * true, and read in a third of the time; what this phone has said since is read behind it.
   * @returns {Promise<Said[]>}
   */
  async readAll() {
    const dev = this.device?.dev ?? "";
    const read = await this.database.transaction("readonly", ["device", "chain", "brought"], ({ device, chain, brought }) => {
      const held = { digest: null, chain: later(chain.count()), brought: later(brought.count()), since: null };
      const asked = device.get("digest");
      asked.onsuccess = () => {
        held.digest = asked.result;
        if (asked.result) held.since = later(chain.getAll(IDBKeyRange.bound([dev, asked.result.upTo[dev] ?? 0], [dev, []])));
      };
      return held;
    });
    const { digest, since } = read;
    const whole = digest && digest.brought === read.brought.result && digest.chain + since.result.length === read.chain.result;
    if (!whole) return opened((await this.#held()).entries);
    const said = JSON.parse(digest.text);
    return since.result.length === 0 ? said : [...said, ...since.result.map(asSaid)].sort(inOrder);
  }

  /**
   * Keeps a digest of what was read, where reading it piece by piece takes long. It is no evidence: what leaves the
   * phone comes from the entries themselves, and without it all is there.
   * @param {Said[]} said   from `readAll`
   */
  async digest(said) {
    const stores = ["device", "chain", "brought"];
    const read = await this.database.transaction("readonly", stores, ({ device, chain, brought }) => ({
      before: later(device.get("digest")), chain: later(chain.count()), brought: later(brought.count()),
    }));
    const { before, chain, brought } = Object.fromEntries(Object.entries(read).map(([name, { result }]) => [name, result]));
    const fresh = before?.brought === brought && chain - before.chain < WORTH_A_DIGEST;
    if (fresh || said.length < WORTH_A_DIGEST || said.length !== chain + brought) return;
    const upTo = Object.fromEntries(said.map(({ dev, seq }) => [dev, seq + 1]));
    const text = JSON.stringify(said);
    await this.database.transaction("readwrite", ["device"], ({ device }) => device.put({ slot: "digest", chain, brought, upTo, text }));
  }

  /**
   * Take in another phone's record.
   * @param {import("./record-file.mjs").RecordFile} file   from `parseRecord`
   * @returns {Promise<Brought>}
   */
  async bring(file) {
    return this.#alone(() => this.#bring(file));
  }

  async #bring(file) {
    const before = await this.#held();
    const { held, said, verdicts } = await merge(this.subtle, before, file.entries, this.name);
    const had = new Set(before.entries.map(({ id }) => id));
    const stillWaiting = new Set(held.waiting.map(asKey));
    await this.database.transaction("readwrite", ["brought", "waiting", "aside", "heads"], (stores) => {
      for (const entry of held.entries) {
        if (had.has(entry.id)) continue;
        const { dev, seq } = JSON.parse(entry.payload);
        stores.brought.put({ dev, seq, ...entry });
      }
      before.waiting.filter((entry) => !stillWaiting.has(asKey(entry)))
        .forEach(({ id, sig }) => stores.waiting.delete([id, sig]));
      held.waiting.forEach((entry) => stores.waiting.put(entry));
      held.aside.forEach((kept) => stores.aside.put(kept));
      // This phone's own head is written only by its own entries.
      remembered(before.heads, headsOf(said)).filter(({ dev }) => dev !== this.device?.dev)
        .forEach((head) => stores.heads.put(head));
    });
    this.written();
    await this.look();
    return { verdicts, remarks: remarksOn(file, before.heads, said), photos: await this.photos.bring(file.photos, said) };
  }

  /** The record file, with as many photos as fit into it. @returns {Promise<{text: string, name: string}>} */
  async export() {
    return (await this.exported().next()).value;
  }

  /**
   * Everything, read from disk file by file: the record with the photos that fit into it, then the other photos.
   * @returns {AsyncGenerator<{text: string, name: string}>}
   */
  async *exported() {
    const { entries, waiting, asked } = await this.#held();
    const said = opened(entries);
    const sorted = new Map(entries.map((entry) => [entry.id, entry]));
    const from = { job: this.name, exportedAt: stamp(this.clock()), by: this.device?.dev ?? "" };
    const record = {
      heads: Object.fromEntries(headsOf(said).map(({ dev, seq, id }) => [dev, [seq, id]])),
      entries: [...said.map(({ id }) => sorted.get(id)), ...waiting],
      asked: Object.fromEntries(asked.map(({ build, job }) => [build, askedOf(job, sheetsOf(said, build))])),
    };
    const lots = await this.photos.lots();
    for (const [index, lot] of lots.entries()) {
      const photos = await this.photos.texts(lot);
      const text = recordText({ ...from, ...(index === 0 ? record : {}), photos });
      yield { text, name: recordName(this.name, this.device?.name ?? "", from.exportedAt, index + 1) };
    }
  }

  /** Whether a build has written here and still can. @param {string} build */
  async writable(build) {
    const read = await this.database.transaction("readonly", ["asked"], ({ asked }) => later(asked.get(build)));
    return read.result?.layout === LAYOUT;
  }

  close() {
    this.database.close();
  }

  /** Puts down who holds the phone. It is no evidence: where that can't be written, it is asked again. @param {import("./ask.mjs").Person} person */
  async heldBy(person) {
    this.person = person;
    await this.database.transaction("readwrite", ["device"], ({ device }) => device.put({ slot: "person", person }), "relaxed").catch(() => {});
    this.written();
  }

  /** Read who this phone is, and whether its chain is all there. */
  async look() {
    const { phone, person } = await this.database.transaction("readonly", ["device"], ({ device }) => (
      { phone: later(device.get("this phone")), person: later(device.get("person")) }));
    this.person = person.result?.person ?? this.person;
    this.device = null;
    this.lost = null;
    if (!phone.result) {
      if (this.known) this.lost = { dev: this.known.dev, say: say("lost.emptied") };
      return;
    }
    const { privateKey, dev, key, name } = phone.result;
    this.#privateKey = privateKey;
    this.device = { dev, key, name };
    const held = await this.database.transaction("readonly", ["chain", "brought", "heads"], (stores) => ({
      last: later(stores.chain.openCursor(ofDevice(dev), "prev")),
      head: later(stores.heads.get(dev)),
      count: later(stores.chain.count(ofDevice(dev))),
      strange: later(stores.brought.count(ofDevice(dev))),
    }));
    const last = held.last.result?.value;
    const older = this.known?.dev === dev && last?.seq < this.known.seq;
    if (!last || older || last.id !== held.head.result?.id || held.count.result !== last.seq + 1) {
      this.lost = { dev, say: say("lost.shortened") };
    } else if (held.strange.result > 0) {
      this.lost = { dev, say: say("lost.doubled") };
    }
  }

  /** One page of this app at a time, where the browser offers that; else the unique key decides. */
  async #alone(work) {
    return this.locks ? this.locks.request(this.database.name, work) : work();
  }

  async #append(told, photo) {
    const { dev } = this.device;
    let tried = null;
    for (let tries = 0; tries < MOST_TRIES; tries += 1) {
      const { last, heads, written } = await this.#end(dev, tried?.seq ?? 0);
      // The answer to an earlier try may have been lost on the way although the entry was written.
      if (tried && written?.id === tried.id) return tried;
      const fields = this.#fields(dev, last, heads, told);
      const entry = await signedEntry(this.subtle, this.#privateKey, fields);
      tried = { ...fields, v: 1, id: entry.id };
      try {
        await this.#add(fields, entry, [], { photo });
        return tried;
      } catch (fault) {
        // Another page of this app took the number: read the head again and go behind it.
        if (fault.name !== "ConstraintError") throw fault;
      }
    }
    throw new NotSaved(say("not_saved.busy"));
  }

  #fields(dev, last, heads, told) {
    const seen = heads.filter((head) => head.dev !== dev && head.whole >= 0).map((head) => [head.dev, head.whole]);
    return {
      dev,
      seq: last ? last.seq + 1 : 0,
      prev: last?.id ?? null,
      seen: Object.fromEntries(seen),
      at: stamp(this.clock()),
      job: this.name,
      build: this.build,
      sheet: null,
      step: null,
      value: "",
      unit: null,
      shown: null,
      about: [],
      ...told,
    };
  }

  async #add({ dev, seq }, entry, heads, { device = null, photo = null }) {
    const { build, job } = this;
    await this.database.transaction("readwrite", ["chain", "heads", "asked", "device", "photos"], (stores) => {
      if (photo) stores.photos.put(photo);
      stores.chain.add({ dev, seq, ...entry });
      heads.forEach((head) => stores.heads.put(head));
      stores.heads.put({ dev, seq, id: entry.id, whole: seq });
      if (device) stores.device.put(device);
      const known = stores.asked.getKey(build);
      known.onsuccess = () => known.result ?? stores.asked.put({ build, job, layout: LAYOUT });
    });
    this.written();
  }

  /** The end of this phone's chain, what is held of others, and the entry at number `seq`. */
  async #end(dev, seq) {
    const read = await this.database.transaction("readonly", ["chain", "heads"], ({ chain, heads }) => ({
      last: later(chain.openCursor(ofDevice(dev), "prev")),
      written: later(chain.get([dev, seq])),
      heads: later(heads.getAll()),
    }));
    return { last: read.last.result?.value, written: read.written.result, heads: read.heads.result };
  }

  async #held() {
    const stores = ["chain", "brought", "waiting", "aside", "heads", "asked"];
    const read = await this.database.transaction("readonly", stores, (held) => Object.fromEntries(
      stores.map((name) => [name, later(held[name].getAll())]),
    ));
    return {
      entries: [...read.chain.result, ...read.brought.result].map(asEntry),
      waiting: read.waiting.result,
      aside: read.aside.result,
      heads: read.heads.result,
      asked: read.asked.result,
    };
  }
}

function asEntry({ payload, id, sig }) {
  return { payload, id, sig };
}

/** @param {Entry[]} entries @returns {Said[]} sorted */
function opened(entries) {
  return entries.map(asSaid).sort(inOrder);
}

/** @param {Entry} entry @returns {Said} */
function asSaid({ payload, id }) {
  return { ...JSON.parse(payload), id };
}

function asKey({ id, sig }) {
  return id + sig;
}

function sheetsOf(said, build) {
  return new Set(said.filter((entry) => entry.build === build).map(({ sheet }) => sheet));
}
