"""What is kept, why and for how long: the one table that the page of privacy shows.

A test holds it against the tables of the database: a new column without an entry fails.
"""

from service.privacy.kept.contests import OF_CONTESTS
from service.privacy.kept.entry import GROUPS
from service.privacy.kept.pupils import OF_PUPILS
from service.privacy.kept.school import OF_SCHOOL

__all__ = ["GROUPS", "KEPT"]

KEPT = (*OF_PUPILS, *OF_CONTESTS, *OF_SCHOOL)
"""The whole table."""
