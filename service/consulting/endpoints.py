"""Consultations and calculations that store nothing: for staff pasting a message, and for other programs."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Body, Path, Query
from starlette.responses import JSONResponse, Response

import calculators
from calculators import pictures
from service.consultation import Consultation, Turn
from service.consulting.asking import ask, calculate
from service.consulting.drawing import ManyPictures, draw
from service.consulting.schemas import Asked, CalculationDone, CalculatorList, Inputs, PictureDrawn, UnitSystem
from service.web.problems import WITH_BODY, NotFound, problems
from service.web.services import WithServices
from service.web.strict_json import StrictRoute

router = APIRouter(prefix="/api", route_class=StrictRoute, tags=["consulting"])
CalculatorName = Annotated[str, Path(max_length=64, description="as listed by GET /api/calculators")]
GivenInputs = Annotated[Inputs, Body(description="inputs by name, by themselves or under `inputs`")]


@router.post("/consult", response_model=Consultation, responses=problems(*WITH_BODY))
async def post_consult(asked: Asked, services: WithServices) -> Response:
    """One consultation; nothing is stored."""
    turn = Turn(text=asked.text, facts=asked.facts)
    answer = await services.think(lambda: ask([turn], services.knowledge, asked.units).model_dump_json())
    return Response(answer, media_type="application/json")


@router.get("/calculators", response_model=CalculatorList, responses=problems())
async def get_calculators() -> Response:
    """Every calculator, with what goes in and what comes out."""
    return JSONResponse({"calculators": [_listed(calculators.get(name)) for name in calculators.names()]})


@router.post("/calculators/{name}", response_model=CalculationDone, responses=problems(NotFound, *WITH_BODY))
async def post_calculation(name: CalculatorName, inputs: GivenInputs, services: WithServices) -> Response:
    """Run a calculator. The inputs of a calculation can be sent back as they came: under `inputs`."""
    return JSONResponse(await services.think(lambda: calculate(name, inputs)))


@router.post(
    "/calculators/{name}/picture", response_model=PictureDrawn, responses=problems(NotFound, ManyPictures, *WITH_BODY)
)
async def post_picture(
    name: CalculatorName,
    inputs: GivenInputs,
    services: WithServices,
    units: Annotated[UnitSystem, Query(description="units of the picture, its words and its table")] = "metric",
) -> Response:
    """Draw the picture of a calculation: as SVG, in words for who cannot see it, and as the table behind it."""
    return JSONResponse(await services.drawing.make(lambda: draw(name, inputs, units)))


def _listed(calculator: calculators.Calculator) -> dict[str, Any]:
    return {
        "name": calculator.name,
        "title": calculator.title,
        "summary": calculator.summary,
        "inputs": calculator.schema(),
        "results": {
            name: {"unit": spec.unit, "description": spec.description} for name, spec in calculator.results.items()
        },
        "sources": dict(calculator.sources),
        "picture": calculator.name in pictures.pictured(),
    }
