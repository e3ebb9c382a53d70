/** Who is who, and who may release what. The same as builder/record/standing.py. */

// Blanks as both languages see them, among them those that no eye sees.
const BLANKS = /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200d\u2028\u2029\u202f\u205f\u3000\ufeff]+/g;

// From least to most standing.
const STANDING = { crew: 1, "leading-hand": 2, "licensed-worker": 3, supervisor: 4 };
// What takes a licence or a switching order takes one: no standing stands in for it.
const BY_THEMSELVES = ["licensed-worker", "operator"];

/** A name as it is compared: case, blanks around it and the number of blanks within make no other person. @param {string} name */
export function nameKey(name) {
  return name.replace(BLANKS, " ").replace(/^ | $/g, "").toUpperCase().toLowerCase();
}

/** Whether two names are one person's. @param {string} one @param {string} other */
export function samePerson(one, other) {
  return nameKey(one) === nameKey(other);
}

/** What the job lists a person as; nothing where it doesn't. @param {string} name @returns {string[]} */
export function listedRoles(job, name) {
  return (job.job?.people ?? []).filter((person) => samePerson(person.name, name)).map(({ role }) => role);
}

/** Whether the job lists a person as supervisor. @param {string} name */
export function isSupervisor(job, name) {
  return listedRoles(job, name).includes("supervisor");
}

/** @param {string|undefined} role @param {string} needed the least that a hold asks for */
export function mayRelease(role, needed) {
  if (BY_THEMSELVES.includes(needed) || role === "operator") return role === needed;
  return Object.hasOwn(STANDING, role ?? "") && STANDING[role] >= STANDING[needed];
}

/** Does a release count: is its role enough, and has a person whom the job lists that role there? */
export function countsAsRelease(job, { who, value }, needed) {
  const listed = listedRoles(job, who);
  return mayRelease(value, needed) && (listed.length === 0 || listed.some((role) => mayRelease(role, needed)));
}
