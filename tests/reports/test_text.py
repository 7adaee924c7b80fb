import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.place import Place
from joinmatrix.reports.text import (
    cells_text,
    encodable,
    padded,
    row_ranges,
    safe,
    some,
    width,
    wrapped,
)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        pytest.param("H-07 [bold]brake[/bold]", "H-07 [bold]brake[/bold]", id="markup-stays-text"),
        pytest.param("Höhe ⌀ 6 日本", "Höhe ⌀ 6 日本", id="letters-of-the-world"),
        pytest.param("a\x1b[31mb", "a<U+001B>[31mb", id="escape-sequence"),
        pytest.param("a\x9b31mb", "a<U+009B>31mb", id="one-character-escape"),
        pytest.param("a\tb\x00\x07\x7f", "a<U+0009>b<U+0000><U+0007><U+007F>", id="controls"),
        pytest.param("L\u202eR", "L<U+202E>R", id="direction-override"),
        pytest.param("L\u2066R\u2069", "L<U+2066>R<U+2069>", id="direction-isolate"),
        pytest.param("a\u200bb\ufeff", "a<U+200B>b<U+FEFF>", id="invisible"),
        pytest.param("a\nb\r\nc\u2028d", "a¶b¶c¶d", id="line-breaks"),
        pytest.param("a\u00a0b\u3000c", "a b c", id="other-spaces"),
        pytest.param("a\ud800b", "a<U+D800>b", id="half-a-character"),
    ],
)
def test_safe(text, shown):
    assert safe(text) == shown


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [
        pytest.param("utf-8", "é¶日", id="utf-8"),
        pytest.param("latin-1", "é¶<U+65E5>", id="latin-1"),
        pytest.param("ascii", "<U+00E9><NL><U+65E5>", id="ascii"),
        pytest.param("no-such-encoding", "<U+00E9><NL><U+65E5>", id="unknown"),
    ],
)
def test_safe_shows_what_the_encoding_has(encoding, shown):
    assert safe("é\n日", encoding) == shown


@settings(max_examples=100, deadline=None)
@given(st.text(), st.sampled_from(["utf-8", "ascii", "cp1252", "cp437"]))
def test_safe_text_is_printable_and_encodable(text, encoding):
    shown = safe(text, encoding)
    assert shown.isprintable()
    assert encodable(shown, encoding)


@pytest.mark.parametrize(
    ("text", "cells", "lines"),
    [
        pytest.param("", 10, [""], id="nothing"),
        pytest.param("fits here", 9, ["fits here"], id="fits"),
        pytest.param("one two three", 8, ["one two", "three"], id="at-a-space"),
        pytest.param("abcdefghij", 4, ["abcd", "efgh", "ij"], id="inside-a-long-word"),
        pytest.param("日本語 版", 4, ["日本", "語", "版"], id="wide-characters"),
        pytest.param("日本", 0, ["日", "本"], id="never-less-than-one-wide-character"),
    ],
)
def test_wrapped(text, cells, lines):
    assert wrapped(text, cells) == lines


@settings(max_examples=100, deadline=None)
@given(st.text(alphabet=st.characters(categories=["L", "N", "P", "Zs"])), st.integers(2, 40))
def test_wrapping_loses_nothing_and_keeps_the_width(text, cells):
    shown = safe(text)
    lines = wrapped(shown, cells)
    assert "".join(lines).replace(" ", "") == shown.replace(" ", "")
    assert all(width(line) <= cells for line in lines)


def test_padded_counts_cells_and_not_characters():
    assert padded("日本", 6) == "日本  "


@pytest.mark.parametrize(
    ("places", "text"),
    [
        pytest.param([], "", id="none"),
        pytest.param([Place("a.xlsx", "W", 2, 1)], "a.xlsx: W!A2", id="one"),
        pytest.param(
            [Place("a.xlsx", "W", 2, 1), Place("a.xlsx", "W", 3, 4), Place("b.csv", "", 9, 3)],
            "a.xlsx: W!A2, D3; b.csv!C9",
            id="sheet-named-once",
        ),
        pytest.param([Place("a.csv", "", 2, 1)] * 2, "a.csv!A2", id="once-each"),
        pytest.param(
            [Place("a.xlsx", "W", 2, 1), Place("b.csv", "", 9, 3), Place("a.xlsx", "W", 3, 4)],
            "a.xlsx: W!A2, D3; b.csv!C9",
            id="a-sheet-once",
        ),
        pytest.param([Place("a.csv"), Place("a.csv", "", 7)], "a.csv, 7", id="file-then-row"),
    ],
)
def test_cells_text(places, text):
    assert cells_text(places) == text


def test_row_ranges():
    assert row_ranges([40, 12, 13, 14, 12]) == "12-14, 40"


def test_some_counts_the_rest():
    assert some(["a", "b"], 2) == "a, b"
    assert some(["a", "b", "c"], 2) == "a, b and 1 more"
