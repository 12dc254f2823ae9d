/**
 * The desk's HTTP calls. Everything a caller has to tell apart is in CallFailed: not reached, refused, or no such chat.
 */

const PATIENCE_MS = 20_000;

/** No cookies, no address of the page, no stored copy, and no redirect that could carry the token elsewhere. */
const PRIVATELY = { cache: "no-store", credentials: "omit", redirect: "error", referrerPolicy: "no-referrer" };

export class CallFailed extends Error {
  /** Status 0: the service was not reached, or did not answer like itself. `errors` names fields, as RFC 9457 details. */
  constructor(message, { status = 0, retryAfter = null, errors = [] } = {}) {
    super(message);
    Object.assign(this, { status, retryAfter, errors });
  }

  /** The chat, or our right to it, has ended: a token is of no more use. */
  get chatIsGone() {
    return this.status === 401 || this.status === 404 || this.status === 410;
  }

  /** Trying the same again would be refused again. */
  get isRefusal() {
    return this.status >= 400 && this.status < 500 && ![408, 425, 429].includes(this.status) && !this.chatIsGone;
  }
}

export class ChatClient {
  constructor(service) {
    this.service = service;
  }

  open(token, units, signal) {
    return this.#json("/api/chats", { method: "POST", token, body: units ? { units } : {}, signal });
  }

  say(chat, message, signal) {
    return this.#json(`${path(chat)}/messages`, { method: "POST", token: chat.token, body: message, signal });
  }

  read(chat, signal) {
    return this.#json(path(chat), { token: chat.token, signal });
  }

  /** The live events after a number, as an open response; its body is read by chat-events.js. */
  async events(chat, after, signal) {
    const headers = { Accept: "text/event-stream", "Last-Event-ID": String(after) };
    return this.#call(`${path(chat)}/events`, { token: chat.token, headers, signal });
  }

  async #json(address, { body, signal, ...call }) {
    const limit = AbortSignal.any([signal, AbortSignal.timeout(PATIENCE_MS)]);
    const headers = { Accept: "application/json", ...(body && { "Content-Type": "application/json" }) };
    const response = await this.#call(address, { ...call, headers, body: body && JSON.stringify(body), signal: limit });
    if (!isJson(response)) throw new CallFailed("the answer was not the desk's");
    return response.json().catch((error) => {
      throw new CallFailed(error.message);
    });
  }

  async #call(address, { token, headers, signal, ...call }) {
    const request = bare({ ...PRIVATELY, ...call, signal, headers: bare({ ...headers, Authorization: `Bearer ${token}` }) });
    const response = await fetch(this.service + address, request).catch((error) => {
      throw new CallFailed(error.message);
    });
    if (!response.ok) throw await failure(response);
    return response;
  }
}

/** Without a prototype, so that nothing a page has added to Object.prototype steers a request. */
const bare = (own) => Object.assign(Object.create(null), own);
const path = (chat) => `/api/chats/${encodeURIComponent(chat.id)}`;
const isJson = (response) => /^application\/(problem\+)?json\b/.test(response.headers.get("Content-Type") ?? "");

async function failure(response) {
  const problem = isJson(response) ? await response.json().catch(() => ({})) : {};
  const wait = Number(response.headers.get("Retry-After"));
  const message = problem.detail ?? problem.title ?? `the desk answered ${response.status}`;
  const errors = Array.isArray(problem.errors) ? problem.errors : [];
  return new CallFailed(String(message), { status: response.status, retryAfter: wait > 0 ? wait * 1000 : null, errors });
}
