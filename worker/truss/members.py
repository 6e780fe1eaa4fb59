"""The members of a truss file: their ends, and the stick or the properties of each."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

from rubric.brief import Stick
from rubric.language import _, counted
from rubric.located import Mapping, Node, Scalar
from rubric.problems import Findings, quoted
from rubric.quantities import AREA_UNITS, STRESS_UNITS, quantity
from rubric.spelling import did_you_mean
from worker.truss.fields import shown
from worker.truss.joints import is_name
from worker.truss.model import Member

MOST_MEMBERS = 600


def ends_of(key: Scalar, known: Iterable[str], findings: Findings) -> tuple[str, str] | None:
    """The two joints that a member's name says, or None (noted)."""
    parts = [unicodedata.normalize("NFC", part.strip()) for part in key.text.split("-")]
    if len(parts) != 2 or not all(parts):
        findings.add(
            key.place,
            _("the member {name}", name=quoted(key.text)),
            _("two joints with one dash between them"),
            _("write for example '{example}'.", example="a-b"),
        )
        return None
    names = list(known)
    unknown = [part for part in dict.fromkeys(parts) if part not in names]
    for part in unknown:
        if not names or any(part in name for name in names if not is_name(name)):
            continue  # the joints themselves are to be mended first
        findings.add(
            key.place,
            _("the member {name}, but no joint {joint}", name=quoted(key.text), joint=quoted(part)),
            _("joints that the block 'joints' names"),
            did_you_mean(part, names),
        )
    if parts[0] == parts[1] and not unknown:
        findings.add(
            key.place,
            _("the member {name} from a joint to itself", name=quoted(key.text)),
            _("two different joints"),
            _("check the second name."),
        )
        return None
    return None if unknown else (parts[0], parts[1])


def members(
    tree: Mapping | None, known: Iterable[str], stock: dict[str, Stick] | None, most_sticks: int, findings: Findings
) -> tuple[Member, ...]:
    """Members in file order.  With a ``stock`` each must name one of its sticks."""
    found: dict[frozenset[str], Member] = {}
    if tree is None:
        return ()
    for key, node in tree.items[:MOST_MEMBERS]:
        ends = ends_of(key, known, findings)
        bar = _bar(key, node, stock, most_sticks, findings)
        if ends is None:
            continue
        earlier = found.get(frozenset(ends))
        if earlier is not None:
            findings.add(
                key.place,
                _("{name}, the same member as {earlier}", name=quoted(key.text), earlier=quoted(earlier.name)),
                _("each member once (the first stands in line {line})", line=earlier.place[0]),
                _("take one out, or write 'x2' for a doubled stick."),
            )
            continue
        found[frozenset(ends)] = Member(key.text, ends[0], ends[1], *(bar or _UNKNOWN), key.place)
    if len(tree.items) > MOST_MEMBERS:
        findings.add(
            tree.items[MOST_MEMBERS][0].place,
            counted("{count} member", "{count} members", len(tree.items)),
            _("at most {count}", count=MOST_MEMBERS),
            _("take members out."),
        )
    return tuple(found.values())


_Bar = tuple[str, int, float | None, float | None]


def _bar(key: Scalar, node: Node, stock: dict[str, Stick] | None, most: int, findings: Findings) -> _Bar | None:
    """Stick, count, area and modulus of one member."""
    if stock is None and isinstance(node, Mapping):
        return _properties(node, findings)
    if isinstance(node, Scalar) and (node.text or stock is None):
        return _stick(node, stock, most, findings)
    names = ", ".join(quoted(name) for name in stock or {})
    after = quoted(key.text + ":")
    findings.add(
        key.place,
        _("nothing after {key}", key=after)
        if isinstance(node, Scalar)
        else _("a block or a list after {key}", key=after),
        _("the stick it is cut from: {sticks}", sticks=names or quoted("square5")),
        _("write for example '{example}'.", example=f"{key.text[:20]}: {next(iter(stock or {}), 'square5')}"),
    )
    return None


_UNKNOWN: _Bar = ("", 1, None, None)
"""Stands in for a bar whose problem is already noted, so that the rest is still checked."""

_STICK = re.compile(r"(?P<stick>\S*)(?:\s+[xX\N{MULTIPLICATION SIGN}]\s?(?P<count>[0-9]{1,3}))?")


def _stick(node: Scalar, stock: dict[str, Stick] | None, most: int, findings: Findings) -> _Bar | None:
    match = re.fullmatch(
        r"(?P<stick>\S*)(?:\s+[xX\N{MULTIPLICATION SIGN}]\s?(?P<count>[0-9]{1,3}))?", node.text.strip()
    )
    if match is None:
        findings.add(
            node.place,
            quoted(node.text),
            _("a stick, and 'x2' where two are glued side by side"),
            _("write for example 'square5' or 'square5 x2'."),
        )
        return None
    stick, count = match["stick"], int(match["count"] or 1)
    if stock is not None and stick not in stock:
        found = _("the stick {name}", name=quoted(stick))
        findings.add(node.place, found, _("a stick of the kit"), _stick_advice(stick, stock))
        return None
    if not 1 <= count <= most:
        findings.add(
            node.place,
            _("{number} sticks side by side", number=count),
            _("1 to {most}", most=most),
            _("use fewer, or a thicker stick."),
        )
        return None
    return stick, count, None, None


def _stick_advice(stick: str, stock: dict[str, Stick]) -> str:
    """The nearest stick; where only the space before the count is missing, that."""
    match = re.fullmatch(r"(\S+?)[xX\N{MULTIPLICATION SIGN}]([0-9])", stick)
    if match and match[1] in stock:
        return _("write {stick}, with a space.", stick=quoted(f"{match[1]} x{match[2]}"))
    return did_you_mean(stick, stock)


def _properties(node: Mapping, findings: Findings) -> _Bar | None:
    kinds = {"area": (AREA_UNITS, "100 mm2"), "modulus": (STRESS_UNITS, "3.4 GPa")}
    values: dict[str, float | None] = {}
    for key, value in node.items:
        if key.text not in kinds:
            findings.add(
                key.place,
                _("the unknown key {key}", key=quoted(key.text)),
                _("'area' and 'modulus'"),
                did_you_mean(key.text, kinds),
            )
            continue
        units, example = kinds[key.text]
        read = quantity(value.text, units) if isinstance(value, Scalar) else None
        if read is None or not 1e-9 <= read <= 1e12:
            findings.add(
                value.place,
                shown(value),
                _("a number above 0 with a unit: {units}", units=", ".join(units)),
                _("write for example '{example}'.", example=f"{key.text}: {example}"),
            )
        values[key.text] = read
    if None in values.values() or not values:
        return None
    return "", 1, values.get("area"), values.get("modulus")
