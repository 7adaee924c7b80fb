"""The headings of every list, and how else shops spell them.

To teach the program a spelling, add it to one line below. Case, spaces, punctuation and line
breaks do not count: "Conn. No." is "connno", and so is "conn no".
"""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.lists.table import ListKind
from joinmatrix.names import folded


class Spellings(NamedTuple):
    """How a heading is spelt.

    sure   means this and nothing else in this list
    loose  means this only where no other heading of the sheet does ("item" beside "connection")
    """

    sure: frozenset[str]
    loose: frozenset[str]


def _spelt(sure: str, loose: str = "") -> Spellings:
    """Spellings separated by semicolons."""
    return Spellings(
        frozenset(heading_key(each) for each in sure.split(";")),
        frozenset(heading_key(each) for each in loose.split(";") if each),
    )


@lru_cache(maxsize=1 << 14)
def heading_key(text: str) -> str:
    """A heading as it is compared: letters and digits alone, without case; "#" counts as "no"."""
    plain = folded(text.replace("#", " no "))
    return "".join(each for each in plain if each.isalnum())


_BRACKETS = re.compile(r"\s*[(\[{]([^()\[\]{}]*)[)\]}]\s*")


class Heading(NamedTuple):
    """A heading without what it has in brackets: "Torque (in-lbf)" is "Torque" and "in-lbf"."""

    name: str
    aside: str


@lru_cache(maxsize=1 << 12)
def without_brackets(text: str) -> Heading:
    """The heading proper, and the text of its brackets: a unit, the words that it allows."""
    asides = [each.strip() for each in _BRACKETS.findall(text)]
    return Heading(_BRACKETS.sub(" ", text).strip(), "; ".join(filter(None, asides)))


_CONNECTION = _spelt(
    "connection;conn;connection id;conn id;connection no;conn no;connection number;conn number;"
    "connection nr;conn nr;connection ref;conn ref;connection tag;id;tag;tag no;tag number;"
    "connection name;connection identifier;identifier",
    "item no;item number;item id;item nr;item;ref;ref no;reference;line no;no;nr;number;name",
)
_JOINT = _spelt("joint;interface;joint name;joint id;joint no;transport joint;interface name")
_SIDE = _spelt("side;lh rh;l r;hand;side lr;sides lr", "sides")
_TYPE = _spelt(
    "type;kind;connection type;conn type;type of connection;kind of connection",
    "description;desc;category;class",
)
_SERVICE = _spelt(
    "service;system;function;services;circuit;service carried", "medium;fluid;carries"
)
_STAGE = _spelt("stage;stage name;build stage;build up stage;milestone", "step;phase")
_REMARKS = _spelt("remarks;remark;notes;note;comment;comments")
_UNIT = _spelt("unit;units;uom;unit of measure")
_TIMING = _spelt(
    "timing;when;sequence;timing rule;make when;when to make;connect when;when to connect;"
    "making rule;sequence rule",
    "rule;order",
)
_TEMPORARY_ITEM = _spelt(
    "temporary item;temp item;temporary items;temporary;temporary part;removable item;"
    "ground item;blank or plug;cap or plug"
)
_TOOL = _spelt("tool;tool no;tool id;tool number;tool name;instrument;gauge;gauge no", "wrench")
_FROM = _spelt("from;from port;port from;from point", "start")
_TO = _spelt("to;to port;port to;to point", "end")

