"""A consultation as a person reads it at a terminal: dangers first, then what was understood, then what to do."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import fill, indent

from service.consultation import CalculationView, CautionView, Consultation, FindingView, Question
from service.diagnosis.wording import capital

WIDTH = 92


def as_text(consultation: Consultation) -> str:
    """The whole consultation, ready to print."""
    return "\n".join(_lines(consultation)) + "\n"


def _lines(said: Consultation) -> Iterator[str]:
    for caution in said.cautions:
        yield from _caution(caution)
    if said.first_action:
        yield from _block("Do this first", said.first_action)
    yield from _understood(said)
    yield from _calculations(said.calculations)
    if said.handover:
        yield from _block("A person should take this", said.handover.text)
    if said.note:
        yield from _block("Not understood", said.note)
    if said.question:
        yield from _question(said.question)
    if said.finding:
        yield from _finding(said.finding, said)
    yield from _offers(said)
    if said.sources:
        yield from _list("Sources", [source.citation for source in said.sources])
    yield f"(knowledge revision {said.revision})"


def _caution(caution: CautionView) -> Iterator[str]:
    yield _wrapped(f"{caution.signal}: {caution.text}")
    for action in caution.do:
        yield _bullet(action)
    if caution.help:
        yield _bullet(f"Where to get help: {caution.help}")
    yield ""


def _understood(said: Consultation) -> Iterator[str]:
    if said.problems:
        best = said.problems[0]
        yield from _block("Problem", best.title)
        if best.matched:
            because = ", ".join(f"“{words}”" for words in best.matched)
            yield _wrapped(f"because you said {because}", "  ")
            yield ""
    if said.facts:
        yield from _list("What I understood", [_fact(name, said) for name in said.facts])
    if said.doubts:
        yield from _list("What I could not use", [doubt.text for doubt in said.doubts])


def _fact(name: str, said: Consultation) -> str:
    fact = said.facts[name]
    shown = fact.shown or str(fact.value)
    words = "" if _plain(shown).startswith(_plain(fact.said)) else f"  (“{fact.said}”)"
    return f"{capital(fact.label or name)}: {shown}{words}"


def _plain(text: str) -> str:
    """For a comparison that sees no difference between "58F" and "58 °F"."""
    return text.lower().replace(" ", "").replace("°", "")


def _calculations(runs: list[CalculationView]) -> Iterator[str]:
    """Each with its working; a warning that several share is told once."""
    told: set[str] = set()
    for run in runs:
        yield f"Worked out: {run.title or run.calculator}"
        yield indent(run.working.rstrip(), "    ")
        for warning in run.warnings:
            if warning not in told:
                yield _bullet(f"Mind: {warning}")
        told.update(run.warnings)
        yield ""


def _question(question: Question) -> Iterator[str]:
    yield "Next question"
    yield _wrapped(question.text, "  ")
    if question.why:
        yield _wrapped(f"Why it matters: {question.why}", "  ")
    if question.hint:
        yield _wrapped(question.hint, "  ")
    for option in question.options:
        yield _bullet(f"{option.label}  [{option.value}]")
    if question.kind not in ("area", "safety"):
        yield _wrapped(f'Answer with --fact {question.fact}=VALUE, or --fact {question.fact}="not known".', "  ")
    yield ""


def _finding(finding: FindingView, said: Consultation) -> Iterator[str]:
    yield from _block("Finding", finding.title)
    yield _wrapped(finding.summary, "  ")
    yield _wrapped(finding.cause, "  ")
    yield ""
    yield "What to do now"
    for number, step in enumerate(finding.steps, 1):
        yield _wrapped(step, f"  {number}. ", "     ")
    yield ""
    if finding.next_time:
        yield from _list("Next time", finding.next_time)
    yield from _list("Check again", [capital(finding.check_again.what), f"When: {finding.check_again.when}"])
    if said.parts:
        yield from _list("Parts you may need", [f"{part.name} (ask: {'; '.join(part.ask)})" for part in said.parts])


def _offers(said: Consultation) -> Iterator[str]:
    if said.also:
        yield from _list("You also mentioned", [f"{other.title}  [--fact problem={other.id}]" for other in said.also])


def _block(heading: str, text: str) -> Iterator[str]:
    yield heading
    yield _wrapped(text, "  ")
    yield ""


def _list(heading: str, entries: list[str]) -> Iterator[str]:
    yield heading
    for entry in entries:
        yield _bullet(entry)
    yield ""


def _bullet(text: str) -> str:
    return _wrapped(text, "  - ", "    ")


def _wrapped(text: str, first: str = "", rest: str | None = None) -> str:
    return fill(text, WIDTH, initial_indent=first, subsequent_indent=first if rest is None else rest)
