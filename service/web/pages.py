"""The demo shop's page, the widget's files, and a page that lists the calls."""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, Response
from starlette.routing import Route
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

from service.web.problems import Problem

WIDGET = Path(__file__).parents[2] / "widget"  # beside the packages, in a checkout and installed alike
STYLE = Path(__file__).with_name("docs.css")
SERVED = {".js", ".css", ".html", ".svg", ".png", ".ico", ".webp", ".json", ".txt"}


class WidgetFiles(StaticFiles):
    """Files of the widget's folder that a browser has a use for. It may keep them, and asks if they changed."""

    async def get_response(self, path: str, scope: Scope) -> Response:
        if Path(path).suffix not in SERVED:
            raise HTTPException(404)
        response = await super().get_response(path, scope)
        response.headers["Cache-Control"] = "no-cache"
        return response


def add_pages(app: FastAPI) -> None:
    """Serve the pages: the demo shop at /, the widget's files below /widget, the calls' list at /docs."""
    page = docs_page(app.openapi())

    async def docs(_request: Request) -> Response:
        return HTMLResponse(page, headers={"Cache-Control": "no-cache"})

    async def shop(_request: Request) -> Response:
        return FileResponse(WIDGET / "index.html", headers={"Cache-Control": "no-cache"})

    async def style(_request: Request) -> Response:
        return FileResponse(STYLE, headers={"Cache-Control": "no-cache"})

    app.router.routes += [Route("/", shop), Route("/docs", docs), Route("/docs.css", style)]
    app.mount("/widget", WidgetFiles(directory=WIDGET), "widget")


def docs_page(openapi: dict[str, Any]) -> str:
    """Every call with what goes in, what comes out and what can go wrong, as plain HTML."""
    calls = [
        _call(method, path, call) for path, methods in openapi["paths"].items() for method, call in methods.items()
    ]
    schemas = [_schema(name, schema) for name, schema in sorted(openapi["components"]["schemas"].items())]
    kinds = [f'<dt id="{escape(slug)}">{escape(slug)}</dt><dd>{escape(text)}</dd>' for slug, text in _problem_kinds()]
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Spile: the calls</title>'
        '<meta name="viewport" content="width=device-width"><link rel="stylesheet" href="/docs.css"></head><body>'
        f"<main><h1>Spile: the calls</h1><p>{escape(openapi['info']['description'])} "
        'The same for programs: <a href="/openapi.json">/openapi.json</a>.</p>'
        f"{''.join(calls)}<h2>Problems</h2><dl>{''.join(kinds)}</dl><h2>Objects</h2>{''.join(schemas)}</main></body></html>"
    )


def _call(method: str, path: str, call: dict[str, Any]) -> str:
    answers = "".join(
        f"<tr><td>{escape(status)}</td><td>{escape(answer['description'])}</td><td>{_content(answer)}</td></tr>"
        for status, answer in sorted(call["responses"].items())
    )
    body = f"<p>Body: {_content(call['requestBody'])}</p>" if "requestBody" in call else ""
    head = f"<h2><code>{method.upper()} {escape(path)}</code></h2><p>{escape(call.get('description', ''))}</p>"
    columns = "<thead><tr><th>Status</th><th>When</th><th>Answer</th></tr></thead>"
    return f"<section>{head}{body}<table>{columns}<tbody>{answers}</tbody></table></section>"


def _content(part: dict[str, Any]) -> str:
    kinds = part.get("content", {}).items()
    return ", ".join(f"{escape(kind)}: {_named(each.get('schema', {}))}" for kind, each in kinds)


def _schema(name: str, schema: dict[str, Any]) -> str:
    rows = "".join(_field(field, each) for field, each in schema.get("properties", {}).items())
    head = f"<h3>{escape(name)}</h3><p>{escape(schema.get('description', ''))}</p>"
    return f'<section id="{escape(name)}">{head}<table><tbody>{rows}</tbody></table></section>'


def _field(name: str, schema: dict[str, Any]) -> str:
    about = escape(schema.get("description", ""))
    return f"<tr><td><code>{escape(name)}</code></td><td>{_named(schema)}</td><td>{about}</td></tr>"


def _named(schema: dict[str, Any]) -> str:
    """A type in a few words, with a link where it is an object of its own."""
    if "$ref" in schema:
        name = escape(schema["$ref"].rpartition("/")[2])
        return f'<a href="#{name}">{name}</a>'
    if "anyOf" in schema:
        return " or ".join(_named(each) for each in schema["anyOf"])
    if "enum" in schema:
        return " or ".join(f"<code>{escape(str(each))}</code>" for each in schema["enum"])
    inner = f" of {_named(schema['items'])}" if "items" in schema else ""
    longest = f", at most {schema['maxLength']} characters" if "maxLength" in schema else ""
    return escape(str(schema.get("type", "any"))) + inner + longest


def _problem_kinds() -> list[tuple[str, str]]:
    kinds: list[type[Problem]] = [Problem, *_below(Problem)]
    return sorted((kind.slug(), kind.__doc__ or "") for kind in kinds)


def _below(kind: type[Problem]) -> list[type[Problem]]:
    below: list[type[Problem]] = []
    for child in kind.__subclasses__():
        below += [child, *_below(child)]
    return below
