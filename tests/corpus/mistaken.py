"""Files with mistakes, and hostile ones, as pupils and strangers hand them in.

``CASES`` holds each file with its name; what Kingpost says to it stands, word for word, in
``mistaken.txt`` beside this module, and is read by a person before it is changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Case:
    """One file; ``with_brief`` is whether it is read as a file of a class (brief 'footbridge')."""

    name: str
    data: bytes
    with_brief: bool = True


CASES: list[Case] = []


def case(name: str, data: str | bytes, with_brief: bool = True) -> None:
    CASES.append(Case(name, data.encode() if isinstance(data, str) else data, with_brief))


def expected() -> dict[str, list[str]]:
    """The wording of every problem, by name of the case."""
    said: dict[str, list[str]] = {}
    for line in Path(__file__).with_suffix(".txt").read_text(encoding="utf-8").split("\n"):
        if line.startswith("## "):
            said[line[3:]] = []
        elif line:
            next(reversed(said.values())).append(line)
    return said


G = """joints:
  a: [0, 0]
  b: [300, 0]
  c: [600, 0]
  d: [300, 150]
members:
  a-b: square5
  b-c: square5
  a-d: square5
  d-c: square5
  b-d: square3
"""
J = "joints: {a: [0, 0], b: [300, 0], c: [600, 0], d: [300, 150]}\n"
M = "members: {a-b: square5, b-c: square5, a-d: square5, d-c: square5, b-d: square3}\n"
# --- not a truss file at all
case("an empty file", "")
case("nothing but spaces and line ends", "  \n\n  \n")
case("a picture", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR")
case("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj")
case("a zip archive", b"PK\x03\x04\x14\x00\x00\x00\x08\x00")
case("text saved as UTF-16", G.encode("utf-16"))
case("text saved as Latin-1", "title: Brücke\n".encode("latin-1") + G.encode())
case("a NUL among the text", G.replace("square3", "squ\0are3"))
case("an escape sequence in the title", "title: \x1b[31mred\n" + G)
case("64 KB and one byte more", G + "#" * (64 * 1024 + 1 - len(G)))
case("a sentence", "I did not know how to do this, sorry")
case("a list", "- a\n- b\n")
case("HTML", "<html><body><script>alert(1)</script></body></html>")
case("JSON with a comma too many", '{"joints": {"a": [0, 0],, "b": [1, 0]}}')
# --- YAML that is refused
case("an anchor and its alias", J.replace("a: [0, 0]", "a: &o [0, 0]") + "members: {a-b: *o}\n")
case("aliases that would grow without end", "a: &a [x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n")
case("a tag that would run code", "title: !!python/object/apply:os.system ['echo hi']\n" + G)
case("a tag of a plain type", G.replace("[0, 0]", "[!!int 0, 0]"))
case("a merge key", "joints:\n  <<: {a: [0, 0]}\n  b: [300, 0]\n" + M)
case("a key twice", "title: one\ntitle: two\n" + G)
case("a joint twice", G.replace("  d: [300, 150]", "  d: [300, 150]\n  d: [300, 160]"))
case("two documents", G + "---\n" + G)
case("thirteen levels of lists", "title: " + "[" * 13 + "]" * 13 + "\n" + G)
case("two thousand opening brackets", "title: " + "[" * 2000 + "\n" + G)
case("a bracket that is not closed", G.replace("[300, 150]", "[300, 150"))
case("a quote that is not closed", 'title: "The long one\n' + G)
case("a tab in place of spaces", G.replace("  a: [0, 0]", "\ta: [0, 0]"))
case("no space after the colon", G.replace("a-b: square5", "a-b:square5"))
case("a line too far to the left", G.replace("  b: [300, 0]", " b: [300, 0]"))
case("two colons in a line", G.replace("a-b: square5", "a-b: square5: x2"))
case("a list as a key", "? [a, b]\n: 3\n" + G)
case("a key without a name", ": 3\n" + G)
# --- blocks
case("a block misspelt", G.replace("joints", "jonits"))
case("a block in capitals", G.replace("members", "MEMBERS"))
case("an unknown block", "colour: red\n" + G)
case("no members", J)
case("empty blocks", "joints: {}\nmembers: {}\n")
case("joints without anything below", "joints:\n" + M)
case("joints as a list", "joints: [a, b]\n" + M)
case("a unit that is not known", "units: feet\n" + G)
case("a title that is a list", "title: [My, bridge]\n" + G)
case("a title of 500 letters", "title: " + "x" * 500 + "\n" + G)
case("supports in a class file", G + "supports: {a: pin, c: roller}\n")
case("loads in a class file", G + "loads: {b: [0, -200]}\n")
# --- joints
case("three coordinates", G.replace("[300, 150]", "[300, 150, 0]"))
case("one coordinate", G.replace("[300, 150]", "[300]"))
case("coordinates without brackets", G.replace("[300, 150]", "300"))
case("a decimal comma", G.replace("[300, 150]", "[300,5, 150,5]"))
case("a decimal comma in quotes", G.replace("[300, 150]", "['300,5', 150]"))
case("a letter in place of nought", G.replace("[300, 150]", "[3OO, 150]"))
case("not a number", G.replace("[300, 150]", "[.nan, 150]"))
case("an infinite value", G.replace("[300, 150]", "[300, .inf]"))
case("a number with an underscore", G.replace("[300, 150]", "[3_00, 150]"))
case("a number in base 16", G.replace("[300, 150]", "[0x12C, 150]"))
case("a leading nought", G.replace("[300, 150]", "[0300, 150]"))
case("Arabic digits", G.replace("[300, 150]", "[\u0663\u0660\u0660, 150]"))
case("a number of absurd size", G.replace("[300, 150]", "[1e300, 150]"))
case("a joint beyond ten kilometres", G.replace("[300, 150]", "[300, 99999999]"))
case("a unit that is not a length", G.replace("[300, 150]", "[300 N, 150]"))
case("two joints at one place", G.replace("  d: [300, 150]", "  d: [300, 150]\n  e: [300, 150]"))
case("a name with a space", G.replace("  d: [300, 150]", "  d 1: [300, 150]"))
case("a name with a dash", G.replace("  d: [300, 150]", "  d-1: [300, 150]"))
case("a name that turns the line round", G.replace("  d: [300, 150]", '  "d\u202e": [300, 150]'))
case("a name of 60 letters", G.replace("  d: [300, 150]", "  d: [300, 150]\n  " + "n" * 60 + ": [10, 10]"))
case(
    "201 joints", "joints:\n" + "".join(f"  j{i}: [{i}, {i % 7}]\n" for i in range(201)) + "members: {j0-j1: square5}\n"
)
# --- members
case("a member to a joint that is not there", G.replace("a-b: square5", "a-q: square5"))
case(
    "a joint misspelt in a member",
    G.replace("  d: [300, 150]", "  deck1: [300, 150]").replace("-d", "-dekc1").replace("d-c", "deck1-c"),
)
case("a member from a joint to itself", G.replace("b-d: square3", "b-b: square3"))
case("a member the other way round", G + "  b-a: square5\n")
case("the same member again", G + "  a-b: square3\n")
case("a member with one end", G.replace("b-d: square3", "b: square3"))
case("a member with three ends", G.replace("b-d: square3", "a-b-d: square3"))
case("a member without a stick", G.replace("b-d: square3", "b-d:"))
case("a stick that is not in the kit", G.replace("b-d: square3", "b-d: sqare3"))
case("seven sticks side by side", G.replace("b-d: square3", "b-d: square3 x7"))
case("no space before the count", G.replace("a-d: square5", "a-d: square5x2"))
case("words after the stick", G.replace("b-d: square3", "b-d: square3 doubled"))
case("area and modulus in a class file", G.replace("b-d: square3", "b-d: {area: 25 mm2, modulus: 3 GPa}"))
case(
    "601 members",
    "joints:\n"
    + "".join(f"  j{i}: [{i}, {i * i % 97}]\n" for i in range(40))
    + "members:\n"
    + "".join(f"  j{i}-j{k}: square5\n" for i, k in [(i, k) for i in range(40) for k in range(i)][:601]),
)
# --- what the brief needs
case(
    "no joint under the load",
    "joints: {a: [0, 0], c: [600, 0], d: [300, 150]}\nmembers: {a-c: square5, a-d: square5, d-c: square5}\n",
)
case("a support missed by a little", G.replace("c: [600, 0]", "c: [598, 0]"))
case("centimetres meant but not said", "joints: {a: [0, 0], b: [30, 0], c: [60, 0], d: [30, 15]}\n" + M)
# --- working by hand
case("working with an unknown part", G + "working: {recations: {a: 50 up}}\n")
case("a reaction without a direction", G + "working: {reactions: {a: 50}}\n")
case("a force without T or C", G + "working: {forces: {a-b: 80}}\n")
case("working for a member that is not there", G + "working: {forces: {a-c: 80 T}}\n")
case("working for a joint that is not there", G + "working: {reactions: {f: 50 up}}\n")
case("working for a member twice", G + "working: {forces: {a-b: 62.5 T, b-a: 60 T}}\n")
case("a reaction with one direction twice", G + "working: {reactions: {a: 50 up 20 down}}\n")
case("a zero member that is not there", G + "working: {zero members: [a-c, b-d]}\n")
case("zero members with numbers", G + "working: {zero members: {b-d: 3}}\n")
# --- tables
case("a row of an unknown kind", "joint,a,0,0\njiont,b,300,0\nmember,a-b,square5\n")
case("a row too short", "joint,a,0\nmember,a-b,square5\n")
case("a cell too many", "joint,a,0,0\njoint,b,1,0\nmember,a-b,square5,x2,thick\n")
case("a quote left open in a table", 'title,"My bridge\njoint,a,0,0\n')
case("decimal commas in a table of semicolons", "joint;a;0;0\njoint;b;300,5;0\nmember;a-b;square5\n")
case("a formula in a cell", "joint,a,=1+1,0\njoint,b,300,0\nmember,a-b,square5\n")
case("a joint twice in a table", "joint,a,0,0\njoint,a,300,0\nmember,a-b,square5\n")
# --- files that stand alone
S = "joints: {A: [0, 0], B: [4, 0], C: [2, 3]}\nmembers:\n  A-B:\n  A-C:\n  B-C:\n"
case("no supports", S + "loads: {C: [0, -20]}\n", False)
case("a support of an unknown kind", S + "supports: {A: pinn, B: roller}\n", False)
case("a roller with words for its slope", S + "supports: {A: pin, B: roller steep}\n", False)
case("a support at no joint", S + "supports: {A: pin, X: roller}\n", False)
case("a load at no joint", S + "supports: {A: pin, B: roller}\nloads: {D: [0, -20]}\n", False)
case("a load with a unit of length", S + "supports: {A: pin, B: roller}\nloads: {C: [0, -20 mm]}\n", False)
case(
    "an area without a unit",
    S.replace("A-B:", "A-B: {area: 100, modulus: 3 GPa}") + "supports: {A: pin, B: roller}\n",
    False,
)
case(
    "an area below nothing",
    S.replace("A-B:", "A-B: {area: -100 mm2, modulus: 3 GPa}") + "supports: {A: pin, B: roller}\n",
    False,
)
case("an unknown property", S.replace("A-B:", "A-B: {aera: 100 mm2}") + "supports: {A: pin, B: roller}\n", False)
F = S + "supports: {A: pin, B: roller}\n"
case("misfits in a class file", G + "misfits: {a-b: 1 mm}\n")
case("a misfit of a member that is not there", F + "misfits: {A-D: 1 mm}\n", False)
case("a misfit in words", F + "misfits: {A-B: a little}\n", False)
case("a misfit with a unit of force", F + "misfits: {A-B: 1 N}\n", False)
case("the length of a member as its misfit", F + "misfits: {A-B: 4}\n", False)
case("a misfit without a number", F + "misfits:\n  A-B:\n", False)
case("misfits without anything below", F + "misfits: 2 mm\n", False)
case(
    "a misfit without its member in a table",
    "joint,A,0,0\njoint,B,4,0\nmember,A-B\nsupport,A,pin\nmisfit,2 mm\n",
    False,
)
Z = (
    "joints: {A: [3, 0, 0], B: [0, 3, 0], C: [-3, -3, 0], D: [0, 0, 4]}\nmembers:\n  A-D:\n  B-D:\n  C-D:\n"
    "supports: {A: pin, B: pin, C: pin}\n"
)
case("one joint of a space truss without its z", Z.replace("[0, 0, 4]", "[0, 0]") + "misfits: {A-D: 0.1}\n", False)
case("one joint of a plane truss with a z", F.replace("[2, 3]", "[2, 3, 0]"), False)
case("a space truss in words", Z.replace("[0, 0, 4]", "top"), False)
case("a load in the plane on a space truss", Z + "loads: {D: [0, -20]}\n", False)
case("a settlement in the plane of a space truss", Z + "settlements: {A: [0, -2 mm]}\n", False)
case("a roller on a slope in space", Z.replace("C: pin", "C: roller 30"), False)
case("a support that holds no axis", Z.replace("C: pin", "C: holds w"), False)
case("a support that holds an axis twice", Z.replace("C: pin", "C: holds x x"), False)
case("a support that holds and says not what", Z.replace("C: pin", "C: holds"), False)
case("a support of the plane that names its axes", F.replace("roller", "holds y"), False)
case(
    "many mistakes at once",
    "titel: x\njoints:\n  a: [0, 0]\n  b: [1_0, 0]\n  b c: [3, 0]\n"
    "members:\n  a-b: steel\n  a-q: square5\n  a-a: square5\nsupports: {a: pin}\n",
)
