/** A small form that takes one fact: a number with its unit, one of a few answers, or yes or no. */

import { button, make } from "./dom.js";
import { strings } from "./strings.js";
import { exampleOf, readNumber, unitName, unitsFor } from "./units.js";

let made = 0;
const fresh = (name) => `${name}-${(made += 1)}`;

/** `asked` is {label, kind, unit, units, options}; `answer` receives the value to send as the fact. */
export function answerForm({ label, kind, unit, units, options }, { system, submit, answer, errorText }) {
  if (kind === "yes-no") return choices(label, [[true, strings.yes], [false, strings.no]], answer);
  if (options?.length) return choices(label, options.map((option) => [option.value, option.label]), answer);
  return numberForm({ label, unit, units }, { system, submit, answer, errorText });
}

function choices(label, pairs, answer) {
  const buttons = pairs.map(([value, text]) => button(text, () => answer(value), { class: "choice" }));
  return make("div", { class: "choices", role: "group", "aria-label": label }, ...buttons);
}

function numberForm({ label, unit, units }, { system, submit, answer, errorText }) {
  const [id, error] = [fresh("number"), fresh("error")];
  const example = exampleOf(unit, system);
  const field = make("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 12, "aria-describedby": error });
  const chooser = unitChooser(unitsFor(unit, system, units), label);
  const problem = make("p", { class: "error", id: error, "aria-live": "polite" });
  const take = (event) => {
    event.preventDefault();
    const chosen = chooser?.value ?? unit;
    const number = readNumber(field.value, chosen);
    problem.textContent = number === null ? errorText(example ? strings.like(example) : "") : "";
    field.setAttribute("aria-invalid", String(number === null));
    if (number === null) field.focus();
    else answer(withUnit(number, chosen));
  };
  return make("form", { class: "number", novalidate: true, on: { submit: take } },
    make("div", { class: "reading" },
      make("label", { for: id }, label),
      make("div", { class: "together" }, field, chooser ?? make("span", { class: "unit" }, unitName(unit ?? "")), make("button", { class: "main" }, submit))),
    problem);
}

/** A figure as the desk takes it: "62 degF", with the digits that were typed. */
const withUnit = (number, unit) => (unit ? `${number} ${unit}` : number);

function unitChooser(units, label) {
  if (units.length < 2) return null;
  const options = units.map((unit) => make("option", { value: unit }, unitName(unit)));
  return make("select", { "aria-label": `${strings.unit}: ${label}` }, ...options);
}
