"""Draws a chart as SVG text. The drawing library is loaded only here, and only when a picture is asked for.

The look is our own and plain: no frame, names written at the curves' ends, dashes beside colours, colours that the
common kinds of colour blindness tell apart. The SVG brings its own paper, light or dark as the reader prefers, with its
colours as CSS variables that a page may set; it holds no date and no random ids.
"""

from __future__ import annotations

import io
import re
from itertools import pairwise
from math import inf
from threading import Lock
from typing import TYPE_CHECKING, Literal
from xml.sax.saxutils import escape

from calculators.core import System
from calculators.pictures.chart import Axis, Band, Chart, Level, Line, Mark

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_SIZE = (7.2, 4.3)
_TYPE_SIZE = 11
_DASHES = ("solid", (0, (6, 2)), (0, (2, 2)), (0, (6, 2, 2, 2)), (0, (1, 1.5)))

INK, QUIET, PAPER = "#010101", "#020202", "#fefefe"
CURVES = ("#0a0001", "#0a0002", "#0a0003", "#0a0004", "#0a0005")
YOURS, WARN, SHADE = "#0b0001", "#0b0002", "#0b0003"
"""Stand-ins while drawing; each becomes a CSS variable of these names and colours, light and dark."""
_COLOURS = {
    INK: ("ink", "#1a1a1a", "#f0f0f0"),
    QUIET: ("quiet", "#6b6b6b", "#a6a6a6"),
    PAPER: ("paper", "#ffffff", "#1c1c1c"),
    CURVES[0]: ("curve1", "#2761b3", "#b2d8fb"),
    CURVES[1]: ("curve2", "#3f7c71", "#acf7d1"),
    CURVES[2]: ("curve3", "#410340", "#a47d96"),
    CURVES[3]: ("curve4", "#412d07", "#feeb27"),
    CURVES[4]: ("curve5", "#1822cc", "#857be9"),
    YOURS: ("yours", "#c44e00", "#ff9a4d"),
    WARN: ("warn", "#b3001b", "#ff8a8a"),
    SHADE: ("shade", "#8fb8d6", "#3b5f7d"),
}
_WRITTEN = {"ppm": "{x:,.0f}", "SG": "{x:.3f}"}
"""How the figures along an upright axis are written, where the library's own way is not the trade's."""
_HALO = "paint-order:stroke;stroke:var(--paper);stroke-width:3px;stroke-linejoin:round"
_one_at_a_time = Lock()


def svg(name: str, chart: Chart, system: System) -> str:
    """The chart as SVG text with its title and alternative inside; the same chart makes the same text."""
    import matplotlib as mpl
    from matplotlib.backends.backend_svg import FigureCanvasSVG
    from matplotlib.figure import Figure

    with (
        _one_at_a_time,  # the library's settings are one for all threads
        mpl.rc_context({"svg.hashsalt": f"spile-{name}", "svg.fonttype": "none", "font.size": _TYPE_SIZE}),
    ):
        figure = Figure(figsize=_SIZE, layout="constrained", facecolor=PAPER)
        FigureCanvasSVG(figure)
        axes = figure.add_subplot()
        _plain(axes, chart, system)
        for band in chart.bands:
            _draw_band(axes, band, chart, system)
        for number, line in enumerate(chart.lines):
            _draw_line(axes, line, number, chart, system)
        for level in chart.levels:
            _draw_level(axes, level, chart.y, system)
        for mark in chart.marks:
            _draw_mark(axes, mark, chart, system)
        out = io.StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None, "Format": None})
    return _finished(name, out.getvalue(), chart)


def _plain(axes: Axes, chart: Chart, system: System) -> None:
    axes.set_facecolor(PAPER)
    axes.set_title(chart.title, color=INK, loc="left", fontsize=_TYPE_SIZE + 1, pad=12)
    axes.set_xlabel(chart.x.title(system), color=INK)
    axes.set_ylabel(chart.y.title(system), color=INK)
    axes.tick_params(colors=INK, length=0)
    axes.grid(True, color=QUIET, alpha=0.3, linewidth=0.6)
    axes.set_axisbelow(True)
    for side in ("top", "right", "left"):
        axes.spines[side].set_visible(False)
    axes.spines["bottom"].set_color(QUIET)
    left, right = chart.x.shown((chart.xs[0], chart.xs[-1]), system)
    axes.set_xlim(min(left, right), max(left, right))
    if chart.y.unit in _WRITTEN:
        axes.yaxis.set_major_formatter(_WRITTEN[chart.y.unit])


