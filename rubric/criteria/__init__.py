"""The kinds of criterion, one file each: its options, its check, and the page a teacher reads.

To add a kind, write its file like the others and name it in ``AnyCriterion``.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from rubric.criteria.count import Count
from rubric.criteria.judgement import Judgement
from rubric.criteria.place import Place
from rubric.criteria.scale import Scale
from rubric.criteria.share_of_par import ShareOfPar
from rubric.criteria.steps import Steps
from rubric.criteria.threshold import Threshold
from rubric.criteria.working import Working

AnyCriterion = Annotated[
    Threshold | Steps | Scale | ShareOfPar | Count | Place | Working | Judgement, Field(discriminator="kind")
]

KINDS = (Threshold, Steps, Scale, ShareOfPar, Count, Place, Working, Judgement)
