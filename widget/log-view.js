/**
 * A record of what was said: one line a message, the newest last, like the entries of a brew-day log. What is not yet
 * acknowledged has a record of its own beside the place where it was written.
 *
 * Lines are added and changed in place, never rebuilt, so that a screen reader hears only what is new.
 */

import { headline } from "./consultation-view.js";
import { button, make } from "./dom.js";
import { labelOf } from "./figures-view.js";
import { strings } from "./strings.js";
import { figureText } from "./units.js";

export class LogView {
  #list;
  #lines = new Map();

  constructor(list) {
    this.#list = list;
  }

  /** Shows these entries; `heard` is where the case stood before the first, `actions`: sendNow(), change(message). */
  show(entries, heard, actions = {}) {
    const newest = entries.findLast((entry) => entry.answers);
    const wanted = entries.map((entry) => {
      const line = this.#line(entry, heard);
      heard = entry.answers ?? heard;
      update(line, entry, actions);
      line.toggleAttribute("data-current", entry === newest);
      return line;
    });
    for (const line of [...this.#list.children]) if (!wanted.includes(line)) line.remove();
    wanted.forEach((line, place) => {
      if (this.#list.children[place] !== line) this.#list.insertBefore(line, this.#list.children[place] ?? null);
    });
  }

  #line(message, heard) {
    const key = message.client_id ?? message.id;
    if (!this.#lines.has(key)) this.#lines.set(key, lineOf(message, heard));
    return this.#lines.get(key);
  }
}

/** Messages as entries of the log: each with the desk's answer to it, in one line, after it. */
export function entriesOf(messages) {
  return messages.flatMap((message) => (message.consultation ? [message, answerTo(message)] : [message]));
}

const answerTo = ({ id, consultation }) => ({
  id: `answer to ${id}`,
  author: "desk",
  text: headline(consultation),
  answers: consultation,
});

function lineOf(message, heard) {
  const from = message.author ?? "customer";
  const who = { customer: strings.you, desk: strings.desk }[from] ?? strings.person;
  return make("li", { class: "line", "data-from": from, tabindex: "-1" },
    make("p", { class: "margin" }, make("strong", {}, who), make("time")),
    make("div", { class: "entry" },
      ...wordsOf(message, heard).map((text) => make("p", {}, text)),
      make("div", { class: "footnote" })));
}

function wordsOf({ text, facts }, heard) {
  return [text, ...Object.entries(facts ?? {}).map(([name, value]) => answerText(name, value, heard))].filter(Boolean);
}

/** An answer to the question just put is given alone; a correction says what it corrects. */
function answerText(name, value, heard) {
  if (name === "person") return strings.askPersonMessage;
  if (name === "problem") return strings.workOn(problemTitle(value, heard));
  const asked = heard?.question?.fact === name ? heard.question : null;
  if (value === null) return asked ? strings.dontKnow : `${labelOf(name, heard?.facts?.[name])}: ${strings.unknown}`;
  const text = asked?.options?.find((option) => option.value === value)?.label ?? answerValue(value);
  return asked ? text : `${labelOf(name, heard?.facts?.[name])}: ${text}`;
}

function answerValue(value) {
  if (typeof value === "boolean") return value ? strings.yes : strings.no;
  return figureText(typeof value === "object" ? `${value.value} ${value.unit ?? ""}`.trim() : value);
}

function problemTitle(id, heard) {
  const asked = heard?.question?.options?.find((option) => option.value === id);
  const offered = [...(heard?.problems ?? []), ...(heard?.also ?? [])].find((problem) => problem.id === id);
  return asked?.label ?? offered?.title ?? id.replaceAll("-", " ");
}

/** What changes about a line: whether it has arrived, when, and what the customer can do if not. */
function update(line, message, actions) {
  const shown = JSON.stringify([message.state, message.reason, message.at]);
  if (line.dataset.shown === shown) return;
  line.dataset.shown = shown;
  line.dataset.state = message.state ?? "sent";
  setTime(line.querySelector("time"), message.at);
  const note = line.querySelector(".footnote");
  if (note.contains(line.getRootNode().activeElement)) line.focus(); // the button just pressed goes away
  note.replaceChildren(...footnote(message, actions));
}

function setTime(place, at) {
  const time = new Date(at ?? NaN);
  if (Number.isNaN(time.valueOf())) return;
  place.dateTime = time.toISOString();
  place.textContent = time.toLocaleTimeString([], { hour: "numeric", minute: "2-digit" });
}

function footnote(message, { sendNow, change }) {
  if (message.state === "sending") return [make("span", {}, strings.sending)];
  if (message.state === "kept") return [make("span", {}, strings.kept), button(strings.sendAgain, sendNow, { class: "quiet" })];
  if (message.state !== "refused") return [];
  const label = message.text ? strings.change : strings.takeBack;
  return [make("span", { class: "error" }, strings.refused(message.reason)), button(label, () => change(message), { class: "quiet" })];
}
