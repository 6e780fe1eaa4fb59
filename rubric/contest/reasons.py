"""Why a bridge is not ranked: kept as a word and its values, and said in the language of whoever reads it.  Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from rubric.evidence import Evidence
from rubric.language import _, later
from rubric.rules.entry import Condition
from rubric.wording import amount

DISQUALIFIED, NOT_ELIGIBLE = "disqualified", "not eligible"

TEXTS = {
    DISQUALIFIED: later("disqualified: {why}"),
    "not weighed": later("not weighed"),
    "not tested": later("not tested"),
    "nothing predicted": later("no load was predicted for it"),
    "over the mass": later("over the mass: {mass}, and a bridge may have {limit}"),
    "far over the mass": later("over the mass: {mass}, and from {limit} on none is ranked"),
}
"""What is kept, and what people read."""


@dataclass(frozen=True)
class Reason:
    """One of :data:`TEXTS` or ``not eligible``, with plain values; the coordinator's own words are among them."""

    what: str
    values: Mapping[str, Any] = field(default_factory=dict)

    def __str__(self) -> str:
        """In words, in the language of the moment."""
        if self.what == NOT_ELIGIBLE:
            return _("not eligible: {why}", why=self._unmet())
        values = {
            name: amount(value, "g") if name in ("mass", "limit") else value for name, value in self.values.items()
        }
        return _(TEXTS[self.what], **values)

    def _unmet(self) -> str:
        bounds = {name: self.values.get(name) for name in ("at_least", "at_most")}
        condition = Condition.model_construct(measure=self.values["measure"], **bounds)
        return condition.why(Evidence(measures={condition.measure: self.values.get("found")}))

    @property
    def kept(self) -> dict[str, Any]:
        """As it is kept with a published list."""
        return {"what": self.what, **self.values}


def not_eligible(condition: Condition, evidence: Evidence) -> Reason:
    """That a condition of entry does not hold."""
    values = {"measure": condition.measure, "found": evidence.measures.get(condition.measure)}
    bound = {"at_least": condition.at_least} if condition.at_least is not None else {"at_most": condition.at_most}
    return Reason(NOT_ELIGIBLE, {**values, **bound})


def reason_of(line: Mapping[str, Any]) -> str:
    """Why a line of a published list has no place, in the language of the moment; nothing where it has one.

    Lists of earlier days hold one English sentence in its place, which is given as it is.
    """
    kept = dict(line.get("reason") or {})
    what = kept.pop("what", "")
    if what in TEXTS or what == NOT_ELIGIBLE:
        return str(Reason(what, kept))
    return str(line["not ranked"])
