"""Which stages there are, and which names rules can use.

With a stages list, the stages are those of the list. Without one, every name that a rule or a
stage entry of the record uses is a stage.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from joinmatrix.assembly.model import Assembly, Connection, Key, Stage
from joinmatrix.lists.table import ListKind
from joinmatrix.timing.rules import RuleReader, Unread
from joinmatrix.timing.vocabulary import EVERY, Known, Name, Vocabulary

RULE_COLUMNS = ("place", "timing", "inspect")


class Texts(NamedTuple):
    """What the rule columns of a connection say, and its side: alike connections share them."""

    side: str
    place: str
    timing: str
    inspect: str
    closed_by: str


@lru_cache(maxsize=8)
def connections_by_texts(assembly: Assembly) -> Mapping[Texts, tuple[Connection, ...]]:
    """The connections that carry the same rules on the same side, in reading order."""
    found: defaultdict[tuple[str, ...], list[Connection]] = defaultdict(list)
    for each in assembly.connections:
        found[each.key.side, each.place, each.timing, each.inspect, each.closed_by].append(each)
    return {Texts(*texts): tuple(members) for texts, members in found.items()}


@dataclass(frozen=True, eq=False)
class Names:
    """The stages of an assembly and the reader of its rules.

    stages   by key, in reading order; those that only rules or the record name come last
    sides    folded stage name -> its sides
    aliases  key of a stage as the record writes it -> the keys that it means, where they differ
    unsure   names of rows that could not be used: rules may name them, and are bound by nothing
    """

    stages: Mapping[Key, Stage]
    sides: Mapping[str, tuple[str, ...]]
    aliases: Mapping[Key, tuple[Key, ...]]
    reader: RuleReader
    unsure: frozenset[str] = frozenset()

    def keys_of_entry(self, key: Key) -> tuple[Key, ...]:
        """The stages that an entry of the record is about; () for one that is not known."""
        if key in self.stages:
            return (key,)
        if key in self.aliases:
            return self.aliases[key]
        sides = self.sides.get(key.name, ())
        if not key.side:
            return tuple(Key(key.name, side) for side in sides)
        return (Key(key.name, ""),) if "" in sides else ()


@lru_cache(maxsize=8)
def names_of(assembly: Assembly) -> Names:
    """The stages and the reader of rules of an assembly."""
    labels = _labels(assembly)
    connections = _connection_names(assembly)
    if ListKind.STAGES in assembly.given:
        stages = {stage.key: stage for stage in assembly.stages}
        aliases: dict[Key, tuple[Key, ...]] = {}
    else:
        stages, aliases = _unlisted_stages(assembly, connections, labels)
    sides: defaultdict[str, list[str]] = defaultdict(list)
    written: dict[str, str] = {}
    for key, stage in stages.items():
        sides[key.name].append(key.side)
        written.setdefault(key.name, stage.name)
    known = {name: Known(written[name], frozenset(on)) for name, on in sides.items()}
    unsure = {
        name: Known(text, frozenset(("",)))
        for subject in ("connection", "stage")
        for name, text in assembly.unsure.get(subject, {}).items()
        if name not in connections and name not in known
    }
    vocabulary = Vocabulary({**unsure, **connections, **known}, labels)
    return Names(
        stages,
        {name: tuple(on) for name, on in sides.items()},
        aliases,
        RuleReader(vocabulary),
        frozenset(unsure),
    )


def stages_of(assembly: Assembly) -> tuple[Stage, ...]:
    """Every stage: those of the stages list, or those that rules and the record name."""
    return tuple(names_of(assembly).stages.values())


def _labels(assembly: Assembly) -> tuple[str, ...]:
    labels = dict.fromkeys(label for alike in assembly.alike.values() for label in alike)
    labels.update(dict.fromkeys(key.side for key in assembly.by_key))
    labels.update(dict.fromkeys(stage.key.side for stage in assembly.stages))
    labels.setdefault("C")
    return tuple(filter(None, labels))


def _connection_names(assembly: Assembly) -> dict[str, Known]:
    """Every connection's name; names on the same sides share the set of them."""
    found: dict[str, Known] = {}
    with_side: dict[tuple[frozenset[str], str], frozenset[str]] = {}
    nowhere: frozenset[str] = frozenset()
    for connection in assembly.connections:
        name, side = connection.key
        known = found.get(name)
        sides = known.sides if known is not None else nowhere
        more = with_side.get((sides, side))
        if more is None:
            more = with_side[sides, side] = sides | {side}
        found[name] = Known(known.written if known is not None else connection.id, more)
    return found


