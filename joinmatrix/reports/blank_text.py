"""What a blank workbook says of each column, and its example rows.

The headings themselves, and the words that may stand below them, are those of `lists`; here is
what a newcomer is told of them. A heading that is added there is asked for here by a test.
"""

from collections.abc import Mapping
from datetime import date, datetime
from typing import NamedTuple, TypeAlias

from joinmatrix.lists.table import ListKind
from joinmatrix.lists.words import BOTH, EXAMPLE, NO

Value: TypeAlias = str | float | date


class Column(NamedTuple):
    """One column of a blank list.

    what     what goes there, for the comment at its heading
    example  what stands there in the example row
    """

    what: str
    example: Value = ""


SHEETS: Mapping[ListKind, str] = {
    ListKind.CONNECTIONS: "One row for each thing that is made across a joint.",
    ListKind.STAGES: "One row for each step of the build-up that rules name. Without this list "
    "the stages are those that the rules name.",
    ListKind.RECORD: "One row for each act: who did what when, and what was read. While it is "
    "empty, the plan is checked.",
    ListKind.RUNS: "One row for each fixed line inside a half, from one port to another. It needs "
    "no making.",
    ListKind.JOINTS: "One row for each joint whose alike sides are not L and R, or for all.",
    ListKind.DIFFERENCES: "One row for each difference between alike sides that engineering has "
    "accepted.",
    ListKind.TEMPORARY: "One row for each cap, plug, lock pin, brace or sling that must come off "
    "again.",
    ListKind.PEOPLE: "One row for each person and what that person may do.",
    ListKind.TOOLS: "One row for each measuring tool.",
}

_JOINT = Column("The joint's name, spelt the same in every list.", "outer wing")
_SIDE = Column(
    "L, R, C (centre line) or both; other labels once the joints list declares them.", BOTH
)
_SERVICE = Column("What it carries or moves.", "brake pressure")
_TIMING = (
    'after, before, during or between stages or connections; "at least 30 min after", "within 8 h '
    'of". Several are joined by ";". Blank: any time.'
)
_REMARKS = Column("Kept and shown.", "example row: it is not read; write over it or delete it")
_MAKER = "Name or stamp, as in the people list."

