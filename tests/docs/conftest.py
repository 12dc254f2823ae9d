"""The guides as text, and a copy of the project in which their examples may write."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FENCED = re.compile(r"```(?P<kind>\w*)\n(?P<body>.*?)```", re.DOTALL)
FILE_NAME = re.compile(r"# (?P<name>\S+/\S+\.(?:py|yaml))\n")


def guide(name: str) -> str:
    """One of the project's guides."""
    return (ROOT / name).read_text("utf-8")


def commands(text: str, program: str) -> list[str]:
    """The lines of the guide's examples that begin with a program."""
    lines = (line for block in FENCED.finditer(text) for line in block["body"].splitlines())
    return [line.split("  #")[0].strip() for line in lines if line.startswith(program)]


def files(text: str) -> dict[str, str]:
    """The files that the guide's examples say to write, by their name in the first line."""
    named = ((FILE_NAME.match(block["body"]), block["body"]) for block in FENCED.finditer(text))
    return {name["name"]: body for name, body in named if name}


@pytest.fixture
def project(tmp_path: Path) -> Path:
    """A copy of the packages, to be changed as a guide says."""
    for package in ("calculators", "knowledge", "service"):
        shutil.copytree(ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


@pytest.fixture
def spile() -> Callable[..., subprocess.CompletedProcess[str]]:
    """Run the command in a folder: spile("ask", "…", folder=…)."""

    def run(*options: str, folder: Path = ROOT) -> subprocess.CompletedProcess[str]:
        program = "from service.cli import main; main()"
        return subprocess.run(
            [sys.executable, "-c", program, *options],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(folder)},
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )

    return run
