/** Where a case ends: what was found, what to do now, what to look at again, and how it was worked out. */

import { folded, list, make } from "./dom.js";
import { strings } from "./strings.js";

export function findingView(finding, parts = []) {
  return make("section", { class: "finding", "data-part": "finding" },
    make("h3", { tabindex: "-1", "data-focus": "" }, finding.title || strings.finding),
    make("p", { class: "summary" }, finding.summary),
    finding.cause && make("p", { class: "cause" }, finding.cause),
    titledList(strings.steps, "ol", finding.steps, "steps"),
    checkAgainView(finding.check_again),
    titledList(strings.nextTime, "ul", finding.next_time, "next-time"),
    partsView(parts));
}

function titledList(title, tag, texts = [], name) {
  return texts.length > 0 && make("div", { class: name }, make("h4", {}, title), list(tag, texts));
}

function checkAgainView(check) {
  return check && make("div", { class: "check-again" },
    make("h4", {}, strings.checkAgain),
    make("dl", {},
      make("div", {}, make("dt", {}, strings.checkWhat), make("dd", {}, check.what)),
      make("div", {}, make("dt", {}, strings.checkWhen), make("dd", {}, check.when))));
}

function partsView(parts) {
  const items = parts.map(({ name, ask = [] }) => make("li", {}, make("strong", {}, name), ask.length > 0 && `: ${ask.join(" ")}`));
  return items.length > 0 && make("div", { class: "parts" },
    make("h4", {}, strings.parts),
    make("p", { class: "note" }, strings.askBeforeBuying),
    make("ul", {}, ...items));
}

/** Each calculation folded behind its result, so that anybody can do it again by hand. */
export function calculationsView(calculations = [], sources = []) {
  if (!calculations.length) return null;
  const cited = new Map(sources.map(({ id, citation }) => [id, citation]));
  const warned = new Set(); // a warning that several share is told once
  return make("section", { class: "calculations" },
    make("h3", {}, strings.workedOut),
    ...calculations.map((calculation) => calculationView(calculation, cited, warned)));
}

function calculationView({ calculator, title, summary, working, warnings = [], sources = [] }, cited, warned) {
  const name = title || calculator.replaceAll("-", " ");
  const fresh = warnings.filter((warning) => !warned.has(warning));
  fresh.forEach((warning) => warned.add(warning));
  return folded(summary ? `${name}: ${summary}` : name, { class: "calculation" },
    make("pre", { tabindex: "0", role: "group", "aria-label": name }, working),
    list("ul", fresh.map((warning) => `${strings.mind}: ${warning}`), { class: "warnings" }),
    list("ul", sources.map((id) => cited.get(id)), { class: "note" }));
}

export function sourcesView(sources = []) {
  return sources.length > 0 && folded(strings.sources, { class: "sources" }, list("ul", sources.map(({ citation }) => citation)));
}
