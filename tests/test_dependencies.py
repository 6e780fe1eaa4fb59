"""The lists of dependencies, held against each other without a network, and what an audit may say."""

from __future__ import annotations

from typing import Any

import pytest

from deploy.audited import FINE, NOT_ASKED, WEAK, judged
from deploy.dependencies import (
    HERE,
    LISTS,
    digest,
    faults_of_installed,
    faults_of_list,
    faults_of_wanted,
    pins,
    said_of_audit,
)

HASH = "--hash=sha256:" + "a" * 64
GOOD = f"alpha==1.2 \\\n    {HASH}\n    # via beta\nbeta[x]==3 \\\n    {HASH}\n"
PROJECT = '[project]\ndependencies = ["alpha>=1"]\n[project.optional-dependencies]\ntest = ["beta<4"]\n'


def test_our_own_lists_are_pinned_hashed_complete_and_alike() -> None:
    texts = [(name, (HERE / name).read_text()) for name in LISTS]
    project = (HERE.parent / "pyproject.toml").read_text()
    assert [fault for name, text in texts for fault in faults_of_list(name, text)] == []
    assert list(faults_of_wanted(project, *(pins(text) for _, text in texts))) == []


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        (GOOD.replace("alpha==1.2", "alpha>=1.2"), "no 'package==version'"),
        (GOOD.replace(HASH, "", 1), "alpha has no SHA-256 hash"),
        (GOOD.replace("a" * 64, "abc"), "alpha has no SHA-256 hash"),
        ("--index-url https://index.invalid\n" + GOOD, "names an address"),
        (GOOD + GOOD, "stands twice"),
    ],
)
def test_a_list_that_does_not_bind_is_told(text: str, fault: str) -> None:
    assert not list(faults_of_list("lock.txt", GOOD))
    assert fault in " ".join(faults_of_list("lock.txt", text))


def test_a_package_that_is_missing_too_old_or_not_the_same_in_both_lists_is_told() -> None:
    both = pins(GOOD)
    only = {"alpha": both["alpha"]}
    assert list(faults_of_wanted(PROJECT, only, both)) == []
    assert "asks for 'beta<4'" in " ".join(faults_of_wanted(PROJECT, only, only))
    assert "asks for 'alpha>=2'" in " ".join(faults_of_wanted(PROJECT.replace(">=1", ">=2"), only, both))
    assert "not the one of lock.txt" in " ".join(faults_of_wanted(PROJECT, pins(GOOD.replace("1.2", "1.3")), both))


def test_another_version_than_the_one_of_the_list_is_told() -> None:
    assert list(faults_of_installed({"alpha": "1.2", "gamma": "9"}, pins(GOOD))) == []
    assert list(faults_of_installed({"alpha": "1.1"}, pins(GOOD))) == ["installed: alpha 1.1, where the list has 1.2."]


def test_it_says_plainly_when_nobody_asked_about_weaknesses() -> None:
    assert "NOT ASKED ABOUT" in said_of_audit("", digest())
    assert "NOT ASKED ABOUT" in said_of_audit("0123 2027-01-01", digest())
    assert "none on 2027-01-01" in said_of_audit(f"{digest()} 2027-01-01\n", digest())


@pytest.mark.parametrize(
    ("rows", "verdict"),
    [
        ([{"name": "Alpha", "version": "1", "vulns": []}, {"name": "beta", "version": "3", "vulns": []}], FINE),
        ([{"name": "alpha", "version": "1", "vulns": []}, {"name": "beta", "skip_reason": "not found"}], NOT_ASKED),
        ([{"name": "alpha", "version": "1", "vulns": []}], NOT_ASKED),
        ([{"name": "alpha", "version": "1", "vulns": [{"id": "X-1", "fix_versions": ["2"]}]}], WEAK),
        ([], NOT_ASKED),
    ],
)
def test_a_package_that_was_not_asked_about_is_never_called_fine(rows: list[dict[str, Any]], verdict: int) -> None:
    found, said = judged(["alpha", "beta"], {"dependencies": rows})
    assert found == verdict
    assert bool(said) == (verdict != FINE)
