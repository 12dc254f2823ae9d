"""Tables: made by the migrations, the same as the program expects, on both databases."""

from __future__ import annotations

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import text

from service.storage.engine import open_database
from service.storage.errors import CannotOpen
from service.storage.migrate import configuration, is_current
from service.storage.rows import Row


@pytest.fixture(params=["sqlite", "postgresql"])
def database(request):
    opened = open_database(request.getfixturevalue("sqlite_url" if request.param == "sqlite" else "postgres_url"))
    yield opened
    opened.close()


def test_the_migrations_make_the_tables_that_the_program_works_with(database) -> None:
    with database.writers.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Row.metadata) == []
        assert is_current(connection)


def test_the_migrations_are_one_line_without_branches() -> None:
    assert len(ScriptDirectory.from_config(configuration()).get_heads()) == 1


def test_tables_of_a_later_version_are_left_alone(database) -> None:
    with database.writers.begin() as connection:
        connection.execute(text("update alembic_version set version_num = '9999'"))
        assert not is_current(connection)
    url = database.writers.url.render_as_string(hide_password=False)
    database.close()
    with pytest.raises(CannotOpen, match=r"made by a later version of this program\. Start that version"):
        open_database(url)


def test_opening_again_changes_nothing(database) -> None:
    url = database.writers.url.render_as_string(hide_password=False)
    database.close()
    again = open_database(url)
    with again.writers.connect() as connection:
        assert connection.execute(text("select count(*) from alembic_version")).scalar() == 1
    again.close()