COLUMNS: Mapping[ListKind, Mapping[str, Spellings]] = {
    ListKind.TEMPORARY: {
        "temporary item": _TEMPORARY_ITEM,
        "joint": _JOINT,
        "side": _SIDE,
        "type": _TYPE,
        "connection": _spelt("connection;conn;connection id;blanks;blanks off;fitted to;on"),
        "remove": _spelt("remove;removal;remove when;when to remove;removal rule;to be removed"),
        "remarks": _REMARKS,
    },
    ListKind.RECORD: {
        "when": _spelt(
            "when;date;date and time;date time;date/time;timestamp;done on;performed on;act date;"
            "entry date",
            "on",
        ),
        "time": _spelt("time;time of day;clock;hour;hours"),
        "seq": _spelt("seq;sequence;seq no;sequence no;entry;entry no;line", "no;number;nr"),
        "connection": _spelt(
            "connection;conn;connection id;conn id;connection no;conn no;connection number;"
            "conn number;connection ref;conn ref;connection tag;id;tag;tag no;tag number",
            "ref;reference;item no;item number;item id",
        ),
        "stage": _STAGE,
        "item": _spelt("item;item name;temporary item removed"),
        "side": _SIDE,
        "act": _spelt("act;action;activity;act done;what was done", "work done;event;operation"),
        "by": _spelt(
            "by;done by;person;performed by;stamp;signed by;carried out by;mechanic;operator",
            "who;name;initials;signature;sign",
        ),
        "measure": _spelt("measure;measurement;parameter;measured;reading of", "what"),
        "value": _spelt("value;reading;measured value;actual;actual value", "result"),
        "unit": _UNIT,
        "tool": _TOOL,
        "extension": _spelt("extension;extension length;adapter;adapter length;ext"),
        "wrench length": _spelt("wrench length;lever length;length of wrench"),
        "mated to": _spelt("mated to;mated with;connected to;found at;joined to;port found"),
        "unit serial": _spelt("unit serial;serial;serial no;serial number;sn;s/n;unit no;unit sn"),
        "remarks": _REMARKS,
    },
    ListKind.DIFFERENCES: {
        "joint": _JOINT,
        "connection": _CONNECTION,
        "service": _SERVICE,
        "side": _SIDE,
        "column": _spelt("column;field;attribute;what differs;may differ", "property"),
        "reason": _spelt("reason;justification;rationale;reason for difference", "why"),
        "approved by": _spelt("approved by;approval;approved;accepted by", "by"),
    },
    ListKind.JOINTS: {
        "joint": _JOINT,
        "alike sides": _spelt("alike sides;sides alike;like sides;matching sides", "sides"),
        "remarks": _REMARKS,
    },
    ListKind.PEOPLE: {
        "person": _spelt("person;stamp;employee;name or stamp;stamp no", "name;who;mechanic"),
        "may": _spelt("may;authority;authorisation;authorization;authorised to;authorized to"),
        "until": _spelt("until;valid until;valid to;expires;expiry;expiry date;expires on"),
    },
    ListKind.TOOLS: {
        "tool": _TOOL,
        "calibrated until": _spelt(
            "calibrated until;calibrated to;cal until;calibration until;calibration due;cal due;"
            "calibration due date;cal due date;calibration expires;next calibration;cal expiry",
            "due date;until",
        ),
        "low": _spelt("low;min;minimum;range low;range from;range min", "from"),
        "high": _spelt("high;max;maximum;range high;range to;range max", "to"),
        "unit": _UNIT,
    },
    ListKind.CONNECTIONS: {
        "connection": _CONNECTION,
        "joint": _JOINT,
        "side": _SIDE,
        "type": _TYPE,
        "service": _SERVICE,
        "from": _FROM,
        "to": _TO,
        "size": _spelt(
            "size;dash size;dia;diameter;shell size;dash;nominal size;nominal bore;bore"
        ),
        "from size": _spelt("from size;size from;from dash size;from dia;from diameter"),
        "to size": _spelt("to size;size to;to dash size;to dia;to diameter"),
        "from end": _spelt("from end;from end form;end form from;from fitting;from gender"),
        "to end": _spelt("to end;to end form;end form to;to fitting;to gender"),
        "from key": _spelt("from key;from keying;from clocking;key from;from key position"),
        "to key": _spelt("to key;to keying;to clocking;key to;to key position"),
        "place": _spelt("place;place when;when to place;placing;placing rule;feed through"),
        "timing": _TIMING,
        "inspect": _spelt(
            "inspect;inspect when;when to inspect;inspection timing;inspection rule;inspect rule"
        ),
        "closed by": _spelt("closed by;closes at;closed at;closed off by;access closed by"),
        "limits": _spelt("limits;limit;readings;required readings;acceptance limits"),
        "critical": _spelt("critical;safety critical;flight critical;crit;independent inspection"),
        "made": _spelt(
            "made;connected;joined;connection made;mated",
            "done;complete;completed;fitted;installed",
        ),
        "made by": _spelt(
            "made by;connected by;joined by;mechanic;done by", "by;fitted by;installed by"
        ),
        "made on": _spelt(
            "made on;date made;made date;connected on;date connected;done on",
            "fitted on;date fitted;installed on;date installed",
        ),
        "inspected": _spelt("inspected;insp;checked;verified;qa;qc"),
        "inspected by": _spelt("inspected by;inspector;checked by;insp by;verified by"),
        "inspected on": _spelt(
            "inspected on;date inspected;inspected date;inspection date;insp date;checked on"
        ),
        "part": _spelt("part;part no;part number;part nr;pn;p/n"),
        "remarks": _REMARKS,
    },
    ListKind.RUNS: {
        "from": _FROM,
        "to": _TO,
        "side": _SIDE,
        "from side": _spelt("from side;side from"),
        "to side": _spelt("to side;side to"),
        "service": _SERVICE,
        "half": _spelt("half;body;in half"),
        # Known so that a list that has them is told apart; a runs list has neither.
        "connection": _CONNECTION,
        "joint": _JOINT,
    },
    ListKind.STAGES: {
        "stage": _STAGE,
        "side": _SIDE,
        "timing": _TIMING,
        "after": _spelt("after;after stage;after stages;predecessor;predecessors;follows"),
        "remarks": _REMARKS,
    },
}

