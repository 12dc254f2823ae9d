"""Every hazard that a message can carry is answered by a grave caution."""

from collections.abc import Iterator

from knowledge.faults import Fault
from knowledge.loading import Draft

ID = "hazards"
GRAVE = ("DANGER", "WARNING")


def faults(draft: Draft) -> Iterator[Fault]:
    known = draft.knowledge
    hazards = known.catalogue.hazards if known.catalogue else ()
    answered = {hazard for caution in known.cautions.values() if caution.signal in GRAVE for hazard in caution.hazards}
    for hazard in hazards:
        if hazard not in answered:
            yield draft.fault(ID, "cautions.yaml", (), f"no DANGER or WARNING answers the hazard `{hazard}`")
    for name, caution in known.cautions.items():
        for hazard in caution.hazards:
            if hazard not in hazards:
                message = f"`{hazard}` is not a hazard of catalogue.yaml"
                yield draft.fault(ID, "cautions.yaml", (name, "hazards"), message)
