"""The OpenAPI file against the running application: requests made from it, good and bad ones."""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import ignored_auth, positive_data_acceptance

from service.api.openapi import openapi
from service.api.table import OPERATIONS
from tests.service.api.conftest import NUMBERS, WithToken
from tests.service.site import HEAVY_GIRDER, Site

GOOD, BAD = GenerationMode.POSITIVE, GenerationMode.NEGATIVE
NEEDING = [one.endpoint for one in OPERATIONS if "{" in one.path or one.query]
"""Operations of which a request can be wrong."""

EXAMPLES = 10
"""Requests of each kind for each operation."""


@pytest.fixture
def api(full: Site, with_token: WithToken, unbounded: None) -> schemathesis.BaseSchema:
    """The file as served, with something of each kind behind it, and a coordinator's token of every scope."""
    full.hand_in(full.signed_in("Ada Fern"), HEAVY_GIRDER)
    full.work()
    found = schemathesis.openapi.from_wsgi("/api/v1/openapi.json", full.app)
    found.config.update(headers=with_token(by="Cora Vale"))
    refused = found.config.checks.negative_data_rejection
    refused.expected_statuses = [*refused.expected_statuses, "413"]  # a text beyond its length is too large
    return found


def test_good_requests_are_answered_as_the_file_describes(api: schemathesis.BaseSchema) -> None:
    for operation in OPERATIONS:
        answered(api, operation.endpoint, GOOD)


def test_bad_requests_are_refused_as_the_file_describes(api: schemathesis.BaseSchema) -> None:
    for endpoint in NEEDING:
        answered(api, endpoint, BAD)


def test_what_is_there_is_answered_as_the_file_describes(api: schemathesis.BaseSchema) -> None:
    reading_first = sorted(
        OPERATIONS, key=lambda one: one.method != "get"
    )  # a mark that changes has its sheet set anew
    for operation in (one for one in reading_first if "{" in one.path):
        seen = answered(api, operation.endpoint, GOOD, there=True)
        assert operation.method == "post" or operation.status in seen, operation.endpoint


def answered(api: schemathesis.BaseSchema, endpoint: str, mode: GenerationMode, there: bool = False) -> set[int]:
    """Hold answers to requests of this kind against the file; the status of each."""
    (operation,) = (one.ok() for one in api.get_all_operations() if one.ok().definition.raw["operationId"] == endpoint)
    seen = set()
    # A text in the right shape may still be no brief, and a number nobody's: that is no fault of the file.
    left_out = [positive_data_acceptance] if operation.method == "post" else []
    # Beside a header of its own, it takes our token for one that it made up; test_programs.py tries bad ones.
    left_out += [ignored_auth]

    @settings(max_examples=EXAMPLES, phases=[Phase.generate], suppress_health_check=list(HealthCheck), deadline=None)
    @given(operation.as_strategy(generation_mode=mode))
    def holds(case: schemathesis.Case) -> None:
        if there:
            case.path_parameters = {name: NUMBERS[name] for name in case.path_parameters}
        seen.add(case.call_and_validate(excluded_checks=left_out).status_code)

    holds()
    return seen


def test_the_file_describes_each_operation_once() -> None:
    names = [one["operationId"] for path in openapi()["paths"].values() for one in path.values()]
    assert len(names) == len(set(names)) == len(OPERATIONS)
