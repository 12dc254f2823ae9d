/** A small form that takes one fact: a number with its unit, one of a few answers, or yes or no. */

import { button, make } from "./dom.js";
import { strings } from "./strings.js";
import { exampleIn, readNumber, unitName } from "./units.js";

const YES_OR_NO = [
  { value: true, label: strings.yes },
  { value: false, label: strings.no },
];
let made = 0;
const fresh = (name) => `${name}-${(made += 1)}`;

/** `asked` is {label, kind, units, options}; `answer` receives the value to send as the fact. */
export function answerForm({ label, kind, units = [], options = [] }, { submit, answer, errorText }) {
  if (kind === "yes-no") return choices(label, YES_OR_NO, answer);
  if (options.length) return choices(label, options, answer);
  return numberForm(label, units, { submit, answer, errorText });
}

function choices(label, options, answer) {
  const buttons = options.map((option) => button(option.label, () => answer(option.value), { class: "choice" }));
  return make("div", { class: "choices", role: "group", "aria-label": label }, ...buttons);
}

function numberForm(label, units, { submit, answer, errorText }) {
  const [id, errorId] = [fresh("number"), fresh("error")];
  const field = make("input", {
    id, type: "text", inputmode: "decimal", autocomplete: "off", maxlength: 12, "aria-describedby": errorId, "aria-invalid": "false",
  });
  const unit = units.length > 1 ? unitChooser(units, label) : make("span", { class: "unit" }, unitName(units[0] ?? ""));
  const error = make("p", { class: "error", id: errorId, "aria-live": "polite" });
  const take = (event) => {
    event.preventDefault();
    const chosen = unit.value ?? units[0];
    const number = readNumber(field.value, chosen);
    error.textContent = number === null ? errorText(exampleIn(chosen)) : "";
    field.setAttribute("aria-invalid", String(number === null));
    if (number === null) field.focus();
    else answer(chosen && chosen !== "1" ? `${number} ${chosen}` : number); // "62 degF", with the digits that were typed
  };
  return make("form", { class: "number", novalidate: true, on: { submit: take } },
    make("label", { for: id }, label),
    make("div", { class: "together" }, field, unit, make("button", { class: "main" }, submit)),
    error);
}

function unitChooser(units, label) {
  const options = units.map((unit) => make("option", { value: unit }, unitName(unit)));
  return make("select", { "aria-label": strings.unitOf(label) }, ...options);
}
