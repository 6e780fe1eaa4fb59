"""What deploy/ starts, held against what the code declares."""

from __future__ import annotations

import re
from pathlib import Path

import yaml

from rubric.messages.names import MARKING, OUTCOMES, PRINTING, QUEUE_OF, QUEUES, SKETCHING
from service.settings import NAMES

DEPLOY = Path(__file__).parent.parent / "deploy"
COMPOSE = yaml.safe_load((DEPLOY / "compose.yaml").read_text(encoding="utf-8"))
KINGPOST = {name: part for name, part in COMPOSE["services"].items() if part.get("image") == "kingpost:local"}


def test_every_queue_that_orders_travel_on_is_consumed_by_some_part() -> None:
    worked = {part["command"][1] for part in KINGPOST.values() if part["command"][0] == "work"}
    recorded = {OUTCOMES} if any(part["command"] == ["recorder"] for part in KINGPOST.values()) else set()
    assert worked | recorded == set(QUEUES) == set(QUEUE_OF.values())
    assert worked == {MARKING, PRINTING, SKETCHING}


def test_every_setting_in_compose_is_one_that_the_service_knows() -> None:
    used = {name for part in KINGPOST.values() for name in part["environment"]}
    assert used <= set(NAMES)


def test_a_worker_gets_the_broker_and_nothing_else() -> None:
    workers = [part for part in KINGPOST.values() if part["command"][0] == "work"]
    assert all(list(part["environment"]) == ["KINGPOST_BROKER"] for part in workers)
    assert all(part["networks"] == ["orders"] and "volumes" not in part for part in workers)


def test_redis_keeps_what_it_took() -> None:
    command = COMPOSE["services"]["broker"]["command"]
    assert command[command.index("--appendonly") + 1] == "yes"
    assert command[command.index("--maxmemory-policy") + 1] == "noeviction"


def test_lock_files_hold_hashes_and_no_addresses() -> None:
    for name in ("lock.txt", "lock-test.txt"):
        text = (DEPLOY / name).read_text(encoding="utf-8")
        assert "://" not in text
        pins = re.findall(r"^[A-Za-z0-9_.-]+==", text, re.MULTILINE)
        assert len(pins) > 20
        assert text.count("--hash=sha256:") >= len(pins)


def test_the_image_and_the_set_up_install_the_same_system_packages() -> None:
    wanted = set(re.findall(r"\b(?:lib|fonts-)[\w.+-]+", (DEPLOY / "demo").read_text(encoding="utf-8")))
    assert wanted
    assert wanted <= set(re.findall(r"\b(?:lib|fonts-)[\w.+-]+", (DEPLOY / "Dockerfile").read_text(encoding="utf-8")))
    assert wanted <= set(re.findall(r"\b(?:lib|fonts-)[\w.+-]+", (DEPLOY / "test").read_text(encoding="utf-8")))
