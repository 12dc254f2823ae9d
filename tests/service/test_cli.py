"""The command line: one clear line for bad input, never a traceback; a batch never stops."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from service import cli

EQUILIBRIUM = ["calc", "carbonation-equilibrium", "temperature=38 degF", "gauge_pressure=12 psi"]


@pytest.fixture
def spile(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """Run the command in this process; returns exit code, standard output, standard error."""

    def run(*options: str) -> tuple[int, str, str]:
        monkeypatch.setattr("sys.argv", ["spile", *options])
        try:
            cli.main()
            code = 0
        except SystemExit as stop:
            code = int(stop.code or 0)
        written = capsys.readouterr()
        return code, written.out, written.err

    return run


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (["ask"], "spile: say what the trouble is, or give --batch FILE"),
        (["ask", "stuck", "--fact", "original_gravity=banana"], "spile: original_gravity: 'banana' is not a figure"),
        (["ask", "stuck", "--fact", "colour=red"], "spile: colour: is not a fact Spile knows"),
        (["ask", "stuck", "--fact", "oops"], "spile: 'oops' is not NAME=VALUE"),
        (["ask", "stuck", "--units", "furlongs"], "spile: "),
        (["ask", "x" * 5000], "spile: text: is too long, at most 4000 characters"),
        (["ask", "--batch", "no-such-file.jsonl"], "spile: --batch: cannot read no-such-file.jsonl"),
        (["ask", "--bogus"], "spile: No such option"),
        (["calc", "perpetual-motion"], "spile: there is no calculator 'perpetual-motion'"),
        (["calc", "altitude-pressure", "altitude=12 psi"], "spile: altitude: "),
        (["calc", "altitude-pressure", "depth=3 m"], "spile: depth: "),
        (
            ["calc", "altitude-pressure", "altitude=3 m", "--picture", "x.svg"],
            "spile: picture: there is none of altitude",
        ),
        ([*EQUILIBRIUM, "--picture", "no-such-folder/x.svg"], "spile: --picture: cannot write no-such-folder/x.svg: "),
        (["serve", "--port", "99999999"], "spile: port (SPILE_PORT)"),
        (["knowledge", "picture", "no-such"], "spile: there is no problem 'no-such'"),
    ],
)
def test_bad_input_gets_one_clear_line_and_exit_code_2(spile, options: list[str], message: str) -> None:
    code, out, err = spile(*options)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(message)


def test_a_person_reads_dangers_first_and_then_the_question(spile) -> None:
    code, out, _ = spile("ask", "gauge on my keg is past the end and the relief valve is stuck shut")
    assert code == 0
    assert out.startswith(("DANGER", "WARNING"))
    assert out.index("WARNING") < out.index("What I understood")


def test_json_is_the_consultation_object(spile) -> None:
    _, out, _ = spile("ask", "--json", "keg gushes when I open it")
    keys = {"revision", "problems", "hazards", "facts", "cautions", "calculations", "question", "finding", "sources"}
    assert keys <= json.loads(out).keys()


def test_a_batch_answers_every_line_and_names_the_bad_ones(spile, tmp_path: Path) -> None:
    lines = ['{"id": 1, "text": "keg gushes"}', "[]", '{"id": 2}', '{"id": 3, "text": "x", "facts": {"colour": 1}}', "",
             '{"id": 4, "text": "keg \\ud800 gushes"}', '{"id": 5, "text": "bottles gush"}']  # fmt: skip
    (tmp_path / "in.jsonl").write_text("\n".join(lines))
    _, out, _ = spile("ask", "--batch", str(tmp_path / "in.jsonl"))
    rows = [json.loads(line) for line in out.splitlines()]
    assert [(row["id"], "error" in row) for row in rows] == [
        (1, False),
        (None, True),
        (2, True),
        (3, True),
        (4, True),
        (5, False),
    ]
    assert "colour" in rows[3]["error"]


def test_a_calculation_shows_its_working_and_its_sources(spile) -> None:
    code, out, _ = spile(*EQUILIBRIUM)
    assert code == 0
    assert "carbonation = 2.58 vol" in out
    assert "Source: D. Miller" in out


def test_a_calculation_puts_the_units_asked_for_first(spile) -> None:
    _, out, _ = spile(*EQUILIBRIUM, "--units", "us")
    assert "gauge pressure: 12 psi (0.83 bar)" in out


def test_a_picture_is_written_as_svg_and_told_in_words_and_figures(spile, tmp_path: Path) -> None:
    code, out, _ = spile(*EQUILIBRIUM, "--units", "us", "--picture", str(tmp_path / "curves.svg"))
    assert code == 0
    assert (tmp_path / "curves.svg").read_text("utf-8").startswith("<svg")
    assert "Your beer: 38 °F and 12 psi hold 2.58 vol" in out
    assert "beer temperature (°F)" in out


def test_a_picture_is_told_in_the_calculation_object_too(spile, tmp_path: Path) -> None:
    _, out, _ = spile(*EQUILIBRIUM, "--json", "--picture", str(tmp_path / "curves.svg"))
    told = json.loads(out)
    assert told["results"].keys() >= {"carbonation"}
    assert told["picture"]["table"]["head"][0] == "beer temperature (°C)"
    assert told["picture"]["svg"] == (tmp_path / "curves.svg").read_text("utf-8")
