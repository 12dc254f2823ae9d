"""What one consultation from text costs, calculations included, and how that grows with the number of phrases.

    python tests/bench/bench_consult.py FILE.jsonl [--times 10 100]

FILE holds messages, JSON Lines with `text`; most of them end at a question. The examples beside the trees go on to
a finding, with the answers given and the calculations that it shows. The bare baseline is the reading of the same
line and the splitting of its text into words. Times are those of the processor: the median and the 95th of 100;
their ratios are what to compare. The many phrases are generated from ours: a word of another phrase put in, one left
out, two changed about.
"""

from __future__ import annotations

import argparse
import json
import random
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from statistics import median, quantiles
from time import process_time
from typing import TypeVar

import knowledge
from service.consultation import Turn
from service.desk import consult
from service.understanding import understand

T = TypeVar("T")
PIECE = re.compile(r"\w+|[^\w\s]")
SEED = 5
WARMING = 30
REPEATS = 3


def bare(line: str) -> list[str]:
    """What no reader of messages can do without."""
    return PIECE.findall(json.loads(line)["text"].lower())


def milliseconds(work: Callable[[T], object], given: Sequence[T]) -> list[float]:
    """For each message the best of a few runs, far apart, so that none is helped by the one before it."""
    for one in given[:WARMING]:
        work(one)
    best = [float("inf")] * len(given)
    for _ in range(REPEATS):
        for index, one in enumerate(given):
            began = process_time()
            work(one)
            best[index] = min(best[index], 1000 * (process_time() - began))
    return best


def to_a_finding(known: knowledge.Knowledge) -> list[Turn]:
    """What the examples beside the trees say and answer, where it ends at a finding."""
    cases = (case for cases in known.cases.values() for case in cases if case.ends)
    turns = [Turn(text=case.says, facts=dict(case.facts)) for case in cases]
    return [turn for turn in turns if consult([turn], known).finding]


def varied(known: knowledge.Knowledge, times: int) -> knowledge.Knowledge:
    """The same knowledge with so many times the phrases; a revision of its own, as for any other change."""
    rng = random.Random(SEED)
    words = [word for one in known.symptoms.values() for phrase in one.symptoms for word in phrase.split()]
    symptoms = {
        name: one.model_copy(update={"symptoms": tuple(_more(one.symptoms, times, words, rng))})
        for name, one in known.symptoms.items()
    }
    return replace(known, revision=f"{known.revision}-{times}", symptoms=symptoms)


def _more(phrases: Sequence[str], times: int, words: Sequence[str], rng: random.Random) -> Iterator[str]:
    yield from phrases
    for _ in range(times - 1):
        yield from (_variation(phrase.split(), words, rng) for phrase in phrases)


def _variation(phrase: list[str], words: Sequence[str], rng: random.Random) -> str:
    if len(phrase) > 3:
        phrase.pop(rng.randrange(len(phrase)))
    phrase.insert(rng.randrange(len(phrase) + 1), rng.choice(words))
    at = rng.randrange(len(phrase) - 1)
    phrase[at], phrase[at + 1] = phrase[at + 1], phrase[at]
    return " ".join(phrase)


def row(name: str, taken: list[float], base: float) -> str:
    return f"{name:34}{median(taken):10.3f}{quantiles(taken, n=20)[-1]:10.3f}{median(taken) / base:12.1f}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", type=Path, help="messages: JSON Lines with `text`")
    parser.add_argument("--times", type=int, nargs="*", default=[10, 100], help="so many times the phrases")
    chosen = parser.parse_args()
    lines = [line for line in chosen.file.read_text("utf-8").splitlines() if line.strip()]
    texts = [json.loads(line)["text"] for line in lines]
    known = knowledge.shipped()
    base = median(milliseconds(bare, lines))
    ours = milliseconds(lambda text: consult([Turn(text=text)], known), texts)
    print(f"{'':34}{'median ms':>10}{'p95 ms':>10}{'× baseline':>12}")
    print(row("bare: JSON and words", milliseconds(bare, lines), base))
    print(row("understanding alone", milliseconds(lambda text: understand(text, known), texts), base))
    print(row("one consultation", ours, base))
    print(
        row(
            "one consultation to its finding",
            milliseconds(lambda turn: consult([turn], known), to_a_finding(known)),
            base,
        )
    )
    for times in chosen.times:
        many = varied(known, times)
        began = process_time()
        understand("warm", many)
        built = process_time() - began
        taken = milliseconds(lambda text, many=many: consult([Turn(text=text)], many), texts)
        phrases = sum(len(one.symptoms) for one in many.symptoms.values())
        print(row(f"… with {phrases:,} phrases", taken, base), end="")
        print(f"   {median(taken) / median(ours):.2f} times one consultation; made ready in {built:.0f} s")


if __name__ == "__main__":
    main()
