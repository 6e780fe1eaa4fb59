"""Reading a file into values that know their line and column.

In: the bytes of a YAML file that somebody wrote by hand.  Out: a tree of :class:`Scalar`,
:class:`Sequence` and :class:`Mapping`, in which every scalar is still text, so that a joint may
be called ``no`` or ``1e3``.  Built from parser events without recursion; anchors, aliases, tags,
merge keys, duplicate keys, several documents and absurd sizes are refused on the way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from rubric.language import _
from rubric.problems import Findings, Problem, Refused, quoted
from rubric.wording import grouped

MOST_BYTES = 64 * 1024
MOST_LEVELS = 12
MOST_VALUES = 20_000

Place = tuple[int, int]


@dataclass(frozen=True)
class Scalar:
    """A single value, as text."""

    text: str
    place: Place


@dataclass(frozen=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    place: Place


@dataclass(frozen=True)
class Mapping:
    """Keys and values in the order of the file; every key occurs once."""

    items: tuple[tuple[Scalar, Node], ...]
    place: Place

    def get(self, key: str) -> Node | None:
        """The value of ``key``, or None."""
        return next((value for name, value in self.items if name.text == key), None)

    def key_place(self, key: str) -> Place:
        """Where ``key`` is written; the mapping's own place where it is not."""
        return next((name.place for name, _ in self.items if name.text == key), self.place)


Node = Scalar | Sequence | Mapping


def decode(data: bytes) -> str:
    """Bytes of a text file as text, without a byte-order mark, with plain line ends.

    Raises
    ------
    Refused
        The file is too large, is not UTF-8, or holds control characters.
    """
    if len(data) > MOST_BYTES:
        raise _refused(
            (1, 1),
            _("a file of {count} bytes", count=grouped(len(data))),
            _("at most {count} bytes (64 KB)", count=grouped(MOST_BYTES)),
            _("take out what is not needed; a truss of 200 joints fits easily."),
        )
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _refused((1, 1), _("text saved as UTF-16"), "UTF-8", _("save the file again and choose UTF-8."))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8", "replace")
        raise _refused(
            _place_after(before),
            _("a byte that is not UTF-8 text ({byte})", byte=f"0x{data[error.start]:02X}"),
            _("a text file in UTF-8"),
            _("save the file again as plain text and choose UTF-8."),
        ) from None
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    for index, character in enumerate(text):
        if not (character.isprintable() or character in "\n\t") and ord(character) < 0xA0:
            raise _refused(
                _place_after(text[:index]),
                _("a control character (code {code})", code=ord(character)),
                _("plain text"),
                _("check that this is the truss file itself and not a picture, a PDF or a document."),
            )
    return text


def read_yaml(text: str, findings: Findings) -> Mapping:
    """Read one YAML document that is a mapping at the top.

    What can be read past, such as a key that occurs twice, is noted in ``findings``.

    Raises
    ------
    Refused
        Where reading has to stop, with every problem met up to there.
    """
    builder = _Builder(findings)
    try:
        for event in yaml.parse(text, Loader=yaml.CSafeLoader):
            builder.take(event)
            if builder.stopped:
                break
    except yaml.YAMLError as error:
        findings.take([_syntax_problem(text, error)])
        findings.settle()
    if builder.stopped:
        findings.settle()
    if not isinstance(builder.root, Mapping):
        found = _("an empty file") if builder.root is None else _("something other than keys and values")
        raise _refused((1, 1), found, _("lines such as 'title: My bridge'"), _("start from the example in the help."))
    return builder.root


