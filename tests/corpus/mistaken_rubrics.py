"""Rubrics as teachers get them wrong, each with one mistake or a few.

``CASES`` holds each file with its name; what Kingpost says to it stands, word for word, in
``mistaken_rubrics.txt`` beside this module, and is read by a person before it is changed.
"""

from __future__ import annotations

from pathlib import Path

CASES: dict[str, bytes] = {}

MASS = "{name: a, kind: threshold, measure: mass, at most: 60 g, points: 5}"


def whole(name: str, text: str) -> None:
    """A whole file."""
    assert name not in CASES, name
    CASES[name] = text.encode()


def one(name: str, criterion: str, before: str = "") -> None:
    """A rubric with one criterion, and keys before the list."""
    whole(name, f"title: T\n{before}criteria:\n  - {criterion}\n")


def rule(name: str, line: str, criteria: str = MASS) -> None:
    """A sound criterion under a line that is not sound."""
    one(name, criteria, f"{line}\n")


def expected() -> dict[str, list[str]]:
    """The wording of every problem, by name of the case."""
    said: dict[str, list[str]] = {}
    for line in Path(__file__).with_suffix(".txt").read_text(encoding="utf-8").split("\n"):
        if line.startswith("## "):
            said[line[3:]] = []
        elif line:
            next(reversed(said.values())).append(line)
    return said


def criterion(kind: str, keys: str, points: str = "points: 5") -> str:
    return f"{{name: a, kind: {kind}, {keys}, {points}}}"


# --- the file as a whole
whole("nothing but a title", "title: T\n")
whole("a list that is empty", "title: T\ncriteria: []\n")
whole("words in place of criteria", "title: T\ncriteria: 20 points for a nice bridge\n")
whole("no title", f"criteria:\n  - {MASS}\n")
whole("a key that is not known", f"title: T\nouf of: 5\ncriteria:\n  - {MASS}\n")
whole("points that do not add up", f"title: T\nout of: 10\ncriteria:\n  - {MASS}\n")
whole("two criteria of one name", f"title: T\ncriteria:\n  - {MASS}\n  - {MASS}\n")
whole("nothing but a bonus", f"title: T\ncriteria:\n  - {MASS[:-1]}, bonus: yes}}\n")
# --- any criterion
one("no kind", "{name: a, measure: mass, at most: 60 g, points: 5}")
one("a kind that is not known", criterion("treshold", "measure: mass, at most: 60 g"))
one("no points", "{name: a, kind: threshold, measure: mass, at most: 60 g}")
one("points below nought", criterion("threshold", "measure: mass, at most: 60 g", "points: -5"))
one("points in words", criterion("threshold", "measure: mass, at most: 60 g", "points: five"))
one("a weight without a sum to share", criterion("threshold", "measure: mass, at most: 60 g", "weight: 2"))
one("weight and points", criterion("threshold", "measure: mass, at most: 60 g, weight: 2"), "out of: 5\n")
one("a weight of nought", criterion("threshold", "measure: mass, at most: 60 g", "weight: 0"), "out of: 5\n")
whole("no points left for the weights",
      f"title: T\nout of: 5\ncriteria:\n  - {MASS}\n  - {{name: b, kind: count, of: joints, at most: 9, weight: 1}}\n")  # fmt: skip
one("bonus and deduct", criterion("threshold", "measure: mass, at most: 60 g, bonus: yes, deduct: yes"))
one("a bonus of some kind", criterion("threshold", "measure: mass, at most: 60 g, bonus: maybe"))
# --- threshold
one("a measure that is not known", criterion("threshold", "measure: masss, at most: 60 g"))
one("no number to reach", criterion("threshold", "measure: mass"))
one("at least and at most", criterion("threshold", "measure: mass, at least: 1 g, at most: 60 g"))
one("a formula", criterion("threshold", "measure: mass, at most: 2*30"))
one("a unit of another thing", criterion("threshold", "measure: mass, at most: 60 mm"))
one("a share without its sign", criterion("threshold", "measure: kit used, at most: 0.9"))
# --- scale
one("a scale with one number", criterion("scale", "measure: mass, earns: {60 g: 5}"))
one("a scale that runs backwards", criterion("scale", "measure: mass, earns: {60 g: 0, 20 g: 5}"))
one("a scale worth more than its points", criterion("scale", "measure: mass, earns: {20 g: 9, 60 g: 0}"))
one("a scale that is a number", criterion("scale", "measure: mass, earns: 5"))
one("a scale with a part over the whole", criterion("scale", "measure: mass, earns: {20 g: 120 %, 60 g: 0}"))
# --- steps
BANDS = "measure: efficiency, bands: [{}]"
one("bands with a gap at the foot", criterion("steps", BANDS.format(
    "{from: 100, words: heavy, points: 0}, {from: 300, words: light, points: 5}")))  # fmt: skip
