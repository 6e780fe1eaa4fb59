"""A basis with as many zeros as it can be made to have."""

from __future__ import annotations

import numpy as np
import pytest

from worker.statics.sparse import sparse


def planted(seed: int) -> np.ndarray:
    """Four vectors with four parts each, among twelve places."""
    chance = np.random.default_rng(seed)
    rows = np.zeros((4, 12))
    for row in rows:
        row[chance.choice(12, 4, replace=False)] = chance.choice([-1.0, 1.0, 2.0, 0.5], 4)
    return rows


@pytest.mark.parametrize("seed", [12, 26, 41, 46, 59, 63, 403])
def test_vectors_with_few_parts_are_found_again_in_a_mixture_of_them(seed: int) -> None:
    """Not promised for every basis (the search is no proof), but elimination alone finds none of these."""
    rows = planted(seed)
    found = sparse(np.random.default_rng(seed + 1000).normal(size=(4, 4)) @ rows)
    assert np.count_nonzero(found) <= 16
    assert found.max(axis=1) == pytest.approx([1.0] * 4)
    assert np.abs(found).max(axis=1) == pytest.approx([1.0] * 4)
    assert np.linalg.matrix_rank(np.concatenate([rows, found]), tol=1e-8) == np.linalg.matrix_rank(found) == 4


@pytest.mark.parametrize("seed", range(10))
def test_the_largest_part_of_each_vector_is_plus_one(seed: int) -> None:
    found = sparse(np.random.default_rng(seed).normal(size=(3, 8)))
    assert np.abs(found).max(axis=1) == pytest.approx([1.0] * 3)
    assert found.max(axis=1) == pytest.approx([1.0] * 3)


def test_elimination_leaves_each_pivot_alone_in_its_column() -> None:
    found = sparse(np.random.default_rng(3).normal(size=(3, 8)))
    alone = [k for k in range(8) if np.count_nonzero(found[:, k]) == 1]
    assert {int(np.flatnonzero(found[:, k])[0]) for k in alone} == {0, 1, 2}
