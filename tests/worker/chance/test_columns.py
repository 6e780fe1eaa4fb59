"""The column curves for many struts are those for one."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from worker.chance.columns import FACTORS
from worker.strength.columns import CURVES


def test_every_curve_of_a_brief_is_there() -> None:
    assert set(FACTORS) == set(CURVES)


@pytest.mark.parametrize("name", list(CURVES))
@given(E=st.floats(100, 2e4), fc=st.floats(1, 100), slenderness=st.floats(0.5, 500))
def test_each_is_the_curve_for_one_strut(name, E: float, fc: float, slenderness: float) -> None:
    x = np.array([[(slenderness / np.pi) ** 2 * fc / E]])
    assert fc * FACTORS[name](x)[0, 0] == pytest.approx(CURVES[name](E, fc, slenderness), rel=1e-9)


@pytest.mark.parametrize("name", list(CURVES))
def test_none_gives_more_than_crushing_or_rises_with_slenderness(name) -> None:
    values = FACTORS[name](np.linspace(0.01, 50, 500) ** 2)
    assert values.max() <= 1
    assert np.all(np.diff(values) <= 1e-12)
