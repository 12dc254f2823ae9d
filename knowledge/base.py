"""What every kind of knowledge shares: strict frozen models, ids, and figures that carry their unit."""

from __future__ import annotations

import re
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, StringConstraints, WithJsonSchema


class Model(BaseModel):
    """Refuses unknown keys, so that a misspelt one is a fault and never a rule that silently does not hold."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=60)]
"""An id of a problem, node, caution, part, run …: lower-case words joined by hyphens."""

FactName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(_[a-z0-9]+)*$", max_length=60)]
"""The name of a fact: lower-case words joined by underscores."""

ResultName = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_-]*\.[a-z][a-z0-9_]*$", max_length=120)]
"""`run.result`, such as `finish.final_gravity`, or `table.field`, such as `yeast.attenuation`."""

Line = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=1200)]
"""A sentence or two for people."""

NUMBER = r"[-+]?\d+(?:\.\d+)?"
_FIGURE = re.compile(rf"^({NUMBER})(?: (\S.*))?$")
_SPAN = re.compile(rf"^({NUMBER}) to ({NUMBER})(?: (\S.*))?$")


def _one_figure(written: object) -> object:
    """Let a bare number stand for a figure without a unit (SG, pH), and refuse text that is not a figure."""
    text = str(written) if isinstance(written, int | float) and not isinstance(written, bool) else written
    if not isinstance(text, str) or not _FIGURE.match(text):
        raise ValueError(f"{written!r} is not a figure: write a number and its unit, such as 12 psi")
    return text


def _span(written: object) -> object:
    if not isinstance(written, str) or not _SPAN.match(written):
        raise ValueError(f"{written!r} is not a range: write two numbers and their unit, such as 18 to 22 degC")
    return written


Figure = Annotated[str, BeforeValidator(_one_figure), WithJsonSchema({"type": ["string", "number"]})]
"""A number with its unit ("12 psi", "38 degF"), or alone where the quantity has none ("1.010")."""

Span = Annotated[str, BeforeValidator(_span)]
"""A range with its unit: "18 to 22 degC"."""


def ends(span: Span) -> tuple[str, str]:
    """The two figures of a range, each with the unit: "18 to 22 degC" gives "18 degC" and "22 degC"."""
    found = _SPAN.match(span)
    if found is None:
        raise ValueError(f"{span!r} is not a range")
    low, high, unit = found.groups()
    return (low, high) if unit is None else (f"{low} {unit}", f"{high} {unit}")
