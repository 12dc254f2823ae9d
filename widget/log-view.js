/**
 * The record of what was said: one line a message, the newest last, like the entries of a brew-day log.
 *
 * Lines are added and changed in place, never rebuilt, so that a screen reader hears only what is new.
 */

import { headline } from "./consultation-view.js";
import { button, make } from "./dom.js";
import { labelOf, valueOf } from "./figures-view.js";
import { strings } from "./strings.js";

export class LogView {
  #list;
  #lines = new Map();

  constructor(list) {
    this.#list = list;
  }

  /** Shows messages and, after them, what is not yet acknowledged; `actions`: sendAgain(), change(message). */
  show({ messages, unsent, consultation }, actions) {
    const last = messages.filter(({ from }) => from === "desk").at(-1);
    const wanted = [...messages, ...unsent].map((message) => {
      const line = this.#line(message, consultation);
      line.dataset.state = message.state ?? "sent";
      line.toggleAttribute("data-current", message === last && consultation !== null);
      footnote(line, message, actions);
      return line;
    });
    for (const line of [...this.#list.children]) if (!wanted.includes(line)) line.remove();
    wanted.forEach((line, place) => {
      if (this.#list.children[place] !== line) this.#list.insertBefore(line, this.#list.children[place] ?? null);
    });
  }

  #line(message, consultation) {
    const key = message.client_id ?? `number ${message.number}`;
    if (!this.#lines.has(key)) this.#lines.set(key, lineOf(message, consultation));
    return this.#lines.get(key);
  }
}

function lineOf(message, consultation) {
  const from = message.from ?? "customer";
  const who = { customer: strings.you, desk: strings.desk }[from] ?? strings.person;
  return make("li", { class: "line", "data-from": from },
    make("p", { class: "margin" }, make("strong", {}, who), timeOf(message.at)),
    make("div", { class: "entry" }, ...wordsOf(message, consultation).map((text) => make("p", {}, text)), make("div", { class: "footnote" })));
}

function wordsOf({ text, facts, consultation: reply }, consultation) {
  const answers = Object.entries(facts ?? {}).map(([name, value]) => answerText(name, value, consultation));
  const said = text || (reply ? headline(reply) : "");
  return [said, ...answers].filter(Boolean);
}

/** An answer in the words it was asked in: "Original gravity: 1.050 SG". */
function answerText(name, value, consultation) {
  if (name === "problem") return strings.workOn(problemTitle(value, consultation));
  const { question, facts } = consultation ?? {};
  const label = question?.fact === name ? question.text : labelOf(name, facts?.[name]);
  if (value === null) return strings.notKnownFor(label);
  const option = question?.fact === name ? question.options?.find((offered) => offered.value === value) : null;
  const given = typeof value === "object" ? value : { value };
  return `${label} ${option?.label ?? valueOf(given)}`;
}

function problemTitle(id, consultation) {
  const offered = [...(consultation?.problems ?? []), ...(consultation?.also ?? [])];
  return offered.find((problem) => problem.id === id)?.title ?? id.replaceAll("-", " ");
}

function timeOf(at) {
  const time = at ? new Date(at) : null;
  if (!time || Number.isNaN(time.valueOf())) return null;
  const shown = time.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  return make("time", { datetime: time.toISOString() }, shown);
}

/** Under a line that is not yet acknowledged: how it stands, and what the customer can do. */
function footnote(line, message, actions) {
  const note = line.querySelector(".footnote");
  const shown = `${message.state ?? "sent"} ${message.reason ?? ""}`;
  if (note.dataset.shown === shown) return;
  note.dataset.shown = shown;
  note.replaceChildren(...footnoteParts(message, actions));
}

function footnoteParts(message, { sendAgain, change }) {
  if (message.state === "sending") return [make("span", {}, strings.sending)];
  if (message.state === "kept") return [make("span", {}, strings.kept), button(strings.sendAgain, sendAgain, { class: "quiet" })];
  if (message.state !== "refused") return [];
  return [make("span", { class: "error" }, strings.refused(message.reason)), button(strings.change, () => change(message), { class: "quiet" })];
}
