"""The words of the trade, each said for somebody of twelve.  One table: pages link to it, nothing says it twice."""

from __future__ import annotations

from dataclasses import dataclass

from rubric.language import _, later


@dataclass(frozen=True)
class Word:
    """A word, what it means, and the other forms in which a sentence may have it."""

    name: str
    meaning: str
    forms: tuple[str, ...] = ()

    @property
    def said(self) -> str:
        """The word in the language of the moment."""
        return _(self.name)

    @property
    def means(self) -> str:
        """What it means, in the language of the moment."""
        return _(self.meaning)

    @property
    def also(self) -> tuple[str, ...]:
        """Its other forms in the language of the moment."""
        return tuple(map(_, self.forms))

    @property
    def key(self) -> str:
        """What an address ends with."""
        return "".join(c if c.isalnum() else "-" for c in self.name.lower()).replace("--", "-")


WORDS: tuple[Word, ...] = (
    Word(
        later("truss"),
        later("A frame of straight sticks that form triangles. A triangle keeps its shape when you push it."),
    ),
    Word(
        later("joint"),
        later("A point where sticks meet and are glued. In the file it has a name and a place."),
        (later("joints"),),
    ),
    Word(later("member"), later("One straight piece between two joints. It is cut from a stick."), (later("members"),)),
    Word(later("deck"), later("The level line that carts roll on. It is the line where y is 0.")),
    Word(later("span"), later("How far it is from one support to the other.")),
    Word(later("midspan"), later("The middle of the bridge, half-way between the supports.")),
    Word(later("support"), later("What the end of a bridge rests on: a pin or a roller."), (later("supports"),)),
    Word(later("pin"), later("A support that holds a joint in place. The joint can still turn there.")),
    Word(
        later("roller"),
        later("A support that holds a joint up, but lets it slide. So the bridge is free to get a bit longer."),
    ),
    Word(later("load"), later("What the bridge must carry. It pulls down, and is given in newtons.")),
    Word(
        later("reaction"), later("The push of a support on the bridge. It holds the bridge up."), (later("reactions"),)
    ),
    Word(
        later("side truss"),
        later("A bridge has a truss on each side, like two walls. You draw one of them. The other one is the same."),
        (later("side trusses"),),
    ),
    Word(
        later("newton (N)"),
        later("What a force is counted in. An apple of 100 g pulls down with about 1 N."),
        (later("newtons"), later("N")),
    ),
    Word(
        later("tension (T)"),
        later("A pull. The member wants to get longer. We write it with a plus."),
        (later("tension"),),
    ),
    Word(
        later("compression (C)"),
        later("A push. The member wants to get shorter. We write it with a minus."),
        (later("compression"),),
    ),
    Word(
        later("zero member"),
        later("A member with no force in it while this load hangs there."),
        (later("zero members"),),
    ),
    Word(
        later("strut"),
        later("A member that is pushed from both ends."),
        (later("struts"), later("pushed members"), later("pushed member")),
    ),
    Word(
        later("buckle"),
        later(
            "What a long thin stick does when you push its ends: it bows out and gives way. Half as long, it takes up "
            "to four times the push."
        ),
        (later("buckles"), later("buckling")),
    ),
    Word(
        later("slenderness"),
        later("How long a member is for how thick it is. A high number means long and thin: it will buckle soon."),
    ),
    Word(later("stress"), later("The force on each square millimetre of wood. In a thick stick it is low.")),
    Word(later("MPa"), later("What stress is counted in: 1 MPa is 1 N on each square millimetre.")),
    Word(later("strength"), later("The most stress that the wood can take before it breaks."), (later("strengths"),)),
    Word(
        later("Young's modulus"),
        later("How stiff the wood is. With a high number a stick bends and stretches less under the same force."),
    ),
    Word(later("density"), later("How heavy the wood is for its size.")),
    Word(later("shear"), later("Sliding apart, like two cards pushed past each other. Glue lets go in this way.")),
    Word(later("lap"), later("How much of a stick's end is covered with glue at a joint.")),
    Word(later("gusset"), later("A thin plate glued over a joint, so that more glue holds."), (later("gussets"),)),
    Word(
        later("utilisation"),
        later("How full a member is: its force as a share of what it can take. At 100 % it is about to fail."),
    ),
    Word(later("failure load"), later("The load on the whole bridge at which its first member fails.")),
    Word(later("efficiency"), later("How many times its own weight the bridge can carry. The board is in this order.")),
    Word(
        later("mechanism"),
        later("A frame that can move without any member getting longer or shorter. It cannot carry a load."),
    ),
    Word(later("cross members"), later("Pieces that tie the two side trusses together. You do not design them.")),
    Word(later("kit"), later("The sticks that you may use.")),
    Word(later("brief"), later("What the bridge must do, and the limits it must keep.")),
    Word(later("rubric"), later("How points are given.")),
)
