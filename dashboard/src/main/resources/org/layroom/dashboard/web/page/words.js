// Words and figures for people: ages, clock times, readings with their units.
const LABELS = {
  temperature: "Air",
  humidity: "Humidity",
  "mold-temperature": "Mold",
  "resin-temperature": "Resin",
  pressure: "Air pressure",
  "voc-raw": "VOC chip, raw signal",
  "voc-level": "Vapor",
  "styrene-estimate": "Vapor, as styrene",
};

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

export function seriesLine(name, reading) {
  const base = name.split("/")[0];
  const more = name.includes("/") ? ` (${name.slice(base.length + 1)})` : "";
  return { label: (LABELS[base] ?? base) + more, value: valueWords(base, reading) };
}

function valueWords(base, { value, unit }) {
  if (value === null || value === undefined) return "no value";
  switch (unit) {
    case "Cel":
      return `${figure(value, 1)} °C`;
    case "%RH":
      return `${figure(value, 0)} %`;
    case "Pa":
      return `${figure(value / 100, 0)} hPa`;
    case "/":
      if (base === "voc-level") return `${figure(value, 1)} × clean air`;
      if (base === "styrene-estimate") return `about ${figure(value * 1e6, 0)} ppm`;
      return figure(value, 3);
    default:
      return unit ? `${figure(value, 1)} ${unit}` : figure(value, 0);
  }
}
