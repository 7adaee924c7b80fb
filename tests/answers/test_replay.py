"""What the answers about order say, held against each other and against all pairs of points."""

from datetime import date, datetime, timedelta

from hypothesis import assume, given, settings

from joinmatrix.answers.gate import gate
from joinmatrix.answers.next_acts import next_acts
from joinmatrix.answers.sequence import sequence
from joinmatrix.checks.contradiction import contradiction
from joinmatrix.checks.mis_sequenced import mis_sequenced
from joinmatrix.checks.unmade import unmade
from joinmatrix.checks.unproven import unproven
from tests.answers.plans import plans

EXAMPLES = settings(max_examples=40, deadline=None)


def acts(steps):
    return [(step.connection or step.stage, step.side, step.act) for step in steps]


def dated(plan, order):
    """Each act on a day of its own; what the rules put at one moment, at one time of one day."""
    closure = plan.closure()
    number, record = 0, []
    for before, point in zip([None, *order], order, strict=False):
        one = closure.get((before, point)) == 0 == closure.get((point, before))
        number += not one
        day = (date(2026, 3, 1) + timedelta(days=number)).isoformat()
        record.append((*point, f"{day}T08:00"))
    return record


def minute(number):
    return (datetime(2026, 3, 1, 8) + timedelta(minutes=number)).isoformat(timespec="minutes")


@EXAMPLES
@given(plans(timed=True))
def test_a_sequence_exists_when_the_rules_can_be_met(plan):
    found = sequence(plan.assembly())
    assert found.feasible == plan.can_be_met()
    assert (found.contradiction is None) == found.feasible
    assert bool(found.impossible) != found.feasible
    assert bool(list(contradiction(plan.assembly()))) != found.feasible


@EXAMPLES
@given(plans())
def test_a_sequence_has_every_act_once_and_in_an_order_that_the_rules_allow(plan):
    assume(plan.can_be_met())
    order = acts(timed.step for timed in sequence(plan.assembly()).order)
    assert len(set(order)) == len(order)
    asked = {point for point in plan.points if point[2] != "placed"}
    assert asked <= set(order)
    turn = {point: number for number, point in enumerate(order)}
    for (one, other), gap in plan.closure().items():
        if gap is not None and gap > 0 and one in turn and other in turn:
            assert turn[one] < turn[other]


@EXAMPLES
@given(plans())
def test_a_sequence_replayed_day_by_day_is_in_order(plan):
    assume(plan.can_be_met())
    order = acts(timed.step for timed in sequence(plan.assembly()).order)
    assembly = plan.assembly(dated(plan, order))
    assert list(mis_sequenced(assembly)) == []
    assert list(unmade(assembly)) == []
    assert list(unproven(assembly)) == []


@EXAMPLES
@given(plans(timed=True))
def test_a_sequence_replayed_at_its_earliest_times_is_in_order(plan):
    assume(plan.can_be_met())
    order = sequence(plan.assembly()).order
    record = [
        (*point, minute(timed.earliest or 0))
        for point, timed in zip(acts(timed.step for timed in order), order, strict=True)
    ]
    assert list(mis_sequenced(plan.assembly(record))) == []


@EXAMPLES
@given(plans(timed=True))
def test_earliest_times_are_those_of_all_pairs(plan):
    assume(plan.can_be_met())
    closure = plan.closure()
    for timed in sequence(plan.assembly()).order:
        (point,) = acts([timed.step])
        if timed.earliest is not None and point in plan.points:
            gaps = [
                gap for (_, other), gap in closure.items() if other == point and gap is not None
            ]
            assert timed.earliest == round(max(gaps) / (60 * 2**20) * 60)
            assert timed.latest >= timed.earliest


@EXAMPLES
@given(plans())
def test_a_gate_says_go_exactly_when_all_that_must_come_before_is_done(plan):
    assume(plan.can_be_met())
    order = acts(timed.step for timed in sequence(plan.assembly()).order)
    closure = plan.closure()
    asked = set(order)
    record = dated(plan, order)
    for length in range(0, len(order) + 1, 3):
        done = order[:length]
        if length and length < len(order) and record[length][3] == record[length - 1][3]:
            continue  # in the midst of what is done at one moment
        assembly = plan.assembly(record[:length])
        for name, side, act in order:
            if act != "started":
                continue
            start = (name, side, "started")
            before = [
                one for (one, other), gap in closure.items() if other == start and gap is not None
            ]
            needed = {
                point for point in asked - {start} if (closure.get((point, start), -1) or 0) >= 0
            } & set(before)
            found = gate(assembly, name, side or None)
            assert found.go == (needed <= set(done)), (name, side, found)
            missing = set(acts(each.step for each in found.missing))
            ends = {(n, s, "started") for n, s, a in needed if a == "done"}
            assert missing == needed - set(done) - ends


@EXAMPLES
@given(plans())
def test_what_may_be_done_now_can_be_done(plan):
    """Doing an act that is offered breaks nothing, and as long as work is left one is offered."""
    assume(plan.can_be_met())
    closure = plan.closure()
    assume(not any(one != other and closure[one, other] == 0 == closure[other, one]
                   for one, other in closure))  # fmt: skip
    done = []
    total = len(sequence(plan.assembly()).order)
    while len(done) < total:
        found = next_acts(plan.assembly(dated(plan, done)))
        assert found.now
        done.append(acts([found.now[-1].step])[0])
    assembly = plan.assembly(dated(plan, done))
    assert list(mis_sequenced(assembly)) == []
    assert next_acts(assembly).now == next_acts(assembly).waiting == ()
