/**
 * Where the case stands, in the order a worried reader needs it: what to do at once, the next question or the finding,
 * then why we think so and what we understood. Cautions stand above all this (caution-view.js); scores stay with the desk.
 */

import { answerForm } from "./answer-form.js";
import { button, folded, make } from "./dom.js";
import { figuresView } from "./figures-view.js";
import { calculationsView, findingView, sourcesView } from "./finding-view.js";
import { strings } from "./strings.js";

/** `actions`: answer(facts) and askPerson(), both of which send. */
export function consultationView(consultation, actions) {
  const { question, finding, handover, note } = consultation;
  return [
    boxed("first-action", strings.firstAction, consultation.first_action),
    boxed("handover", strings.handover, handover?.text),
    note && make("p", { class: "boxed heard", "data-part": "note" }, note),
    question && questionView(question, actions),
    finding && findingView(finding, consultation.parts),
    problemView(consultation, actions),
    figuresView(consultation, (name, value) => actions.answer({ [name]: value })),
    calculationsView(consultation.calculations, consultation.sources),
    sourcesView(consultation.sources),
  ].filter(Boolean);
}

/** One line that says what the desk answered: for the log, and for those who listen to the page. */
export function headline({ question, finding, handover, first_action: first }) {
  return question?.text ?? finding?.summary ?? handover?.text ?? first ?? strings.noted;
}

function boxed(name, title, text) {
  return text && make("section", { class: `boxed ${name}`, "data-part": name }, make("h3", {}, title), make("p", {}, text));
}

function questionView({ fact, text, why, hint, kind, units, options }, { answer, askPerson }) {
  const settings = { submit: strings.answer, errorText: strings.needNumber, answer: (value) => answer({ [fact]: value }) };
  return make("section", { class: "question", "data-part": "question", "data-fact": fact },
    make("p", { class: "eyebrow" }, strings.question),
    make("h3", { tabindex: "-1", "data-focus": "" }, text),
    hint && make("p", { class: "hint" }, hint),
    answerForm({ label: text, kind, units, options }, settings),
    otherwise(kind, () => answer({ [fact]: null }), askPerson),
    why && make("p", { class: "why" }, make("strong", {}, `${strings.whyWeAsk}: `), why));
}

/** The way on for whoever has no answer. Whether everybody is safe is asked with its own "not sure". */
function otherwise(kind, notKnown, askPerson) {
  if (kind === "safety") return null;
  const way = kind === "area" ? button(strings.noneOfThese, askPerson) : button(strings.dontKnow, notKnown);
  return make("div", { class: "row" }, way);
}

function problemView({ problems = [], also = [], finding }, actions) {
  const [best, ...others] = problems;
  if (!best && !also.length) return null;
  return make("section", { class: "problem" },
    best && make("h3", {}, finding ? strings.lookedInto : strings.looksLike),
    best && make("p", { class: "recognised" }, make("strong", {}, best.title)),
    best?.matched?.length > 0 && make("p", { class: "because" }, strings.because, quoted(best.matched), "."),
    others.length > 0 && folded(strings.notThat, { class: "others" }, ...offers(others, actions)),
    also.length > 0 && make("h4", {}, strings.also),
    ...offers(also, actions));
}

const quoted = (words) => words.map((said) => `“${said}”`).join(", ");

function offers(problems, { answer }) {
  return problems.map(({ id, title }) => button(title, () => answer({ problem: id }), { class: "offer" }));
}
