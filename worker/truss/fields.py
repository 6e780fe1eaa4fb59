"""What every block of a truss file is read with: blocks, words of a list, rows of numbers.

Every function here and in the modules of the blocks notes all problems and goes on.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator

from rubric.language import _, counted, later
from rubric.located import Mapping, Node, Scalar, Sequence
from rubric.problems import Findings, quoted
from rubric.quantities import quantity
from rubric.spelling import did_you_mean
from worker.truss.model import Member, Vector


def block(tree: Mapping, key: str, example: str, findings: Findings) -> Mapping | None:
    """The mapping under ``key``; None where it is left out or is something else (noted)."""
    node = tree.get(key)
    if node is None or isinstance(node, Mapping):
        return node
    if not (isinstance(node, Scalar) and not node.text):
        findings.add(
            tree.key_place(key),
            _("{key} without a block of its own", key=quoted(key)),
            _("lines such as '{example}'", example=example),
            _("write '{key}:' alone and each line below it, two spaces further right.", key=key),
        )
    return None


def choice(tree: Mapping, key: str, options: Iterable[str], default: str, findings: Findings) -> str:
    """One of a few words, such as a unit."""
    node = tree.get(key)
    names = list(options)
    if node is None:
        return default
    if isinstance(node, Scalar) and node.text in names:
        return node.text
    found = quoted(node.text) if isinstance(node, Scalar) else _("a list")
    listed = _("one of {words}", words=", ".join(names))
    findings.add(node.place, found, listed, did_you_mean(node.text if isinstance(node, Scalar) else "", names))
    return default


def numbers(node: Node, count: int, units: dict[str, float], unit: str, what: str, findings: Findings) -> Vector | None:
    """A list of ``count`` numbers in the units used inside, or None (noted)."""
    if not isinstance(node, Sequence) or len(node.items) != count:
        given = len(node.items) if isinstance(node, Sequence) else None
        found = shown(node) if given is None else counted("{count} value", "{count} values", given)
        axes, example = _AXES[count]
        wanted = _("{what}: {count} numbers, {axes}", what=what, count=count, axes=_(axes))
        mend = _("write for example '{example}'.", example=example)
        if given is not None and given > count:
            mend += " " + _("Decimals take a full stop, not a comma.")
        findings.add(node.place, found, wanted, mend)
        return None
    values = [one_number(item, units, unit, what, findings) for item in node.items]
    return tuple(v for v in values if v is not None) if None not in values else None


_AXES = {2: (later("x and y"), "[150, 0]"), 3: (later("x, y and z"), "[150, 0, 80]")}


def one_number(node: Node, units: dict[str, float], unit: str, what: str, findings: Findings) -> float | None:
    """A number in the unit used inside, or None (noted)."""
    value = quantity(node.text, units, unit) if isinstance(node, Scalar) else None
    if value is None:
        text = node.text if isinstance(node, Scalar) else ""
        wanted = _("{what}: a plain number in {unit}", what=what, unit=unit)
        findings.add(node.place, shown(node), wanted, _number_advice(text, unit))
    return value


def _number_advice(text: str, unit: str) -> str:
    if re.fullmatch(r"[+-]?[0-9]+,[0-9]+", text):
        return _("write the decimal with a full stop: {number}.", number=text.replace(",", "."))
    if re.fullmatch(r"[+-]?0[0-9]+(\.[0-9]*)?", text):
        return _("take the leading 0 out.")
    if re.fullmatch(r"[+-]?[0-9.]+(e[+-]?[0-9]+)?", text, re.IGNORECASE):
        return _("check how large it is; no truss needs such a number.")
    return _("write digits from 0 to 9, with a full stop for decimals, such as '12.5' or '12.5 {unit}'.", unit=unit)


def shown(node: Node) -> str:
    """What stands there, quoted, for a message."""
    if not isinstance(node, Scalar):
        return _("a block or a list")
    return quoted(node.text) if node.text else _("nothing")


def of_joints(tree: Mapping | None, known: Iterable[str], findings: Findings) -> Iterable[tuple[str, Node]]:
    names = list(known)
    for key, node in tree.items if tree else ():
        name = unicodedata.normalize("NFC", key.text)
        if name in names:
            yield name, node
        else:
            findings.add(
                key.place,
                _("no joint {name}", name=quoted(key.text)),
                _("a joint that the block 'joints' names"),
                did_you_mean(key.text, names),
            )


def of_members(tree: Mapping | None, bars: Iterable[Member], findings: Findings) -> Iterator[tuple[Member, Node]]:
    """Members named by their ends in either order, each once."""
    by_ends = {frozenset((bar.start, bar.end)): bar for bar in bars}
    seen: dict[str, str] = {}
    for key, node in tree.items if tree else ():
        bar = by_ends.get(frozenset(unicodedata.normalize("NFC", part.strip()) for part in key.text.split("-")))
        if bar is None:
            findings.add(
                key.place,
                _("no member {name}", name=quoted(key.text)),
                _("a member that the block 'members' names"),
                did_you_mean(key.text, [bar.name for bar in by_ends.values()]),
            )
        elif bar.name in seen:
            findings.add(
                key.place,
                _(
                    "the member {name} a second time, as {before} before",
                    name=quoted(key.text),
                    before=quoted(seen[bar.name]),
                ),
                _("each member once"),
                _("take one of the two out."),
            )
        else:
            seen[bar.name] = key.text
            yield bar, node
