"""The OpenAPI file against the running application: requests made from it, good and bad ones."""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis import GenerationMode
from schemathesis.specs.openapi.checks import positive_data_acceptance

from service.api.table import OPERATIONS, Operation, openapi
from tests.service.api.conftest import WithToken
from tests.service.site import Site

GOOD, BAD = GenerationMode.POSITIVE, GenerationMode.NEGATIVE
NEEDING = [one.endpoint for one in OPERATIONS if "{" in one.path or one.query]
"""Operations of which a request can be wrong."""

EXAMPLES = 10
"""Requests of each kind for each operation."""

NUMBERS = {"class_id": 1, "assignment_id": 1, "attempt_id": 1}
"""Of what is there."""


@pytest.fixture
def api(site: Site, with_token: WithToken, unbounded: None) -> schemathesis.BaseSchema:
    """The file as served, with an attempt that is marked behind it, and a token of every scope."""
    site.hand_in(site.signed_in("Ada Fern"))
    site.work()
    found = schemathesis.openapi.from_wsgi("/api/v1/openapi.json", site.app)
    found.config.update(headers=with_token())
    return found


@pytest.mark.parametrize("endpoint", [operation.endpoint for operation in OPERATIONS])
def test_good_requests_are_answered_as_the_file_describes(api: schemathesis.BaseSchema, endpoint: str) -> None:
    answered(api, endpoint, GOOD)


@pytest.mark.parametrize("endpoint", NEEDING)
def test_bad_requests_are_refused_as_the_file_describes(api: schemathesis.BaseSchema, endpoint: str) -> None:
    answered(api, endpoint, BAD)


@pytest.mark.parametrize("operation", [one for one in OPERATIONS if "{" in one.path], ids=lambda one: one.endpoint)
def test_what_is_there_is_answered_as_the_file_describes(api: schemathesis.BaseSchema, operation: Operation) -> None:
    seen = answered(api, operation.endpoint, GOOD, there=True)
    assert operation.method == "post" or operation.status in seen


def answered(api: schemathesis.BaseSchema, endpoint: str, mode: GenerationMode, there: bool = False) -> set[int]:
    """Hold answers to requests of this kind against the file; the status of each."""
    (operation,) = (one.ok() for one in api.get_all_operations() if one.ok().definition.raw["operationId"] == endpoint)
    seen = set()
    # A text in the right shape may still be no brief, and a number nobody's: that is no fault of the file.
    left_out = [positive_data_acceptance] if operation.method == "post" else []

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
