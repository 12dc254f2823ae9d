/**
 * Building elements without markup: text only ever enters as text.
 *
 * No innerHTML and no style attribute, so the widget works under a strict Content-Security-Policy and under Trusted
 * Types, and nothing anybody wrote (customer, shop or knowledge) can become markup.
 */

const SVG = "http://www.w3.org/2000/svg";
const FORBIDDEN = /^(on|style$|src|href$)/i;

/** make("p", { class: "why", on: { click } }, "text", child, null): an element; null and false children are left out. */
export function make(tag, attributes = {}, ...children) {
  return furnish(document.createElement(tag), attributes, children);
}

/** A filled outline in a 24 by 24 box, drawn in the current text colour and silent to a screen reader. */
export function shape(outline) {
  const drawing = document.createElementNS(SVG, "svg");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("d", outline);
  drawing.append(path);
  return furnish(drawing, { viewBox: "0 0 24 24", "aria-hidden": "true", focusable: "false" }, []);
}

/** A button that sends no form by itself. */
export function button(text, onClick, attributes = {}) {
  return make("button", { type: "button", ...attributes, on: { click: onClick } }, text);
}

/** A list of texts, or nothing when there are none. */
export function list(tag, texts, attributes = {}) {
  const items = texts.filter(Boolean).map((text) => make("li", {}, text));
  return items.length ? make(tag, attributes, ...items) : null;
}

/** Something folded behind a line that says what it is. */
export function folded(title, attributes, ...children) {
  return make("details", attributes, make("summary", {}, title), ...children);
}

function furnish(element, { on = {}, ...attributes }, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (FORBIDDEN.test(name)) throw new TypeError(`${name} is not set from here`);
    if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  for (const [event, listener] of Object.entries(on)) element.addEventListener(event, listener);
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}
