/** What the lock boards put in the way of a hold that asks for locks on, or off. */

import { boardOf } from "./boards.mjs";

/**
 * @typedef {import("./progress.mjs").Block} Block
 * @typedef {import("./boards.mjs").Boards} Boards
 */

/**
 * What stands in the way.
 * @param {{want: "on"|"off", points: string[], stay?: string[]}} asked  as the sheet has it; stay: points that must stay locked
 * @param {Boards} boards
 * @param {{sheet: string, step: string}} hold
 * @param {import("./payload.mjs").Said[]|null} heads  the releases that stand; null where it is not released
 * @returns {Block[]}
 */
export function lockBlocks(asked, boards, hold, heads) {
  const blocks = asked.want === "on" ? keepsOn(asked, boards) : keepsOff(asked, boards);
  if (heads !== null && blocks.length === 0) blocks.push(...sinceReleased(asked, boards, hold, heads));
  return blocks;
}

/** Points, each followed by the box that holds its key. @param {string[]} points @param {Boards} boards */
export function withBoxes(points, boards) {
  return [...new Set(points.flatMap((point) => [point, boards.job.points[point].box]).filter(Boolean))];
}

function keepsOn({ points }, boards) {
  return withBoxes(points, boards).flatMap((point) => notLocked(point, boards, `No lock is on ${point}`));
}

/** @param {{points: string[], stay?: string[]}} asked @param {Boards} boards @returns {Block[]} */
function keepsOff({ points, stay = [] }, boards) {
  const blocks = [];
  for (const name of withBoxes(points, boards)) {
    const { locks, unknown } = boards.point(name);
    for (const lock of locks.filter(({ state }) => state === "on")) blocks.push(block(name, `${called(lock)} is on ${name}`));
    if (unknown) blocks.push(block(name, `A lock on ${name} is spoken of that has not come here. Load the other phones' records`));
  }
  const missing = boards.missing();
  if (missing.length > 0) {
    const { byId } = boards.told;
    const names = new Map([...byId.values()].filter(({ seq }) => seq === 0).map(({ dev, value }) => [dev, value]));
    const phones = missing.map((dev) => names.get(dev) ?? dev.slice(0, 8)).join(", ");
    blocks.push(block(points[0], `Entries of ${phones} are missing here, and a lock may be among them. Load that phone's record`));
  }
  for (const name of stay) blocks.push(...notLocked(name, boards, `${name} must stay locked, and no lock is on it`));
  return blocks;
}

/** A point counts as locked by one lock that surely stands. */
function notLocked(name, boards, none) {
  const on = boards.point(name).locks.filter(({ state }) => state === "on");
  if (on.some(({ sure }) => sure)) return [];
  if (on.length === 0) return [block(name, none)];
  return on.map((lock) => block(name, `${called(lock)} may not be on ${name} any more. Go and look, and put a lock on`));
}

/** What was looked at when it was released, and was not so all the time since. */
function sinceReleased({ want, points }, boards, hold, heads) {
  return withBoxes(points, boards).flatMap((name) => {
    if (want === "on" && !boards.stoodSince(name, heads)) {
      return [{ kind: "lock", ...hold, say: `A lock can't be shown to have been on ${name} all the time since the release. Look again and release again` }];
    }
    if (want === "off" && boards.point(name).locks.some(({ entry }) => !boards.told.covered([entry], heads))) {
      return [{ kind: "lock", ...hold, say: `A lock was put on ${name} since the release. Look again and release again` }];
    }
    return [];
  });
}

function called({ entry }) {
  return `Lock ${entry.value} of ${entry.who}`;
}

/** @returns {Block} */
function block(point, say) {
  return { kind: "lock", sheet: boardOf(point), step: null, say };
}
