"""The ground floor: what was asked of a truss and how it is judged.

Plain Python, PyYAML and pydantic.  Both other floors, ``service`` and ``worker``, build on
this one and meet only in ``rubric.messages``.
"""
