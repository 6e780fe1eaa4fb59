"""No route takes a body, a field or a number of fields that is too large."""

from __future__ import annotations

from werkzeug.routing import Rule

from service.api.table import OPERATIONS
from tests.service.security.doors import LARGEST_ROOM, PROGRAMS, bearer, browsers, changing, counts, is_for_programs
from tests.service.site import Site, token

ROOMY = {"rosters.look", "rosters.write", "rosters.reissue", "rosters.leave", "students.look", "students.take"}
"""Routes that take more than 256 KB, because a class list or a zip comes there."""

GARBAGE = b"--x\r\n\xff\x00garbage\r\n<!ENTITY a>"
KINDS = ("multipart/form-data; boundary=x", "application/json", "text/xml", "application/x-www-form-urlencoded")
ASK_FOR_NOTHING = {f"{PROGRAMS}.{one.endpoint}" for one in OPERATIONS if one.body is None}
"""Doors for programs that ask for nothing but their address and leave out whatever else is sent, or refuse it."""


def of_another_kind(rule: Rule) -> tuple[int, ...]:
    """What a route says to a form where it takes JSON alone."""
    return (415,) if is_for_programs(rule) else ()


def test_no_route_for_programs_takes_more_than_its_room(site: Site) -> None:
    program, walked = bearer(site), 0
    for rule, address, _ in changing(site):
        if is_for_programs(rule):
            for kind in ("application/json", "application/yaml", "application/octet-stream", "text/csv"):
                answer = site.visitor().post(
                    address, headers=program, data=b"[" * (LARGEST_ROOM + 1), content_type=kind
                )
                assert answer.status_code in (413, 415), (rule, kind, answer.status_code)
                walked += answer.status_code == 413
    assert walked


def test_no_route_takes_more_than_its_room(site: Site) -> None:
    people, program = browsers(site), bearer(site)
    before = counts(site)
    for rule, address, name in changing(site):
        room = LARGEST_ROOM if rule.endpoint in ROOMY else 256 * 1024
        head = f'--x\r\nContent-Disposition: form-data; name="csrf_token"\r\n\r\n{token(people[name])}\r\n--x\r\n'
        file = 'Content-Disposition: form-data; name="file"; filename="a.yaml"\r\n\r\n'
        body = (head + file).encode() + b"x" * room + b"\r\n--x--\r\n"
        answer = people[name].post(address, headers=program, data=body, content_type="multipart/form-data; boundary=x")
        assert answer.status_code in (413, *of_another_kind(rule)), (rule, answer.status_code)
    assert counts(site) == before


def test_no_route_takes_a_thousand_fields(site: Site) -> None:
    people, program = browsers(site), bearer(site)
    before = counts(site)
    for rule, address, name in changing(site):
        data = {"csrf_token": token(people[name])} | {f"f{n}": "x" for n in range(1100)}
        answer = people[name].post(address, headers=program, data=data, content_type="multipart/form-data")
        assert answer.status_code in (413, *of_another_kind(rule)), (rule, answer.status_code)
    assert counts(site) == before


def test_a_route_without_need_takes_no_field_over_128_kb(site: Site) -> None:
    people, program = browsers(site), bearer(site)
    for rule, address, name in changing(site):
        if rule.endpoint not in ROOMY:
            data = {"csrf_token": token(people[name]), "text": "x" * 140_000}
            answer = people[name].post(address, headers=program, data=data, content_type="multipart/form-data")
            assert answer.status_code in (413, *of_another_kind(rule)), (rule, answer.status_code)


def test_a_body_that_is_no_form_does_no_harm(site: Site) -> None:
    people, program = browsers(site), bearer(site)
    before = counts(site)
    for rule, address, name in changing(site):
        if rule.endpoint in ASK_FOR_NOTHING:
            continue
        for kind in KINDS:
            answer = people[name].post(address, headers=program, data=GARBAGE, content_type=kind)
            wrong = (400, 413, 415, 422, *((404,) if is_for_programs(rule) else ()))
            assert answer.status_code in wrong, (rule, kind, answer.status_code)
    assert counts(site) == before


def test_garbage_at_a_door_that_asks_for_nothing_is_passed_over_or_refused(site: Site) -> None:
    program, walked = bearer(site), 0
    for rule, address, _ in changing(site):
        if rule.endpoint in ASK_FOR_NOTHING:
            for kind in KINDS:
                answer = site.visitor().post(address, headers=program, data=GARBAGE, content_type=kind)
                assert answer.status_code in (200, 202, 204, 400, 404, 409, 415, 422), (rule, kind, answer.status_code)
                walked += 1
    assert walked >= len(KINDS)
