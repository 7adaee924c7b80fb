"""What the record says was found at the other end."""

import pytest

from joinmatrix.assembly.model import Key
from joinmatrix.routes.mates import candidate_ports, faults, mates
from tests.builders import assembly_of, table

LINES = """connection|joint|side|type|from|to
H1|fin|both|line|A|b
H2|fin|both|line|C|d
H3|fin|L|line|E|only left
H4|fin|L|line|G|
H5|fin|L|bolt||"""


def assembly_with(record: str):
    return assembly_of(
        table("connections", LINES),
        table("record", "connection|side|act|when|mated to\n" + record),
        table("runs", "from|to|side\nd|W 12|both\nC|centre|L\ncentre|far|C"),
    )


@pytest.mark.parametrize(
    ("record", "expected"),
    [
        pytest.param("H1|L|made|2026-03-04|", [], id="not-said"),
        pytest.param("H1|L|made|2026-03-04|B", [], id="as-listed"),
        pytest.param("H1|L|made|2026-03-04|d", [("d", "a", "d")], id="another"),
        pytest.param("H1|L|made|2026-03-04|w  12", [("w 12", "a", "w 12")], id="port-of-a-run"),
        pytest.param("H1|L|made|2026-03-04|C", [("c", "c", "b")], id="seen-from-the-other-half"),
        pytest.param("H1|L|placed|2026-03-04|d", [], id="not-made"),
        pytest.param("H1|L|made|2026-03-04|d\nH1|L|opened|2026-03-05|", [], id="opened-since"),
        pytest.param("H1|L|made|2026-03-04|d\nH1|L|made|2026-03-05|", [], id="made-again-since"),
        pytest.param(
            "H1|L|made|2026-03-04|\nH1|L|inspected|2026-03-05|d", [("d", "a", "d")], id="inspector"
        ),
        pytest.param("H4|L|made|2026-03-04|d", [], id="one-ended"),
        pytest.param("H5|L|made|2026-03-04|d", [], id="no-ports"),
    ],
)
def test_wrong_mates(record, expected):
    found = mates(assembly_with(record))
    assert [(mate.port.name, mate.start.name, mate.end.name) for mate in found.wrong] == expected
    assert (found.doubled, found.to_itself, found.faults) == ((), (), ())


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("d", [Key("d", "L")], id="own-side-first"),
        pytest.param("d R", [Key("d", "R")], id="side-behind"),
        pytest.param("RH d", [Key("d", "R")], id="side-in-front"),
        pytest.param("D (right)", [Key("d", "R")], id="side-in-brackets"),
        pytest.param("far", [Key("far", "C")], id="on-one-other-side"),
        pytest.param("d C", [], id="not-on-that-side"),
        pytest.param("nowhere", [], id="unknown"),
    ],
)
def test_which_port_a_text_means(text, expected):
    assert list(candidate_ports(assembly_with("H1|L|made|2026-03-04|"), text, "L")) == expected


def test_without_a_side_a_name_can_mean_several():
    assembly = assembly_with("H1|L|made|2026-03-04|")
    assert candidate_ports(assembly, "d", None) == (Key("d", "L"), Key("d", "R"))


def test_an_unknown_port_is_said_with_its_cell_and_the_nearest():
    (trouble,) = faults(assembly_with("H1|L|made|2026-03-04|W12"))
    assert trouble.place.cell == "E2"
    assert trouble.found == 'port "W12" is in no list'
    assert '"W 12"' in trouble.remedy
    assert (trouble.joint, trouble.sides, trouble.connections) == ("fin", ("L",), ("H1",))


@pytest.mark.parametrize(
    ("text", "near"),
    [
        pytest.param("W6", '"W5", "W4" or "W3"', id="one-figure"),
        pytest.param("W6 R", '"W5 R", "W4 R" or "W3 R"', id="with-its-side"),
        pytest.param("RH W6", '"W5 R", "W4 R" or "W3 R"', id="side-in-front"),
        pytest.param("fuel2 L", '"fuel1 L"', id="a-side-in-the-name"),
    ],
)
def test_the_nearest_of_short_names_and_of_names_with_their_side(text, near):
    assembly = assembly_of(
        table(
            "connections",
            "connection|joint|side|type|from|to\nH1|fin|both|line|A|W3\nH2|fin|both|line|B|W4\n"
            "H3|fin|both|line|C|W5\nH4|fin|L|line|D|fuel1 L\nH5|fin|C|line|gear|far",
        ),
        table("record", f"connection|side|act|when|mated to\nH1|L|made|2026-03-04|{text}"),
    )
    (trouble,) = faults(assembly)
    assert trouble.remedy.startswith(f"write {near}, or add")


