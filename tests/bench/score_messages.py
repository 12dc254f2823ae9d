"""Scores the understanding of labelled messages: `python tests/bench/score_messages.py FILE.jsonl [--errors]`.

A fact is right when it agrees within 1 % in the catalogue's unit (0.0006 for gravities, 0.3 °C for temperatures)
or lies in the labelled range; choices and yes/no must be equal; a fact not labelled counts against precision.
"""

from __future__ import annotations

import argparse
import json
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import knowledge
from calculators.units import convert
from service.understanding import understand
from service.understanding.model import Fact, Understanding

OUR_NAMES = {"inch": "in", "hour": "h", "day": "d"}
ABSOLUTE = {"SG": 0.0006, "degC": 0.3}


@dataclass
class Scores:
    """Counts over all messages, and a line for each difference."""

    counts: Counter[str] = field(default_factory=Counter)
    errors: list[str] = field(default_factory=list)

    def share(self, part: str, whole: str) -> str:
        return (
            f"{self.counts[part] / self.counts[whole]:.3f} ({self.counts[part]}/{self.counts[whole]})"
            if self.counts[whole]
            else "-"
        )


def right(label: Any, fact: Fact) -> bool:
    """Whether a fact agrees with its label."""
    if not isinstance(label, dict):
        return fact.value == label
    if not isinstance(fact.value, float | int) or fact.unit is None:
        return False
    unit = OUR_NAMES.get(label["unit"], label["unit"])
    value, *ends = (
        convert(v, unit, OUR_NAMES.get(fact.unit, fact.unit)) for v in (label["value"], *label.get("range", []))
    )
    if ends and min(ends) - 1e-6 <= fact.value <= max(ends) + 1e-6:
        return True
    return abs(fact.value - value) <= ABSOLUTE.get(fact.unit, 0.01 * abs(value) + 1e-9)


def score(message: dict[str, Any], said: Understanding, scores: Scores) -> None:
    """Count one message."""
    for part in (_problems, _hazards, _facts):
        part(message, said, scores)


def _problems(message: dict[str, Any], said: Understanding, scores: Scores) -> None:
    ranked = [match.id for match in said.ranked]
    right_ones = {message["problem"], *message["also"]}
    if message["problem"] is None:
        scores.counts.update(["outside", *([] if ranked else ["refused"])])
        if ranked:
            scores.errors.append(f"{message['id']} problem: none, not {ranked[0]}: {message['text']}")
        return
    scores.counts.update(["inside", *([] if ranked else ["wrongly refused"])])
    scores.counts.update(["top-1"] if right_ones & set(ranked[:1]) else [])
    scores.counts.update(["top-3"] if right_ones & set(ranked[:3]) else [])
    if not right_ones & set(ranked[:1]):
        scores.errors.append(f"{message['id']} problem: {message['problem']}, not {ranked[:3]}: {message['text']}")


def _hazards(message: dict[str, Any], said: Understanding, scores: Scores) -> None:
    labelled, found = set(message["hazards"]), {hazard.id: hazard.because for hazard in said.hazards}
    scores.counts["hazards"] += len(labelled)
    scores.counts["hazards found"] += len(labelled & found.keys())
    if not labelled:
        scores.counts.update(["harmless", *(["false alarms"] if found else [])])
    for missing in sorted(labelled - found.keys()):
        scores.errors.append(f"{message['id']} hazard missed: {missing}: {message['text']}")
    for extra in sorted(found.keys() - labelled):
        scores.errors.append(f"{message['id']} hazard extra: {extra} ({found[extra]}): {message['text']}")


def _facts(message: dict[str, Any], said: Understanding, scores: Scores) -> None:
    labelled, read = message["facts"], {name: fact for name, fact in said.facts.items() if fact.value is not None}
    good = {name for name, fact in read.items() if name in labelled and right(labelled[name], fact)}
    scores.counts["labelled facts"] += len(labelled)
    scores.counts["read facts"] += len(read)
    scores.counts["right facts"] += len(good)
    for name in sorted((labelled.keys() | read.keys()) - good):
        wanted = labelled.get(name, "-")
        if isinstance(wanted, dict):
            wanted = f"{wanted['value']} {wanted['unit']}"
        got = f"{read[name].value} ({read[name].said})" if name in read else "-"
        scores.errors.append(f"{message['id']} fact {name}: {wanted}, read {got}: {message['text']}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument(
        "--errors", nargs="?", const="problem,hazard,fact", help="list differences (problem,hazard,fact)"
    )
    parser.add_argument("--problems", help="only messages of these problems, by id, with commas")
    chosen = parser.parse_args()
    only = set(chosen.problems.split(",")) if chosen.problems else None
    messages = [json.loads(line) for line in chosen.file.read_text("utf-8").splitlines() if line.strip()]
    messages = [message for message in messages if only is None or only & {message["problem"], *message["also"]}]
    shipped = knowledge.shipped()
    understand("warm up", shipped)
    scores, spent = Scores(), 0.0
    for message in messages:
        begun = time.perf_counter()
        said = understand(message["text"], shipped)
        spent += time.perf_counter() - begun
        score(message, said, scores)
    if chosen.errors:
        print(*(line for line in scores.errors if line.split()[1].rstrip(":") in chosen.errors.split(",")), sep="\n")
    rows = {
        "top-1": scores.share("top-1", "inside"),
        "top-3": scores.share("top-3", "inside"),
        "out-of-scope refusal": scores.share("refused", "outside"),
        "in-scope wrongly refused": scores.share("wrongly refused", "inside"),
        "hazard recall": scores.share("hazards found", "hazards"),
        "false alarms": scores.share("false alarms", "harmless"),
        "fact precision": scores.share("right facts", "read facts"),
        "fact recall": scores.share("right facts", "labelled facts"),
        "ms a message": f"{spent / max(1, len(messages)) * 1000:.2f}",
    }
    for name, value in rows.items():
        print(f"{name:26}{value}")


if __name__ == "__main__":
    main()
