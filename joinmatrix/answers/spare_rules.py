"""Rules that say nothing which the other rules do not say already."""

from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Key
from joinmatrix.place import Place
from joinmatrix.timing.bounds import rule_cells
from joinmatrix.timing.constraints import Owner, Plan, plan_of
from joinmatrix.timing.network import ALWAYS
from joinmatrix.timing.wording import About, about, demand, ref_text


class SpareRule(NamedTuple):
    """A rule that could be struck, and nothing would change.

    who     what carries it; several connections that say the same on the same side
    rule    its cell as written
    demand  the part of it that goes without saying: `after "gear down" is done`
    cells   of all that carry it
    """

    who: tuple[About, ...]
    rule: str
    demand: str
    cells: tuple[Place, ...]


def spare_rules(assembly: Assembly) -> tuple[SpareRule, ...]:
    """The rules that can all be left out together.

    Of rules that imply each other the one written on a stage stays, then the first of the lists;
    a stage's rule is spare only beside other stages' rules, for connections come and go. Rules that
    contradict others are not looked at.
    """
    plan = plan_of(assembly)
    kept = sorted({edge.rule for edge in plan.sound.edges if edge.rule != ALWAYS}, reverse=True)
    of_stages = [rule for rule in kept if plan.rules[rule].owner.subject == "stage"]
    others = [rule for rule in kept if plan.rules[rule].owner.subject != "stage"]
    spare = plan.sound.without(others).implied(of_stages) + plan.sound.implied(others)
    return tuple(_spare(assembly, plan, rule) for rule in sorted(spare))


def _spare(assembly: Assembly, plan: Plan, number: int) -> SpareRule:
    owner, bounds = plan.rules[number]
    who = tuple(about(assembly, subject) for subject in _subjects(plan, owner))
    bound = bounds[0]
    cells = (cell for each in who for cell in rule_cells(each.rows, bound.rule))
    return SpareRule(
        who,
        bound.rule.text,
        " and ".join(
            dict.fromkeys(
                demand(each, ref_text(assembly, each.ref, who[0].side)) for each in bounds
            )
        ),
        tuple(dict.fromkeys(cells)),
    )


def _subjects(plan: Plan, owner: Owner) -> list[tuple[str, Key]]:
    if owner.subject == "stage":
        return [("stage", owner.key)]
    if owner.subject == "item":
        return [("item", item.key) for item in plan.items(owner).members]
    return [("connection", member.key) for member in plan.group(owner).members]
