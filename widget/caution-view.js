/** Cautions under the signal words of ANSI Z535.6, each told by word, shape and colour together. */

import { list, make, shape } from "./dom.js";
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

function cautionView({ signal, text, do: actions = [], help }) {
  const known = Object.hasOwn(OUTLINES, signal) ? signal : "WARNING";
  return make("div", { class: "caution", "data-signal": known, "data-part": "caution" },
    make("p", { class: "signal" }, shape(OUTLINES[known] + MARK), make("strong", {}, signal)),
    make("div", { class: "caution-text" },
      make("p", { class: "hazard" }, text),
      list("ul", actions, { "aria-label": strings.whatToDo }),
      help && make("p", { class: "help" }, make("strong", {}, `${strings.help}: `), help)));
}

