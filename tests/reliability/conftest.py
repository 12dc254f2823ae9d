"""Services as processes, on both databases."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.serving import ServiceProcess

Make = Callable[..., ServiceProcess]


def pytest_addoption(parser: pytest.Parser) -> None:
    """`pytest tests/reliability --full` runs the long form: minutes instead of seconds."""
    parser.addoption("--full", action="store_true", help="kill, cut and generate ten times as often")


@pytest.fixture(scope="session")
def times(request: pytest.FixtureRequest) -> int:
    """How many times as much is done as in the short form."""
    return 10 if request.config.getoption("--full", default=False) else 1


@pytest.fixture
def sqlite_url(tmp_path: Path) -> str:
    """The address of a SQLite file that does not exist yet."""
    return f"sqlite:///{tmp_path / 'chats.sqlite3'}"


@pytest.fixture
def make(tmp_path: Path) -> Iterator[Make]:
    """Make a service on a database: make(url, setting=…). It is started by the test, and ended here at the latest."""
    made: list[ServiceProcess] = []

    def one(database: str, **options: object) -> ServiceProcess:
        made.append(ServiceProcess(tmp_path, database, **options))  # type: ignore[arg-type]
        return made[-1]

    yield one
    for service in made:
        service.end()


@pytest.fixture(params=["sqlite", "postgresql"])
def any_url(request: pytest.FixtureRequest) -> str:
    """The address of a fresh database of either kind."""
    name = "sqlite_url" if request.param == "sqlite" else "postgres_url"
    url = request.getfixturevalue(name)
    assert isinstance(url, str)
    return url
