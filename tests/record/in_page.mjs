/** Runs shared vectors against the app's own modules, in a page. Gives what came out; Python compares. */

import { entryId, openEntry, publicKey, signatureHolds, signedEntry, newDevice } from "/chain.mjs";
import { merge } from "/merge.mjs";
import { payloadText } from "/payload.mjs";
import { NoPhoto, openPhoto, photoSize } from "/photo.mjs";
import { progress } from "/progress.mjs";
import { parseRecord } from "/record-file.mjs";

const { subtle } = crypto;
const NOTHING = { entries: [], waiting: [], aside: [] };

/** @returns {Promise<{id: string, written: string, verdict: string|null, reason: string}[]>} */
async function chain({ entries, job }) {
  const out = [];
  for (const { payload, id, sig, key } of entries) {
    const read = { id: await entryId(subtle, payload), verdict: null, reason: "", signed: null, written: null };
    try {
      const said = await openEntry(subtle, { payload, id, sig }, job);
      read.written = payloadText(said);
      read.signed = await signatureHolds(subtle, await publicKey(subtle, key), { payload, id, sig });
    } catch (fault) {
      if (!fault.verdict) throw fault;
      [read.verdict, read.reason] = [fault.verdict, fault.message];
    }
    out.push(read);
  }
  return out;
}

async function merged({ rounds, job }) {
  let held = NOTHING;
  let verdicts = [];
  for (const incoming of rounds) ({ held, verdicts } = await merge(subtle, held, incoming, job));
  return { held, verdicts: verdicts.map(({ verdict, reason }) => [verdict, reason]) };
}

function stands({ job, entries, answers, unbelieved }) {
  const environmentFor = (sheet, readings) => ({
    readings: Object.fromEntries(Object.entries(readings).filter(([name]) => !unbelieved.includes(name))),
    step: (name) => answers[sheet.id]?.[name]?.[readings[name]?.text ?? ""]
      ?? { applies: true, applies_reason: "", verdict: null, reason: "" },
  });
  const where = progress(job, entries, environmentFor);
  return Object.fromEntries(job.sheets.map(({ id }) => {
    const { environment, snags, ...state } = where.sheet(id);
    return [id, { ...state, snags: snags.map(({ entry, closed }) => [entry.id, closed?.id ?? null]) }];
  }));
}

function boards({ job, entries }) {
  const environmentFor = (sheet, readings) => ({
    readings, step: () => ({ applies: true, applies_reason: "", verdict: null, reason: "" }),
  });
  const where = progress(job, entries, environmentFor);
  const states = where.sheets();
  const bySheet = (shown) => Object.fromEntries(states.map((state) => [state.sheet, shown(state)]));
  return {
    points: where.boards.points(),
    missing: where.boards.missing(),
    doubles: where.boards.doubles().map((locks) => locks.map(({ entry }) => entry.id)),
    zone: where.boards.zone().map(({ id }) => id),
    states: bySheet(({ state }) => state),
    steps: bySheet(({ steps }) => Object.fromEntries(Object.entries(steps).map(([name, { state }]) => [name, state]))),
    blocks: bySheet(({ holds }) => Object.fromEntries(Object.entries(holds).map(([name, hold]) =>
      [name, hold.blocks.map(({ kind, sheet, step, say }) => [kind, sheet, step, say])]))),
  };
}

function parsed({ texts, job }) {
  return texts.map((text) => {
    try {
      const { whole, entries } = parseRecord(text, job);
      return { verdict: whole ? "accepted" : "damaged", entries: entries.length };
    } catch (fault) {
      if (fault.constructor.name !== "Refused") throw fault;
      return { verdict: "refused", entries: 0 };
    }
  });
}

async function photos(given) {
  const out = [];
  for (const { name, text } of given) {
    try {
      out.push({ size: photoSize((await openPhoto(subtle, name, text)).bytes), reason: null });
    } catch (fault) {
      if (!(fault instanceof NoPhoto)) throw fault;
      out.push({ size: null, reason: fault.message });
    }
  }
  return out;
}

async function signed(fields) {
  const device = await newDevice(subtle);
  const first = await signedEntry(subtle, device.privateKey, { ...fields, dev: device.dev, key: device.key });
  return { first, exportable: device.privateKey.extractable };
}

globalThis.vectors = { chain, merged, stands, boards, parsed, photos, signed };
