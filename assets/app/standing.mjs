/** Who may release what. The same as builder/record/standing.py. */

// From least to most standing. A switching operator releases what asks for one, and nothing else.
const STANDING = { crew: 1, "leading-hand": 2, "licensed-worker": 3, supervisor: 4 };

/** @param {string|undefined} role @param {string} needed the least that a hold asks for */
export function mayRelease(role, needed) {
  if (role === "operator" || needed === "operator") return role === needed;
  return (STANDING[role] ?? 0) >= STANDING[needed];
}

/** Does a release count: is its role enough, and has a person whom the job lists that role there? */
export function countsAsRelease(job, { who, value }, needed) {
  const listed = (job.job?.people ?? []).filter(({ name }) => name === who);
  return mayRelease(value, needed) && (listed.length === 0 || listed.some(({ role }) => mayRelease(role, needed)));
}
