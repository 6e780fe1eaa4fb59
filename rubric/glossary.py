"""The words of the trade, each said for somebody of twelve.  One table: pages link to it, nothing says it twice."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Word:
    """A word, what it means, and the other forms in which a sentence may have it."""

    name: str
    meaning: str
    forms: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """What an address ends with."""
        return "".join(c if c.isalnum() else "-" for c in self.name.lower()).replace("--", "-")


WORDS: tuple[Word, ...] = (
    Word("truss", "A frame of straight sticks that form triangles. A triangle keeps its shape when you push it."),
    Word("joint", "A point where sticks meet and are glued. In the file it has a name and a place.", ("joints",)),
    Word("member", "One straight piece between two joints. It is cut from a stick.", ("members",)),
    Word("deck", "The level line that carts roll on. It is the line where y is 0."),
    Word("span", "How far it is from one support to the other."),
    Word("midspan", "The middle of the bridge, half-way between the supports."),
    Word("support", "What the end of a bridge rests on: a pin or a roller.", ("supports",)),
    Word("pin", "A support that holds a joint in place. The joint can still turn there."),
    Word("roller", "A support that holds a joint up, but lets it slide. So the bridge is free to get a bit longer."),
    Word("load", "What the bridge must carry. It pulls down, and is given in newtons."),
    Word("reaction", "The push of a support on the bridge. It holds the bridge up.", ("reactions",)),
    Word(
        "side truss",
        "A bridge has a truss on each side, like two walls. You draw one of them. The other one is the same.",
        ("side trusses",),
    ),
    Word("newton (N)", "What a force is counted in. An apple of 100 g pulls down with about 1 N.", ("newtons", "N")),
    Word("tension (T)", "A pull. The member wants to get longer. We write it with a plus.", ("tension",)),
    Word(
        "compression (C)",
        "A push. The member wants to get shorter. We write it with a minus.",
        ("compression",),
    ),
    Word("zero member", "A member with no force in it while this load hangs there.", ("zero members",)),
    Word("strut", "A member that is pushed from both ends.", ("struts", "pushed members", "pushed member")),
    Word(
        "buckle",
        "What a long thin stick does when you push its ends: it bows out and gives way. Half as long, it takes up "
        "to four times the push.",
        ("buckles", "buckling"),
    ),
    Word(
        "slenderness",
        "How long a member is for how thick it is. A high number means long and thin: it will buckle soon.",
    ),
    Word("stress", "The force on each square millimetre of wood. In a thick stick it is low."),
    Word("MPa", "What stress is counted in: 1 MPa is 1 N on each square millimetre."),
    Word("strength", "The most stress that the wood can take before it breaks.", ("strengths",)),
    Word(
        "Young's modulus",
        "How stiff the wood is. With a high number a stick bends and stretches less under the same force.",
    ),
    Word("density", "How heavy the wood is for its size."),
    Word("shear", "Sliding apart, like two cards pushed past each other. Glue lets go in this way."),
    Word("lap", "How much of a stick's end is covered with glue at a joint."),
    Word("gusset", "A thin plate glued over a joint, so that more glue holds.", ("gussets",)),
    Word(
        "utilisation",
        "How full a member is: its force as a share of what it can take. At 100 % it is about to fail.",
    ),
    Word("failure load", "The load on the whole bridge at which its first member fails."),
    Word("efficiency", "How many times its own weight the bridge can carry. The board is in this order."),
    Word(
        "mechanism",
        "A frame that can move without any member getting longer or shorter. It cannot carry a load.",
    ),
    Word("cross members", "Pieces that tie the two side trusses together. You do not design them."),
    Word("kit", "The sticks that you may use."),
    Word("brief", "What the bridge must do, and the limits it must keep."),
    Word("rubric", "How points are given."),
)
