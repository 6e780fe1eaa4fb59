"""Settings: refused at start-up by name, with what was found and what was expected."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.settings import SettingError, from_environment


def test_everything_has_a_default_for_one_machine(tmp_path: Path) -> None:
    settings = from_environment({"KINGPOST_DATA": str(tmp_path)})
    assert settings.database == f"sqlite:///{tmp_path}/kingpost.sqlite"
    assert settings.broker == str(tmp_path / "broker")
    assert (settings.host, settings.port, settings.proxy_hops) == ("127.0.0.1", 8000, 0)
    assert (settings.trusted_hosts, settings.secure_cookies) == ((), False)


def test_many_machines_differ_by_two_settings() -> None:
    both = {
        "KINGPOST_DATABASE": "postgresql+psycopg://kingpost:pw@db/kingpost",
        "KINGPOST_BROKER": "redis://broker:6379/0",
    }
    settings = from_environment(both)
    assert {settings.database, settings.broker} == set(both.values())


@pytest.mark.parametrize(
    ("name", "value", "expected"),
    [
        ("KINGPOST_PORT", "http", "a whole number from 1 to 65535"),
        ("KINGPOST_PORT", "0", "a whole number from 1 to 65535"),
        ("KINGPOST_PORT", "65536", "a whole number from 1 to 65535"),
        ("KINGPOST_PORT", "٨٠", "a whole number from 1 to 65535"),
        ("KINGPOST_PORT", "", "a whole number from 1 to 65535"),
        ("KINGPOST_DATABASE", "mysql://x", "'sqlite:////folder/file.sqlite'"),
        ("KINGPOST_BROKER", "amqp://x", "a folder or an address 'redis://host:6379/0'"),
        ("KINGPOST_BROKER", "redis://", "a folder or an address 'redis://host:6379/0'"),
        ("KINGPOST_HOST", "a b", "an address to listen on"),
        ("KINGPOST_TRUSTED_HOSTS", "http://school.example", "host names with commas between"),
        ("KINGPOST_PROXY_HOPS", "-1", "how many proxies"),
        ("KINGPOST_SECURE_COOKIES", "true", "'yes' or 'no'"),
    ],
)
def test_a_wrong_setting_is_refused_by_name(name: str, value: str, expected: str) -> None:
    with pytest.raises(SettingError) as caught:
        from_environment({name: value})
    assert str(caught.value).startswith(f"{name} is '{value}'; expected {expected}")


def test_a_misspelt_setting_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(SettingError) as caught:
        from_environment({"KINGPOST_PROT": "80"})
    assert str(caught.value) == "KINGPOST_PROT is not a setting of Kingpost: did you mean 'KINGPOST_PORT'?"


def test_behind_a_proxy_of_our_own_cookies_are_for_https_alone() -> None:
    assert from_environment({"KINGPOST_PROXY_HOPS": "1"}).secure_cookies
    assert not from_environment({"KINGPOST_PROXY_HOPS": "1", "KINGPOST_SECURE_COOKIES": "no"}).secure_cookies


def test_trusted_hosts_are_names_with_commas_between() -> None:
    settings = from_environment({"KINGPOST_TRUSTED_HOSTS": "bridges.school.example, .school.example,localhost:8000"})
    assert settings.trusted_hosts == ("bridges.school.example", ".school.example", "localhost:8000")


def test_the_secret_key_is_made_once_and_readable_by_its_owner_alone(tmp_path: Path) -> None:
    settings = from_environment({"KINGPOST_DATA": str(tmp_path / "new")})
    key = settings.secret_key
    assert len(key) == 64
    assert settings.secret_key == key
    assert (tmp_path / "new" / "secret-key").stat().st_mode & 0o777 == 0o600
    assert [file.name for file in (tmp_path / "new").iterdir()] == ["secret-key"]


def test_each_installation_has_a_key_of_its_own(tmp_path: Path) -> None:
    keys = {from_environment({"KINGPOST_DATA": str(tmp_path / name)}).secret_key for name in "ab"}
    assert len(keys) == 2
