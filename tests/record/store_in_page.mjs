/** The phone's store in a real page: told, brought, lost and made to fail. Gives what came out; Python compares. */

import { merge } from "/merge.mjs";
import { progress } from "/progress.mjs";
import { parseRecord } from "/record-file.mjs";
import { namedPhoto } from "/photo.mjs";
import { openRecord } from "/store.mjs";

const { subtle } = crypto;
const BUILD = "0123456789ab";
const NOTHING = { entries: [], waiting: [], aside: [] };
const SNAG = { who: "Ana", kind: "snag", sheet: "S", waits_for: null };

function jobNamed(name) {
  return { job: { name }, tasks: {}, sheets: [] };
}

/** @param {object} [given] locks, clock, build: what this phone has instead of the usual */
async function open(name, given = {}) {
  const surroundings = { indexedDB, subtle, locks: undefined, clock: () => new Date(), ...given };
  return openRecord(surroundings, jobNamed(name), given.build ?? BUILD);
}

async function begun(name, given) {
  const record = await open(name, given);
  if (!record.device) await record.begin({ name: "Ana's phone", who: "Ana" });
  return record;
}

/** Every entry of an exported record, judged anew by a phone that has nothing. */
async function judged(text, name) {
  const { verdicts } = await merge(subtle, NOTHING, parseRecord(text, name).entries, name);
  return verdicts.map(({ verdict }) => verdict);
}

async function told(name, values, given) {
  const record = await begun(name, given);
  for (const value of values) await record.append({ ...SNAG, value });
  const { text, name: file } = await record.export();
  record.close();
  return { text, file, dev: record.device.dev };
}

async function read(name, text) {
  const record = await open(name);
  const before = (await record.readAll()).length;
  const brought = text ? await record.bring(parseRecord(text, name)) : null;
  const after = await record.readAll();
  record.close();
  return {
    before, after: after.map(({ dev, seq, value }) => [dev, seq, value]),
    verdicts: brought?.verdicts.map(({ verdict }) => verdict), remarks: brought?.remarks, lost: record.lost?.say ?? null,
  };
}

/** What is read by way of a digest, beside the same read entry by entry: after writing, after more, after another's. */
async function digested(name, count, other) {
  const record = await begun(name);
  for (let number = 0; number < count; number += 1) await record.append({ ...SNAG, value: `entry ${number}` });
  const outcomes = [];
  const compare = async () => {
    const rows = await record.database.transaction("readonly", ["device"], ({ device }) => {
      const found = { digest: null };
      device.get("digest").onsuccess = ({ target }) => { found.digest = target.result; };
      return found;
    });
    const by = JSON.stringify(await record.readAll());
    await record.database.transaction("readwrite", ["device"], ({ device }) => device.delete("digest"));
    const without = JSON.stringify(await record.readAll());
    if (rows.digest) await record.database.transaction("readwrite", ["device"], ({ device }) => device.put(rows.digest));
    outcomes.push([rows.digest !== undefined, by === without, JSON.parse(by).length]);
  };
  await record.digest(await record.readAll());
  await compare();
  await record.append({ ...SNAG, value: "one more" });
  await compare();
  await record.bring(parseRecord(other, name));
  await compare();
  const dev = record.device.dev;
  await record.database.transaction("readwrite", ["chain"], ({ chain }) => chain.delete([dev, 3]));
  await compare();
  record.close();
  return outcomes;
}

/** Pages of one phone that all write at once. */
async function together(name, pages, each, locked) {
  const records = [];
  for (let page = 0; page < pages; page += 1) {
    records.push(await begun(name, { locks: locked ? navigator.locks : undefined }));
  }
  const all = await Promise.all(records.flatMap((record, page) => Array.from({ length: each },
    (_, number) => record.append({ ...SNAG, value: `${page}.${number}` }))));
  const { text } = await records[0].export();
  records.forEach((record) => record.close());
  return { ids: all.map(({ id }) => id), seqs: all.map(({ seq }) => seq), verdicts: await judged(text, name) };
}

