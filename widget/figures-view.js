/** What the desk understood, as a list of figures the customer can put right one by one. */

import { answerForm } from "./answer-form.js";
import { button, folded, list, make } from "./dom.js";
import { strings } from "./strings.js";

/** `correct(name, value)` sends what a figure should be. */
export function figuresView({ facts = {}, doubts = [] }, correct) {
  const rowsOf = (wanted) => Object.entries(facts).filter(([, fact]) => wanted(fact)).map(([name, fact]) => figureRow(name, fact, correct));
  const rows = rowsOf(({ value }) => value !== null);
  const missing = rowsOf(({ value }) => value === null);
  if (!rows.length && !missing.length && !doubts.length) return null;
  return make("section", { class: "figures" },
    make("h3", {}, strings.figures),
    rows.length > 0 && make("p", { class: "note" }, strings.figuresNote),
    rows.length > 0 && make("ul", { class: "ruled" }, ...rows),
    missing.length > 0 && folded(strings.missing(missing.length), { class: "missing" }, make("ul", { class: "ruled" }, ...missing)),
    doubts.length > 0 && make("h4", {}, strings.doubts),
    list("ul", doubts.map(({ text }) => text), { class: "doubts" }));
}

/** What people call a fact, as the beginning of a line. */
export function labelOf(name, fact) {
  const label = fact?.label || name.replaceAll("_", " ");
  return label.charAt(0).toUpperCase() + label.slice(1);
}

/** The customer's own words are worth repeating only where they are not what is shown already. */
const saidOtherwise = ({ said, shown, value }) => said && value !== null && !plain(shown || String(value)).startsWith(plain(said));

/** For a comparison that sees no difference between "58F" and "58 °F". */
const plain = (text) => text.toLowerCase().replace(/[\s°]/g, "");

function figureRow(name, fact, correct) {
  const label = labelOf(name, fact);
  const place = make("div", { class: "correction", hidden: true });
  const toggle = () => {
    place.hidden = !place.hidden;
    open.setAttribute("aria-expanded", String(!place.hidden));
    place.replaceChildren(...(place.hidden ? [] : correctionOf(label, fact, (value) => correct(name, value), toggle)));
    (place.querySelector("input, .choice") ?? open).focus();
  };
  const [text, named] = fact.value === null ? [strings.tellUs, strings.tellUsFor] : [strings.notRight, strings.notRightFor];
  const open = button(text, toggle, { class: "quiet", "aria-label": named(label), "aria-expanded": "false" });
  return make("li", { class: "figure", "data-fact": name },
    make("div", { class: "figure-line" },
      make("span", { class: "figure-label" }, label),
      make("span", { class: "figure-value" }, fact.shown || String(fact.value)),
      open),
    saidOtherwise(fact) && make("p", { class: "said" }, `${strings.said} “${fact.said}”`),
    place);
}

/** The fields that put one figure right, not knowing it included. */
function correctionOf(label, { kind, units, options }, answer, close) {
  const asked = { label: strings.newValue(label), kind, units, options };
  return [
    answerForm(asked, { submit: strings.save, answer, errorText: strings.correctNumber }),
    make("div", { class: "row" },
      button(strings.dontKnow, () => answer(null), { class: "quiet", "aria-label": strings.dontKnowFor(label) }),
      button(strings.cancel, close, { class: "quiet" })),
  ];
}
