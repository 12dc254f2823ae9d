/**
 * <spile-chat src="https://desk.example" shop="Name">: the customer's side of the help desk, as one element.
 *
 * `src` is the service's address (the page's own origin when left out), `shop` the name shown, `units` ("us" or
 * "metric") the system to begin with. The attribute `state` tells the page and a stylesheet how it stands: empty,
 * loading, open, unreachable or ended. This file wires the conversation to what is seen; neither knows the other.
 */

import { ChatClient } from "./chat-client.js";
import { ChatStore } from "./chat-store.js";
import { consultationView } from "./consultation-view.js";
import { cautionsView, foldCautions } from "./caution-view.js";
import { Conversation } from "./conversation.js";
import { entriesOf, LogView } from "./log-view.js";
import { shell } from "./shell.js";
import { strings } from "./strings.js";
import { sheet } from "./styles.js";

const LONGEST_TEXT = 4000;

class SpileChat extends HTMLElement {
  static observedAttributes = ["src", "shop", "units"];

  #parts;
  #log;
  #waiting;
  #store;
  #conversation;
  #gone; // ends every listener and request of this connection to the page
  #left; // ends those of one conversation
  #shown = {}; // what is on the page, so that only changes touch it
  #asked = null; // where the customer last did something whose answer should come into view: "case" or "composer"

  connectedCallback() {
    if (!this.shadowRoot) this.#furnish();
    this.#gone = new AbortController();
    const { signal } = this.#gone;
    const { composer, field, person, anew, startNew } = this.#parts;
    composer.addEventListener("submit", (event) => this.#submit(event), { signal });
    field.addEventListener("keydown", (event) => this.#key(event), { signal });
    field.addEventListener("input", () => this.#store.draft(field.value), { signal });
    person.addEventListener("click", () => this.#askPerson(), { signal });
    anew.addEventListener("click", () => this.#confirmNew(true), { signal });
    startNew.addEventListener("click", () => this.#startNew(), { signal });
    addEventListener("storage", (event) => this.#otherTab(event), { signal });
    this.#begin();
  }

  disconnectedCallback() {
    this.#left.abort();
    this.#gone.abort();
  }

  attributeChangedCallback() {
    if (this.isConnected && this.#conversation) this.#begin();
  }

  #furnish() {
    const root = this.attachShadow({ mode: "open" });
    root.adoptedStyleSheets = [sheet];
    this.#parts = shell();
    root.append(this.#parts.root);
    this.#log = new LogView(this.#parts.lines);
    this.#waiting = new LogView(this.#parts.waiting);
  }

  /** Takes up the chat this browser knows for the service, or waits for the first words of a new one. */
  #begin() {
    this.#left?.abort();
    this.#left = new AbortController();
    const service = serviceAddress(this.getAttribute("src"));
    this.#store = new ChatStore(service);
    this.#conversation = new Conversation({
      client: new ChatClient(service),
      store: this.#store,
      units: this.getAttribute("units"),
      changed: () => this.#render(),
      signal: this.#left.signal,
    });
    this.#shown = { id: this.#store.read().id };
    const shop = this.getAttribute("shop");
    this.#parts.shop.textContent = shop ? strings.sheetOf(shop) : strings.sheet;
    this.#parts.field.value = this.#store.read().draft;
    this.#render();
    this.#conversation.resume();
  }

  #submit(event) {
    event.preventDefault();
    const { field, problem } = this.#parts;
    const text = field.value.trim();
    problem.textContent = fault(text);
    field.setAttribute("aria-invalid", String(problem.textContent !== ""));
    if (problem.textContent) return field.focus();
    field.value = "";
    this.#store.draft("");
    this.#say({ text }, "composer");
    if (onTouch()) field.blur(); // puts the screen keyboard away, so that the answer can be seen
  }

  #key(event) {
    if (event.key !== "Enter" || event.shiftKey || event.isComposing || onTouch()) return;
    event.preventDefault();
    this.#parts.composer.requestSubmit();
  }

  #say(message, from) {
    this.#asked = from;
    this.#conversation.say(message);
  }

  #askPerson() {
    this.#say({ facts: { person: true } }, "composer");
  }

  #render() {
    const conversation = this.#conversation;
    const state = stateOf(conversation);
    this.setAttribute("state", state);
    this.#parts.notice(noticeOf(conversation, this.#store.lasting));
    this.#parts.fresh(state === "empty", conversation.ended);
    this.#log.show(entriesOf(conversation.messages), null);
    this.#waiting.show(conversation.unsent, conversation.consultation, {
      sendNow: () => conversation.sendNow(),
      change: (message) => this.#change(message),
    });
    this.#renderCase(conversation.ended ? null : conversation.consultation, conversation.unsent);
    if (this.#asked && conversation.unsent.some(({ state }) => state === "refused")) this.#bringRefusalIntoView();
    this.#shown.id = this.#store.read().id;
  }

  #renderCase(consultation, unsent) {
    const { danger, now } = this.#parts;
    this.#replace("danger", consultation?.cautions ?? [], danger, (cautions) => [cautionsView(cautions)].filter(Boolean));
    now.toggleAttribute("inert", unsent.some(({ state }) => state === "sending")); // it is about to be redrawn
    const changed = this.#replace("case", consultation, now, () => (consultation ? this.#caseParts(consultation) : []));
    if (changed) foldCautions(danger, readAlready(consultation, this.#conversation.cautionsRead));
    const asked = consultation?.question?.fact;
    const answered = unsent.some(({ facts, state }) => state !== "refused" && Object.hasOwn(facts ?? {}, asked));
    now.querySelector("[data-part=question]")?.toggleAttribute("inert", answered); // an answer is given once
    if (changed && consultation && this.#asked) this.#bringIntoView();
  }

  #caseParts(consultation) {
    return consultationView(consultation, {
      answer: (facts) => this.#say({ facts }, "case"),
      askPerson: () => this.#askPerson(),
    });
  }

  /** Redraws a region when what it shows has changed, and only then: a field half filled in is left alone. */
  #replace(name, shown, region, view) {
    const written = JSON.stringify(shown);
    if (this.#shown[name] === written) return false;
    this.#shown[name] = written;
    const held = region.contains(this.shadowRoot.activeElement);
    region.replaceChildren(...view(shown));
    if (held) (region.querySelector("[data-focus]") ?? region).focus({ preventScroll: true });
    return true;
  }

  /** The answer comes into view; whoever answered in the case itself goes on from its new heading. */
  #bringIntoView() {
    const { standing, now } = this.#parts;
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    standing.scrollIntoView({ block: "start", behavior: calm ? "auto" : "smooth" });
    if (this.#asked === "case") (now.querySelector("[data-focus]") ?? now).focus({ preventScroll: true });
    this.#asked = null;
  }

  #bringRefusalIntoView() {
    this.#asked = null;
    this.#parts.waiting.scrollIntoView({ block: "nearest" });
  }

  #change({ client_id: id, text }) {
    this.#conversation.takeBack(id);
    const { field } = this.#parts;
    if (text) field.value = [text, field.value].filter(Boolean).join("\n");
    this.#store.draft(field.value);
    field.focus();
  }

  #confirmNew(wanted) {
    const { confirm, anew } = this.#parts;
    confirm.hidden = !wanted;
    anew.hidden = wanted;
    (wanted ? confirm.querySelector("button") : anew).focus();
  }

  #startNew() {
    this.#store.forgetChat();
    this.#parts.confirm.hidden = true;
    this.#begin();
    this.#parts.field.focus();
  }

  /** Another tab opened, sent or put away the same chat. */
  #otherTab(event) {
    if (!this.#store.concerns(event)) return;
    if (this.#store.read().id === this.#shown.id) this.#render();
    else this.#begin();
  }
}

