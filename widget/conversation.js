/**
 * One customer's chat, without a line of display: what has been said, what is still to be sent, and where the case
 * stands. It tells one listener whenever something changed.
 *
 * A message is kept in the browser before it is sent and until the service has acknowledged it; messages go out one
 * after another, in order, and are tried again until they arrive or the service refuses them.
 */

import { CallFailed } from "./chat-client.js";
import { backOff, events, follow, pause } from "./chat-events.js";
import { strings } from "./strings.js";

export class Conversation {
  messages = []; // acknowledged, in the order of their numbers, each with the desk's answer once it is heard
  reachable = true;
  ended = false;
  loading = false;

  #client;
  #store;
  #units;
  #changed;
  #signal;
  #wake = () => {};
  #delivering = false;
  #following = false;
  #states = new Map(); // client_id → { state, reason }
  #seen = 0; // the number of the last event heard

  constructor({ client, store, units, changed, signal }) {
    this.loading = store.read().id !== null;
    this.#client = client;
    this.#store = store;
    this.#units = units;
    this.#changed = changed;
    this.#signal = signal;
  }

  /** Takes up what this browser still holds: the chat so far, and what was written but not acknowledged. */
  resume() {
    if (this.#store.read().id) this.#follow();
    this.#deliver();
  }

  /** What was written and is not yet acknowledged, each with its state: sending, kept or refused. */
  get unsent() {
    return this.#store.read().unsent.map((message) => ({ state: "kept", ...message, ...this.#states.get(message.client_id) }));
  }

  /** Where the case stands: the desk's latest answer. */
  get consultation() {
    return this.messages.findLast((message) => message.consultation)?.consultation ?? null;
  }

  /** The ids of the cautions that stood in any answer before the latest. */
  get cautionsRead() {
    const answers = this.messages.filter((message) => message.consultation).slice(0, -1);
    return new Set(answers.flatMap(({ consultation }) => consultation.cautions.map(({ id }) => id)));
  }

  say(message) {
    this.#store.keep(message);
    this.sendNow();
  }

  /** Sends what waits, without waiting out a pause. */
  sendNow() {
    this.#wake();
    this.#deliver();
  }

  /** Takes back a message that was not acknowledged, to be changed or dropped. */
  takeBack(clientId) {
    this.#store.acknowledged(clientId);
    this.#changed();
  }

  async #deliver() {
    if (this.#delivering || this.ended) return this.#changed();
    this.#delivering = true;
    for (let failures = 0, next; !this.ended && (next = this.unsent.find(({ state }) => state !== "refused")); ) {
      try {
        await this.#send(next);
        failures = 0;
      } catch (error) {
        if (this.#signal.aborted) return;
        this.#failed(next, error);
        if (!this.ended && !error.isRefusal) await this.#rest(error.retryAfter ?? backOff((failures += 1)));
      }
    }
    this.#delivering = false;
  }

  #rest(milliseconds) {
    return Promise.race([pause(milliseconds, this.#signal), new Promise((resolve) => { this.#wake = resolve; })]);
  }

  async #send({ client_id, text, facts }) {
    this.#mark(client_id, { state: "sending" });
    const chat = await this.#chat();
    const reply = await this.#client.say(chat, { client_id, ...(text && { text }), ...(facts && { facts }) }, this.#signal);
    this.#reached();
    this.#take([{ ...reply.message, consultation: reply.consultation }]);
  }

  /** The chat's id and token; opens it when there is none. Opening twice with the same token is opening once. */
  async #chat() {
    const token = this.#store.token();
    if (!this.#store.read().id) {
      const opened = await this.#client.open(token, this.#units, this.#signal);
      this.#store.opened(opened.id);
      this.#take(opened.messages);
    }
    this.#follow();
    return { id: this.#store.read().id, token };
  }

  #failed({ client_id }, error) {
    if (!(error instanceof CallFailed)) throw error;
    this.#mark(client_id, error.isRefusal ? { state: "refused", reason: reasonOf(error) } : { state: "kept" });
    if (error.chatIsGone && this.#store.read().id) this.#end();
    else this.#reached(error.status !== 0 && error.status < 500);
  }

  async #follow() {
    if (this.#following) return;
    this.#following = true;
    const { id } = this.#store.read();
    const round = () => this.#catchUp();
    const stream = () => this.#listen();
    const isFinal = (error) => !(error instanceof CallFailed) || error.chatIsGone;
    await follow({ round, stream, isFinal, name: id, signal: this.#signal }).catch((error) => {
      if (error.chatIsGone) this.#end();
      else throw error;
    });
  }

  async #catchUp() {
    try {
      const chat = await this.#client.read(this.#store.read(), this.#signal);
      this.loading = false;
      this.#reached();
      this.#seen = chat.last_event;
      this.#take(chat.messages);
    } catch (error) {
      if (error instanceof CallFailed && !error.chatIsGone) this.#reached(false);
      throw error;
    }
  }

  async #listen() {
    const response = await this.#client.events(this.#store.read(), this.#seen, this.#signal);
    for await (const event of events(response, this.#signal)) {
      const said = JSON.parse(event.data);
      if (event.type === "message") this.#take([said]);
      if (event.type === "consultation") this.#take([{ id: said.message, consultation: said.consultation }]);
      this.#seen = Number(event.id ?? this.#seen);
    }
  }

  /** Adds what is new. A message and its answer may come several times and by several ways; each is kept once. */
  #take(messages) {
    const known = new Map(this.messages.map((message) => [message.id, message]));
    for (const message of messages) known.set(message.id, { ...known.get(message.id), ...message });
    this.#acknowledge(messages);
    this.messages = [...known.values()].sort((one, other) => one.number - other.number);
    this.#changed();
  }

  /** A message the service shows us has arrived, also when its own answer was lost on the way. */
  #acknowledge(messages) {
    const arrived = new Set(messages.map((message) => message.client_id));
    for (const { client_id } of this.#store.read().unsent.filter((message) => arrived.has(message.client_id))) {
      this.#store.acknowledged(client_id);
      this.#states.delete(client_id);
    }
  }

  #mark(clientId, state) {
    this.#states.set(clientId, state);
    this.#changed();
  }

  #reached(reachable = true) {
    if (this.reachable === reachable) return;
    this.reachable = reachable;
    this.#changed();
  }

  /** The chat is no more, or no longer ours: its token is dropped; what was not sent stays for a new one. */
  #end() {
    this.#store.forgetChat();
    Object.assign(this, { ended: true, loading: false });
    this.#changed();
  }
}

/** Why a message was refused, field by field where the service says so. */
function reasonOf({ message, errors }) {
  const reasons = errors.map(({ field, message: what }) => (/^facts\b/.test(field) ? strings.refusedFact : strings.refusedText)(what));
  return reasons.join(" ") || message;
}
