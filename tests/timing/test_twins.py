"""Names that may be one name."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joinmatrix.timing import twins as module
from joinmatrix.timing.twins import twins


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        pytest.param("gear down", "tail mate", False, id="two-names"),
        pytest.param("gear down", "gaer down", True, id="letters-swapped"),
        pytest.param("outer wing mate", "outer wing mat", True, id="letter-missing"),
        pytest.param("step 1", "step 2", False, id="digits"),
        pytest.param("wing mate l", "wing mate r", False, id="single-letters"),
        pytest.param("wing mate left", "wing mate right", False, id="side-words"),
        pytest.param("gear door open", "gear door opens", True, id="ending"),
        pytest.param("main power on", "main power off", False, id="short-words"),
        pytest.param("tail on", "tail up", False, id="short-names"),
    ],
)
def test_twins(one, other, alike):
    assert bool(list(twins([one, other]))) is alike


WORD = st.text(alphabet="abc", min_size=1, max_size=5)


@given(st.lists(st.lists(WORD, min_size=1, max_size=3).map(" ".join), max_size=12))
def test_nothing_is_missed_by_looking_at_thirds(names):
    cores = sorted({module._core(name) for name in names})
    cores = [core for core in cores if len(core) >= 4]
    expected = {
        (one, other)
        for number, one in enumerate(cores)
        for other in cores[number + 1 :]
        if module._one_word_for_another(one, other)
    }
    found = {tuple(sorted((module._core(a), module._core(b)))) for a, b in twins(names)}
    assert found == expected
