"""Consultations for trying the element, checked against the service's own model so that they cannot drift from it."""

from __future__ import annotations

from typing import Any

from service.consultation import Consultation

BLANK: dict[str, Any] = {
    "revision": "test", "kind": "trouble", "units": "us", "problems": [], "hazards": [], "facts": {}, "doubts": [],
    "cautions": [], "first_action": None, "calculations": [], "question": None, "finding": None, "path": [], "also": [],
    "handover": None, "parts": [], "sources": [],
}  # fmt: skip
PRESSURE = {
    "id": "over-pressure",
    "signal": "DANGER",
    "text": "A vessel above its limit can burst and throw metal or glass hard enough to kill.",
    "do": ["Stand to one side of it, never over the lid.", "Do not loosen the lid or a clamp."],
    "help": "If somebody is hurt, call the local emergency number. Local codes and licensed practice come first.",
    "sources": ["common-practice"],
}
PROBLEM = {"id": "stalled-ferment", "title": "Fermentation has stalled", "score": 0.9314, "matched": ["stuck at 1.020"]}
OTHER = {"id": "krausen-blowoff", "title": "Foam is climbing out of the airlock", "score": 0.41, "matched": ["full"]}
GRAVITY = {
    "value": 1.02, "unit": "SG", "low": 1.019, "high": 1.021, "said": "stuck at 1.020",
    "label": "gravity now", "shown": "1.020", "kind": "quantity", "units": ["SG", "degP"],
}  # fmt: skip
CALCULATION = {
    "calculator": "finish-estimate",
    "title": "Where it should finish",
    "inputs": {},
    "results": {},
    "working": "final gravity = 1 + (1.050 - 1) × (1 - 0.75)\n              = 1.0125",
    "sources": ["handbook"],
    "warnings": ["The yeast's range is wide."],
    "summary": "1.010 to 1.015",
}
FINDING = {
    "id": "rouse",
    "title": "The yeast has gone to sleep too soon",
    "cause": "The beer cooled, and the yeast settled before it was done.",
    "summary": "It has stopped above where it should finish, and warming it usually wakes it.",
    "steps": ["Warm the fermenter to 68 °F (20 °C) over a day.", "Swirl it gently without opening it."],
    "next_time": ["Keep the last third of the fermentation warm."],
    "check_again": {"what": "Measure the gravity.", "when": "In three days."},
    "parts": ["heat-belt"],
    "sources": ["handbook"],
}
SOURCES = [{"id": "handbook", "citation": "Common practice; no source is known."}]
GRAVITY_QUESTION = {
    "fact": "original_gravity", "text": "What was the gravity before the yeast went in?",
    "why": "It tells us how far the yeast has come.", "kind": "quantity", "unit": "SG",
    "units": ["SG", "degP"], "hint": "The first reading you wrote down.",
}  # fmt: skip
YEAST_QUESTION = {
    "fact": "yeast_form", "text": "How did the yeast come?", "why": "Dry yeast wakes differently.", "kind": "choice",
    "options": [{"value": "dry", "label": "Dry, in a sachet"}, {"value": "liquid", "label": "Liquid, in a pouch"}],
}  # fmt: skip
PRESSURE_QUESTION = {
    "fact": "under_pressure", "text": "Is the fermenter closed and under pressure?",
    "why": "A closed vessel needs care first.", "kind": "yes-no",
}  # fmt: skip
QUESTIONS = (GRAVITY_QUESTION, YEAST_QUESTION, PRESSURE_QUESTION)
HANDOVER = {"reason": "asked", "text": "Somebody at the counter reads this and answers here."}


def consultation(**parts: Any) -> dict[str, Any]:
    """A whole consultation with these parts set."""
    return Consultation.model_validate({**BLANK, **parts}).model_dump(mode="json")


def stalled(turns: list[dict[str, Any]]) -> dict[str, Any]:
    """Gravity, then the yeast's form, then pressure, then the finding; "not known" counts as an answer."""
    answers: dict[str, Any] = {}
    for turn in turns:
        answers |= turn["facts"]
    facts = {"current_gravity": GRAVITY} | {name: _fact(name, value) for name, value in answers.items()}
    common = {"problems": [PROBLEM, OTHER], "facts": facts, "sources": SOURCES}
    for question in QUESTIONS:
        if question["fact"] not in answers:
            return consultation(**common, question=question, also=[OTHER])
    return consultation(**common, finding=FINDING, calculations=[CALCULATION], parts=[
        {"id": "heat-belt", "name": "Heating belt", "ask": ["How wide is your fermenter?"]},
    ])  # fmt: skip


def over_pressure(_turns: list[dict[str, Any]]) -> dict[str, Any]:
    """A dangerous problem: caution and first action before the question."""
    problem = {"id": "pressure-too-high", "title": "Pressure above what was set", "score": 0.9, "matched": ["45"]}
    fact = {"value": 3.1, "unit": "bar", "said": "45 psi", "label": "Gauge reading", "shown": "45 psi (3.1 bar)"}
    question = {
        "fact": "rated_pressure", "text": "What is the highest pressure marked on the vessel?",
        "kind": "quantity", "unit": "bar", "units": ["psi", "bar", "kPa"],
        "why": "The marking decides whether you step back first or ease it down.",
    }  # fmt: skip
    return consultation(
        problems=[problem], hazards=["over-pressure"], facts={"gauge_pressure": fact}, cautions=[PRESSURE],
        first_action="Turn the gas off at the cylinder, standing to one side.", question=question, sources=SOURCES,
    )  # fmt: skip


def _fact(name: str, value: Any) -> dict[str, Any]:
    question = next((each for each in QUESTIONS if each["fact"] == name), GRAVITY)
    shown = "not known" if value is None else str(value)
    answers = {key: question.get(key, []) for key in ("kind", "units", "options")}
    return {"value": value, "said": shown, "label": name.replace("_", " "), "shown": shown, **answers}
