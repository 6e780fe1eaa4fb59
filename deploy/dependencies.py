"""What can be said of the dependencies without a network: that they are those of the lock files and no others.

``python -m deploy.dependencies`` prints each fault and ends with 1 where there is one.  Whether a package has a known
weakness cannot be told from here: ``sh deploy/audit`` asks, and this says when it last did so for these very lists.
"""

from __future__ import annotations

import hashlib
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.metadata import distributions
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

HERE = Path(__file__).parent
LISTS = ("lock.txt", "lock-test.txt")
AUDITED = HERE / "audited.txt"
"""The digest of the lists that were last asked about without a finding, and the day."""

TOOLS = {"pip", "setuptools", "wheel", "kingpost"}
"""What is installed beside the list: the installer, and the house itself."""


@dataclass(frozen=True)
class Pin:
    """One package of a list."""

    version: str
    hashes: tuple[str, ...]


def pins(text: str) -> dict[str, Pin]:
    """The packages of a list by name; what is no pin is left for :func:`faults_of_list`."""
    joined = re.sub(r"\\\n", " ", text)
    found = re.finditer(r"^([A-Za-z0-9._-]+)(?:\[[^\]]*\])?==(\S+)(.*)$", joined, re.M)
    return {canonicalize_name(one[1]): Pin(one[2], tuple(re.findall(r"--hash=(\S+)", one[3]))) for one in found}


def faults_of_list(name: str, text: str) -> Iterator[str]:
    """Lines that name no one version, packages without a hash, and addresses, which would bind to one index."""
    joined = re.sub(r"\\\n", " ", text)
    known = pins(text)
    lines = [line for line in joined.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    if len(lines) != len(known):
        yield f"{name}: {len(lines) - len(known)} of {len(lines)} lines are no 'package==version', or one stands twice."
    if "://" in text:
        yield f"{name}: it names an address. Take it out, so that any index will do."
    for package, pin in known.items():
        if not pin.hashes or not all(re.fullmatch("sha256:[0-9a-f]{64}", one) for one in pin.hashes):
            yield f"{name}: {package} has no SHA-256 hash, or one that cannot be read."


def faults_of_wanted(project: str, lock: Mapping[str, Pin], lock_test: Mapping[str, Pin]) -> Iterator[str]:
    """What pyproject.toml asks for and a list does not hold, and where the two lists differ."""
    asked = tomllib.loads(project)["project"]
    extras = asked.get("optional-dependencies", {})
    for_house = [*asked["dependencies"], *extras.get("install", ())]
    for name, wanted, there in (("lock.txt", for_house, lock), ("lock-test.txt", extras.get("test", ()), lock_test)):
        for text in wanted:
            one = Requirement(text)
            pin = there.get(canonicalize_name(one.name))
            if (one.marker is None or one.marker.evaluate()) and (pin is None or pin.version not in one.specifier):
                yield f"{name}: pyproject.toml asks for '{text}', and the list has {pin.version if pin else 'nothing'}."
    for package, pin in lock.items():
        if lock_test.get(package) != pin:
            yield f"lock-test.txt: {package} is not the one of lock.txt."


def faults_of_installed(installed: Mapping[str, str], lock: Mapping[str, Pin]) -> Iterator[str]:
    """What runs here in another version than that of the list."""
    for package, pin in lock.items():
        if installed.get(package, pin.version) != pin.version:
            yield f"installed: {package} {installed[package]}, where the list has {pin.version}."


def installed_here() -> dict[str, str]:
    """Name and version of everything that this Python finds."""
    return {canonicalize_name(one.metadata["Name"]): one.version for one in distributions() if one.metadata["Name"]}


def digest() -> str:
    """Of the lists as they stand."""
    return hashlib.sha256(b"".join((HERE / name).read_bytes() for name in LISTS)).hexdigest()


def said_of_audit(noted: str, now: str) -> str:
    """When these lists were last held against the known weaknesses."""
    known, _, day = noted.strip().partition(" ")
    if known == now:
        return f"Known weaknesses: none on {day}, for these very lists. What was found since, this cannot tell."
    return "Known weaknesses: NOT ASKED ABOUT for these lists. Run 'sh deploy/audit' where the network is."


def main() -> int:
    """Check all of it."""
    texts = {name: (HERE / name).read_text() for name in LISTS}
    lock, lock_test = (pins(texts[name]) for name in LISTS)
    project = (HERE.parent / "pyproject.toml").read_text()
    found = [fault for name, text in texts.items() for fault in faults_of_list(name, text)]
    found += faults_of_wanted(project, lock, lock_test)
    found += faults_of_installed(installed_here(), lock_test)
    for fault in found:
        print(fault)
    if not found:
        print(f"{len(lock_test)} packages, each pinned with its hashes, and installed as pinned.")
    beside = sorted(set(installed_here()) - set(lock_test) - TOOLS)
    if beside:
        print(f"Beside the lists, and looked at by nobody: {', '.join(beside)}.")
    print(said_of_audit(AUDITED.read_text() if AUDITED.exists() else "", digest()))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