def _draw_line(axes: Axes, line: Line, number: int, chart: Chart, system: System) -> None:
    xs, ys = chart.x.shown(chart.xs, system), chart.y.shown(line.ys, system)
    colour = QUIET if line.faint else CURVES[number % len(CURVES)]
    dashes = (0, (2, 3)) if line.faint else _DASHES[number % len(_DASHES)]
    axes.plot(xs, ys, color=colour, linewidth=1.2 if line.faint else 2.0, linestyle=dashes)
    at = _where_apart(chart)
    axes.annotate(
        line.name, (xs[at], ys[at]), xytext=(5, 0 if at == len(xs) - 1 else 8), textcoords="offset points",
        color=colour, va="center", annotation_clip=False, fontsize=_TYPE_SIZE - 1,
    )  # fmt: skip


def _where_apart(chart: Chart) -> int:
    """Where the names of the curves find room: at their ends, or else where the curves lie furthest apart."""

    def gap(at: int) -> float:
        heights = sorted(line.ys[at] for line in chart.lines)
        return min((after - before for before, after in pairwise(heights)), default=inf)

    last = len(chart.xs) - 1
    span = max(max(line.ys) for line in chart.lines) - min(min(line.ys) for line in chart.lines)
    return last if gap(last) >= 0.04 * span else max(range(last // 8, last), key=gap)


def _draw_level(axes: Axes, level: Level, axis: Axis, system: System) -> None:
    (height,) = axis.shown((level.y,), system)
    axes.axhline(height, color=WARN, linewidth=1.3, linestyle=(0, (4, 2)))
    axes.annotate(
        level.name, (1, height), xycoords=("axes fraction", "data"), xytext=(-4, 3), textcoords="offset points",
        color=WARN, ha="right", fontsize=_TYPE_SIZE - 2,
    )  # fmt: skip


def _draw_band(axes: Axes, band: Band, chart: Chart, system: System) -> None:
    low, high = (chart.x if band.along_x else chart.y).shown((band.low, band.high), system)
    (axes.axvspan if band.along_x else axes.axhspan)(low, high, facecolor=SHADE, alpha=0.35, linewidth=0)
    place = ((low + high) / 2, 1.0) if band.along_x else (1.0, (low + high) / 2)
    axes.annotate(
        band.name, place, xycoords=("data", "axes fraction") if band.along_x else ("axes fraction", "data"),
        xytext=(0, -12) if band.along_x else (-4, -4), textcoords="offset points", color=INK,
        ha="center" if band.along_x else "right", fontsize=_TYPE_SIZE - 2,
    )  # fmt: skip


def _draw_mark(axes: Axes, mark: Mark, chart: Chart, system: System) -> None:
    (x,), (y,) = chart.x.shown((mark.x,), system), chart.y.shown((mark.y,), system)
    if mark.y_range is not None:
        ends = chart.y.shown(mark.y_range, system)
        axes.plot([x, x], ends, color=YOURS, linewidth=1.5, marker="_", markersize=8)
    axes.plot(
        [x], [y], color=YOURS, marker="o", markersize=8, markeredgecolor=PAPER, markeredgewidth=1.0, clip_on=False
    )
    across, up, side = _beside(mark, chart)
    axes.annotate(
        mark.name, (x, y), xytext=(across, up), textcoords="offset points", color=YOURS, fontweight="bold", ha=side
    )


def _beside(mark: Mark, chart: Chart) -> tuple[int, int, Literal["left", "right"]]:
    """Where a mark's name stands clear of the curve: above on one side, or below on the other if there is no room."""
    rising = chart.lines[0].ys[-1] > chart.lines[0].ys[0]
    place = (mark.x - chart.xs[0]) / (chart.xs[-1] - chart.xs[0])
    if rising:
        return (-9, 8, "right") if place > 0.35 else (10, -15, "left")
    return (9, 8, "left") if place < 0.65 else (-10, -15, "right")


def _finished(name: str, drawn: str, chart: Chart) -> str:
    """Colours as variables, words for who cannot see it, and nothing before the svg element."""
    body = drawn[drawn.index("<svg") :]
    body = re.sub(r"\s*<metadata>.*?</metadata>", "", body, flags=re.DOTALL)
    for stand_in, (variable, *_) in _COLOURS.items():
        body = body.replace(stand_in, f"var(--{variable})")
    light, dark = (
        "".join(f"--{variable}:{(bright, night)[mode]};" for variable, bright, night in _COLOURS.values())
        for mode in (0, 1)
    )
    head = (
        f'<title id="{name}-title">{escape(chart.title)}</title>'
        f'<desc id="{name}-text">{escape(chart.alternative)}</desc>'
        f"<style>.spile-picture{{{light}}}.spile-picture text{{{_HALO}}}"
        f"@media (prefers-color-scheme: dark){{.spile-picture{{{dark}}}}}</style>"
    )
    opening = f'<svg class="spile-picture" role="img" aria-labelledby="{name}-title {name}-text"'
    return re.sub(r"<svg([^>]*)>", lambda tag: f"{opening}{tag.group(1)}>{head}", body, count=1)