/** Take entries out of the phone's own store, as a browser that loses data does. */
async function lose(name, count, headToo) {
  const record = await open(name);
  const { dev } = record.device;
  const said = (await record.readAll()).filter((entry) => entry.dev === dev);
  await record.database.transaction("readwrite", ["chain", "heads"], ({ chain, heads }) => {
    for (const { seq } of said.slice(-count)) chain.delete([dev, seq]);
    const { seq, id } = said.at(-count - 1);
    if (headToo) heads.put({ dev, seq, id, whole: seq });
  });
  record.close();
}

/** A phone that lost entries goes on as a new one. */
async function goOn(name) {
  const record = await open(name);
  const refusal = await record.append({ ...SNAG, value: "refused" }).catch((fault) => fault.message);
  const first = await record.begin({ name: "Ana's phone", who: "Ana", continues: record.lost.dev });
  const next = await record.append({ ...SNAG, value: "after" });
  const { text } = await record.export();
  record.close();
  return { refusal, continues: first.continues, seen: next.seen, lost: record.lost, verdicts: await judged(text, name) };
}

/** A picture of so many bytes, as phone and desk take it for one. */
async function picture(number, size) {
  const bytes = new Uint8Array(size).fill(number);
  bytes.set([0xFF, 0xD8, 0xFF, 0xC0, 0, 11, 8, 0, 48, 0, 64, 1, 1, 0x11, 0]);
  bytes.set([0xFF, 0xD9], size - 2);
  return namedPhoto(subtle, bytes);
}

/** A phone that took photos, and what leaves it. */
async function photographed(name, count, size) {
  const record = await begun(name);
  for (let number = 0; number < count; number += 1) {
    const photo = await picture(number, size);
    const told = { who: "Ana", kind: "photo", sheet: "S", photo: { sha256: photo.sha256, bytes: size, width: 64, height: 48 } };
    await record.append(told, photo);
  }
  const files = [];
  for await (const file of record.exported()) files.push(file);
  record.close();
  return files;
}

/** What came of each file on a phone that has nothing, and how many photos are there after the last. */
async function brought(name, texts, phone) {
  const apart = { indexedDB: { open: (database, version) => indexedDB.open(`${phone} ${database}`, version) } };
  const record = await open(name, apart);
  const came = [];
  for (const text of texts) {
    const { photos } = await record.bring(parseRecord(text, name));
    came.push([photos.came, photos.reasons.length, photos.missing.length]);
  }
  const held = await record.photos.held();
  record.close();
  return { came, held: held.length };
}

/**
 * What a phone that has nothing makes of records that come in one after the other: where every sheet stands, what is
 * on the boards, which photos are here, and the file that leaves it.
 */
async function everyOrder(name, job, texts, orders) {
  const environmentFor = (sheet, readings) => (
    { readings, step: () => ({ applies: true, applies_reason: "", verdict: null, reason: "" }) });
  const out = [];
  for (const order of orders) {
    const apart = { open: (database, version) => indexedDB.open(`${order.join("")} ${database}`, version) };
    const record = await openRecord({ indexedDB: apart, subtle, locks: undefined, clock: () => new Date(0) }, job, BUILD);
    let photos = null;
    for (const index of order) ({ photos } = await record.bring(parseRecord(texts[index], name)));
    const where = progress(job, await record.readAll(), environmentFor);
    const sheets = where.sheets().map(({ environment, ...state }) => state);
    const { text } = await record.export();
    out.push({ sheets, zone: where.boards.zone(), photos: await record.photos.held(), missing: photos.missing.length, text });
    record.close();
  }
  return out;
}

/** Photos leave one phone, and come to others in these orders of its files. */
async function handedOn(name, count, size, orders) {
  const files = await photographed(name, count, size);
  const told = files.map(({ text, name: file }) => {
    const { entries, photos } = parseRecord(text, name);
    return { file, characters: text.length, entries: entries.length, photos: Object.keys(photos).length };
  });
  const came = [];
  for (const order of orders) came.push(await brought(name, order.map((index) => files[index].text), came.length));
  return { files: told, came, cut: await brought(name, [files[0].text.slice(0, -size / 2)], "cut") };
}

// Faults: the nth call of the storage fails, once or from then on.

