// Words and figures for people: ages, clock times, numbers.
/** An age or a time span in words, for a number of seconds. */
export function ageWords(seconds) {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.round(seconds / 60)} min`;
  if (seconds < 48 * 3600) return `${Math.round(seconds / 3600)} h`;
  return `${Math.round(seconds / 86400)} days`;
}

/** A stage that is not reached at the temperatures ahead, however long one waits (60 days). */
export const NEVER = "once warmed";

const DAY_MILLIS = 86_400_000;

let roomNow = Date.now;

/** Times are told against this clock, which a simulated room has of its own; a function, in milliseconds. */
export function tellTimesBy(now) {
  roomNow = now;
}

/** Whether this browser shows 24-hour times. */
export function clock24() {
  return localStorage.getItem("clock") === "24";
}

export function setClock24(on) {
  localStorage.setItem("clock", on ? "24" : "12");
}

function shown(millis, zone, options) {
  return new Intl.DateTimeFormat("en-US", { ...options, timeZone: zone }).format(millis);
}

function timeOfDay(millis, zone) {
  const options = clock24() ? { hour: "2-digit", minute: "2-digit", hourCycle: "h23" } : { hour: "numeric", minute: "2-digit", hour12: true };
  return shown(millis, zone, options).replace(/\s/g, " ");
}

/** A day: `Dec 6`, with its year when it is not this one. */
export function dayWords(millis, zone) {
  const year = { year: "numeric" };
  return shown(millis, zone, { month: "short", day: "numeric", ...(shown(millis, zone, year) === shown(roomNow(), zone, year) ? {} : year) });
}

/** A clock time: `7:44 PM` today, `Sun 1:30 PM` on another day, `Dec 6, 1:30 PM` over six days away or where the date is asked for. */
export function clockWords(millis, zone, dated = false) {
  if (!Number.isFinite(millis)) return "time unknown";
  const time = timeOfDay(millis, zone);
  if (dated || Math.abs(millis - roomNow()) > 6 * DAY_MILLIS) return `${dayWords(millis, zone)}, ${time}`;
  const day = { year: "numeric", month: "numeric", day: "numeric" };
  return shown(millis, zone, day) === shown(roomNow(), zone, day) ? time : `${shown(millis, zone, { weekday: "short" })} ${time}`;
}

/** A forecast time, rounded: to 1 min within an hour, to 5 within six hours, else to 10. */
export function forecastWords(millis, zone) {
  const ahead = Math.abs(millis - roomNow());
  const step = (ahead < 3_600_000 ? 1 : ahead < 6 * 3_600_000 ? 5 : 10) * 60_000;
  return clockWords(Math.round(millis / step) * step, zone);
}

/** A time beside an axis: the weekday at midnight, else `6 AM`, `noon`, `2:30 PM`. */
export function axisTimeWords(millis, zone) {
  const time = timeOfDay(millis, zone);
  if (time === "12:00 AM" || time === "00:00") return shown(millis, zone, { weekday: "short", day: "numeric" });
  return time === "12:00 PM" ? "noon" : time.replace(":00 ", " ");
}

/** The server's clock times, `7:44 PM`, as this browser shows them. */
export function inClock(words) {
  if (!clock24()) return words;
  return words.replace(/\b(\d{1,2}):(\d\d) (AM|PM)\b/g, (_, hour, minute, half) => `${String((Number(hour) % 12) + (half === "PM" ? 12 : 0)).padStart(2, "0")}:${minute}`);
}

export function figure(value, digits) {
  return new Intl.NumberFormat(undefined, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(value);
}
