/**
 * The look: a ruled log sheet with a margin column. One constructed stylesheet, so no inline style is needed.
 *
 * `all: initial !important` on the host wins over anything the page says about the element, and nothing leaks out. Sizes are in em
 * of the reader's own text size, so a page that changes its root size changes nothing here. A page may set the width
 * by the box it puts the element into.
 */

const CSS = `
:host {
  all: initial !important;
  display: block !important;
  container: sheet / inline-size !important;
  color-scheme: light dark !important;
  --paper: #fcf9f0; --paper-deep: #f3ecdb; --ink: #1f2b33; --ink-soft: #4d5960; --rule: #d3c8ae; --margin: #a6402c;
  --edge: #6d6a5e; --act: #27543a; --act-ink: #ffffff; --act-soft: #e4eedc; --focus: #1c4f9c;
  --danger: #b3121d; --danger-ink: #ffffff; --warning: #f2820a; --warning-ink: #17110a; --caution: #f5cf1b;
  --caution-ink: #17150a; --notice: #1d4f8f; --notice-ink: #ffffff;
}
:host([hidden]) { display: none !important; }
@media (prefers-color-scheme: dark) {
  :host {
    --paper: #1b2125; --paper-deep: #242c31; --ink: #ece7da; --ink-soft: #b9bdb6; --rule: #414b50; --margin: #e79a82;
    --edge: #8d968f; --act: #a9d6a4; --act-ink: #10220f; --act-soft: #26382c; --focus: #9cc4ff;
    --danger: #c5202b; --notice: #2c65ad;
  }
}

*, ::before, ::after { box-sizing: border-box; }
[hidden] { display: none !important; }
.sheet {
  font: 1.0625em/1.5 ui-sans-serif, system-ui, "Segoe UI", Roboto, "Noto Sans", "DejaVu Sans", sans-serif;
  color: var(--ink); background: var(--paper); border: 1px solid var(--edge); border-top: .5em solid var(--act);
  overflow-wrap: anywhere; text-align: start;
}
.sheet > * { padding: .9em 1.1em; }
h2, h3, h4, p, ul, ol, dl, dd, pre { margin: 0; padding: 0; }
ul, ol { padding-inline-start: 1.4em; display: grid; grid-template-columns: minmax(0, 1fr); gap: .35em; }
h2, h3, h4 { line-height: 1.25; font-family: "Iowan Old Style", Charter, "Palatino Linotype", Palatino, "DejaVu Serif", Georgia, serif; }
h2 { font-size: 1.45em; }
h3 { font-size: 1.2em; }
h4 { font-size: 1em; margin-top: .9em; }
.note, .hint, .said, .why, .because, time, .footnote { color: var(--ink-soft); font-size: .9em; }

header { display: flex; flex-wrap: wrap; align-items: baseline; justify-content: space-between; gap: 0 1.5em; border-bottom: 3px double var(--edge); }
.shop { color: var(--ink-soft); font-style: italic; }
.intro { display: grid; grid-template-columns: minmax(0, 1fr); gap: .7em; }
.emergency { border-inline-start: .3em solid var(--margin); padding-inline-start: .8em; font-weight: 600; }

/* the log: a margin column and ruled lines */
.sheet > .log { padding: 0; }
.waiting .line { border: 0; border-top: 1px solid var(--rule); }
.lines { list-style: none; padding: 0; gap: 0; }
.line { display: grid; grid-template-columns: 6.2em 1fr; border-bottom: 1px solid var(--rule); }
.margin { padding: .6em .8em .6em 1.1em; border-inline-end: 2px solid var(--margin); display: flex; flex-direction: column; line-height: 1.35; }
.margin strong { color: var(--margin); }
time { white-space: nowrap; }
.entry { padding: .6em 1.1em .6em .9em; white-space: pre-line; }
.line[data-from="customer"] .entry { font-family: "Iowan Old Style", Charter, "Palatino Linotype", Palatino, "DejaVu Serif", Georgia, serif; }
.line[data-state="kept"] .entry, .line[data-state="refused"] .entry { border-inline-start: .3em dashed var(--margin); }
.footnote { display: flex; flex-wrap: wrap; align-items: center; gap: .2em .8em; font-family: system-ui, sans-serif; }
/* the newest reply stands below in full; here it is only for those who listen */
.line[data-current] { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@container sheet (max-width: 30em) {
  .line { grid-template-columns: 1fr; }
  .margin { flex-direction: row; gap: .8em; align-items: baseline; border-inline-end: 0; padding-bottom: 0; }
  .entry { padding-inline-start: .9em; padding-top: .1em; }
  .margin { padding-inline-start: .9em; }
  .sheet > * { padding-inline: .9em; }
  .caution-text, .question { padding-inline: .7em; }
}

/* where the case stands */
.standing { scroll-margin-top: .5em; }
/* a live region stays in the page while it is empty, and only takes no room: a hidden one would not be heard */
.sheet > .standing:not(:has(.caution, .case > *)), .sheet > .status:empty { padding: 0; }
.danger:not(:empty) { margin-bottom: 1em; }
.case { display: grid; grid-template-columns: minmax(0, 1fr); gap: 1.3em; }
.case:focus, .danger:focus, h3:focus, .line:focus { outline: none; }
h3:focus-visible { outline: 3px solid var(--focus); outline-offset: .2em; }
.cautions { display: grid; grid-template-columns: minmax(0, 1fr); gap: .8em; }
.caution { border: 3px solid var(--sign); background: var(--paper); }
.caution[data-signal="DANGER"] { --sign: var(--danger); --sign-ink: var(--danger-ink); }
.caution[data-signal="WARNING"] { --sign: var(--warning); --sign-ink: var(--warning-ink); }
.caution[data-signal="CAUTION"] { --sign: var(--caution); --sign-ink: var(--caution-ink); }
.caution[data-signal="NOTICE"] { --sign: var(--notice); --sign-ink: var(--notice-ink); }
.signal { display: flex; align-items: center; gap: .5em; padding: .3em .7em; background: var(--sign); color: var(--sign-ink); font-size: 1.15em; letter-spacing: .06em; }
.signal svg { width: 1.5em; height: 1.5em; flex: none; fill: currentColor; fill-rule: evenodd; }
.caution-text { padding: .7em .9em; display: grid; grid-template-columns: minmax(0, 1fr); gap: .6em; }
.hazard { font-weight: 700; }
.whattodo { border: 0; }
.whattodo summary { padding: 0; display: flex; align-items: center; }
.whattodo summary::before { content: "▸"; width: 1.1em; }
.whattodo[open] summary::before { content: "▾"; }
.whattodo > * + * { margin-top: .5em; margin-bottom: 0; }
.heard { border-color: var(--margin); background: var(--paper-deep); }
.boxed { border-inline-start: .35em solid var(--act); background: var(--act-soft); padding: .7em .9em; }
.handover { border-color: var(--notice); }
.question { border: 2px solid var(--act); padding: .9em 1em 1em; display: grid; grid-template-columns: minmax(0, 1fr); gap: .7em; background: var(--paper-deep); }
.question[inert] { opacity: .55; }
.eyebrow { font-size: .85em; letter-spacing: .08em; color: var(--ink-soft); margin-bottom: -.5em; }
.finding { display: grid; grid-template-columns: minmax(0, 1fr); gap: .6em; border-top: 3px double var(--edge); padding-top: .9em; }
.finding .summary { font-size: 1.08em; font-weight: 600; }
.finding .steps ol { gap: .7em; padding-inline-start: 2.1em; margin-top: .5em; }
.finding ol li::marker { font-weight: 700; color: var(--margin); }
.finding h4 { margin: .6em 0 .2em; }
.check-again { border: 1px dashed var(--edge); padding: .2em .9em .8em; }
.check-again dl { display: grid; grid-template-columns: minmax(0, 1fr); gap: .4em; }
.check-again dl div { display: grid; grid-template-columns: 3.5em 1fr; gap: .6em; }
dt { font-weight: 700; color: var(--margin); }
dd::first-letter { text-transform: uppercase; }
.problem { display: grid; grid-template-columns: minmax(0, 1fr); gap: .4em; }
.offer { justify-self: start; text-align: start; margin-top: .4em; }

.ruled { list-style: none; padding: 0; gap: 0; border-top: 1px solid var(--rule); margin-top: .5em; }
.figure { border-bottom: 1px solid var(--rule); padding: .45em 0; }
.figure-line { display: grid; grid-template-columns: minmax(8em, 1.1fr) minmax(6em, 1fr) auto; gap: 0 1em; align-items: center; }
.figure-value { font-weight: 700; font-variant-numeric: tabular-nums; }
.correction { padding: .6em 0 .4em; display: grid; grid-template-columns: minmax(0, 1fr); gap: .6em; }
@container sheet (max-width: 34em) {
  .figure-line { grid-template-columns: 1fr 1fr; }
  .figure-line button { grid-column: 1 / -1; justify-self: start; }
}

details { border-top: 1px solid var(--rule); }
.calculation:last-child { border-bottom: 1px solid var(--rule); }
.sources { border: 0; margin-top: -.8em; }
summary { cursor: pointer; min-height: 2.75em; padding: .6em 0; font-weight: 600; }
.calculations h3 { margin-bottom: .4em; }
pre { white-space: pre-wrap; font: .9em/1.5 ui-monospace, "SF Mono", Menlo, Consolas, "DejaVu Sans Mono", monospace; background: var(--paper-deep); padding: .7em .9em; margin-bottom: .6em; }
details > ul { margin-bottom: .8em; }

/* fields and buttons, large enough for wet hands */
label { display: block; font-weight: 600; }
.composer { display: grid; grid-template-columns: minmax(0, 1fr); gap: .5em; border-top: 3px double var(--edge); background: var(--paper-deep); }
input, textarea, select, button { font: inherit; color: inherit; border-radius: 0; margin: 0; }
input, textarea, select { background: var(--paper); border: 2px solid var(--edge); padding: .5em .6em; min-height: 2.9em; min-width: 0; max-width: 100%; }
textarea { width: 100%; resize: vertical; field-sizing: content; min-height: 5.4em; max-height: 60vh; }
[aria-invalid="true"] { border-color: var(--margin); }
button { cursor: pointer; min-height: 2.9em; padding: .45em 1.1em; background: var(--paper); border: 2px solid var(--act); font-weight: 600; touch-action: manipulation; }
button:hover { background: var(--act-soft); }
button.main { background: var(--act); color: var(--act-ink); }
button.main:hover { text-decoration: underline; }
button.quiet { border-color: transparent; background: none; text-decoration: underline; padding-inline: .3em; font-weight: 500; color: var(--act); }
:focus-visible { outline: 3px solid var(--focus); outline-offset: 2px; }
.row, .choices, .together { display: flex; flex-wrap: wrap; gap: .6em; align-items: stretch; }
.choices .choice { flex: 1 1 9em; text-align: start; }
.together input { flex: 1 1 4em; }
.together select { flex: 1 1 5.5em; }
.number { display: grid; grid-template-columns: minmax(0, 1fr); gap: .3em; }
.question .number > label { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
.unit { align-self: center; }
.error { color: var(--margin); font-weight: 600; }
.composer > .error:empty { margin-top: -.5em; }
.status { background: var(--act-soft); font-weight: 600; }
.sheet > footer { border-top: 1px solid var(--rule); padding-block: .4em; }
.confirm { display: grid; grid-template-columns: minmax(0, 1fr); gap: .6em; padding: .5em 0; }
@media (pointer: coarse) { .enter-hint { display: none; } }

@media (forced-colors: active) {
  .signal, .caution { border: 3px solid CanvasText; }
  .signal svg { fill: CanvasText; }
  .boxed, .emergency { border-inline-start-color: CanvasText; }
  button { border-color: ButtonBorder; }
}
@media (prefers-reduced-motion: no-preference) { button { transition: background-color .12s; } }
@media print { .composer, footer, .quiet { display: none; } }
`;

export const sheet = new CSSStyleSheet();
sheet.replaceSync(CSS);
