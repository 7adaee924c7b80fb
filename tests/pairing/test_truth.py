"""Pairing against a known truth, on sides made up from a seed with things dropped and altered."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joinmatrix.checks.asymmetric import audited
from joinmatrix.pairing.pairs import groups
from tests.pairing.two_sides import make, mirrored, right

SEEDS = st.integers(0, 10**6)


@pytest.mark.parametrize(
    ("options", "least"),
    [
        pytest.param({"ids": "same"}, 0.99, id="same-ids"),
        pytest.param({"ids": "tokens"}, 0.99, id="side-words-in-ids"),
        pytest.param({"ids": "tokens", "services": False}, 0.99, id="side-words-and-no-services"),
        pytest.param({"ids": "unrelated"}, 0.95, id="unrelated-ids-and-services"),
        pytest.param(
            {"ids": "unrelated", "services": False, "routes": True}, 0.95, id="unrelated-and-routes"
        ),
        pytest.param({"ids": "unrelated", "routes": True}, 0.95, id="unrelated-and-both"),
        pytest.param({"ids": "unrelated", "faults": 0.25}, 0.95, id="many-faults"),
    ],
)
def test_share_of_right_pairs(options, least):
    shares = [right(made, groups(made.assembly)) for made in (make(s, **options) for s in range(8))]
    assert sum(shares) / len(shares) >= least


@settings(max_examples=15, deadline=None)
@given(SEEDS, st.sampled_from(["same", "tokens", "unrelated"]), st.booleans())
def test_groups_hold_every_connection_once_and_stay_in_their_joint(seed, ids, routes):
    made = make(seed, ids=ids, routes=routes)
    found = groups(made.assembly)
    members = [member.key for group in found for member in group.members]
    assert sorted(members) == sorted(made.assembly.by_key)
    for group in found:
        assert len({member.joint_key for member in group.members}) == 1
        assert len({member.side for member in group.members}) == len(group.members)
        assert bool(group.why) == (len(group.members) > 1)


@settings(max_examples=15, deadline=None)
@given(SEEDS, st.sampled_from(["same", "tokens"]), st.booleans())
def test_what_was_made_to_differ_is_found_and_nothing_else(seed, ids, services):
    made = make(seed, ids=ids, services=services)
    audit = audited(made.assembly)
    for group in audit.groups:
        first, *others = group.members
        if others and made.truth.get(first.key) == others[0].key:
            column = made.altered.get(others[0].key)
            assert [item.column for item in audit.of(group)] == ([column] if column else [])


def _facts(assembly):
    """What the audit says, by the rows it is about."""
    audit = audited(assembly)
    return {
        (frozenset(member.rows[0].index for member in group.members), item.column, item.open)
        for group in audit.groups
        for item in audit.of(group)
    } | {
        frozenset(member.rows[0].index for member in group.members) for group in audit.groups
    }  # fmt: skip


@settings(max_examples=15, deadline=None)
@given(SEEDS, st.sampled_from(["same", "tokens", "unrelated"]), st.booleans(), st.booleans())
def test_left_and_right_exchanged(seed, ids, services, routes):
    made = make(seed, ids=ids, services=services, routes=routes)
    assert _facts(mirrored(made.assembly)) == _facts(made.assembly)
