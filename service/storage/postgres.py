"""A PostgreSQL database, shared by as many processes as the shop runs."""

from __future__ import annotations

from sqlalchemy import URL, create_engine
from sqlalchemy.exc import OperationalError

from service.storage.database import Database
from service.storage.errors import CannotOpen

CONNECTIONS = 8
OPTIONS = (
    "-c synchronous_commit=on -c timezone=UTC -c statement_timeout=4000 -c lock_timeout=4000"
    " -c idle_in_transaction_session_timeout=15000"
)
MUST_BE_ON = ("fsync", "full_page_writes")


def open_postgres(url: URL) -> Database:
    """Connect. Raises CannotOpen when there is no connection, or the server may lose what it has acknowledged."""
    engine = create_engine(
        url,
        pool_size=CONNECTIONS,
        max_overflow=0,
        pool_timeout=4,
        pool_pre_ping=True,
        pool_recycle=1800,
        hide_parameters=True,
        connect_args={
            "connect_timeout": 3,
            "options": OPTIONS,
            "keepalives_idle": 30,
            "tcp_user_timeout": 5000,
            "application_name": "spile",
            "client_encoding": "utf8",
        },
    )
    try:
        with engine.connect() as connection:
            off = [name for name in MUST_BE_ON if connection.exec_driver_sql(f"SHOW {name}").scalar() != "on"]
    except OperationalError:
        engine.dispose()
        raise CannotOpen(f"PostgreSQL at {place(url)} does not answer. Check --database and that it runs.") from None
    if off:
        engine.dispose()
        raise CannotOpen(
            f"PostgreSQL runs with {' and '.join(off)} off and may lose what was acknowledged. Turn it on."
        )
    return Database(
        writers=engine,
        readers=engine,
        writing_threads=CONNECTIONS // 2,
        reading_threads=CONNECTIONS // 2,
        description=f"PostgreSQL at {place(url)}",
    )


def place(url: URL) -> str:
    """Where the server is, without name or password."""
    return f"{url.host or url.query.get('host', 'the local socket')}/{url.database}"
