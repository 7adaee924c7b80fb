import json

import pytest

from joinmatrix.answers.sides import sides
from joinmatrix.reports.sides_report import MOST_ROWS_OF_A_JOINT, sides_json, sides_lines
from tests.builders import assembly_of, table
from tests.reports.answers_scene import on_paper, wing


def text_of(assembly, cells=80, encoding="utf-8", *, full=False, **options):
    found = sides(assembly, **options)
    return on_paper(lambda paper: sides_lines(found, assembly, paper, full=full), cells, encoding)


@pytest.mark.parametrize("cells", [80, 160])
def test_audit(golden, cells):
    golden(f"sides-{cells}.txt", text_of(wing(), cells))


def test_ascii(golden):
    golden("sides-ascii-60.txt", text_of(wing(), 60, "ascii", differences_only=True))


def test_three_sides(golden):
    joints = table("joints", "joint|alike sides\nroot|1, 2, 3")
    text = """connection|joint|side|type|service|size
    A|root|all|line|drain|-4
    B|root|1|line|feed|-6
    B|root|2|line|feed|-8
    B|root|3|line|feed|-6
    C-1|root|1|line|lamp|
    C-3|root|3|line|lamp|"""
    golden("sides-three-80.txt", text_of(assembly_of(joints, table("connections", text))))


def test_the_counts_stay_those_of_the_whole():
    whole = text_of(wing()).splitlines()
    narrow = text_of(wing(), differences_only=True).splitlines()
    assert [line for line in whole if "NOT AGREED" in line] == [
        line for line in narrow if "NOT AGREED" in line
    ]


def test_all_alike():
    text = "connection|joint|side|type\nA|j|both|bolt"
    assert "●C EVERY DIFFERENCE IS AGREED" in text_of(assembly_of(table("connections", text)))


def test_only_the_centre_line():
    text = "connection|joint|side|type\nA|j|C|bolt"
    assert "●C NO DIFFERENCE" in text_of(assembly_of(table("connections", text)))


def test_one_half_is_no_difference_yet():
    text = "connection|joint|side|type|from|to\nA|j|L|bolt|P|"
    shown = text_of(assembly_of(table("connections", text)))
    assert "◊ one half" in shown
    assert "■H" not in shown


def test_a_long_joint_shows_what_differs_first():
    rows = "\n".join(f"A-{n:03}|j|both|bolt|" for n in range(100))
    text = f"connection|joint|side|type|size\n{rows}\nZ|j|L|bolt|-4\nZ|j|R|bolt|-6"
    assembly = assembly_of(table("connections", text))
    shown = text_of(assembly)
    assert shown.count("● equal") == MOST_ROWS_OF_A_JOINT - 1
    assert "41 more rows not shown" in shown
    assert shown.index("■ different") < shown.index("● equal")
    assert text_of(assembly, full=True).count("● equal") == 100


def test_many_joints_show_their_counts_and_what_differs():
    rows = "".join(f"A-{joint}-{n}|j{joint}|both|bolt|\n" for joint in range(12) for n in range(60))
    text = f"connection|joint|side|type|size\n{rows}Z|j11|L|bolt|-4\nZ|j11|R|bolt|-6"
    shown = text_of(assembly_of(table("connections", text)))
    assert shown.count("● equal") == 600
    assert shown.count("■ different") == 1
    assert shown.count("60 more rows not shown") == 2


def test_json():
    assembly = wing()
    whole = json.loads(sides_json(sides(assembly), assembly))
    assert list(whole)[:2] == ["format", "joints"]
    assert whole["format"] == "joinmatrix-sides/1"
    joint = whole["joints"][0]
    assert list(joint)[:3] == ["joint", "pairs", "unpaired"]
    pair = next(each for each in joint["pairs"] if each["members"]["L"] == "E-10")
    assert list(pair)[:3] == ["members", "why", "differences"]
    assert list(pair["differences"][0])[:3] == ["column", "values", "agreed"]
    assert pair["differences"][0]["values"] == {"L": "20", "R": "22"}
    assert pair["differences"][0]["agreed"] is True
    assert list(joint["unpaired"][0])[:3] == ["connection", "side", "agreed"]
    assert whole["open"] == 2
    assert [each["cells"][0]["cell"] for each in whole["idle"]] == ["B3"]
