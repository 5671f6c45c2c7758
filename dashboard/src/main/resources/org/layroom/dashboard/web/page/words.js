// Words and figures for people: ages, clock times, numbers.
/** An age or a time span in words, for a number of seconds. */
export function ageWords(seconds) {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  if (seconds < 90 * 60) return `${Math.round(seconds / 60)} min`;
  if (seconds < 48 * 3600) return `${Math.round(seconds / 3600)} h`;
  return `${Math.round(seconds / 86400)} days`;
}

/** A clock time with its weekday; with the date too where asked for. */
export function clockWords(millis, zone, dated = false) {
  return new Intl.DateTimeFormat(undefined, {
    weekday: "short",
    ...(dated ? { day: "numeric", month: "short" } : {}),
    hour: "2-digit",
    minute: "2-digit",
    timeZone: zone,
  }).format(millis);
}

export function figure(value, digits) {
  return new Intl.NumberFormat(undefined, {
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  }).format(value);
}
