"""Names under acts, and when two of them ask a question."""

import pytest

from joinmatrix.assembly.persons import may_be_one, names_in


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", ()),
        ("A. Berg", ("A. Berg",)),
        ("Berg, A.", ("Berg, A.",)),
        ("A. Berg / M. Holm", ("A. Berg", "M. Holm")),
        ("A. Berg & M. Holm", ("A. Berg", "M. Holm")),
        ("A. Berg and M. Holm", ("A. Berg", "M. Holm")),
        ("AB; MH", ("AB", "MH")),
    ],
)
def test_names_in(text, names):
    assert names_in(text) == names


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("J. Ruiz", "Jan Ruiz"),
        ("J.Ruiz", "Jan Ruiz"),
        ("J Ruiz", "Ruiz, Jan"),
        ("Ruiz, J.", "J. Ruiz"),
        ("Ruiz", "Jan Ruiz"),
        ("JR", "Jan Ruiz"),
        ("JKR", "Jan Karl Ruiz"),
        ("J. Ruiz", "J. K. Ruiz"),
        ("Jan Ruiz (QA)", "J. Ruiz"),
        ("Élan Réz", "É. Réz"),
    ],
)
def test_may_be_one(one, other):
    assert may_be_one(one, other)
    assert may_be_one(other, one)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("Jan Ruiz", "Ana Ruiz"),
        ("J. Ruiz", "A. Ruiz"),
        ("J. Ruiz", "J. Holm"),
        ("JR", "Jan Holm"),
        ("JR", "JH"),
        ("stamp 14", "stamp 15"),
        ("M14", "M15"),
        ("", "Jan Ruiz"),
        ("123", "456"),
    ],
)
def test_are_two(one, other):
    assert not may_be_one(one, other)
    assert not may_be_one(other, one)
