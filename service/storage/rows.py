"""What every table shares: the base class of rows, and the one type in which a time is kept."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import DateTime, MetaData, Text, Uuid
from sqlalchemy.engine import Dialect
from sqlalchemy.orm import DeclarativeBase
from sqlalchemy.types import TypeDecorator

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class UtcDateTime(TypeDecorator[datetime]):
    """A moment in UTC. SQLite forgets the zone and PostgreSQL answers in its own, so both are put right here."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        if value is not None and value.tzinfo is None:
            raise ValueError("a time without a zone cannot be stored: use datetime.now(UTC)")
        return value and value.astimezone(UTC)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)  # type: ignore[no-any-return]


class Row(DeclarativeBase):
    """Base of every table."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {datetime: UtcDateTime, UUID: Uuid, str: Text}  # noqa: RUF012
