import pytest

from joinmatrix.errors import CallError
from joinmatrix.findings import Kind
from joinmatrix.reports.view import Lens, View, require_known
from tests.reports.scene import wing_report


@pytest.mark.parametrize(
    ("view", "shown"),
    [
        pytest.param(View(), [0, 1, 2, 3, 4, 5], id="whole"),
        pytest.param(View(joints=("OUTER  wing",)), [0, 1, 2, 3, 5], id="joint-and-the-jointless"),
        pytest.param(View(sides=("r",)), [2, 3, 5], id="side"),
        pytest.param(View(kinds=(Kind.UNMADE,)), [0, 2], id="kind"),
        pytest.param(View(joints=("tail cone",), kinds=(Kind.UNMADE,)), [], id="both"),
    ],
)
def test_lens_shows_findings(view, shown):
    report = wing_report()
    lens = Lens(report, view)
    assert [n for n, each in enumerate(report.findings) if lens.finding(each)] == shown


@pytest.mark.parametrize(
    ("view", "message"),
    [
        pytest.param(
            View(joints=("outer wings",)),
            'no joint is called "outer wings". Known: "outer wing".',
            id="joint",
        ),
        pytest.param(
            View(sides=("port",)),
            'no side is called "port". Known: "L", "R" or "C".',
            id="side",
        ),
    ],
)
def test_view_of_what_is_not_there(view, message):
    with pytest.raises(CallError) as caught:
        require_known(view, wing_report())
    assert str(caught.value) == message


def test_view_of_what_is_there():
    require_known(View(joints=("Tail Cone",), sides=("c",)), wing_report())
