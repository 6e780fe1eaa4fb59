"""Who is in the invented school, and what each of them hands in."""

from __future__ import annotations

from dataclasses import dataclass

from service.demo.bridges import (
    FOUR_MISTAKES,
    HOSTILE,
    MARKUP,
    Depth,
    Design,
    arch,
    as_table,
    as_yaml,
    girder,
    zigzag,
)

SCHOOL = "Lantern Hill School"
COORDINATOR = "Ines Aldermoor"
TEACHER = "Tomas Quillfeather"
CONTEST = "Bridge day at Lantern Hill"


@dataclass(frozen=True)
class HandIn:
    """One file of one student."""

    student: str
    kind: str
    """What the demo means it to be, for the result table."""
    file_name: str
    text: str


@dataclass(frozen=True)
class Class:
    """A class, its ready brief and rubric, and its hand-ins in order."""

    code: str
    name: str
    ready: str
    hand_ins: tuple[HandIn, ...]

    @property
    def students(self) -> list[str]:
        """Everybody, in order of first hand-in; one more hands in nothing."""
        return [*dict.fromkeys(hand_in.student for hand_in in self.hand_ins), f"Wren Idlewood of {self.code}"]


def _foot(title: str, panels: int, depth: Depth, strong: str = "square5 x2", light: str = "square5") -> Design:
    return girder(title, 600, panels, depth, bottom=light, top=strong, vertical="square3", diagonal=light)


def _market(title: str, panels: int, depth: float, strong: str = "square4 x2", light: str = "square4") -> Design:
    return girder(title, 800, panels, depth, bottom=light, top=strong, vertical=light, diagonal=light)


def _files(rows: list[tuple[str, str, str, str]]) -> tuple[HandIn, ...]:
    return tuple(HandIn(*row) for row in rows)


def classes() -> list[Class]:
    """Two classes with 44 hand-ins between them."""
    return [
        Class("8B", "8B", "footbridge", _files(_eighth())),
        Class("11A", "11A", "market-bridge", _files(_eleventh())),
    ]


def _eighth() -> list[tuple[str, str, str, str]]:
    bow = _foot("Bow over the stream", 4, arch(140)).with_sticks({"t1-b2": "square3", "b2-t3": "square3"})
    lean = _foot("Four panels, one square", 4, 120)
    good = _foot("Heron girder", 4, 120)
    working = "working:\n  reactions: {b0: 50 up, b4: 50 up}\n  forces: {b0-b1: 62.5 T, b0-t1: 80 C, b1-t1: 0}"
    saving = _foot("Light heron", 4, 120).with_sticks({f"b{i}-b{i + 1}": "square3" for i in range(4)})
    strong = {"bottom": "square5 x2", "top": "square5 x2", "vertical": "square5 x2", "diagonal": "square5 x2"}
    iron = girder("Iron oak", 600, 8, 175, **strong)
    zig = zigzag("Four tents", 600, 4, 110, bottom="square5", top="square5 x2", diagonal="square5 x2")
    return [
        ("Ada Fennimore", "good", "heron.yaml", as_yaml(good, working=working)),
        ("Bilal Oakhurst", "good", "bridge.csv", as_table(_foot("Kingfisher", 4, 110))),
        ("Chiara Vantongeren", "too weak yet", "first.yaml", as_yaml(_foot("First try", 4, 120, "square5"))),
        ("Chiara Vantongeren", "clever", "second.yaml", as_yaml(saving)),
        ("Dmitri Larkspur", "mechanism", "square.yaml", as_yaml(lean.without("t1-b2"))),
        ("Dmitri Larkspur", "good", "square2.yaml", as_yaml(lean)),
        ("Élodie Marchbanks", "clever", "bow.yaml", as_yaml(bow)),
        ("Farid Stonebridge", "over the limits", "tall.yaml", as_yaml(_foot("Tower", 4, 230))),
        ("Grace Nightingale-Obi", "over the limits", "heavy.yaml", as_yaml(iron)),
        ("Hana Kuroiwa", "four mistakes", "mine.yaml", FOUR_MISTAKES),
        ("Hana Kuroiwa", "good", "mine.yaml", as_yaml(_foot("Mine, mended", 4, 100))),
        ("Ivo Thistlewood", "good", "cm.yaml", as_yaml(_foot("In centimetres", 4, 130), unit="cm")),
        ("Juno Applegarth", "good", "zigzag.yaml", as_yaml(zig)),
        ("Kofi Brambleby", "mechanism", "loose.yaml", as_yaml(good.without("b2-t3", "t1-b2"))),
        ("Lena Øster", "good", "six.yaml", as_yaml(_foot("Six panels", 6, 120))),
        ("Mateo Windrush", "markup in names", "markup.yaml", MARKUP),
        ("Nadia Сокол", "too weak yet", "thin.yaml", as_yaml(_foot("Thin as a reed", 4, 120, "square3", "square3"))),
        ("Oskar Penhallow", "wrong units", "metres.yaml", as_yaml(good).replace("units: mm", "units: cm")),
        ("Priya Hollins", "good", "pratt.yaml", as_yaml(_foot("Stork", 4, 140))),
        ("Quentin Ashgrove", "hostile", "trick.yaml", HOSTILE),
        ("Rosa Meadowcroft", "good", "low.yaml", as_yaml(_foot("Low and long", 6, 90))),
        ("Sami Tidewater", "no joint under the load", "five.yaml", as_yaml(_foot("Five panels", 5, 120))),
        ("Tilda 王", "good", "eight.yaml", as_yaml(_foot("Eight panels", 8, 130))),
    ]  # fmt: skip


