"""Two sides of an assembly made up from a seed, with the truth about what belongs together."""

import random
import re
from dataclasses import dataclass, replace

from joinmatrix.assembly.model import Assembly, Connection, Key, Run
from joinmatrix.lists.table import ListKind, Source, Table
from joinmatrix.names import folded

_SYSTEMS = [
    "brake", "flap", "aileron", "fuel feed", "fuel vent", "pitot", "landing light", "float latch",
    "anti-ice", "bilge pump", "strobe", "trim", "gear uplock", "hydraulic", "earth", "cabin air",
]  # fmt: skip
_WHATS = ["supply", "return", "sense", "up", "down", "signal", "drain", "main", "standby"]
_TYPES = ["hydraulic line", "fuel line", "electrical connector", "control rod", "air duct", "bolt"]
_RULES = ["after wing mate", "before wing mate", "after gear down {side}", "after rig check", ""]
_ALTERED = ["from_size", "to_end", "timing", "inspect", "limits", "closed_by", "service", "type"]
_TOKENS = [
    ("LH", "RH"), ("L", "R"), ("left", "right"), ("port", "stbd"),
]  # fmt: skip


@dataclass(frozen=True)
class Made:
    """An assembly and the truth about it.

    truth    each connection of the left that has a counterpart on the right -> that counterpart
    altered  connections of the right in which a column was made to differ -> the column
    """

    assembly: Assembly
    truth: dict[Key, Key]
    altered: dict[Key, str]


