/**
 * Units by the names people use, and numbers as people type them. The desk says which units an answer may be given in,
 * the customer's own first; it converts, and sends every figure back as it should be shown.
 */

const NAMES = {
  SG: "specific gravity",
  degP: "°Plato",
  degBx: "°Brix",
  degC: "°C",
  degF: "°F",
  gal: "US gallons",
  qt: "US quarts",
  L: "litres",
  mL: "millilitres",
  lb: "pounds",
  oz: "ounces",
  kg: "kilograms",
  g: "grams",
  ft: "feet",
  m: "metres",
  in: "inches",
  mm: "millimetres",
  ft3: "cubic feet",
  m3: "cubic metres",
  h: "hours",
  d: "days",
  week: "weeks",
  month: "months",
  min: "minutes",
  vol: "volumes of CO₂",
  percent: "%",
  1: "", // a plain count
};

const EXAMPLES = {
  SG: "1.050",
  degC: "20",
  degF: "68",
  bar: "0.8",
  psi: "12",
  L: "19",
  gal: "5",
  vol: "2.4",
  pH: "5.4",
  1: "2",
};

const UNMARKED = new Set(["SG", "pH", "1"]); // such a figure is written alone

export function unitName(unit) {
  return Object.hasOwn(NAMES, unit) ? NAMES[unit] : unit;
}

export function exampleIn(unit) {
  return Object.hasOwn(EXAMPLES, unit) ? EXAMPLES[unit] : "12";
}

/**
 * A number as people type it, with the digits they typed, or null. A decimal comma is a point, and a gravity of 1050 is
 * 1.050. A comma before three figures ("3,000") could mean either, so except for a gravity it is not taken.
 */
export function readNumber(typed, unit) {
  const text = typed.trim();
  if (unit !== "SG" && /^\d{1,3},\d{3}$/.test(text)) return null;
  const number = text.replace(",", ".");
  if (!/^[-+]?\d*\.?\d+$/.test(number)) return null;
  return unit === "SG" && /^(9\d\d|1[01]\d\d)$/.test(number) ? (Number(number) / 1000).toFixed(3) : number;
}

/** "62 degF" as people write it: "62 °F". */
export function figureText(figure) {
  const [, number, unit] = /^(\S+)(?: (.+))?$/.exec(String(figure)) ?? [];
  return [number ?? figure, unit && !UNMARKED.has(unit) && unitName(unit)].filter(Boolean).join(" ");
}
