"""Cells as a spreadsheet shows them."""

import pytest

from joinmatrix.place import HiddenPlace, Place, column_letters


@pytest.mark.parametrize(
    ("column", "letters"),
    [
        pytest.param(1, "A", id="first"),
        pytest.param(26, "Z", id="last-single"),
        pytest.param(27, "AA", id="first-double"),
        pytest.param(702, "ZZ", id="last-double"),
        pytest.param(703, "AAA", id="first-triple"),
        pytest.param(16384, "XFD", id="last-of-all"),
    ],
)
def test_column_letters(column, letters):
    assert column_letters(column) == letters


@pytest.mark.parametrize(
    ("place", "text", "cell"),
    [
        pytest.param(Place("a.xlsx", "Lines", 14, 4), "a.xlsx: Lines!D14", "D14", id="cell"),
        pytest.param(Place("a.csv", "", 14, 4), "a.csv!D14", "D14", id="csv-has-no-sheet"),
        pytest.param(Place("a.xlsx", "Lines", 14), "a.xlsx: Lines!14", "14", id="row"),
        pytest.param(Place("a.xlsx", "Lines"), "a.xlsx: Lines", "", id="sheet"),
        pytest.param(Place("a.xlsx"), "a.xlsx", "", id="file"),
        pytest.param(
            HiddenPlace("a.xlsx", "Old", 14, 4), "a.xlsx: Old!D14 (hidden)", "D14", id="hidden-cell"
        ),
        pytest.param(HiddenPlace("a.xlsx", "Old"), "a.xlsx: Old (hidden)", "", id="hidden-sheet"),
    ],
)
def test_place(place, text, cell):
    assert str(place) == text
    assert place.cell == cell


def test_a_hidden_place_is_the_same_place():
    place = Place("a.xlsx", "Old", 14, 4)
    hidden = HiddenPlace(*place)
    assert hidden == place
    assert len({hidden, place}) == 1
    assert (hidden.hidden, place.hidden) == (True, False)
    assert hidden._replace(file="b.xlsx").hidden


def test_columns_sort_by_number_and_not_by_letter():
    assert Place("a", "b", 1, 27) > Place("a", "b", 1, 2)
