"""The settings of the service: one typed class, read from options and from SPILE_… in the environment."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

from platformdirs import user_data_path
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, field_validator, model_validator

from service.storage.engine import parse
from service.storage.errors import CannotOpen

PREFIX = "SPILE_"
ORIGIN = re.compile(r"https?://[a-z0-9.\-]+(:\d{1,5})?|https?://\[[0-9a-f:]+\](:\d{1,5})?")


class BadSetting(ValueError):
    """A setting the service refuses to start with; the message names it and says what it must be."""


def _listed(value: Any) -> Any:
    return tuple(value.replace(",", " ").split()) if isinstance(value, str) else value


def _default_database() -> str:
    return f"sqlite:///{user_data_path('spile', appauthor=False) / 'spile.sqlite3'}"


class Settings(BaseModel):
    """Everything a shop can set. Each name is also SPILE_NAME in the environment; an option given wins over it."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)

    host: str = Field("127.0.0.1", min_length=1, max_length=255, description="address to listen on")
    port: int = Field(8000, ge=0, le=65535, description="port to listen on; 0 takes a free one")
    database: str = Field(default_factory=_default_database, description="URL of the database")
    knowledge: Path | None = Field(None, description="folder of the knowledge to serve; without it, the shipped one")
    origins: Annotated[tuple[str, ...], BeforeValidator(_listed)] = Field(
        (), description="origins of the pages that may call the service, apart by spaces: https://shop.example"
    )
    workers: int = Field(1, ge=1, le=64, description="processes; more than one needs PostgreSQL")
    streams: int = Field(5000, ge=1, le=100_000, description="live streams open at once, in one process")
    streams_per_chat: int = Field(
        2500, ge=1, le=100_000, description="live streams open at once on one chat, in one process"
    )
    stream_minutes: float = Field(10, gt=0, le=60, description="after so many minutes a stream ends and is resumed")
    write_seconds: float = Field(10, gt=0, le=60, description="a client that takes nothing for so long is dropped")
    keep_days: float = Field(
        365, gt=0, le=36500, description="a chat in which nothing was said for so many days is deleted"
    )
    log_level: str = Field("INFO", pattern="^(DEBUG|INFO|WARNING|ERROR)$", description="least level that is logged")

    @field_validator("database")
    @classmethod
    def _is_a_database(cls, value: str) -> str:
        try:
            parse(value)
        except CannotOpen as error:
            raise ValueError(str(error)) from error
        return value

    @field_validator("origins")
    @classmethod
    def _are_origins(cls, value: tuple[str, ...]) -> tuple[str, ...]:
        for origin in value:
            if not ORIGIN.fullmatch(origin):
                raise ValueError("each must be scheme, host and port, such as https://shop.example, without path or *")
        return value

    @field_validator("knowledge")
    @classmethod
    def _is_a_folder(cls, value: Path | None) -> Path | None:
        if value is not None and not value.is_dir():
            raise ValueError("there is no such folder")
        return value

    @model_validator(mode="after")
    def _several_workers_need_postgresql(self) -> Settings:
        if self.workers > 1 and parse(self.database).get_backend_name() == "sqlite":
            raise ValueError("workers: a SQLite file serves one process; set 1, or use PostgreSQL")
        return self

    def as_environment(self) -> dict[str, str]:
        """The same settings as variables, for a process that starts from them."""
        values = self.model_dump(mode="json", exclude_none=True)
        plain = {name: " ".join(value) if isinstance(value, list) else str(value) for name, value in values.items()}
        return {_variable(name): value for name, value in plain.items()}


def settings(environment: Mapping[str, str] | None = None, **given: Any) -> Settings:
    """The settings from what was given, then the environment, then the defaults. Raises BadSetting."""
    environment = os.environ if environment is None else environment
    found = {name: environment[_variable(name)] for name in Settings.model_fields if _variable(name) in environment}
    try:
        return Settings(**{**found, **given})
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False, include_context=False)[0]
        message = first["msg"].removeprefix("Value error, ")
        name = str(first["loc"][0]) if first["loc"] else ""
        raise BadSetting(f"{name} ({_variable(name)}): {message}" if name else message) from None


def _variable(name: str) -> str:
    return PREFIX + name.upper()
