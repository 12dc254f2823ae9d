/**
 * Cautions under the signal words of ANSI Z535.6, each told by word, shape and colour together.
 *
 * Signal, hazard and consequence always stand; what to do about it is open when it is new and folds once it has been
 * read, so that the next question is not pushed out of sight by what was said before.
 */

import { folded, list, make, shape } from "./dom.js";
import { strings } from "./strings.js";

const MARK = "M11 6h2l-.4 8h-1.2zM11 16h2v2h-2z"; // an exclamation mark, cut out of the outline by the even-odd rule
const OUTLINES = {
  DANGER: "M7.5 1h9L23 7.5v9L16.5 23h-9L1 16.5v-9z",
  WARNING: "M12 1 23.5 22H.5z",
  CAUTION: "M12 .5 23.5 12 12 23.5.5 12z",
  NOTICE: "M2 3h20v18H2z",
};

export function cautionsView(cautions) {
  if (!cautions?.length) return null;
  return make("section", { class: "cautions", "aria-label": strings.cautions }, ...cautions.map(cautionView));
}

/** Folds what to do about the cautions of these ids, and opens it for all others; nothing is built anew. */
export function foldCautions(region, ids) {
  for (const caution of region.querySelectorAll(".caution")) {
    caution.querySelector("details").open = !ids.has(caution.dataset.id);
  }
}

function cautionView({ id, signal, text, do: actions = [], help }) {
  const known = Object.hasOwn(OUTLINES, signal) ? signal : "WARNING";
  return make("div", { class: "caution", "data-signal": known, "data-part": "caution", "data-id": id },
    make("p", { class: "signal" }, shape(OUTLINES[known] + MARK), make("strong", {}, signal)),
    make("div", { class: "caution-text" },
      make("p", { class: "hazard" }, text),
      folded(strings.whatToDo, { class: "whattodo", open: true },
        list("ul", actions),
        help && make("p", { class: "help" }, make("strong", {}, `${strings.help}: `), help))));
}

