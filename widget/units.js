/**
 * Units a figure may be given in, by the unit the desk keeps it in: the customer's system first. Only names are here;
 * the desk converts, and sends every figure back as it should be shown.
 */

const UNITS = {
  SG: { us: ["SG", "degP"], metric: ["SG", "degP"], example: "1.050" },
  degP: { us: ["degP", "SG"], metric: ["degP", "SG"], example: "12.4" },
  degBx: { us: ["degBx"], metric: ["degBx"], example: "6.5" },
  degC: { us: ["degF", "degC"], metric: ["degC", "degF"], example: { us: "68", metric: "20" } },
  bar: { us: ["psi", "bar", "kPa"], metric: ["bar", "psi", "kPa"], example: { us: "12", metric: "0.8" } },
  L: { us: ["gal", "qt", "L"], metric: ["L", "mL", "gal"], example: { us: "5", metric: "19" } },
  kg: { us: ["lb", "oz", "kg"], metric: ["kg", "g", "lb"], example: { us: "11", metric: "5" } },
  g: { us: ["oz", "g"], metric: ["g", "oz"], example: { us: "4.5", metric: "130" } },
  m: { us: ["ft", "m"], metric: ["m", "ft"], example: { us: "6", metric: "2" } },
  mm: { us: ["inch", "mm"], metric: ["mm", "inch"], example: { us: "0.19", metric: "5" } },
  m3: { us: ["ft3", "m3"], metric: ["m3", "ft3"], example: { us: "800", metric: "20" } },
  h: { us: ["h", "d"], metric: ["h", "d"], example: "36" },
  d: { us: ["d", "h", "week"], metric: ["d", "h", "week"], example: "5" },
  min: { us: ["min"], metric: ["min"], example: "15" },
  vol: { us: ["vol", "g/L"], metric: ["vol", "g/L"], example: "2.4" },
  percent: { us: ["percent"], metric: ["percent"], example: "6.2" },
  pH: { us: ["pH"], metric: ["pH"], example: "5.4" },
};

const NAMES = {
  SG: "gravity",
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
  inch: "inches",
  mm: "millimetres",
  ft3: "cubic feet",
  m3: "cubic metres",
  h: "hours",
  d: "days",
  week: "weeks",
  min: "minutes",
  vol: "volumes of CO₂",
  "g/L": "g of CO₂ in a litre",
  percent: "%",
};

/** The units to choose from for a figure kept in `unit`; what the desk offers comes before our own list. */
export function unitsFor(unit, system, offered = []) {
  if (offered.length) return offered;
  return UNITS[unit]?.[system === "us" ? "us" : "metric"] ?? (unit ? [unit] : []);
}

export function unitName(unit) {
  return Object.hasOwn(NAMES, unit) ? NAMES[unit] : unit;
}

export function exampleOf(unit, system) {
  const example = UNITS[unit]?.example;
  return typeof example === "object" ? example[system === "us" ? "us" : "metric"] : (example ?? null);
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

const UNMARKED = new Set(["SG", "pH"]);