TEXTS: Mapping[ListKind, Mapping[str, Column]] = {
    ListKind.CONNECTIONS: {
        "connection": Column(
            "The identifier: unique with the side in this list.", f"{EXAMPLE} H-07"
        ),
        "joint": _JOINT,
        "side": _SIDE,
        "type": Column("What it is, in your own words. The list offers some.", "hydraulic line"),
        "service": _SERVICE,
        "from": Column("The port on the one half. A list of one half may leave it out.", "P12"),
        "to": Column("The port on the other half.", "W12"),
        "size": Column("Dash size, diameter, shell size, when both ends have the same.", "-6"),
        "from size": Column("Its size on the one half, when the halves are listed apart."),
        "to size": Column("Its size on the other half."),
        "from end": Column("The end form on the one half.", "flare 37"),
        "to end": Column("The end form on the other half.", "flare 37"),
        "from key": Column("Keying or clocking position on the one half."),
        "to key": Column("Keying or clocking position on the other half."),
        "place": Column(f"When it is fed through, inserted or hung. {_TIMING}"),
        "timing": Column(
            f"When it is made. {_TIMING}", "after outer wing mate; before outer wing fairing"
        ),
        "inspect": Column(f"When it is inspected. {_TIMING}"),
        "closed by": Column(
            "The stage at whose start nobody can reach it any more.", "outer wing fairing"
        ),
        "limits": Column(
            "Readings that must be recorded, parted by semicolons: torque 135..150 in-lbf; "
            "threads >= 1; slot = aft.",
            "torque 270..300 in-lbf",
        ),
        "critical": Column(
            "yes: another person inspects than the one who made it. Blank: yes for flight "
            "controls, no for the rest.",
            NO,
        ),
        "made": Column("A tick, when you tick here and keep no record: x, a date or initials."),
        "made by": Column(f"To the tick: {_MAKER}"),
        "made on": Column("To the tick: date, or date and time."),
        "inspected": Column("A tick: x, a date or initials."),
        "inspected by": Column(f"To the tick: {_MAKER}"),
        "inspected on": Column("To the tick: date, or date and time."),
        "part": Column("Part number. Kept and shown.", "29-107-01"),
        "remarks": _REMARKS,
    },
    ListKind.STAGES: {
        "stage": Column("The name, as the rules spell it.", f"{EXAMPLE} outer wing fairing"),
        "side": Column("Blank: once for all. L, R or both: by itself on each side.", BOTH),
        "timing": Column(f"When it happens. {_TIMING}", "at least 12 h after outer wing mate"),
        "after": Column("Stages that must be done before it starts.", "outer wing mate"),
        "remarks": _REMARKS,
    },
    ListKind.RECORD: {
        "when": Column("Date, or date and time.", datetime(2031, 3, 4, 10, 30)),
        "seq": Column("A running number, which tells the order of acts on one date.", 1),
        "connection": Column(
            "The connection of the act; or fill in stage or item instead.", f"{EXAMPLE} H-07"
        ),
        "stage": Column("The stage that was started or done."),
        "item": Column("The temporary item that was fitted or removed."),
        "side": Column("The one side where it was done.", "L"),
        "act": Column(
            "placed, made, measured, inspected or opened; fitted or removed; started or done.",
            "made",
        ),
        "by": Column(_MAKER, "M12"),
        "measure": Column("What was read, as the limits name it.", "torque"),
        "value": Column("The reading.", 285),
        "unit": Column("Its unit.", "in-lbf"),
        "tool": Column("The tool that was used, as in the tools list.", "TW-1"),
        "extension": Column("Length of an extension on a torque wrench, with its unit."),
        "wrench length": Column("Length of that wrench, with its unit."),
        "mated to": Column("The port that was found at the other end.", "W12"),
        "unit serial": Column("The unit, when one record holds several."),
        "remarks": _REMARKS,
    },
    ListKind.RUNS: {
        "from": Column("The port at one end.", f"{EXAMPLE} W12"),
        "to": Column("The port at the other end.", "W30"),
        "side": _SIDE,
        "from side": Column("The side of the one end, when the ends are on different sides."),
        "to side": Column("The side of the other end."),
        "service": _SERVICE,
        "half": Column("The half that it is in.", "outer wing"),
    },
    ListKind.JOINTS: {
        "joint": Column(_JOINT.what, f"{EXAMPLE} {_JOINT.example}"),
        "alike sides": Column(
            'The sides that should carry the same connections: "L, R" or "1, 2, 3".', "L, R"
        ),
        "remarks": _REMARKS,
    },
    ListKind.DIFFERENCES: {
        "joint": _JOINT,
        "connection": Column("The connection; or fill in service instead.", f"{EXAMPLE} H-09"),
        "service": Column("All connections of a service, when no connection is named."),
        "side": Column("The side where it exists, when it is on one side only.", "L"),
        "column": Column("Blank: it may be missing on the other side. Else what may differ."),
        "reason": Column("Why it may differ.", "parking brake on the left only"),
        "approved by": Column("Who accepted it.", "ENG-3"),
    },
    ListKind.TEMPORARY: {
        "temporary item": Column("Its name or number.", f"{EXAMPLE} cap 7"),
        "joint": _JOINT,
        "side": _SIDE,
        "type": Column("What it is. The list offers some.", "cap"),
        "connection": Column("The connection that it blanks off.", "H-07"),
        "remove": Column(f"When it comes off. {_TIMING}", "before H-07"),
        "remarks": _REMARKS,
    },
    ListKind.PEOPLE: {
        "person": Column("Name or stamp, as in the record.", f"{EXAMPLE} M12"),
        "may": Column(
            "make (that is: place, make, measure and open), inspect, or make and inspect.", "make"
        ),
        "until": Column("The last day on which that holds. Blank: no end.", date(2031, 12, 31)),
    },
    ListKind.TOOLS: {
        "tool": Column("Its number, as in the record.", f"{EXAMPLE} TW-1"),
        "calibrated until": Column("The last day of its calibration.", date(2031, 9, 30)),
        "low": Column("The least that it can measure.", 50),
        "high": Column("The most that it can measure.", 500),
        "unit": Column("The unit of low and high.", "in-lbf"),
    },
}  # fmt: skip

# Types are free text; these are offered.
CONNECTION_TYPES = (
    *("hydraulic line", "fuel line", "vent line", "pitot line", "static line", "air duct"),
    *("control cable", "control rod", "push-pull cable", "electrical connector"),
    *("coaxial connector", "bonding strap", "bolt", "pin", "seal"),
)
ITEM_TYPES = ("cap", "plug", "blank", "cover", "lock pin", "lock", "brace", "sling")