# A column headed by one of these, as "Torque (Nm)" or "Torque min", holds limits of that measure.
MEASURES = frozenset(
    heading_key(each)
    for each in (
        *("torque", "tightening torque", "tension", "cable tension", "gap", "clearance", "preload"),
        *("resistance", "bonding resistance", "bond resistance", "threads showing", "slack"),
    )
)
# In these a unit in the brackets of the heading goes with every value that has none.
UNIT_COLUMNS = frozenset(
    ("size", "from size", "to size", "value", "low", "high", "extension", "wrench length")
)
# What the name of a sheet says beside a joint and a side, and what no joint is called.
NO_JOINT_NAMES = frozenset(
    (
        *("hydraulics", "hydraulic", "electrical", "electrics", "electric", "controls", "control"),
        *(
            "flight",
            "lines",
            "line",
            "connections",
            "connection",
            "conns",
            "list",
            "lists",
            "sheet",
        ),
        *("mechanical", "airframe", "structure", "avionics", "fuel", "pneumatics", "pneumatic"),
        *("data", "main", "table", "items", "item", "parts", "misc", "other", "all", "register"),
        *("instruments", "piping", "pipes", "cables", "cabling", "wiring", "rev", "issue", "new"),
        *("old", "copy", "page", "tab", "tabelle", "export", "final", "draft"),
    )
)

# Every group must be there, by any one of its names.
NEEDS: Mapping[ListKind, tuple[tuple[str, ...], ...]] = {
    ListKind.TEMPORARY: (("temporary item",),),
    ListKind.RECORD: (("act",), ("connection", "stage", "item")),
    ListKind.DIFFERENCES: (("reason",), ("connection", "service")),
    ListKind.JOINTS: (("joint",), ("alike sides",)),
    ListKind.PEOPLE: (("person",), ("may",)),
    ListKind.TOOLS: (("tool",), ("calibrated until",)),
    ListKind.CONNECTIONS: (("connection",), ("joint",), ("side",), ("type",)),
    ListKind.RUNS: (("from",), ("to",)),
    ListKind.STAGES: (("stage",), ("timing", "after", "side")),
}
NEVER: Mapping[ListKind, tuple[str, ...]] = {ListKind.RUNS: ("connection", "joint")}

# What each row must have, or it says nothing that could be used.
ROW_NEEDS: Mapping[ListKind, tuple[tuple[str, ...], ...]] = {
    **NEEDS,
    ListKind.DIFFERENCES: (("connection", "service"), ("reason",)),
    ListKind.CONNECTIONS: (("connection",),),
    ListKind.PEOPLE: (("person",),),
    ListKind.TOOLS: (("tool",),),
    ListKind.JOINTS: (("joint",),),
    ListKind.STAGES: (("stage",),),
}
# A row that lacks only this is used all the same: what it is about is told with what it lacks.
NEEDED_LATER = frozenset(("reason",))

DATE_COLUMNS = frozenset(("when", "made on", "inspected on", "until", "calibrated until"))
# A date in these is a value (a tick may be one), or does no harm.
DATES_ALLOWED = DATE_COLUMNS | {"made", "inspected", "time", "remarks", "part", "reason"}
NUMBER_COLUMNS = frozenset(("value", "low", "high"))
# Names and sizes: a line break, a date or a rounded number in one is a slip, never meant.
ONE_LINE = frozenset(
    (
        *("connection", "joint", "side", "type", "stage", "item", "temporary item", "tool"),
        *("from", "to", "size", "from size", "to size", "mated to", "unit serial", "person"),
    )
)
# Texts that are compared with others as names; the rest of those above may hold any dash.
NAMES = ONE_LINE - {"type", "size", "from size", "to size"}
# Merged down over several rows, these mean every row: they say what the rows are, or what rule they
# obey. A limit, a date, a tick or a signature may not.
FILLED_DOWN = frozenset(
    (
        *("connection", "joint", "side", "stage", "item", "temporary item", "unit serial"),
        *("type", "service", "half", "from side", "to side", "alike sides", "critical"),
        *("size", "from size", "to size", "from end", "to end", "from key", "to key"),
        *("place", "timing", "inspect", "closed by", "after", "remove"),
    )
)
# Merged down they are kept with the first row, and nothing is missed by that.
KEPT_AT_THE_TOP = frozenset(("remarks", "part"))