def make(
    seed: int,
    *,
    ids: str = "tokens",
    services: bool = True,
    routes: bool = False,
    joints: int = 4,
    each: int = 25,
    faults: float = 0.1,
) -> Made:
    """Two sides.

    ids       "same", "tokens" (side words at some place) or "unrelated"
    services  whether services are given
    routes    whether ports are named, and runs lead on to equipment of the same name
    faults    share of connections that one side lacks, of those it has in excess, and of those in
              which a column differs
    """
    luck = random.Random(seed)
    table = Table(ListKind.CONNECTIONS, "made.csv", "", {"connection": 1}, range(2, 10**6), {})
    rows: list[Connection] = []
    runs: list[Run] = []
    truth: dict[Key, Key] = {}
    altered: dict[Key, str] = {}
    run_table = Table(ListKind.RUNS, "runs.csv", "", {"from": 1, "to": 2}, range(2, 10**6), {})
    numbers = {side: luck.sample(range(1000, 99999), joints * each * 3) for side in "LR"}

    def connection(side: str, joint: str, name: str, thing: dict[str, str]) -> Connection:
        blank = dict.fromkeys(Connection._fields, "")
        values = {**blank, **thing, "id": name, "joint": joint, "joint_key": folded(joint)}
        row = Source(table, len(rows))
        made = Connection(
            **{**values, "key": Key(folded(name), side), "critical": False, "rows": (row,),
               "disputed": frozenset()}
        )  # fmt: skip
        rows.append(made)
        return made

    def named(number: int, place: int) -> tuple[str, str]:
        if ids == "same":
            return (f"Q-{number}",) * 2
        if ids == "unrelated":
            return f"P{numbers['L'].pop()}", f"W-{numbers['R'].pop()}"
        pair = luck.choice(_TOKENS)
        forms = [
            f"HL-{number}-{{}}",
            f"{{}} pump {number}",
            f"CR {number} {{}}.A",
            f"{{}}/{number}",
        ]
        return tuple(forms[place % 4].format(word) for word in pair)

    for joint in (f"joint {number}" for number in range(joints)):
        kinds = luck.sample([(a, b) for a in _SYSTEMS for b in _WHATS], min(each, 140))
        # Some services cross the joint twice, by lines that differ in what they are.
        kinds[: each // 5] = kinds[each // 5 : 2 * (each // 5)]
        for number, (system, what) in enumerate(kinds):
            thing = {
                "type": luck.choice(_TYPES),
                "service": f"{system} {what}" if services else "",
                "from_size": f"-{luck.randint(3, 12)}",
                "to_end": luck.choice(["pin", "socket", "flare 37"]),
                "timing": luck.choice(_RULES),
                "inspect": luck.choice(_RULES[:2]),
                "limits": luck.choice(["torque 135..150 in-lbf", "", "gap <= 2 mm"]),
                "closed_by": luck.choice(["panel close", ""]),
            }
            names = named(int(joint[-1]) * 1000 + number, luck.randrange(4))
            fate = luck.random()
            here = {"L": fate >= faults / 2, "R": not faults / 2 <= fate < faults}
            keys = []
            for side, name in zip("LR", names, strict=True):
                if not here[side]:
                    continue
                own = {**thing, "timing": thing["timing"].format(side=side)}
                column = ""
                if side == "R" and luck.random() < faults:
                    column = luck.choice(_ALTERED)
                    own[column] = _alter(own[column], column, luck)
                if routes:
                    own["from_port"] = f"F{numbers[side].pop()}"
                    own["to_port"] = f"T{numbers[side].pop()}"
                    far = f"{joint} unit {number} {'LH' if side == 'L' else 'RH'}"
                    runs.append(
                        Run(
                            Key(folded(own["to_port"]), side), Key(folded(far), side),
                            own["to_port"], far, "", "wing", Source(run_table, len(runs)),
                        )
                    )  # fmt: skip
                keys.append(connection(side, joint, name, own).key)
                if column:
                    altered[keys[-1]] = column.replace("_", " ")
            if len(keys) == 2:
                truth[keys[0]] = keys[1]
    luck.shuffle(rows)
    joint_keys = {row.joint_key for row in rows}
    return Made(
        Assembly(
            connections=tuple(rows),
            runs=tuple(runs),
            by_key={row.key: row for row in rows},
            alike=dict.fromkeys(joint_keys, ("L", "R")),
        ),
        truth,
        altered,
    )


def _alter(text: str, column: str, luck: random.Random) -> str:
    """Another text for a column; a service or type is still the same thing, written otherwise."""
    if column in ("timing", "inspect"):
        return "after the altered stage"
    if column == "limits":
        return "gap <= 9 mm"
    if column not in ("service", "type") or len(text) < 6:
        return f"{text} altered".strip()
    place = luck.randrange(2, len(text) - 2)
    return text[:place] + text[place + 1 :]


def right(made: Made, groups: object) -> float:
    """The share of pairs that are right, of all that are true or were made."""
    pairs = {
        (group.members[0].key, group.members[1].key) for group in groups if len(group.members) == 2
    }
    true = set(made.truth.items())
    return len(pairs & true) / len(pairs | true)


_SWAP = dict(
    pair
    for one, other in [*_TOKENS, ("lh", "rh"), ("l", "r")]
    for pair in ((one, other), (other, one))
)
_RUN_OF_LETTERS = re.compile(r"[^\W\d_]+")


def swapped(text: str) -> str:
    """A text with the words for left and right exchanged."""
    return _RUN_OF_LETTERS.sub(lambda found: _SWAP.get(found[0], found[0]), text)


def mirrored(assembly: Assembly) -> Assembly:
    """The same assembly with left and right exchanged everywhere; rows keep their cells."""

    def other(key: Key) -> Key:
        return Key(swapped(key.name), _SWAP.get(key.side, key.side))

    rows = tuple(
        row._replace(
            key=other(row.key), id=swapped(row.id), service=swapped(row.service),
            from_port=swapped(row.from_port), to_port=swapped(row.to_port),
            timing=swapped(row.timing),
        )
        for row in assembly.connections
    )  # fmt: skip
    runs = tuple(
        run._replace(
            start=other(run.start), end=other(run.end),
            from_port=swapped(run.from_port), to_port=swapped(run.to_port),
        )
        for run in assembly.runs
    )  # fmt: skip
    by_key = {row.key: row for row in rows}
    return replace(assembly, connections=rows, runs=runs, by_key=by_key)
