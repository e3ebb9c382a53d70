/**
 * The job as a plan of conduits: which task comes before which, from the first dig to live. Each task has a gate
 * of its own on a lane; its conduit runs down that lane to the last task that needs it, and branches off to others.
 *
 * @typedef {Object} Row
 * @property {string} task
 * @property {string[]} sheets
 * @property {number} lane
 * @property {string[]} needs                       tasks right before it: what those need is left out
 * @property {{lane: number, of: string}[]} branches  conduits that end or branch off here
 * @property {{lane: number, of: string}[]} passing   conduits that go on below this row
 */

/** @param {Object} job job.json @returns {Row[]} from first to last */
export function planOf(job) {
  const tasks = new Map();
  for (const { task, id } of job.sheets) tasks.set(task, [...(tasks.get(task) ?? []), id]);
  const before = needsOf(job, tasks);
  const order = inOrder([...tasks.keys()], before);
  const direct = withoutDetours(order, before);
  const lastUse = new Map(order.map((task) => [task, order.findLastIndex((other) => direct.get(other).includes(task))]));
  /** Whose conduit runs in each lane. @type {(string|null)[]} */
  const lanes = [];
  return order.map((task, at) => {
    const needs = direct.get(task);
    const branches = needs.map((of) => ({ lane: lanes.indexOf(of), of }));
    lanes.forEach((of, lane) => { if (of !== null && lastUse.get(of) === at) lanes[lane] = null; });
    // The conduit goes straight on where it can.
    const straight = branches.find(({ lane }) => lanes[lane] === null)?.lane;
    const free = lanes.indexOf(null);
    const lane = straight ?? (free < 0 ? lanes.length : free);
    lanes[lane] = lastUse.get(task) > at ? task : null;
    const passing = lanes.flatMap((of, index) => (of === null ? [] : [{ lane: index, of }]));
    return { task, sheets: tasks.get(task), lane, needs, branches, passing };
  });
}

function needsOf(job, tasks) {
  const taskOf = new Map(job.sheets.map(({ id, task }) => [id, task]));
  const before = new Map([...tasks.keys()].map((task) => [task, new Set()]));
  for (const { task, needs } of job.sheets) {
    for (const { sheet } of Object.values(needs ?? {}).flat()) {
      if (taskOf.get(sheet) !== task) before.get(task).add(taskOf.get(sheet));
    }
  }
  return before;
}

/** Each after what it needs. Where tasks need each other by different holds, the job's own order decides. */
function inOrder(left, before) {
  const order = [];
  while (left.length > 0) {
    const ready = left.findIndex((task) => ![...before.get(task)].some((one) => left.includes(one)));
    order.push(...left.splice(Math.max(ready, 0), 1));
  }
  return order;
}

/** Of what each task needs, that which no other of its needs stands on. */
function withoutDetours(order, before) {
  const all = new Map();
  const direct = new Map();
  order.forEach((task, at) => {
    const needs = [...before.get(task)].filter((one) => order.indexOf(one) < at);
    all.set(task, new Set(needs.flatMap((one) => [one, ...all.get(one)])));
    direct.set(task, needs.filter((one) => !needs.some((other) => all.get(other).has(one))));
  });
  return direct;
}
