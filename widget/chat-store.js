/**
 * What this browser remembers of a chat, keyed to the service's address: who we are to the service (chat id and token),
 * what was written and not yet acknowledged, and the line being typed. Nothing the service has acknowledged stays here.
 */

import { randomId } from "./random.js";

const EMPTY = { id: null, token: null, unsent: [], draft: "" };

export class ChatStore {
  #key;
  #storage;

  constructor(service, storage = pageStorage()) {
    this.#key = `spile-chat ${service}`;
    this.#storage = storage ?? new Map();
    this.lasting = storage !== null;
  }

  /** True when a storage event of another tab is about this chat. */
  concerns(event) {
    return event.key === this.#key;
  }

  read() {
    return understood(this.lasting ? this.#storage.getItem(this.#key) : this.#storage.get(this.#key));
  }

  /** The chat's token, made (256 random bits) and kept before the first call, so that a retry opens the same chat. */
  token() {
    return this.read().token ?? this.#write({ ...this.read(), token: randomId(32) }).token;
  }

  opened(id) {
    this.#write({ ...this.read(), id });
  }

  /** Keeps a message until it is acknowledged; it carries its own random id, so sent twice it is said once. */
  keep({ text, facts }) {
    const message = { client_id: randomId(16), ...(text && { text }), ...(facts && { facts }) };
    const state = this.read();
    this.#write({ ...state, unsent: [...state.unsent, message] });
    return message;
  }

  acknowledged(clientId) {
    const state = this.read();
    this.#write({ ...state, unsent: state.unsent.filter((message) => message.client_id !== clientId) });
  }

  draft(text) {
    this.#write({ ...this.read(), draft: text });
  }

  /** Forgets the chat and its token; what was not yet acknowledged and the line being typed stay the customer's. */
  forgetChat() {
    const { unsent, draft } = this.read();
    this.#write({ ...EMPTY, unsent, draft });
  }

  #write(state) {
    const text = JSON.stringify(state);
    if (!this.lasting) this.#storage.set(this.#key, text);
    else if (isEmpty(state)) this.#storage.removeItem(this.#key);
    else this.#storage.setItem(this.#key, text);
    return state;
  }
}

function isEmpty({ id, token, unsent, draft }) {
  return !id && !token && !unsent.length && !draft;
}

/** Storage belongs to the whole page: anything there that is not ours to read counts as nothing kept. */
function understood(text) {
  let found;
  try {
    found = JSON.parse(text ?? "null");
  } catch {
    return { ...EMPTY };
  }
  if (typeof found !== "object" || found === null) return { ...EMPTY };
  return {
    id: typeof found.id === "string" ? found.id : null,
    token: typeof found.token === "string" ? found.token : null,
    unsent: Array.isArray(found.unsent) ? found.unsent.filter((message) => typeof message?.client_id === "string") : [],
    draft: typeof found.draft === "string" ? found.draft : "",
  };
}

/** The page's storage, or null where the browser refuses it (private windows, blocked site data). */
function pageStorage() {
  try {
    const probe = "spile-chat probe";
    localStorage.setItem(probe, "");
    localStorage.removeItem(probe);
    return localStorage;
  } catch {
    return null;
  }
}