const CALLS = [
  [IDBFactory.prototype, "open"], [IDBDatabase.prototype, "transaction"],
  ...["add", "put", "get", "getAll", "getKey", "count", "openCursor"].map((call) => [IDBObjectStore.prototype, call]),
];
const REAL = CALLS.map(([owner, call]) => owner[call]);
const FAILS = {
  throws: (name) => { throw new DOMException("made to fail", name); },
  // The request is taken, and the transaction is given up when it should be written.
  "gives up": (name, owner, call, args, real) => {
    if (call === "open") throw new DOMException("made to fail", name);
    const given = real.apply(owner, args);
    const transaction = given.transaction ?? given;
    Object.defineProperty(transaction, "error", { value: new DOMException("made to fail", name), configurable: true });
    queueMicrotask(() => transaction.abort());
    return given;
  },
};

function failing(n, { way, name, forGood }) {
  let calls = 0;
  let failed = false;
  CALLS.forEach(([owner, call], index) => {
    owner[call] = function made(...args) {
      calls += 1;
      if (calls !== n && !(forGood && calls > n)) return REAL[index].apply(this, args);
      failed = true;
      return FAILS[way](name, this, call, args, REAL[index]);
    };
  });
  return () => {
    CALLS.forEach(([owner, call], index) => { owner[call] = REAL[index]; });
    return failed;
  };
}

/** The whole life of a record, until something fails. Gives what the screen would have shown as saved. */
async function life(name, other, given) {
  const shown = [];
  try {
    const record = await open(name, given);
    shown.push((await record.begin({ name: "Ana's phone", who: "Ana" })).id);
    shown.push((await record.append({ ...SNAG, value: "one" })).id);
    await record.bring(parseRecord(other, name));
    shown.push((await record.append({ ...SNAG, value: "two" })).id);
    await record.export();
    record.close();
    return { shown, fault: null };
  } catch (fault) {
    return { shown, fault: [fault.constructor.name, fault.message] };
  }
}

async function faults(other, name, fault) {
  const wrong = [];
  const refusals = new Set();
  for (let n = 1; ; n += 1) {
    const phone = { indexedDB: { open: (database, version) => indexedDB.open(`${n} ${database}`, version) } };
    const restore = failing(n, fault);
    const { shown, fault: told } = await life(name, other, phone);
    const failed = restore();
    const record = await open(name, phone);
    const held = new Set((await record.readAll()).map(({ id }) => id));
    const { text } = await record.export();
    const verdicts = await judged(text, name);
    if (record.device && !record.lost) await record.append({ ...SNAG, value: "goes on" });
    record.close();
    if (told) refusals.add(told[1].split(".")[0]);
    const lost = shown.filter((id) => !held.has(id));
    const odd = verdicts.filter((verdict) => verdict !== "new");
    if (lost.length || odd.length || record.lost || (told && told[0] !== "NotSaved")) wrong.push({ n, lost, odd, told, without: record.lost });
    if (!failed) return { points: n - 1, wrong, refusals: [...refusals] };
  }
}

/** Appends until the browser is killed; says each entry that was saved. */
async function untilKilled(name) {
  const record = await begun(name, { locks: navigator.locks });
  for (let number = 0; ; number += 1) {
    const { id, seq } = await record.append({ ...SNAG, value: `entry ${number} ${"x".repeat(number % 300)}` });
    globalThis.saved([seq, id]);
  }
}

/** How long an entry takes to be on disk in a long record, in milliseconds. */
async function appendTimes(name, length, times) {
  const record = await begun(name);
  const said = await record.append({ ...SNAG, value: "a template" });
  const rows = Array.from({ length }, (_, number) => ({ dev: "f".repeat(32), seq: number, id: String(number), sig: "", payload: JSON.stringify(said) }));
  await record.database.transaction("readwrite", ["brought"], ({ brought }) => rows.forEach((row) => brought.put(row)));
  const taken = [];
  for (let number = 0; number < times; number += 1) {
    const began = performance.now();
    await record.append({ ...SNAG, value: `entry ${number}` });
    taken.push(performance.now() - began);
  }
  record.close();
  return taken;
}

async function strictness(name) {
  const asked = new Set();
  const real = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function spy(stores, mode, options) {
    if (mode === "readwrite") asked.add(options?.durability);
    return real.call(this, stores, mode, options);
  };
  await told(name, ["one"]);
  IDBDatabase.prototype.transaction = real;
  return [...asked];
}

globalThis.store = { digested, told, read, together, lose, goOn, faults, untilKilled, appendTimes, strictness, photographed, handedOn, everyOrder };
