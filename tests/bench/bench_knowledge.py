"""What it costs to load, to check and to walk the knowledge, beside the bare parsing of the same YAML.

Run as a script: ``.venv/bin/python tests/bench/bench_knowledge.py``. Times differ between machines; the ratios to the
bare parser, taken in the same run, are what to compare.
"""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from time import perf_counter

import yaml

from knowledge.check import check
from knowledge.loading import SHIPPED, parse, texts
from service.diagnosis import diagnose


def timed(work: Callable[[], object], times: int = 5) -> float:
    """Median milliseconds of a few runs."""
    taken = []
    for _ in range(times):
        began = perf_counter()
        work()
        taken.append(perf_counter() - began)
    return 1000 * median(taken)


def main() -> None:
    files = texts(SHIPPED)
    draft = parse(files)
    bare = timed(lambda: [yaml.compose(text, yaml.CSafeLoader) for text in files.values()])
    problems = draft.knowledge.problems
    figures = {
        "parse and validate everything": timed(lambda: parse(files)),
        "every check": timed(lambda: check(draft)),
        "first answer of every problem": timed(lambda: [diagnose(name, {}, draft.knowledge) for name in problems]),
    }
    size = sum(map(len, files.values())) / 1000
    print(f"{len(files)} files, {size:.0f} kB, {len(problems)} problems; bare parsing {bare:.0f} ms")
    for name, taken in figures.items():
        print(f"{name:32} {taken:8.1f} ms {taken / bare:6.2f} × bare parsing")


if __name__ == "__main__":
    main()