def plain(node: Node) -> Any:
    """The tree as dictionaries, lists and text, without places."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    return {key.text: plain(value) for key, value in node.items}


def walk(node: Node) -> Iterator[Node]:
    """Every node below and including ``node``."""
    yield node
    children = node.items if isinstance(node, Sequence) else ()
    if isinstance(node, Mapping):
        children = tuple(value for _, value in node.items)
    for child in children:
        yield from walk(child)


def mapping(pairs: list[tuple[Scalar, Node]], place: Place, findings: Findings) -> Mapping:
    """A mapping from pairs in file order; a key that occurs twice is a problem."""
    first: dict[str, Scalar] = {}
    kept = []
    for key, value in pairs:
        if key.text not in first:
            first[key.text] = key
            kept.append((key, value))
        else:
            findings.add(
                key.place,
                _("{name} a second time", name=quoted(key.text)),
                _("each name once (the first stands in line {line})", line=first[key.text].place[0]),
                _("take one of the two out, or give it another name."),
            )
    return Mapping(tuple(kept), place)


class _Builder:
    """Stacks up nodes from parser events."""

    def __init__(self, findings: Findings) -> None:
        self.findings = findings
        self.root: Node | None = None
        self.stopped = False
        self._open: list[tuple[type[Sequence] | type[Mapping], list[Node], Place]] = []
        self._documents = 0
        self._values = 0

    def take(self, event: yaml.Event) -> None:
        mark: Any = event.start_mark
        place = (mark.line + 1, mark.column + 1)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                mend = _("put each truss in its own file.")
                self._stop(place, _("a second document ('---')"), _("one document"), mend)
        elif isinstance(event, yaml.AliasEvent):
            mend = _("write the value out again; put a name that begins so in quotes.")
            self._refuse_name(place, _("the alias '*{name}'", name=event.anchor), mend)
            self._add(Scalar("", place))
        elif isinstance(event, yaml.NodeEvent):
            self._refuse_decorations(event, place)
            self._start(event, place)
        elif isinstance(event, yaml.CollectionEndEvent):
            self._close()

    def _refuse_decorations(self, event: Any, place: Place) -> None:
        if event.anchor is not None:
            mend = _("take the '&' and its name out; put a name that begins so in quotes.")
            self._refuse_name(place, _("the anchor '&{name}'", name=event.anchor), mend)
        if event.tag is not None:
            mend = _("take the '!' and its name out; put a name that begins so in quotes.")
            self._refuse_name(place, _("the tag {name}", name=quoted(event.tag)), mend)

    def _refuse_name(self, place: Place, found: str, mend: str) -> None:
        self.findings.add(place, found, _("plain values only"), mend)

    def _start(self, event: yaml.Event, place: Place) -> None:
        self._values += 1
        if self._values > MOST_VALUES:
            found = _("more than {count} values", count=grouped(MOST_VALUES))
            self._stop(place, found, _("a truss file"), _("take out what is not needed."))
        elif isinstance(event, yaml.ScalarEvent):
            self._add(Scalar(event.value, place))
        elif len(self._open) >= MOST_LEVELS:
            self._stop(
                place,
                _("lists nested more than {count} levels deep", count=MOST_LEVELS),
                _("three or four levels"),
                _("look for an opening bracket too many."),
            )
        else:
            self._open.append((Sequence if isinstance(event, yaml.SequenceStartEvent) else Mapping, [], place))

    def _close(self) -> None:
        shape, nodes, place = self._open.pop()
        self._add(Sequence(tuple(nodes), place) if shape is Sequence else self._mapping(nodes, place))

    def _mapping(self, nodes: list[Node], place: Place) -> Mapping:
        pairs: list[tuple[Scalar, Node]] = []
        for key, value in zip(nodes[::2], nodes[1::2], strict=True):
            if not isinstance(key, Scalar):
                found = _("a list where a name should stand")
                self.findings.add(key.place, found, _("a name before ':'"), _("check the brackets."))
            elif key.text == "<<":
                mend = _("write the values out in full.")
                self.findings.add(key.place, _("the merge key '<<'"), _("plain values only"), mend)
            else:
                pairs.append((key, value))
        return mapping(pairs, place, self.findings)

    def _add(self, node: Node) -> None:
        if self._open:
            self._open[-1][1].append(node)
        elif self.root is None:
            self.root = node

    def _stop(self, place: Place, found: str, expected: str, mend: str) -> None:
        self.findings.add(place, found, expected, mend)
        self.stopped = True


def _refused(place: Place, found: str, expected: str, mend: str) -> Refused:
    return Refused(Problem(*place, found, expected, mend))


def _place_after(text: str) -> Place:
    return text.count("\n") + 1, len(text) - text.rfind("\n")


def _syntax_problem(text: str, error: yaml.YAMLError) -> Problem:
    mark = getattr(error, "problem_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
    lines = text.split("\n")
    written = lines[line - 1].strip() if line <= len(lines) else ""
    reason = str(getattr(error, "problem", "") or "")
    if "\t" in (lines[line - 1] if line <= len(lines) else "") and "token" in reason:
        return Problem(line, column, _("a tab at the start"), _("spaces"), _("replace the tab by two spaces."))
    found = quoted(written) if written else _("the end of the file")
    found = _("{text}, which cannot be read here", text=found)
    return Problem(line, column, found, *_syntax_advice(reason, error))


def _syntax_advice(reason: str, error: yaml.YAMLError) -> tuple[str, str]:
    context = str(getattr(error, "context", "") or "")
    if "flow" in context or "expected ','" in reason:
        return (
            _("a closing bracket or a comma"),
            _("check that every [ and { on this line or just above is closed."),
        )
    if "quoted" in context:
        return _("a closing quote"), _("check that every quote is closed on its line.")
    if "expected ':'" in reason or "simple key" in context:
        return (
            _("a name, a colon, a space and a value"),
            _("write it as 'name: value', with a space after the colon."),
        )
    if "mapping values" in reason:
        return (
            _("one name, a colon, a space and a value in each line"),
            _("look at this line and the one above: a space may be missing after a colon, or a colon may be too many."),
        )
    if "block mapping" in context or "block collection" in context or "indent" in reason:
        return _("lines of one block starting in the same column"), _("line it up with the lines above.")
    return _("'name: value' lines"), _("compare the line with the example in the help.")
