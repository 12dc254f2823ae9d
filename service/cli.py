"""The `spile` command: serve, ask, calc, knowledge.

Bad input gets one clear line on standard error and exit code 2, never a traceback.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NoReturn

import click

import calculators
import knowledge
from calculators import pictures
from service.answer import worked
from service.answer.text import as_text
from service.consultation import LONGEST_TEXT, Turn, Units
from service.desk import consult
from service.given import BadFact


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
def app() -> None:
    """The help desk of a home-brewing supply shop."""


@app.group("knowledge")
def tree() -> None:
    """Look after the knowledge tree."""


class BadInput(Exception):
    """Something the person at the keyboard can put right; the message says how."""


def main() -> None:
    """Run the command; turn every expected failure into one line and exit code 2."""
    try:
        app(standalone_mode=False)
    except click.Abort:
        _stop("stopped", 130)
    except click.ClickException as error:
        _stop(error.format_message())
    except (BadInput, BadFact, calculators.BadInput) as error:
        _stop(str(error))
    except knowledge.KnowledgeFaults as error:
        _stop(f"the knowledge has {len(error.faults)} faults; `spile knowledge check` lists them")
    except BrokenPipeError:
        sys.stderr.close()


def _stop(message: str, code: int = 2) -> NoReturn:
    print(f"spile: {' '.join(message.split())}", file=sys.stderr)
    raise SystemExit(code)


@app.command()
@click.argument("text", required=False)
@click.option("--fact", multiple=True, help='NAME=VALUE, e.g. beer_temperature="62 degF"')
@click.option("--units", type=click.Choice(["us", "metric"]), help="which come first; else as the customer wrote")
@click.option("--json", "as_json", is_flag=True, help="print the consultation object")
@click.option("--batch", type=click.Path(path_type=Path), help="JSON Lines with id and text in, consultations out")
def ask(text: str | None, fact: tuple[str, ...], units: Units | None, as_json: bool, batch: Path | None) -> None:
    """One consultation without a server."""
    if batch is not None:
        for line in _answers(_lines(batch)):
            print(line)
        return
    if text is None:
        raise BadInput("say what the trouble is, or give --batch FILE")
    said = consult([_turn(text, _pairs(fact))], knowledge.shipped(), units)
    print(said.model_dump_json() if as_json else as_text(said), end="\n" if as_json else "")


def _turn(text: str, facts: dict[str, Any]) -> Turn:
    if len(text) > LONGEST_TEXT:
        raise BadInput(f"text: is too long, at most {LONGEST_TEXT} characters; send the part that matters")
    if not text.isprintable() and any("\ud800" <= letter <= "\udfff" for letter in text):
        raise BadInput("text: holds half a character, which no message can; send it again as UTF-8")
    return Turn(text=text, facts=facts)


def _units(said: object) -> Units | None:
    if said not in (None, "us", "metric"):
        raise BadInput("units must be us or metric")
    return said


def _pairs(written: Iterable[str]) -> dict[str, str]:
    pairs = {}
    for pair in written:
        name, equals, value = pair.partition("=")
        if not equals or not name:
            raise BadInput(f"{pair!r} is not NAME=VALUE")
        pairs[name.strip()] = value.strip()
    return pairs


def _lines(batch: Path) -> Iterator[str]:
    if str(batch) == "-":
        yield from sys.stdin
        return
    try:
        with batch.open(encoding="utf-8", errors="replace") as lines:
            yield from lines
    except OSError as error:
        raise BadInput(f"--batch: cannot read {batch}: {error.strerror}") from error


def _answers(lines: Iterable[str]) -> Iterator[str]:
    """One JSON line per line in. A bad line gets an `error` in its place, and the rest goes on."""
    tree_now = knowledge.shipped()
    for number, line in enumerate(lines, 1):
        if not line.strip():
            continue
        row: dict[str, Any] = {}
        try:
            row = _row(line)
            said = consult([_said(row)], tree_now, _units(row.get("units")))
            yield json.dumps({"id": row.get("id"), **said.model_dump(mode="json")}, ensure_ascii=False)
        except (BadInput, BadFact) as error:
            yield json.dumps({"id": row.get("id"), "line": number, "error": str(error)}, ensure_ascii=False)


def _row(line: str) -> dict[str, Any]:
    try:
        row = json.loads(line)
    except (json.JSONDecodeError, RecursionError) as error:
        raise BadInput("this line is not JSON") from error
    if not isinstance(row, dict):
        raise BadInput("a line needs an object with id and text")
    return row


def _said(row: dict[str, Any]) -> Turn:
    text, facts = row.get("text"), row.get("facts") or {}
    if not isinstance(text, str):
        raise BadInput("text: is missing, or is not text")
    if not isinstance(facts, dict):
        raise BadInput("facts: must be an object of names and values")
    return _turn(text, facts)


@app.command()
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1)
@click.option("--units", type=click.Choice(["us", "metric"]), default="metric", help="which come first")
@click.option("--picture", "svg", type=click.Path(path_type=Path), help="draw it into this SVG file; told in words too")
@click.option("--json", "as_json", is_flag=True, help="print the calculation as an object")
def calc(name: str | None, inputs: tuple[str, ...], units: Units, svg: Path | None, as_json: bool) -> None:
    """List the calculators, or run one."""
    if name is None:
        for each in calculators.names():
            print(f"{each:28} {calculators.get(each).summary}")
        return
    if name not in calculators.names():
        raise BadInput(f"there is no calculator {name!r}; `spile calc` lists them")
    run = calculators.run(name, _pairs(inputs), units)
    drawn = _drawn(run, units, svg) if svg else None
    if as_json:
        told = {"picture": {**drawn._asdict(), "table": drawn.table._asdict()}} if drawn else {}
        print(json.dumps(run.as_dict() | told, ensure_ascii=False))
    else:
        print(worked.as_text(run, drawn))


def _drawn(run: calculators.Calculation, units: Units, svg: Path) -> pictures.Picture:
    picture = pictures.draw(pictures.of(run.calculator), run, units)
    try:
        svg.write_text(picture.svg, "utf-8")
    except OSError as error:
        raise BadInput(f"--picture: cannot write {svg}: {error.strerror}") from error
    return picture


@tree.command("check")
@click.argument("folder", required=False, type=click.Path(exists=True, file_okay=False, path_type=Path))
def check_knowledge(folder: Path | None) -> None:
    """Validate the tree: one line per fault with file and line; exit 1 if there are any."""
    from knowledge import check

    faults = check.run(folder)
    for fault in faults:
        print(fault)
    if faults:
        raise SystemExit(1)
    print(f"knowledge: no faults (revision {knowledge.load(folder).revision})")


@tree.command("picture")
@click.argument("problem")
def picture(problem: str) -> None:
    """Print a picture of one problem's tree as a Mermaid flow chart."""
    from knowledge.picture import mermaid

    known = knowledge.shipped().problems
    if problem not in known:
        raise BadInput(f"there is no problem {problem!r}; the ids are the file names in knowledge/problems/")
    print(mermaid(known[problem]))


@tree.command("sources")
def sources() -> None:
    """List every source, what cites it, and the findings that rest on common practice alone."""
    from knowledge.sources_report import report

    print(report(knowledge.shipped()), end="")


@app.command()
@click.option("--host", help="address to listen on (SPILE_HOST; default 127.0.0.1)")
@click.option("--port", type=int, help="port to listen on (SPILE_PORT; default 8000)")
@click.option("--database", help="database URL (SPILE_DATABASE; default a SQLite file in your data folder)")
def serve(host: str | None, port: int | None, database: str | None) -> None:
    """Run the service; makes its database with the shipped knowledge on first start."""
    from service.web.server import serve as run_server
    from service.web.settings import BadSetting, settings

    given: dict[str, Any] = {"host": host, "port": port, "database": database}
    try:
        chosen = settings(**{name: value for name, value in given.items() if value is not None})
    except BadSetting as error:
        raise BadInput(str(error)) from error
    run_server(chosen)