/** The cautions that need not stand open again: not while people are in danger, nor when it is time to act. */
function readAlready(consultation, read) {
  const { question } = consultation ?? {};
  return question && question.kind !== "safety" ? read : new Set();
}

/** The address calls are made to: http or https, without anything after the path. */
function serviceAddress(src) {
  const address = new URL(src || "/", document.baseURI);
  if (!/^https?:$/.test(address.protocol)) throw new TypeError(`spile-chat: src must be an http or https address, not ${address.protocol}`);
  return (address.origin + address.pathname).replace(/\/+$/, "");
}

function stateOf({ ended, loading, reachable, messages, unsent }) {
  if (ended) return "ended";
  if (!reachable) return "unreachable";
  if (loading) return "loading";
  return messages.length || unsent.length ? "open" : "empty";
}

function noticeOf({ ended, reachable, loading }, lasting) {
  if (ended) return strings.ended;
  if (!reachable) return strings.unreachable;
  if (loading) return strings.loading;
  return lasting ? "" : strings.notLasting;
}

function fault(text) {
  if (!text) return strings.nothingWritten;
  return text.length > LONGEST_TEXT ? strings.tooLong(LONGEST_TEXT) : "";
}

const onTouch = () => matchMedia("(pointer: coarse)").matches;

if (!customElements.get("spile-chat")) customElements.define("spile-chat", SpileChat);
