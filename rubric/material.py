"""The wood of a brief: which one, its values, at which level they count and how much they scatter."""

from __future__ import annotations

import re
from statistics import NormalDist
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from rubric.language import _, later
from rubric.problems import quoted
from rubric.quantities import number
from rubric.shapes import Density, Part, Shape, Stress, Words, choice, fault
from rubric.spelling import did_you_mean
from rubric.woods import LAW_RANGES_KG_M3, WOODS
from rubric.written import DECIMAL, reads, text_like


def _level(value: Any) -> str:
    text = " ".join(str(value).split())
    if text == "mean":
        return text
    match = re.fullmatch(r"(\S+) ?% fractile", text)
    percent = number(match[1]) if match else None
    if percent is None or not 0.1 <= percent <= 50:
        raise fault(
            quoted(text),
            _("'mean' or a fractile from 0.1 % to 50 %"),
            _("write for example 'strength level: 5 % fractile'."),
        )
    return f"{percent:.15g} % fractile"


_LEVEL = text_like(rf"(?:mean|{DECIMAL} ?% +fractile)")


class Scatter(Shape):
    """How much each property varies from stick to stick, as standard deviation over mean."""

    tension: Part | None = Field(None, description=later("the scatter of tensile strength"), examples=["25 %"])
    compression: Part | None = Field(None, description=later("the scatter of crushing strength"), examples=["18 %"])
    shear: Part | None = Field(None, description=later("the scatter of shear strength"), examples=["14 %"])
    modulus: Part | None = Field(None, description=later("the scatter of Young's modulus"), examples=["22 %"])
    density: Part | None = Field(None, description=later("the scatter of density"), examples=["10 %"])
    glue: Part | None = Field(None, description=later("the scatter of glued joints"), examples=["15 %"])
    distribution: Annotated[Literal["lognormal", "normal"], choice("lognormal", "normal")] = Field(
        "lognormal", description=later("how values are spread around the mean"), examples=["lognormal"]
    )


class Wood(Shape):
    """The wood; values left out are the published means of the material, or follow its density."""

    material: Words = Field(description=later("the wood of the sticks"), examples=["balsa"])
    density_kg_m3: Density | None = Field(None, description=later("a density"), examples=["160 kg/m3"])
    modulus_MPa: Stress | None = Field(None, description=later("Young's modulus along the grain"), examples=["3.4 GPa"])
    tension_MPa: Stress | None = Field(None, description=later("tensile strength"), examples=["20 MPa"])
    compression_MPa: Stress | None = Field(None, description=later("crushing strength"), examples=["14.9 MPa"])
    shear_MPa: Stress | None = Field(None, description=later("shear strength along the grain"), examples=["2.1 MPa"])
    bending_MPa: Stress | None = Field(None, description=later("bending strength"), examples=["21.6 MPa"])
    strengths: Annotated[Literal["table", "by density"], choice("table", "by density")] = Field(
        "table", description=later("where values that are left out come from"), examples=["by density"]
    )
    strength_level: Annotated[str, reads(_level, _LEVEL)] = Field(
        "mean", description=later("the level at which strengths count"), examples=["5 % fractile"]
    )
    scatter: Scatter = Field(Scatter(), description=later("the scatter of the wood"), examples=["{tension: 25 %}"])
    column_modulus_MPa: Stress | None = Field(
        None, description=later("the modulus that the column curve uses"), examples=["2.3 GPa"]
    )

    @model_validator(mode="after")
    def _known_or_complete(self) -> Wood:
        if self.strengths == "by density":
            self._within_the_law()
        elif self.material not in WOODS and None in (self.density_kg_m3, *self._strengths):
            raise fault(
                _("the material {word}, whose values are not known", word=quoted(self.material)),
                _("a wood of the table, or all of density, modulus, tension, compression and shear"),
                did_you_mean(self.material, WOODS),
            )
        return self

    @model_validator(mode="after")
    def _something_is_left(self) -> Wood:
        """A normal distribution reaches below nought where it is wide and the fractile low."""
        own = (
            self.scatter.tension,
            self.scatter.compression,
            self.scatter.shear,
            self.scatter.modulus,
            self.scatter.glue,
        )
        widest = max(value for value in (*own, 0.0) if value is not None)
        if self.scatter.distribution == "normal" and self.fractile is not None:
            left = 1 + NormalDist().inv_cdf(self.fractile) * widest
            if left <= 0:
                raise fault(
                    _(
                        "a normal scatter of {widest}, which leaves no strength at the {strength_level}",
                        widest=f"{widest:.0%}",
                        strength_level=self.strength_level,
                    ),
                    _("a strength above nought"),
                    _("write 'distribution: lognormal', or a smaller scatter."),
                )
        return self

    @property
    def _strengths(self) -> tuple[float | None, ...]:
        return self.modulus_MPa, self.tension_MPa, self.compression_MPa, self.shear_MPa

    def _within_the_law(self) -> None:
        """A law holds between the densities of the woods it was found with."""
        known = WOODS.get(self.material)
        if known is None and None in (self.density_kg_m3, self.shear_MPa):
            raise fault(
                _("the material {word}, whose strengths follow its density", word=quoted(self.material)),
                _("a wood of the table, or both density and shear"),
                did_you_mean(self.material, WOODS),
            )
        density = self.density_kg_m3 or (known.density_kg_m3 if known else 0.0)
        least, most = LAW_RANGES_KG_M3[known.kind if known else "any"]
        if not least <= density <= most:
            raise fault(
                _("a density of {density} kg/m3 for strengths by density", density=f"{density:g}"),
                _(
                    "{least} to {most} kg/m3, where the law for {material} holds",
                    least=f"{least:g}",
                    most=f"{most:g}",
                    material=self.material,
                ),
                _("mend the density, or give the strengths and leave 'strengths' out."),
            )

    @property
    def fractile(self) -> float | None:
        """The part of sticks that stays below the strengths used; None where these are means."""
        return None if self.strength_level == "mean" else float(self.strength_level.split()[0]) / 100
