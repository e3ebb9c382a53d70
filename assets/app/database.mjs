/**
 * One IndexedDB database: opened, reopened once when the browser has dropped it, and transactions that
 * answer only when they are on disk.
 */

import { say } from "./words.mjs";

/** The layout of the database. A build that knows another one can't write here. */
export const LAYOUT = 2;
const STORES = {
  device: { keyPath: "slot" },
  chain: { keyPath: ["dev", "seq"] },
  brought: { keyPath: ["dev", "seq", "id"] },
  waiting: { keyPath: ["id", "sig"] },
  aside: { keyPath: ["entry.id", "entry.sig", "entry.payload"] },
  heads: { keyPath: "dev" },
  asked: { keyPath: "build" },
  photos: { keyPath: ["sha256", "size"] },
};

// A storage that is there answers within this time, on the slowest phone; one that is stuck never does.
const PATIENCE = 10000;

/** Something was not saved, or could not be read; the message says why and what to do. */
export class NotSaved extends Error {}

export class Database {
  #handle = null;

  #newer = false;

  /** @param {IDBFactory} indexedDB @param {string} name */
  constructor(indexedDB, name) {
    this.indexedDB = indexedDB;
    this.name = name;
  }

  /**
   * Run `work` in one transaction and answer what it gave, once the transaction is complete. `work` must
   * start all its requests without waiting for anything foreign. A handle that the browser has dropped
   * (phones do so in the background) is opened again, once.
   * @template T
   * @param {"readonly"|"readwrite"} mode
   * @param {string[]} stores
   * @param {(stores: Object<string, IDBObjectStore>) => T} work
   * @param {"strict"|"relaxed"} [durability] strict: on the disk itself; relaxed: with the system, which outlives the browser
   * @returns {Promise<T>}
   */
  async transaction(mode, stores, work, durability = "strict") {
    try {
      return await this.#attempt(mode, stores, work, durability);
    } catch (fault) {
      if (!isDropped(fault)) throw inWords(fault);
    }
    this.close();
    try {
      return await this.#attempt(mode, stores, work, durability);
    } catch (fault) {
      throw inWords(fault);
    }
  }

  close() {
    this.#handle?.close();
    this.#handle = null;
  }

  async #attempt(mode, stores, work, durability) {
    this.#handle ??= await this.#open(LAYOUT);
    if (mode === "readwrite" && this.#newer) {
      throw new NotSaved(say("not_saved.newer"));
    }
    const transaction = this.#handle.transaction(stores, mode, { durability });
    const done = completion(transaction);
    let given;
    try {
      given = work(Object.fromEntries(stores.map((store) => [store, transaction.objectStore(store)])));
    } catch (fault) {
      done.catch(() => {});
      transaction.abort();
      throw fault;
    }
    await done;
    return given;
  }

  async #open(version) {
    try {
      const handle = await opened(this.indexedDB.open(this.name, version));
      // Another page may need a newer layout: let go, and open again when asked.
      handle.onversionchange = () => this.close();
      handle.onclose = () => { this.#handle = null; };
      return handle;
    } catch (fault) {
      if (fault.name !== "VersionError" || version === undefined) throw fault;
      this.#newer = true;
      return this.#open(undefined);
    }
  }
}

/** The key range of one device in a store whose keys begin with it. */
export function ofDevice(dev) {
  return IDBKeyRange.bound([dev], [dev, []]);
}

/** A request's result, kept where it can be read once the transaction is complete. */
export function later(request) {
  const held = { result: undefined };
  request.onsuccess = () => { held.result = request.result; };
  return held;
}

function opened(request) {
  return new Promise((resolve, reject) => {
    request.onupgradeneeded = () => {
      const { objectStoreNames: there } = request.result;
      for (const [name, options] of Object.entries(STORES)) {
        if (!there.contains(name)) request.result.createObjectStore(name, options);
      }
    };
    let blocked = false;
    request.onblocked = () => { blocked = true; };
    const waiting = setTimeout(() => {
      // Should it still open one day, nobody waits for it any more, and it must not stand in another page's way.
      request.onsuccess = () => request.result.close();
      reject(new NotSaved(say(blocked ? "not_saved.blocked" : "not_saved.stuck")));
    }, PATIENCE);
    request.onsuccess = () => {
      clearTimeout(waiting);
      resolve(request.result);
    };
    request.onerror = () => {
      clearTimeout(waiting);
      reject(request.error);
    };
  });
}

function completion(transaction) {
  return new Promise((resolve, reject) => {
    let fault = null;
    transaction.oncomplete = () => resolve();
    transaction.onerror = (event) => { fault ??= event.target.error; };
    transaction.onabort = () => reject(transaction.error ?? fault ?? new DOMException("stopped", "AbortError"));
  });
}

function isDropped(fault) {
  return ["InvalidStateError", "UnknownError", "AbortError", "TransactionInactiveError"].includes(fault?.name);
}

function inWords(fault) {
  if (fault instanceof NotSaved || fault?.name === "ConstraintError") return fault;
  const refused = fault?.name === "SecurityError" || fault?.name === "NotSupportedError";
  const why = fault?.name === "QuotaExceededError" ? "full" : refused ? "refused" : "no_answer";
  return new NotSaved(say(`not_saved.${why}`), { cause: fault });
}