def _eleventh() -> list[tuple[str, str, str, str]]:
    bowed = {"bottom": "flat6", "top": "square4 x2", "vertical": "square4", "diagonal": "square4"}
    bow = girder("Bowstring", 800, 8, arch(150), **bowed)
    low = girder("Low bow", 800, 10, arch(140), **{**bowed, "top": "flat6 x2"})
    flat = girder("Six by three", 800, 8, 150, bottom="flat6", top="flat6 x2", vertical="square4", diagonal="flat6")
    zig = zigzag("Row of tents", 800, 8, 120, bottom="flat6", top="flat6 x2", diagonal="flat6")
    return [
        ("Alma Greenhalgh", "good", "market.yaml", as_yaml(_market("Market girder", 8, 150))),
        ("Bruno Castellane", "clever", "bow.yaml", as_yaml(bow)),
        ("Celeste Okonjo", "good", "flat.csv", as_table(flat)),
        ("Dario Fairweather", "too weak yet", "v1.yaml", as_yaml(_market("Version one", 6, 120, "square4"))),
        ("Dario Fairweather", "good", "v2.yaml", as_yaml(_market("Version two", 8, 140, "flat6 x2", "flat6"))),
        ("Esme Rowntree", "mechanism", "open.yaml", as_yaml(_market("Open bays", 8, 150).without("t2-b3", "b5-t6"))),
        ("Felix Umbridge", "over the limits", "wide.yaml", as_yaml(_market("Sky high", 8, 260))),
        ("Gwen Pellington", "good", "tents.yaml", as_yaml(zig)),
        ("Hugo Marlpit", "over the limits", "joints.yaml", as_yaml(_market("Many joints", 16, 150))),
        ("Iris Calloway", "good", "deep.yaml", as_yaml(_market("Deep girder", 8, 200))),
        ("Jonas Birkwater", "broken off", "half.yaml", as_yaml(_market("Half a file", 8, 150))[:330]),
        ("Kaya Sandoval", "good", "shallow.yaml", as_yaml(_market("Shallow", 10, 110))),
        ("Liam Overbrook", "good", "ten.yaml", as_yaml(_market("Ten panels", 10, 160))),
        ("Mira Solberg", "sentence", "sorry.txt", "I did not know how to do this, sorry.\n"),
        ("Mira Solberg", "good", "second.yaml", as_yaml(_market("Second thoughts", 8, 170))),
        ("Noor Haddad", "clever", "bow2.yaml", as_yaml(low)),
        ("Otto Lindqvist", "mechanism", "loose.yaml", as_yaml(flat.without("b4-t5"))),
        ("Pia Redfern", "good", "last.yaml", as_yaml(_market("Last minute", 8, 130))),
    ]  # fmt: skip
