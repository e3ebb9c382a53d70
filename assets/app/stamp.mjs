/**
 * A time as the phone's clock shows it, with its offset from UTC (RFC 3339).
 * @param {Date} date
 */
export function stamp(date) {
  const ahead = -date.getTimezoneOffset();
  const local = new Date(date.getTime() + ahead * 60000).toISOString().slice(0, 19);
  const two = (number) => String(Math.floor(number)).padStart(2, "0");
  const size = Math.abs(ahead);
  return `${local}${ahead < 0 ? "-" : "+"}${two(size / 60)}:${two(size % 60)}`;
}