one("bands that overlap", criterion("steps", BANDS.format(
    "{from: 0, words: heavy, points: 0}, {from: 300, words: light, points: 5}, {from: 300, words: feather, points: 4}")))  # fmt: skip
one("bands with an end", criterion("steps", BANDS.format(
    "{from: 0, to: 200, words: heavy, points: 0}, {from: 300, words: light, points: 5}")))  # fmt: skip
one("one band alone", criterion("steps", BANDS.format("{from: 0, words: heavy, points: 5}")))
one("a band without words", criterion("steps", BANDS.format(
    "{from: 0, points: 0}, {from: 300, words: light, points: 5}")))  # fmt: skip
one("bands worth less than the points", criterion("steps", BANDS.format(
    "{from: 0, words: heavy, points: 0}, {from: 300, words: light, points: 4}")))  # fmt: skip
# --- share of par
one("a share of par upside down", criterion("share of par", "none at: 60 %, full at: 10 %"))
one("more than par", criterion("share of par", "full at: 120 %"))
# --- count
one("a thing that cannot be counted", criterion("count", "of: mass, at most: 5"))
one("a thing misspelt", criterion("count", "of: joint, at most: 5"))
one("a count without a number", criterion("count", "of: joints"))
one("half a joint", criterion("count", "of: joints, at most: 5.5"))
one("each one over takes more than all", criterion("count", "of: joints, at most: 5, each takes: 6"))
# --- place
PLACE = criterion("place", "earns: {1: 5, 2: 3, 10: 0}")
one("a place with marks released at once", PLACE)
one("a place with marks released at once, outright", PLACE, "release: at once\n")
one("places that begin with the second", criterion("place", "earns: {2: 5, 3: 4}"), "release: by hand\n")
one("a later place that earns more", criterion("place", "earns: {1: 5, 2: 3, 3: 4}"), "release: by hand\n")
one("a place among nobody", criterion("place", "among: school, earns: {1: 5}"), "release: by hand\n")
# --- working
one("something else to work out", criterion("working", "asks: [forcs]"))
one("senses beside forces", criterion("working", "asks: [senses, forces]"))
one("the same asked twice", criterion("working", "asks: [forces, forces]"))
one("a tolerance over the whole", criterion("working", "asks: forces, within: 200 %"))
# --- judgement
one("nothing to look for", "{name: a, kind: judgement, points: 5}")
one("a judgement with a key of another kind", criterion("judgement", "look for: x, measure: mass"))
one(
    "two levels of the same points",
    criterion("judgement", "look for: x, levels: [{words: y, points: 5}, {words: z, points: 5}]"),
)
one("a judgement that deducts", criterion("judgement", "look for: x, deduct: yes"))
# --- own words
SAY = "measure: mass, at most: 60 g, say: {{{}}}"
one("a placeholder misspelt", criterion("threshold", SAY.format("earned: 'Yes, {sene}!'")))
one("a placeholder that reaches for more", criterion("threshold", SAY.format("earned: '{seen.__class__}'")))
one("a brace that is not closed", criterion("threshold", SAY.format("earned: 'Yes, {seen!'")))
one("words for a case that is not known", criterion("threshold", SAY.format("lost: 'No.'")))
# --- entry
rule("an entry condition without an end", "entry: [{measure: mass, at most: 60 g}]")
rule("an entry condition that ends in something else", "entry: [{measure: mass, at most: 60 g, if not: half}]")
rule("an entry condition on nothing", "entry: [{measure: weight, at most: 60 g, if not: zero}]")
rule("entry that is no list", "entry: stable")
# --- lateness
rule("lateness that never ends", "lateness: {per day: 10 %}")
rule("lateness by nothing", "lateness: {most: 30 %}")
rule("lateness by day and by hour", "lateness: {per day: 10 %, per hour: 1 %, most: 30 %}")
rule("lateness in parts with an end in points", "lateness: {per day: 10 %, most: 2 points}")
rule("lateness that ends before it begins", "lateness: {per day: 10 %, most: 5 %}")
rule("lateness without a unit", "lateness: {per day: 10, most: 30}")
rule("a grace without end", "lateness: {grace: soon, per day: 10 %, most: 30 %}")
# --- attempts, release, rounding, bounds
rule("no attempts", "attempts: {most: 0}")
rule("attempts that count on average", "attempts: {counts: average}")
rule("a wait in words", "attempts: {wait: a while}")
rule("release on a day", "release: Friday")
rule("rounding to nought", "round to: 0")
rule("a least mark above all there is", "least: 6")
rule("a least mark below nought", "least: -2")
rule("a most that nobody can earn", "most: 50")
