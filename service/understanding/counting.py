"""Lists of numbers as the rows of one sparse matrix: what each text holds, and how often."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

import numpy as np
from scipy.sparse import csr_array


def counted(held: Sequence[Sequence[int]], size: int) -> csr_array:
    """A row for each list, with how often it holds each number below `size`."""
    columns = np.array(list(chain.from_iterable(held)), dtype=np.intp)
    begins = np.cumsum([0, *map(len, held)])
    found = csr_array((np.ones(len(columns)), columns, begins), shape=(len(held), size))
    found.sum_duplicates()
    return found