# --- stages without a stages list ---


def _unlisted_stages(
    assembly: Assembly, connections: Mapping[str, Known], labels: tuple[str, ...]
) -> tuple[dict[Key, Stage], dict[Key, tuple[Key, ...]]]:
    """Every name that rules or the record use, on the sides that they give it.

    A name is on sides when the record says so, or when it is used with side words behind it and
    also without, or with others ("wing mate L" beside "wing mate", or beside "wing mate R"). The
    sides of the connections that name it without a side then count too: a stage recorded for the
    left alone is not yet recorded for the right.
    """
    recorded = _recorded(assembly)
    start = {
        name: Known(written, frozenset(on or {""})) for name, (written, on) in recorded.items()
    }
    vocabulary = Vocabulary({**connections, **start}, labels, open=True)
    written: dict[str, str] = {name: each for name, (each, _) in recorded.items()}
    sides: defaultdict[str, set[str]] = defaultdict(set)
    for name, (_, on) in recorded.items():
        sides[name].update(on)
    bare: defaultdict[str, set[str]] = defaultdict(set)
    for used, owner_side in _uses(assembly, RuleReader(vocabulary)):
        if used.key in connections and used.key not in start:
            continue
        written.setdefault(used.key, used.written)
        sides[used.key].update(side for side in used.sides if side != EVERY)
        if not used.sides:
            bare[used.key].add(owner_side)
    aliases = _side_words_apart(vocabulary, written, sides, bare)
    stages = {}
    for name, text in written.items():
        if Key(name, "") in aliases:
            continue
        on = sides[name]
        if on:
            on |= {side for side in bare[name] if side not in ("", "C")}
        for side in sorted(on) or [""]:
            stages[Key(name, side)] = Stage(Key(name, side), text, "", "", ())
    return stages, aliases


def _recorded(assembly: Assembly) -> dict[str, tuple[str, set[str]]]:
    """Stage names of the record: as written, and the sides that it gives them."""
    found: dict[str, tuple[str, set[str]]] = {}
    for entry in assembly.entries:
        if entry.subject == "stage":
            sides = found.setdefault(entry.key.name, (entry.name, set()))[1]
            if entry.key.side:
                sides.add(entry.key.side)
    return found


def _uses(assembly: Assembly, reader: RuleReader) -> Iterator[tuple[Name, str]]:
    """Every name that a rule uses, and the side of a connection or item that has the rule."""
    for texts in connections_by_texts(assembly):
        for column in RULE_COLUMNS:
            yield from ((name, texts.side) for name in rule_names(reader, getattr(texts, column)))
        closing = reader.name_list(texts.closed_by)
        if not isinstance(closing, Unread):
            yield from ((name, texts.side) for name in closing)
    for item in assembly.temporary:
        yield from ((name, item.key.side) for name in rule_names(reader, item.remove))


def rule_names(reader: RuleReader, text: str) -> Iterable[Name]:
    """The names that one rule uses; none for a rule that cannot be read."""
    rule = reader.rule(text)
    return () if isinstance(rule, Unread) else (name for clause in rule for name in clause.names)


def _side_words_apart(
    vocabulary: Vocabulary,
    written: dict[str, str],
    sides: defaultdict[str, set[str]],
    bare: defaultdict[str, set[str]],
) -> dict[Key, tuple[Key, ...]]:
    """Take "wing mate L" as the stage "wing mate" on L, where other uses show that it is one.

    Adds the shorter names to `written` and `sides`; returns what the longer ones mean.
    """
    parts: dict[str, tuple[str, tuple[str, ...]]] = {}
    by_base: defaultdict[str, set[tuple[str, ...]]] = defaultdict(set)
    for name in written:
        match = vocabulary.side_at_end(name)
        if match is not None and not sides[name]:
            parts[name] = match
            by_base[match[0]].add(match[1])
    aliases = {}
    for name, (base, said) in parts.items():
        if base in written or len(by_base[base]) > 1:
            written.setdefault(base, written[name][: len(base)])
            sides[base].update(said)
            aliases[Key(name, "")] = tuple(Key(base, side) for side in said)
            bare.pop(name, None)
    return aliases
