/** What the desk understood, as a list of figures the customer can put right one by one. */

import { answerForm } from "./answer-form.js";
import { button, list, make } from "./dom.js";
import { strings } from "./strings.js";

export function figuresView({ facts = {}, units: system, doubts = [] }, { correct, correctInWords }) {
  const rows = Object.entries(facts).map(([name, fact]) => figureRow(name, fact, { system, correct, correctInWords }));
  if (!rows.length && !doubts.length) return null;
  return make("section", { class: "figures" },
    make("h3", {}, strings.figures),
    rows.length > 0 && make("p", { class: "note" }, strings.figuresNote),
    rows.length > 0 && make("ul", { class: "ruled" }, ...rows),
    doubts.length > 0 && make("h4", {}, strings.doubts),
    list("ul", doubts.map(({ text }) => text), { class: "doubts" }));
}

export function labelOf(name, fact) {
  return fact?.label || sentence(name.replaceAll("_", " "));
}

export function valueOf(fact) {
  if (fact.value === null) return strings.unknown;
  if (fact.shown) return fact.shown;
  if (typeof fact.value === "boolean") return fact.value ? strings.yes : strings.no;
  return [fact.value, fact.unit].filter((part) => part !== null && part !== undefined).join(" ");
}

/** The customer's own words are worth repeating only where they are not what is shown already. */
const saidOtherwise = (fact) => fact.said && ![valueOf(fact), String(fact.value)].includes(fact.said) && fact.value !== null;

const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1);

function figureRow(name, fact, { system, correct, correctInWords }) {
  const label = labelOf(name, fact);
  const place = make("div", { class: "correction", hidden: true });
  const open = button(strings.notRight, () => toggle(), { class: "quiet", "aria-label": strings.notRightFor(label), "aria-expanded": "false" });
  const toggle = () => {
    place.hidden = !place.hidden;
    open.setAttribute("aria-expanded", String(!place.hidden));
    place.replaceChildren(...(place.hidden ? [] : correctionOf(name, label, fact, { system, correct, correctInWords, close })));
    (place.querySelector("input, .choice") ?? open).focus();
  };
  const close = () => toggle();
  return make("li", { class: "figure", "data-fact": name },
    make("div", { class: "figure-line" },
      make("span", { class: "figure-label" }, label),
      make("span", { class: "figure-value" }, valueOf(fact)),
      open),
    saidOtherwise(fact) && make("p", { class: "said" }, `${strings.said} “${fact.said}”`),
    place);
}

/** The fields that put one figure right: by number, by yes or no, by one of a few answers, or in words. */
function correctionOf(name, label, fact, { system, correct, correctInWords, close }) {
  const inWords = typeof fact.value === "string" && !fact.options?.length;
  const kind = typeof fact.value === "boolean" ? "yes-no" : "quantity";
  const asked = { label: strings.newValue(label), kind, unit: fact.unit, options: fact.options };
  const form = inWords
    ? wordsForm(asked.label, (words) => correctInWords(label, words))
    : answerForm(asked, { system, submit: strings.save, answer: (value) => correct(name, value), errorText: strings.correctNumber });
  return [form, make("div", { class: "row" },
    button(strings.dontKnow, () => correct(name, null), { class: "quiet", "aria-label": strings.dontKnowFor(label) }),
    button(strings.cancel, close, { class: "quiet" }))];
}

function wordsForm(label, answer) {
  const field = make("input", { id: "in-words", type: "text", maxlength: 200, autocomplete: "off" });
  const take = (event) => {
    event.preventDefault();
    if (field.value.trim()) answer(field.value.trim());
    else field.focus();
  };
  return make("form", { class: "number", novalidate: true, on: { submit: take } },
    make("div", { class: "reading" },
      make("label", { for: "in-words" }, label),
      make("div", { class: "together" }, field, make("button", { class: "main" }, strings.save))));
}
