"""The examples beside each tree, walked with the answers they give: none may end at a finding other than its own."""

import pytest

from knowledge import Knowledge, load
from knowledge.schema import Case
from service.diagnosis.diagnose import diagnose
from service.given import read_given

SHIPPED: Knowledge = load()
EXAMPLES = [(name, case) for name, cases in SHIPPED.cases.items() for case in cases if case.ends is not None]


@pytest.mark.parametrize(("problem", "case"), EXAMPLES, ids=[f"{name}: {case.says}" for name, case in EXAMPLES])
def test_an_example_leads_to_its_finding_and_to_no_other(problem: str, case: Case) -> None:
    reached = diagnose(problem, read_given(case.facts, SHIPPED), SHIPPED)
    assert reached.finding is None or reached.finding.id == case.ends  # no finding: the message itself says the rest


@pytest.mark.parametrize(("problem", "case"), EXAMPLES, ids=[f"{name}: {case.says}" for name, case in EXAMPLES])
def test_what_an_example_is_told_is_whole_sentences_with_every_figure_filled_in(problem: str, case: Case) -> None:
    reached = diagnose(problem, read_given(case.facts, SHIPPED), SHIPPED, "us")
    if reached.finding is not None:
        said = [reached.finding.cause, reached.finding.summary, *reached.finding.steps, *reached.finding.next_time]
        assert all(said), "nothing may be empty"
        assert not any("{" in sentence for sentence in said)
