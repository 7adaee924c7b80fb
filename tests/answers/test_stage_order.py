"""The order of the stages and its drawing."""

from joinmatrix.answers.stage_order import stage_order
from tests.builders import assembly_of, table

LIST = "connection|joint|side|type|timing|closed by\n"


def drawn(stages, rows=("H|fin|L|line||",), acts=()):
    tables = [
        table("connections", LIST + "\n".join(rows)),
        table("stages", "stage|side|timing|after\n" + "\n".join(stages)),
    ]
    if acts:
        tables.append(table("record", "when|act|stage|side\n" + "\n".join(acts)))
    return stage_order(assembly_of(*tables))


def test_a_chain_stands_in_line():
    stages = ["gear down|||", "wing mate|||gear down", "tail mate|||wing mate"]
    acts = [
        "2026-03-04|started|gear down",
        "2026-03-05|done|gear down",
        "2026-03-06|started|wing mate",
    ]
    assert drawn(stages, acts=acts).lines == (
        "[x] gear down  2026-03-05",
        "[>] wing mate  2026-03-06",
        "[ ] tail mate",
    )


def test_branches_are_set_in():
    stages = ["gear down|||", "wing mate|both||gear down", "tail mate|||wing mate", "paint|||"]
    assert drawn([*stages, "wash||during paint|"]).lines == (
        "[ ] gear down",
        "+- [ ] wing mate L",
        "+- [ ] wing mate R",
        "|  [ ] tail mate  (after wing mate L)",
        "[ ] paint",
        "[ ] wash  (during paint)",
    )


def test_an_order_through_connections():
    found = drawn(["B|||", "A|||"], ["H|fin|L|line|after A|B"])
    assert [(place.stage, place.after) for place in found.stages] == [("A", ()), ("B", ("A",))]


def test_what_goes_without_saying_is_left_out():
    found = drawn(["A|||", "B|||A", "C|||A, B"])
    assert [place.after for place in found.stages] == [(), ("A",), ("B",)]
