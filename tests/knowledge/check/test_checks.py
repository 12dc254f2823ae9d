"""Each check: the sample passes it, and each bad example is found at its line with a message that says what to do."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from knowledge import check
from knowledge.check import reviewed
from knowledge.loading import parse

Files = dict[str, str]
TREE, COLD = "problems/pressure-too-high.yaml", "problems/cold-beer.yaml"
CASES = "problems/cold-beer.cases.yaml"

BAD: list[tuple[str, str, str, str, str]] = [  # check, file, what is written, what it is changed to, message
    ("go-targets", TREE, "go: calm", "go: clam", "there is no node `clam` to go to"),
    ("go-targets", TREE, "otherwise: stand-clear", "otherwise: stand", "there is no node `stand` to go to"),
    ("go-targets", TREE, "start: reading", "start: raeding", "there is no node `raeding` to start at"),
    ("go-targets", TREE, "unsure: near-the-limit", "unsure: stand-clear", "no path leads to the node `near-the-limit`"),
    ("names", TREE, "fact: rated_pressure\n", "fact: rate_pressure\n", "there is no fact `rate_pressure`"),
    ("names", TREE, "lookup: yeast.temperature_high", "lookup: yeast.warmth", "no field `yeast.warmth` to look up"),
    ("names", TREE, "{result: holds.carbonation}", "{result: hold.carbonation}", "no calculation `hold`"),
    (
        "names",
        TREE,
        "{result: holds.carbonation}",
        "{result: holds.fizz}",
        "carbonation-equilibrium has no result `fizz`",
    ),
    ("names", TREE, "temperature: beer_temperature", "temperature: temperature", "there is no fact `temperature`"),
    ("references", TREE, "    cautions: [over-pressure]", "    cautions: [over]", "no caution `over` in cautions.yaml"),
    ("references", TREE, "parts: [relief-valve]", "parts: [valve]", "no part `valve` in parts.yaml"),
    ("references", TREE, "sources: [ansi-z535-6, c", "sources: [ansi, c", "no source `ansi` in sources.yaml"),
    ("references", TREE, "calculations: [holds]", "calculations: [hold]", "no calculation `hold` in this tree"),
    ("references", "yeasts.yaml", "sources: [common-practice]", "sources: [hearsay]", "no source `hearsay`"),
    (
        "runs",
        TREE,
        "calculator: carbonation-equilibrium",
        "calculator: carbonation",
        "there is no calculator `carbonation`",
    ),
    ("runs", TREE, "{temperature: beer", "{warmth: beer", "carbonation-equilibrium has no input `warmth`"),
    (
        "runs",
        TREE,
        "gauge_pressure: gauge_pressure}",
        "gauge_pressure: {result: wanted.gauge_pressure}}",
        "its own result",
    ),
    (
        "runs",
        TREE,
        "carbonation-equilibrium\n    inputs: {temp",
        "bottle-pressure\n    inputs: {temp",
        "needs the input `carb",
    ),
    ("kinds", TREE, "{fact: dry_hopped, is: true}]", "{fact: gauge_pressure, is: true}]", "compare it with a bound"),
    ("kinds", COLD, "one_of: [keg]", "one_of: [kegs]", "`vessel_type` is never kegs; it is one of keg, glass-carboy"),
    ("kinds", COLD, "{fact: current_gravity, between", "{fact: vessel_type, between", "use `one_of`"),
    ("kinds", TREE, "{fact: dry_hopped, is: true}]", "{fact: dry_hopped, one_of: [much]}]", "use `is: true`"),
    (
        "kinds",
        TREE,
        "{fact: dry_hopped, is: true}]",
        "{lookup: vessel.holds_pressure, one_of: [maybe]}]",
        "is never maybe",
    ),
    ("units", TREE, "below: 0.2 bar}", "below: 0.2 degC}", "'0.2 degC' is a temperature; a gauge pressure is needed"),
    ("units", TREE, "below: 0.2 bar}", "below: 0.2}", "say the unit too"),
    ("units", TREE, "{fact: rated_pressure}}, go: warm", "{fact: current_gravity}}, go: warm", "`current_gravity`:"),
    ("units", TREE, "{fact: rated_pressure}}, go: warm", "{fact: rated_pressure, plus: 3 degC}}, go: warm", "'3 degC'"),
    ("units", TREE, "gauge_pressure: gauge_pressure}", "gauge_pressure: {value: 3 L}}", "'3 L' is a volume"),
    ("units", TREE, "{temperature: beer_temperature, g", "{temperature: gauge_pressure, g", "`gauge_pressure`:"),
    ("circles", TREE, "otherwise: stand-clear", "otherwise: limit", "in a circle: limit > warm > limit"),
    ("coverage", TREE, "at_least: 0.2 bar", "at_least: 0.5 bar", "no branch takes 0.2 to 0.5 bar"),
    ("coverage", TREE, "at_least: 0.2 bar", "at_least: 0.1 bar", "two branches take 0.1 to 0.2 bar"),
    ("coverage", TREE, "at_least: 0.2 bar", "between: [0.2 bar, 2 bar]", "no branch takes 2 to 80 bar"),
    ("coverage", COLD, "one_of: [keg]", "one_of: [glass-carboy]", "no branch takes the answer `keg`"),
    ("coverage", COLD, "one_of: [keg]", "one_of: [keg, glass-carboy]", "two branches take the answer `glass-carboy`"),
    ("reviewed", TREE, "reviewed: 2026-11-01", "reviewed: 2024-01-01", "more than two years ago"),
    ("reviewed", "cautions.yaml", "reviewed: 2026-11-01", "reviewed: 2099-01-01", "still to come"),
    ("dangerous", TREE, "cautions: [over-pressure]\nfirst", "first", "needs a DANGER or WARNING"),
    ("dangerous", "cautions.yaml", "signal: WARNING", "signal: NOTICE", "needs a DANGER or WARNING"),
    ("dangerous", TREE, "    cautions: [over-pressure]\n", "", "a finding of a dangerous problem needs `cautions`"),
    ("hazards", "cautions.yaml", "hazards: [over-pressure]", "hazards: []", "answers the hazard `over-pressure`"),
    (
        "hazards",
        "cautions.yaml",
        "hazards: [over-pressure]",
        "hazards: [dragon, over-pressure]",
        "`dragon` is not a hazard",
    ),
    ("sentences", TREE, "summary: There is none.", "summary: There is {gauge_pressure}.", "needs the form"),
    ("sentences", TREE, "{gauge_pressure}, m", "{gage_pressure}, m", "there is no fact `gage_pressure`"),
    ("sentences", TREE, "{gauge_pressure}, m", "{holds.fizz}, m", "has no result `fizz`"),
    ("sentences", TREE, "{gauge_pressure}, m", "{dry_hopped}, m", "say it in words, with `when`"),
    ("sentences", TREE, ", otherwise: It may be over its limit.}", "}", "`summary` always says something"),
    (
        "sentences",
        TREE,
        '{say: "It holds {holds.carbonation} now."',
        '{say: "It holds."',
        "neither a figure nor `when`",
    ),
    (
        "sentences",
        TREE,
        '"It holds {holds.carbonation} now."',
        '"It holds {holds.carbonation} now}."',
        "a brace stands alone",
    ),
    ("sentences", TREE, "title: No pressure", 'title: "{gauge_pressure}"', "a title has no figures"),
    ("sentences", TREE, "otherwise: It is below the marking.", 'otherwise: "{gauge_pressure}!"', "needs the form"),
    ("catalogue", "catalogue.yaml", "cold-beer]", "cold-beer, warm-beer]", "the problem `warm-beer` has no tree"),
    ("catalogue", "catalogue.yaml", ", cold-beer]", "]", "`cold-beer` is not a problem of catalogue.yaml"),
    (
        "catalogue",
        "catalogue.yaml",
        "gauge_pressure: bar",
        "gauge_pressure: psi",
        "`gauge_pressure` must be psi, and is bar",
    ),
    (
        "catalogue",
        "catalogue.yaml",
        "[dry_hopped]",
        "[dry_hopped, corked]",
        "`corked` must be yes or no, and is missing",
    ),
    ("cases", CASES, "", "", "there are no examples beside this tree"),
    ("cases", CASES, "asks: vessel_type", "ends: hopped", "there is no finding `hopped` in this tree"),
    ("cases", CASES, "asks: vessel_type", "asks: vessel", "there is no fact `vessel`"),
    ("cases", CASES, "not: cold-beer", "not: warm-beer", "`not` names this problem"),
    ("cases", CASES, "not: cold-beer", "ends: wait", "no example shows what must not be taken"),
    ("cases", CASES, "asks: vessel_type", "asks: vessel_type, facts: {size: 3}", "there is no fact `size`"),
    ("language", "symptoms/cold-beer.yaml", "", "", "there are no symptoms of the problem `cold-beer`"),
    ("language", "symptoms/cold-beer.yaml", "concepts: [keg]", "concepts: [kegs]", "no concept `kegs` in lexicon/"),
    ("language", "symptoms/cold-beer.yaml", "fact: dry_hopped", "fact: hopped", "no fact `hopped` in facts.yaml"),
    (
        "language",
        "symptoms/cold-beer.yaml",
        "concepts: [keg]",
        "hazard: dragon",
        "no hazard `dragon` in catalogue.yaml",
    ),
    ("language", "hazards.yaml", "hazard: over-pressure", "hazard: dragon", "`dragon` is not a hazard"),
    ("language", "hazards.yaml", "hazard: over-pressure", "hazard: dragon", "no rule hears the hazard `over-pressure`"),
    ("areas", "areas.yaml", ", cold-beer]", "]", "`cold-beer` stands in 0 areas"),
    ("areas", "areas.yaml", "cold-beer]", "cold-beer, cold-beer]", "`cold-beer` stands in 2 areas"),
    ("areas", "areas.yaml", "cold-beer]", "cold-beer, hot-beer]", "there is no problem `hot-beer`"),
    ("tables", "yeasts.yaml", "kveik: {", "quick: {", "there is no row for `kveik`"),
    ("tables", "yeasts.yaml", "9 to 14 degC", "9 to 14 bar", "'9 bar' is a gauge pressure"),
    ("tables", "styles.yaml", "2.4 to 2.8 vol", "2.8 to 2.4 vol", "the low end of a range comes first"),
    ("tables", "facts.yaml", "low: 0, high: 80", "low: 80, high: 0", "low must be below high"),
    ("unused", "sources.yaml", "common-practice:", "gossip: {kind: published, citation: X}\ncommon-practice:", "cites"),
    (
        "unused",
        "facts.yaml",
        "dry_hopped: {",
        "corked: {kind: yes-no, label: x, ask: x, asked_only: true}\ndry_hopped: {",
        "asks",
    ),
    (
        "unused",
        TREE,
        "start: reading",
        "  spare: {calculator: altitude-pressure, inputs: {altitude: {value: 3 m}}}\nstart: reading",
        "nothing uses the calculation `spare`",
    ),
]


def faults(files: Files, check_id: str) -> list[str]:
    found = check.check(parse(files))
    assert not [fault for fault in found if fault.check_id in ("shape", "yaml")], found
    return [str(fault) for fault in found if fault.check_id == check_id]


def test_the_sample_passes_every_check(sample: Files) -> None:
    assert check.check(parse(sample)) == []


@pytest.mark.parametrize(("check_id", "file", "old", "new", "message"), BAD)
def test_a_bad_example_is_found(
    changed: Callable[[str, str, str], Files], check_id: str, file: str, old: str, new: str, message: str
) -> None:
    found = faults(changed(file, old, new), check_id)
    assert any(message in fault for fault in found), found


def test_every_check_has_a_bad_example_and_an_id_of_its_own() -> None:
    ids = [module.ID for module in check.CHECKS]
    assert set(ids) == {example[0] for example in BAD} | {"path-length"}
    assert len(ids) == len(set(ids))


def test_eight_questions_on_one_path_are_too_many(sample: Files) -> None:
    facts = "".join(f"n{i}: {{kind: yes-no, label: x, ask: x}}\n" for i in range(8))
    nodes = "".join(
        f"  q{i}: {{kind: question, fact: n{i}, ask: x, why: x, unknown: q{i + 1}, "
        f"branches: [{{when: {{fact: n{i}, is: true}}, go: q{i + 1}}}]}}\n"
        for i in range(8)
    )
    tree = (
        sample[COLD]
        .replace("how-cold", "q0", 1)
        .replace("nodes:\n", f"nodes:\n{nodes}")
        .replace("  how-cold:", "  q8:")
    )
    found = faults({**sample, COLD: tree, "facts.yaml": sample["facts.yaml"] + facts}, "path-length")
    assert len(found) == 1
    assert "a path asks 9 questions (n0, n1, n2, n3, n4, n5, n6, n7, vessel_type); at most 7" in found[0]


def test_symptoms_need_a_tree_to_lead_to(sample: Files) -> None:
    orphan = sample["symptoms/cold-beer.yaml"].replace("id: cold-beer", "id: warm-beer")
    (found,) = faults({**sample, "symptoms/warm-beer.yaml": orphan}, "language")
    assert "these are symptoms of `warm-beer`, which has no tree" in found


def test_told_messages_are_of_a_problem_or_of_something_else_and_name_known_hazards(sample: Files) -> None:
    told = "id: {}\ntold:\n- says: it froze\n- says: it froze and the bottle broke\n  hazards: [{}]\n"

    def found(name: str, hazard: str) -> list[str]:
        return faults({**sample, f"told/{name}.yaml": told.format(name, hazard)}, "language")

    assert found("cold-beer", "over-pressure") == found("something-else", "over-pressure") == []
    (orphan,) = found("warm-beer", "over-pressure")
    assert "these messages are about `warm-beer`, which has no tree" in orphan
    (dragon,) = found("cold-beer", "dragon")
    assert dragon.startswith("told/cold-beer.yaml:5: there is no hazard `dragon` in catalogue.yaml")


def test_a_fault_names_the_line_it_is_on(changed: Callable[[str, str, str], Files]) -> None:
    (fault,) = faults(changed(TREE, "go: calm", "go: clam"), "go-targets")[:1]
    assert fault.startswith(f"{TREE}:38: ")


def test_a_review_holds_for_two_years(sample: Files) -> None:
    draft = parse(sample)
    assert list(reviewed.faults(draft, today=date(2028, 10, 30))) == []
    assert len(list(reviewed.faults(draft, today=date(2028, 11, 1)))) > 10