def test_a_port_of_two_other_sides_needs_its_side():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|to\nH1|f|C|x|A|b\nH2|f|both|x|c|d"),
        table("record", "connection|side|act|when|mated to\nH1|C|made|2026-03-04|d"),
    )
    (trouble,) = faults(assembly)
    assert trouble.found == 'port "d" is on sides "L" and "R", and nothing says on which'


def test_two_ports_since_the_latest_making():
    found = mates(assembly_with("H1|L|made|2026-03-04|b\nH1|L|inspected|2026-03-05|d"))
    assert [(each.connection.id, len(each.ports)) for each in found.doubled] == [("H1", 2)]


@pytest.mark.parametrize(
    ("text", "doubled"),
    [
        pytest.param("b and d", ["b", "d"], id="and"),
        pytest.param("b, d", ["b", "d"], id="comma"),
        pytest.param("b; D", ["b", "d"], id="semicolon"),
        pytest.param("d & W 12", ["d", "w 12"], id="neither-is-the-listed-one"),
        pytest.param("b/d+W 12", ["b", "d", "w 12"], id="several-marks"),
        pytest.param("b, J1/P1", ["b", "j1/p1"], id="a-mark-in-a-name"),
        pytest.param("b + d R", ["b", "d"], id="one-on-the-other-side"),
        pytest.param("J1/P1", [], id="one-port-after-all"),
        pytest.param("b & b", [], id="the-same-twice"),
    ],
)
def test_several_ports_in_one_cell(text, doubled):
    found = mates(
        assembly_of(
            table("connections", LINES + "\nH6|fin|L|line|K|J1/P1"),
            table("record", f"connection|side|act|when|mated to\nH1|L|made|2026-03-04|{text}"),
            table("runs", "from|to|side\nd|W 12|both"),
        )
    )
    assert found.faults == ()
    assert [[port.name for port in each.ports] for each in found.doubled] == [doubled] * bool(
        doubled
    )
    assert all(len(each.cells) == 1 for each in found.doubled)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        pytest.param("A/b", [], id="as-listed"),
        pytest.param("A and d", ["d"], id="another"),
    ],
)
def test_both_ends_in_one_cell(text, wrong):
    found = mates(assembly_with(f"H1|L|made|2026-03-04|{text}"))
    assert [mate.end.name for mate in found.wrong] == wrong
    assert (found.doubled, found.to_itself, found.faults) == ((), (), ())


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("b and nowhere", id="one-is-unknown"),
        pytest.param("nowhere", id="nothing-to-part"),
        pytest.param("b,", id="one-port-and-a-mark"),
    ],
)
def test_a_text_of_which_a_part_is_no_port_is_told_as_it_is(text):
    (trouble,) = faults(assembly_with(f"H1|L|made|2026-03-04|{text}"))
    assert trouble.found == f'port "{text}" is in no list'


@pytest.mark.parametrize(
    ("port", "missed"),
    [
        pytest.param("w2", "w1", id="where-the-next-joint-begins"),
        pytest.param("h2", "h1", id="of-the-half-it-comes-from"),
    ],
)
def test_which_half_a_port_is_on_is_a_matter_of_the_joint(port, missed):
    lines = (
        "connection|joint|side|type|from|to\nF1|root|L|x|h1|w1\nF2|root|L|x|h2|w3\nF3|tip|L|x|w2|t1"
    )
    assembly = assembly_of(
        table("connections", lines),
        table("record", f"connection|side|act|when|mated to\nF1|L|made|2026-03-04|{port}"),
    )
    (mate,) = mates(assembly).wrong
    assert mate.missed.name == missed


def test_a_port_that_only_the_record_has_is_no_fault_of_a_one_ended_connection():
    assert faults(assembly_with("H4|L|made|2026-03-04|V9")) == ()


def test_its_own_port():
    found = mates(assembly_with("H1|L|made|2026-03-04|a"))
    assert [each.connection.id for each in found.to_itself] == ["H1"]


def test_an_end_in_dispute_is_left_alone():
    assembly = assembly_of(
        table("connections", "connection|joint|side|type|from|to\nH1|f|C|x|A|b\nH2|f|C|x|c|d"),
        table("connections", "connection|joint|side|type|to\nH1|f|C|x|e", file="two.xlsx"),
        table("record", "connection|side|act|when|mated to\nH1|C|made|2026-03-04|d"),
    )
    assert mates(assembly).wrong == ()
