// Quantities as this page shows and takes them: metric, or US where the person chose so. The server
// speaks metric only.
import { clock24, figure, inClock } from "./words.js";

const US = {
  grams: { unit: "oz", per: 28.349523125, digits: 1 },
  milliliters: { unit: "fl oz", per: 29.5735295625, digits: 2 },
  millimeters: { unit: "mil", per: 0.0254, digits: 0 },
  squareMeters: { unit: "sq ft", per: 0.09290304, digits: 1 },
  cubicMeters: { unit: "cu ft", per: 0.028316846592, digits: 0 },
};
const METRIC = {
  grams: { unit: "g", per: 1, digits: 0 },
  milliliters: { unit: "ml", per: 1, digits: 0 },
  millimeters: { unit: "mm", per: 1, digits: 2 },
  squareMeters: { unit: "m²", per: 1, digits: 2 },
  cubicMeters: { unit: "m³", per: 1, digits: 0 },
};

export function us() {
  return localStorage.getItem("units") === "us";
}

export function setUs(on) {
  localStorage.setItem("units", on ? "us" : "metric");
}

function of(kind) {
  return (us() ? US : METRIC)[kind];
}

export function unit(kind) {
  return kind === "celsius" ? (us() ? "°F" : "°C") : of(kind).unit;
}

/** A quantity in words, given in grams, milliliters, square or cubic meters. */
export function amount(kind, value, digits) {
  const { unit: name, per, digits: usual } = of(kind);
  return `${figure(value / per, digits ?? usual)} ${name}`;
}

export function celsius(value, digits = 1) {
  return us() ? `${figure(value * 1.8 + 32, 0)} °F` : `${figure(value, digits)} °C`;
}

/** A temperature as it stands in a field to be typed over. */
export function plainDegrees(value) {
  if (typeof value !== "number") return value ?? "";
  return us() ? Math.round((value * 1.8 + 32) * 10) / 10 : value;
}

/** What was typed, as metric: NaN when it is no number. */
export function typed(kind, text) {
  const value = Number(String(text).trim().replace(",", "."));
  if (String(text).trim() === "" || !Number.isFinite(value)) return NaN;
  if (kind === "celsius") return us() ? (value - 32) / 1.8 : value;
  return value * of(kind).per;
}

/** A quantity as it stands in a field to be typed over. */
export function plain(kind, value) {
  const { per, digits } = of(kind);
  return String(Math.floor((value / per) * 10 ** digits) / 10 ** digits);
}

/** A volume in cubic meters, typed as such or as length x width x height; NaN when it is neither. */
export function typedVolume(text) {
  const numbers = String(text).split(/[x×*]/i).map((part) => (part.trim() === "" ? NaN : Number(part.trim().replace(",", "."))));
  if (numbers.length !== 1 && numbers.length !== 3) return NaN;
  return numbers.reduce((product, number) => product * number, of("cubicMeters").per);
}

/** A temperature difference, in the degrees that this page shows. */
export function kelvins(value, digits = 1) {
  return us() ? `${figure(value * 1.8, digits)} °F` : `${figure(value, digits)} °C`;
}

const TEMPERATURES = /(-?\d+(?:\.\d+)?)((?: to | and |, | or )-?\d+(?:\.\d+)?)? °C/g;
// A difference of temperatures says so: "by 2.4 °C", "2.4 °C above the dew point", "warmer", "colder", "per hour".
const CHANGES = /\b(by (?:about )?)([-+]?\d+(?:\.\d+)?) °C/g;
const DIFFERENCES = /(-?\d+(?:\.\d+)?) °C(?= (?:above|warmer|colder|per hour)\b)/g;

const FILMS = /(\d+(?:\.\d+)?)((?: to | and | or )\d+(?:\.\d+)?)? mm\b/g;

/** The server's words with clock times, temperatures and film thickness as this page shows them. */
export function inUnits(said) {
  const words = inClock(said);
  if (!us()) return words;
  const each = (text, change) => text.replace(/-?\d+(?:\.\d+)?/g, (number) => change(Number(number)));
  const fahrenheits = (kelvins) => `${(Number(kelvins) * 1.8).toFixed(1)} °F`;
  return words
    .replace(CHANGES, (_, by, kelvins) => by + fahrenheits(kelvins))
    .replace(DIFFERENCES, (_, kelvins) => fahrenheits(kelvins))
    .replace(TEMPERATURES, (_, first, second = "") => `${each(first + second, (c) => (c * 1.8 + 32).toFixed(0))} °F`)
    .replace(FILMS, (_, first, second = "") => `${each(first + second, (mm) => (mm / 0.0254).toFixed(0))} mil`);
}

const SAID = /^(\w*[wW]ords|head|detail|reason|outlook|lines|when|why|endsWhen|whatToDo|notAccepted|reasons|warnings|troubles|drift|nextTest|uncertainty)$/;

/** An answer of the server with its words in this page's units and clock; what a person wrote stays as it is. */
export function answerInUnits(answer, name = "") {
  if (typeof answer === "string") return SAID.test(name) ? inUnits(answer) : answer;
  if ((!us() && !clock24()) || answer === null || typeof answer !== "object" || answer.type === "noted") return answer;
  if (Array.isArray(answer)) return answer.map((one) => answerInUnits(one, name));
  return Object.fromEntries(Object.entries(answer).map(([key, value]) => [key, answerInUnits(value, key)]));
}
