// The readings of the room in words, each with its name and unit.
import { celsius } from "./units.js";
import { figure } from "./words.js";

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

export function seriesLine(name, reading) {
  const base = name.split("/")[0];
  const more = name.includes("/") ? ` (${name.slice(base.length + 1)})` : "";
  return { label: (LABELS[base] ?? base) + more, value: valueWords(base, reading) };
}

function valueWords(base, { value, unit }) {
  if (value === null || value === undefined) return "no value";
  switch (unit) {
    case "Cel":
      return celsius(value);
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
