/** The parts of the sheet that are there from the start: a screen reader only hears regions it has already met. */

import { button, make } from "./dom.js";
import { strings } from "./strings.js";

export function shell() {
  const shop = make("p", { class: "shop" });
  const intro = make("div", { class: "intro" }, make("p", {}, strings.intro), make("p", { class: "emergency" }, strings.emergency));
  const status = make("div", { class: "status", role: "status" });
  const lines = make("ol", { class: "lines" });
  const waiting = make("ol", { class: "lines" });
  const danger = make("div", { class: "danger", role: "alert", tabindex: "-1" });
  const now = make("div", { class: "case", tabindex: "-1" });
  const standing = make("section", { class: "standing", "aria-label": strings.now }, danger, now);
  const writing = composer();
  const ending = putAway();
  const root = make("section", { class: "sheet", "aria-label": strings.title },
    make("header", {}, make("h2", {}, strings.title), shop),
    intro,
    make("div", { class: "log", role: "log", "aria-label": strings.log }, lines),
    standing,
    make("div", { class: "log waiting", role: "group", "aria-live": "polite", "aria-label": strings.waiting }, waiting),
    status,
    writing.composer,
    ending.foot);
  const fresh = (empty, ended) => {
    intro.hidden = !empty;
    writing.label.textContent = empty ? strings.write : strings.writeMore;
    writing.composer.hidden = ended;
    ending.foot.hidden = empty;
    ending.anew.hidden = ended || !ending.confirm.hidden;
    ending.confirm.hidden &&= !ended;
    ending.question.hidden = ending.keep.hidden = ended;
    ending.startNew.textContent = ended ? strings.startNew : strings.yesStartNew;
  };
  const notice = (text) => { if (status.textContent !== text) status.textContent = text; };
  return { root, shop, lines, waiting, danger, now, standing, fresh, notice, ...writing, ...ending };
}

function composer() {
  const label = make("label", { for: "words" }, strings.write);
  const field = make("textarea", { id: "words", rows: 3, enterkeyhint: "send", "aria-describedby": "words-error words-hint" });
  const problem = make("p", { class: "error", id: "words-error", "aria-live": "polite" });
  const person = button(strings.askPerson, () => {}, { class: "person" });
  const form = make("form", { class: "composer", novalidate: true },
    label,
    field,
    problem,
    make("div", { class: "row" }, make("button", { class: "main send" }, strings.send), person),
    make("p", { class: "note enter-hint", id: "words-hint" }, strings.enterSends));
  return { composer: form, label, field, problem, person };
}

/** Starting anew asks first, because the old sheet cannot be opened again from here. */
function putAway() {
  const anew = button(strings.startNew, () => {}, { class: "quiet" });
  const startNew = button(strings.yesStartNew, () => {}, { class: "main" });
  const keep = button(strings.keepThis, () => { confirm.hidden = true; anew.hidden = false; anew.focus(); }, {});
  const question = make("p", {}, strings.startNewSure);
  const confirm = make("div", { class: "confirm", hidden: true }, question, make("div", { class: "row" }, startNew, keep));
  return { foot: make("footer", {}, anew, confirm), anew, startNew, keep, question, confirm };
}
