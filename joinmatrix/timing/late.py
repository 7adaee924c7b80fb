"""What ended the time of an act that is not done, in a sentence and in cells."""

from collections.abc import Iterable, Iterator

from joinmatrix.assembly.model import Act, Assembly, Key
from joinmatrix.assembly.standing import NOTHING_DONE, standings
from joinmatrix.lists.table import Source
from joinmatrix.place import Place
from joinmatrix.timing.bounds import rule_cells
from joinmatrix.timing.judge import Passed, judge
from joinmatrix.timing.wording import demand, on_text, ref_text, said


def late_making(assembly: Assembly, key: Key) -> list[Passed]:
    """What ended the time for placing or making a connection that is not made."""
    passed = judge(assembly).passed.get(("connection", key), ())
    return [each for each in passed if each.act in (Act.PLACED, Act.MADE)]


def holds_unmade(assembly: Assembly, key: Key) -> bool:
    """Whether a connection stops work because it is not made: too late, or inspected already."""
    standing = standings(assembly).get(key, NOTHING_DONE)
    if standing.made is not None:
        return False
    return standing.inspected is not None or bool(late_making(assembly, key))


def why_late(assembly: Assembly, side: str, late: Passed) -> str:
    """`it had to be made before "tail mate" starts (...), and "tail mate" was started on ...`."""
    bound, other = late.bound, late.other
    ref = ref_text(assembly, bound.ref, side)
    happened = f"{ref} was {other.act}{on_text(other.when)}"
    if bound.gap:
        happened += ", and that time has run out"
    return f"it had to be {late.act} {demand(bound, ref)} ({said(bound.rule)}), and {happened}"


def late_cells(rows: Iterable[Source], late: Iterable[Passed]) -> Iterator[Place]:
    """The cells of the rules, then those of the entries that ended the time."""
    rows, late = list(rows), list(late)
    for each in late:
        yield from rule_cells(rows, each.bound.rule)
    for each in late:
        yield each.other.cell()


def late_stages(late: Iterable[Passed]) -> tuple[str, ...]:
    """The stages that ended the time, as the record writes them."""
    names = (each.other.name for each in late if each.bound.ref.subject == "stage")
    return tuple(dict.fromkeys(names))
