/**
 * Following a chat live: server-sent events read by fetch (an EventSource cannot send the token), resumed after the
 * last number seen.
 *
 * Each round first reads the whole chat and then holds the stream open, so where streams do not get through (a proxy,
 * an old network) the same loop is polling. One tab a browser holds the stream, because browsers open only six
 * connections to a host; the others poll until it is their turn.
 */

const SILENCE_MS = 45_000; // the service sends a comment at least every 15 s
const POLL_MS = 4_000;
const UNSEEN_POLL_MS = 60_000; // nobody looks at this tab
const STEADY_MS = 10_000; // a stream that held this long was a good one
const LONGEST_PAUSE_MS = 15_000;

/** Runs until the signal ends it, or `round` or `stream` throw an error for which `isFinal` is true. */
export async function follow({ round, stream, isFinal, name, signal }) {
  const turn = navigator.locks ? new Turn(`spile-chat stream ${name}`, signal) : { come: true, given: null };
  for (let failures = 0; !signal.aborted; ) {
    const began = performance.now();
    try {
      await round();
      if (turn.come) await stream();
      failures = 0;
    } catch (error) {
      if (signal.aborted) return;
      if (isFinal(error)) throw error;
      failures = performance.now() - began > STEADY_MS ? 1 : failures + 1;
    }
    if (turn.come || failures) await pause(backOff(Math.max(1, failures)), signal);
    else await Promise.race([pause(document.hidden ? UNSEEN_POLL_MS : POLL_MS, signal), turn.given]);
  }
}

/** Waits its turn among the tabs of this browser, and keeps it until the signal ends. */
class Turn {
  come = false;

  constructor(name, signal) {
    const ended = new Promise((resolve) => signal.addEventListener("abort", resolve, { once: true }));
    this.given = new Promise((resolve) => {
      const hold = () => { this.come = true; resolve(); return ended; };
      navigator.locks.request(name, { signal }, hold).catch(() => {}); // refused only when the signal ended the wait
    });
  }
}

/** Each event of a response, parsed as WHATWG HTML 9.2.6 says; a cut connection or a long silence is an end. */
export async function* events(response, signal) {
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  const stop = () => reader.cancel().catch(() => {});
  signal.addEventListener("abort", stop, { once: true });
  try {
    const parser = new EventParser();
    for (let part; !(part = await within(SILENCE_MS, reader.read(), stop)).done; ) yield* parser.take(part.value);
  } finally {
    signal.removeEventListener("abort", stop);
    stop();
  }
}

class EventParser {
  #rest = "";
  #event = fresh();

  /** The events completed by one more piece of the stream. */
  *take(piece) {
    const text = this.#rest + piece;
    const whole = text.endsWith("\r") ? text.length - 1 : text.length; // a CR may be half of a CRLF
    const lines = text.slice(0, whole).split(/\r\n|\r|\n/);
    this.#rest = lines.pop() + text.slice(whole);
    for (const line of lines) {
      if (line !== "") this.#field(line);
      else if (this.#event.data !== null) yield this.#finished();
      else this.#event = fresh();
    }
  }

  #field(line) {
    const [, name, value] = /^([^:]*):? ?(.*)$/s.exec(line);
    if (name === "data") this.#event.data = this.#event.data === null ? value : `${this.#event.data}\n${value}`;
    else if (name === "event") this.#event.type = value;
    else if (name === "id" && !value.includes("\0")) this.#event.id = value;
  }

  #finished() {
    const event = this.#event;
    this.#event = fresh();
    return event;
  }
}

const fresh = () => ({ type: "message", data: null, id: null });

/** A longer pause after each failure, spread so that many customers do not return at one moment. */
export function backOff(failures) {
  const most = Math.min(LONGEST_PAUSE_MS, 500 * 2 ** failures);
  return most * (0.5 + Math.random() / 2);
}

/** Resolves after a time, or at once when the signal ends, the network comes back or the tab is looked at again. */
export function pause(milliseconds, signal) {
  const wakers = [[signal, "abort"], [window, "online"], [document, "visibilitychange"]];
  return new Promise((resolve) => {
    const done = () => {
      clearTimeout(timer);
      for (const [source, event] of wakers) source.removeEventListener(event, done);
      resolve();
    };
    const timer = setTimeout(done, milliseconds);
    for (const [source, event] of wakers) source.addEventListener(event, done);
  });
}

async function within(milliseconds, reading, otherwise) {
  const timer = setTimeout(otherwise, milliseconds);
  return reading.catch(() => ({ done: true })).finally(() => clearTimeout(timer));
}
