"""The developers' guide tells the truth: its two walks work as written."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

from tests.docs.conftest import files, guide

Spile = Callable[..., subprocess.CompletedProcess[str]]
DEVELOPERS = guide("DEVELOPERS.md")
WRITTEN = files(DEVELOPERS)


def write(project: Path, under: str) -> None:
    for name, body in WRITTEN.items():
        if name.startswith(under):
            (project / name).parent.mkdir(parents=True, exist_ok=True)
            (project / name).write_text(body, "utf-8")


def add(file: Path, after: str, more: str) -> None:
    text = file.read_text("utf-8")
    assert after in text
    file.write_text(text.replace(after, after + more, 1), "utf-8")


def test_a_problem_added_as_it_says_is_checked_recognised_and_answered(project: Path, spile: Spile) -> None:
    write(project, "knowledge/")
    add(project / "knowledge/areas.yaml", "problems: [", "frozen-beer, ")
    add(project / "knowledge/catalogue.yaml", "[", "frozen-beer, ")
    checked = spile("knowledge", "check", folder=project)
    assert (checked.returncode, checked.stdout.split("(")[0]) == (0, "knowledge: no faults "), checked.stdout
    answer = spile("ask", "my bottles froze solid in the shed", folder=project).stdout
    assert "The beer has frozen" in answer
    assert "Treat every piece of glass as cracked" in answer


def test_a_calculator_added_as_it_says_runs_and_passes_its_test(project: Path, spile: Spile) -> None:
    write(project, "calculators/")
    write(project, "tests/")
    run = spile("calc", "hydrostatic-head", "height=6 ft", folder=project)
    assert "pressure = 0.18 bar" in run.stdout, run.stderr
    tested = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", project, "tests"],
        cwd=project,
        env={**os.environ, "PYTHONPATH": str(project)},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert "1 passed" in tested.stdout, tested.stdout
