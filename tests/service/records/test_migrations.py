"""Migrations and models say the same."""

from __future__ import annotations

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from service.records.engine import Records
from service.records.migrations import upgrade
from service.records.models import Base, School


def test_the_migrations_make_exactly_the_tables_of_the_models(either: Records) -> None:
    with either.engine.begin() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_upgrading_twice_changes_nothing(either: Records) -> None:
    with either.write() as session:
        session.add(School(name="Millbrook School"))
    upgrade(either.engine)
    with either.read() as session:
        assert session.query(School).count() == 1
