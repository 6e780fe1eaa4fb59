"""What a worker that somebody took over by a file could read: orders, and no secret of the service."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import pytest
import yaml

from service.commands.serve import PARTS, _open_to_workers, _part
from service.supervisor import worker_environment
from tests.service.site import Site, settings_for

SECRETS = {
    "KINGPOST_DATABASE": "postgresql+psycopg://kingpost:hidden@db/kingpost",
    "KINGPOST_DATA": "/srv/hidden",
    "PGPASSWORD": "hidden",
    "DATABASE_URL": "hidden",
    "AWS_SECRET_ACCESS_KEY": "hidden",
    "SSH_AUTH_SOCK": "/run/hidden",
    "HTTPS_PROXY": "http://hidden@proxy",
}


def test_its_environment_holds_the_broker_and_no_secret(
    site: Site, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in SECRETS.items():
        monkeypatch.setenv(name, value)
    settings = settings_for(site.records, tmp_path)
    for part in PARTS:
        made = _part(part, settings, {"marking": 2, "printing": 2, "sketching": 1})
        if made.arguments[0] == "work":
            ours = {name for name in made.environment if name.startswith("KINGPOST_")}
            assert ours == {"KINGPOST_BROKER"}
            assert "hidden" not in " ".join(made.environment.values())
    assert "hidden" not in " ".join(worker_environment(os.environ, "broker").values())


def test_on_many_machines_it_has_no_volume_no_way_to_the_database_and_no_right_to_write() -> None:
    deployed = yaml.safe_load((Path(__file__).parents[3] / "deploy/compose.yaml").read_text(encoding="utf-8"))
    workers = [one for one in deployed["services"].values() if one.get("command", [""])[0] == "work"]
    assert workers
    for one in workers:
        assert list(one["environment"]) == ["KINGPOST_BROKER"]
        assert "volumes" not in one
        assert one["networks"] == ["orders"]
        assert (one["read_only"], one["cap_drop"]) == (True, ["ALL"])
        assert "no-new-privileges:true" in one["security_opt"]
    assert deployed["networks"]["orders"]["internal"]
    assert deployed["services"]["database"]["networks"] == ["records"]


def test_an_order_holds_no_more_than_its_kind_needs(site: Site) -> None:
    """A mark order has no name; only what is printed on a sheet has, and never a passphrase or an alias."""
    from service.orders import order_for
    from service.records.models import Job, Person

    site.hand_in(site.signed_in("Ada Fern"))
    with site.records.read() as session:
        ada = session.get_one(Person, site.ids["Ada Fern"])
        orders = {one.kind: str(order_for(session, session.get_one(Job, one.id))) for one in site.sender.sent}
    assert set(orders) >= {"worker.mark", "worker.draw"}
    for order in orders.values():
        for word in (
            "Ada",
            "Fern",
            "Otters",
            "Tess",
            "Millbrook",
            ada.handle,
            ada.alias,
            ada.secret_hash,
            ada.session_key,
        ):
            assert str(word) not in order
    with site.records.write() as session:
        site.work()
        del session
    with site.records.read() as session:
        printing = session.query(Job).filter_by(kind="worker.print").one()
        order = str(order_for(session, printing))
    assert "Ada Fern" in order
    for word in (ada.handle, ada.alias, ada.secret_hash, ada.session_key):
        assert str(word) not in order


def test_on_one_machine_the_data_folder_is_closed_to_it_but_for_the_broker(site: Site, tmp_path: Path) -> None:
    """What that closes is tried out in ``tests/service/test_confining.py``."""
    settings = replace(settings_for(site.records, tmp_path / "data"), broker=str(tmp_path / "data" / "broker"))
    paths = _open_to_workers(settings)
    assert tmp_path / "data" / "broker" in paths
    for hidden in (tmp_path / "data" / "secret-key", Path(site.records.engine.url.database or "")):
        assert not [path for path in paths if hidden.is_relative_to(path)]
    made = [_part(name, settings, {"marking": 1, "printing": 1, "sketching": 1}) for name in PARTS]
    assert {one.name for one in made if one.confine} == {"marking", "printing", "sketching"}
