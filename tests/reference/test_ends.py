"""End forms that mate."""

import pytest

from joinmatrix.reference.ends import canonical, compare, forms
from joinmatrix.reference.match import Match

FITS, UNSURE, DIFFERS = Match.FITS, Match.UNSURE, Match.DIFFERS


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        pytest.param("pin", "socket", FITS, id="contacts"),
        pytest.param("P", "S", FITS, id="contact-letters"),
        pytest.param("Male thread", "female", FITS, id="gender"),
        pytest.param("fork end", "eye", FITS, id="fork-and-eye"),
        pytest.param("clevis", "rod eye", FITS, id="other-words-for-them"),
        pytest.param("plug with pins", "receptacle, sockets", FITS, id="two-families"),
        pytest.param("flare 37", "37° flare", FITS, id="flare-37"),
        pytest.param("flare 37º", "37˚ flare", FITS, id="signs-that-look-like-degrees"),
        pytest.param("45 degree flare", "flared 45 deg.", FITS, id="flare-45"),
        pytest.param("flare 37 male", "flare 37 female", FITS, id="flare-and-gender"),
        pytest.param("a fork, type A", "eye type A", FITS, id="article-and-designation"),
        pytest.param("flange", "flanged", FITS, id="flange"),
        pytest.param("V-band clamp", "clamp", FITS, id="clamp"),
        pytest.param("union", "union", FITS, id="union"),
        pytest.param("bayonet", "bayonet", UNSURE, id="unknown-and-equal"),
        pytest.param("inner", "outer", UNSURE, id="unknown-and-opposite"),
        pytest.param("flared", "flare 37", UNSURE, id="angle-on-one-half"),
        pytest.param("37°", "37", UNSURE, id="bare-angle-on-both"),
        pytest.param("37 deg", "flare 37", UNSURE, id="bare-angle-and-its-flare"),
        pytest.param("45°", "fork", UNSURE, id="bare-angle-of-no-flare"),
        pytest.param("45°", "90°", UNSURE, id="bare-angles-of-no-flares"),
        pytest.param("fork type A", "eye", UNSURE, id="designation-on-one-half"),
        pytest.param("plug", "socket", UNSURE, id="other-families"),
        pytest.param("male taper", "female straight", UNSURE, id="further-words-differ"),
        pytest.param("pin or socket", "socket", UNSURE, id="says-two-things"),
        pytest.param("pin", "pins", DIFFERS, id="pin-on-pin"),
        pytest.param("male", "male", DIFFERS, id="male-on-male"),
        pytest.param("fork", "fork", DIFFERS, id="fork-on-fork"),
        pytest.param("plug, pins", "receptacle, pins", DIFFERS, id="one-family-of-two"),
        pytest.param("flare 37", "flare 45", DIFFERS, id="angles"),
        pytest.param("37°", "45°", DIFFERS, id="bare-angles"),
        pytest.param("37", "45", DIFFERS, id="bare-numbers"),
        pytest.param("37 deg", "45 degree", DIFFERS, id="bare-angles-as-words"),
        pytest.param("37º", "JIC 37", UNSURE, id="jic-with-its-angle"),
        pytest.param("45°", "flare 37 male", DIFFERS, id="bare-angle-and-another-flare"),
        pytest.param("flareless", "flare 37", DIFFERS, id="flareless-on-flare"),
        pytest.param("fork", "flare 37", DIFFERS, id="rod-on-line"),
    ],
)
def test_compare(one, other, expected):
    assert compare(one, other).match is expected
    assert compare(other, one).match is expected


def test_every_form_has_a_source_and_its_mate_is_a_form():
    for form in forms().values():
        assert form.source
        assert form.sure in ("seen", "second-hand", "memory")
        mate = forms()[form.mate]
        assert mate.mate == form.name
        assert mate.family == form.family


def test_one_text_for_the_same_end():
    assert canonical("37° flare") == canonical("flare 37 deg")
    assert canonical("pin") != canonical("socket")
