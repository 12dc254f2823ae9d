"""The README tells the truth: its commands run, its options exist."""

from __future__ import annotations

import json
import shlex
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from service.web.settings import Settings
from tests.docs.conftest import ROOT, commands, guide

Spile = Callable[..., subprocess.CompletedProcess[str]]
README = guide("README.md")
COMMANDS = [command for command in commands(README, ".venv/bin/spile") if "--batch" not in command]


def test_it_opens_with_the_job_and_then_the_two_commands() -> None:
    heading, job, fence = README.split("\n\n")[:3]
    assert heading == "# Spile"
    assert "help desk of a home-brewing supply shop" in job
    assert [line.split()[0] for line in fence.splitlines()[1:-1]] == ["./service/run", "./tests/run"]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_it_shows_runs(command: str, spile: Spile) -> None:
    done = spile(*shlex.split(command)[1:])
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.strip()


def test_the_batch_command_answers_each_line(tmp_path: Path, spile: Spile) -> None:
    messages = tmp_path / "messages.jsonl"
    messages.write_text('{"id": "a", "text": "keg gushes when I open it"}\nnot json\n{"id": "b", "text": "hello"}\n')
    answers = [json.loads(line) for line in spile("ask", "--batch", str(messages)).stdout.splitlines()]
    assert [answer["id"] for answer in answers] == ["a", None, "b"]
    assert "not JSON" in answers[1]["error"]


@pytest.mark.parametrize("name", Settings.model_fields)
def test_it_lists_every_setting(name: str) -> None:
    assert f"`SPILE_{name.upper()}`" in README


def test_only_the_agreed_folders_stand_at_the_top() -> None:
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    visible = {path.split("/")[0] for path in tracked.splitlines() if not path.startswith(".")}
    folders = {"service", "knowledge", "calculators", "tests", "widget"}
    assert visible == folders | {"README.md", "DEVELOPERS.md", "pyproject.toml"}
