"""Copied work: what two trusses have in common, told apart from what everybody makes.

``fingerprint``  a truss without names, order, place, size and sticks
``match``        two fingerprints laid over each other; how alike they are
``rarity``       how rare it is what they share; what a copy is and what a common solution
``suspects``     the pairs of many works that a teacher should look at
"""

from worker.likeness.fingerprint import fingerprint as fingerprint
from worker.likeness.match import likeness as likeness
from worker.likeness.suspects import compare as compare
from worker.likeness.suspects import suspects as suspects
