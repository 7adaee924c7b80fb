"""A recorded act breaks a timing rule.

The most dangerous mistakes are those of order: something that had to be in before the joint
closed, something connected before it was safe, an inspection before the work. Such an act stands
in the record, and yet it does not count as done properly.

Example: line H-07 says "after gear down" and was made on 4 March; the gear was down on 5 March.

What clears it: correct the record where it is wrong; otherwise undo and do again, or have
engineering accept it.

What it cannot see: an order that the record leaves open, as two acts on one date without times
(that is `unproven`), and work that was done at another time than recorded.
"""

from collections.abc import Iterator, Sequence

from joinmatrix.assembly.model import Act, Assembly
from joinmatrix.checks.check import Check
from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.routes.telling import one_for_all_sides
from joinmatrix.timing.bounds import Ref
from joinmatrix.timing.judge import Judged, Natural, Subject, Why, judge
from joinmatrix.timing.late import holds_unmade
from joinmatrix.timing.order import Order
from joinmatrix.timing.wording import (
    About,
    about,
    acted,
    cells_of,
    duration_text,
    on_text,
    ref_text,
    said,
)


def mis_sequenced(assembly: Assembly) -> Iterator[Finding]:
    """One finding for each act and each thing that it came too early or too late for."""
    yield from one_for_all_sides(finding for _, finding in by_subject(assembly))


def by_subject(assembly: Assembly) -> Iterator[tuple[Subject, Finding]]:
    """The findings side by side, each with the connection, stage or item that acted out of turn."""
    judgement = judge(assembly)
    together: dict[tuple[Subject, Ref], list[Judged]] = {}
    for judged in judgement.judged:
        if judged.outcome is Order.BROKEN and not _is_told_as_unmade(assembly, judged):
            together.setdefault((judged.subject, judged.bound.ref), []).append(judged)
    for (subject, ref), same in together.items():
        yield subject, _finding(assembly, about(assembly, subject), ref, same)
    for natural in judgement.natural:
        yield natural.subject, _natural(assembly, natural)


def _is_told_as_unmade(assembly: Assembly, judged: Judged) -> bool:
    """Whether what it should have waited for is a hold itself, because it is not made."""
    ref = judged.bound.ref
    return (
        judged.why is Why.MISSING
        and ref.subject == "connection"
        and holds_unmade(assembly, ref.key)
    )


def _finding(assembly: Assembly, subject: About, ref: Ref, same: Sequence[Judged]) -> Finding:
    first = same[0]
    other = ref_text(assembly, ref, subject.side)
    rules = dict.fromkeys(judged.bound.rule for judged in same)
    written = " and ".join(dict.fromkeys(said(rule) for rule in rules))
    stages = subject.stages
    if ref.subject == "stage":
        stages += about(assembly, ("stage", ref.key)).stages
    return Finding(
        Kind.MIS_SEQUENCED,
        Severity.HOLD,
        f"{_happened(subject.name, first, other)}; {written}",
        _clears(subject.name, first, other),
        cells_of(
            (judged.entry for judged in same),
            subject.rows,
            rules,
            (judged.other for judged in same),
        ),
        joint=subject.joint,
        sides=(subject.side,) if subject.side else (),
        connections=subject.connections,
        stages=tuple(dict.fromkeys(stages)),
        items=subject.items,
    )


def _happened(name: str, judged: Judged, other: str) -> str:
    """What was done, and what it should have waited for or come before."""
    bound, at = judged.bound, judged.other
    if judged.why is Why.UNDONE:
        on = on_text(at.when) if at is not None else ""
        was = at.act if at is not None else bound.at
        return f"{other} was {was}{on}, and {name} is not recorded as {judged.act} before it"
    assert judged.entry is not None
    own = acted(name, judged.act, judged.entry)
    if judged.why is Why.MISSING:
        return f"{own}, and {other} is not recorded as {bound.at}"
    assert at is not None
    on = on_text(at.when)
    if judged.why is Why.AGAIN:
        return f"{own}, after {other} was {at.act} again{on} and before it was done again"
    if bound.gap:
        lag = duration_text(bound.gap)
        side = f"less than {lag}" if bound.after else f"more than {lag}"
        return f"{own}, {side} after {other} was {at.act}{on}"
    return f"{own}, {'before' if bound.after else 'after'} {other} was {at.act}{on}"


def _clears(name: str, judged: Judged, other: str) -> str:
    bound = judged.bound
    if judged.why is Why.UNDONE:
        return f"record when {name} was {judged.act}, or stop {other} until it is"
    if judged.why is Why.MISSING:
        return (
            f"record {other} if it was {bound.at}; if not, undo this and do it again after {other} "
            f"is {bound.at}"
        )
    if judged.act is Act.REMOVED:
        return (
            f"correct the record if it is wrong; if not, have what {name} held or covered checked"
        )
    if judged.bound.after:
        return f"correct the record if it is wrong; if not, undo this and do it again after {other}"
    return (
        f"correct the record if it is wrong; if not, have engineering decide whether {other} must "
        "be undone and done again"
    )


def _natural(assembly: Assembly, natural: Natural) -> Finding:
    subject = about(assembly, natural.subject)
    early = acted(subject.name, natural.early.act, natural.early)
    late = f"before it was {natural.late.act}{on_text(natural.late.when)}"
    rule = "a connection is placed, made and inspected in this order"
    if natural.early.act is Act.DONE:
        rule = "a stage takes time, and its end is later than its start"
        clears = "correct the time of its start or of its end in the record"
    elif natural.late.act is Act.MADE:
        clears = "correct the dates in the record if they are wrong; if not, inspect it again"
    else:
        clears = "correct the dates in the record; what was placed again was opened before"
    return Finding(
        Kind.MIS_SEQUENCED,
        Severity.HOLD,
        f"{early}, {late}; {rule}",
        clears,
        (natural.early.cell(), natural.late.cell()),
        joint=subject.joint,
        sides=(subject.side,) if subject.side else (),
        connections=subject.connections,
        stages=subject.stages,
    )


CHECK = Check(Kind.MIS_SEQUENCED, mis_sequenced, acts=True)
