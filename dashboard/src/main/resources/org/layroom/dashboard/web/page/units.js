// Quantities as this page shows and takes them: metric, or US where the person chose so. The server
// speaks metric only.
import { figure } from "./words.js";

const US = {
  grams: { unit: "oz", per: 28.349523125, digits: 1 },
  milliliters: { unit: "fl oz", per: 29.5735295625, digits: 2 },
  squareMeters: { unit: "sq ft", per: 0.09290304, digits: 1 },
};
const METRIC = {
  grams: { unit: "g", per: 1, digits: 0 },
  milliliters: { unit: "ml", per: 1, digits: 0 },
  squareMeters: { unit: "m²", per: 1, digits: 2 },
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

/** A quantity in words, given in grams, milliliters or square meters. */
export function amount(kind, value, digits) {
  const { unit: name, per, digits: usual } = of(kind);
  return `${figure(value / per, digits ?? usual)} ${name}`;
}

export function celsius(value, digits = 1) {
  return us() ? `${figure(value * 1.8 + 32, 0)} °F` : `${figure(value, digits)} °C`;
}

/** What was typed, as metric: NaN when it is no number. */
export function typed(kind, text) {
  const value = Number(String(text).trim().replace(",", "."));
  if (String(text).trim() === "" || !Number.isFinite(value)) return NaN;
  if (kind === "celsius") return us() ? (value - 32) / 1.8 : value;
  return value * of(kind).per;
}
