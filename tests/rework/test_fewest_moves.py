"""The fewest operations of a rework against brute force on small cases, and cases counted by hand."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace

import pytest

from harnesscheck.rework.ends import CAVITY, MARK, SPLICE, STOWED, STUD, End, Piece
from harnesscheck.rework.moves import fewest

PIN, SOCKET = "M39029/64-369", "M39029/63-368"
MADE = ("M22759/16-22-9", "22 AWG", "9")


def wire(name: str, a: End, b: End, length: float = 0.3, **more: str) -> Piece:
    return Piece(name, (*MADE, *more.values()), length, a, b, name, more.get("cable", ""))


def cavity(point: str, part: str = PIN) -> End:
    return End(CAVITY, point, part)


SP1, SP2 = End(SPLICE, "SP1", "M81824/1-1"), End(SPLICE, "SP2", "M81824/1-1")


def operations(old: list[Piece], new: list[Piece]) -> int:
    return sum(n for word, n in fewest(old, new).total.items() if word != MARK)


def cost(before: End, after: End, open_splices: set[str]) -> int:
    """Operations of one end, written out as a table of its own; see the meaning of each word in ``ends``."""
    if (before.kind, after.kind) == (SPLICE, SPLICE):
        return 0 if before == after and before.point not in open_splices else 2
    if before == after:
        return 0
    table = {
        (CAVITY, CAVITY): 2 if before.part == after.part else 4,  # out, (off, crimp,) in
        (CAVITY, SPLICE): 3, (CAVITY, STUD): 4, (CAVITY, STOWED): 2,
        (SPLICE, CAVITY): 3, (SPLICE, STUD): 3, (SPLICE, STOWED): 1,
        (STUD, STUD): 2, (STUD, CAVITY): 4, (STUD, SPLICE): 3, (STUD, STOWED): 2,
        (STOWED, CAVITY): 2, (STOWED, SPLICE): 1, (STOWED, STUD): 2, (STOWED, STOWED): 0,
    }  # fmt: skip
    return table[before.kind, after.kind]


OUT = {CAVITY: 1, STUD: 1, SPLICE: 1, STOWED: 0}
IN = {CAVITY: 2, STUD: 2, SPLICE: 1, STOWED: 0}


def brute(old: list[Piece], new: list[Piece]) -> int:
    """Every way to give each new wire an old one, either way round, or none."""
    best = 10**9
    for chosen in itertools.product([None, *range(len(old))], repeat=len(new)):
        used = [i for i in chosen if i is not None]
        if len(set(used)) < len(used):
            continue
        for turns in itertools.product((False, True), repeat=len(used)):
            best = min(best, priced(old, new, chosen, dict(zip(used, turns, strict=True))))
    return best


def priced(old: list[Piece], new: list[Piece], chosen: tuple[int | None, ...], turned: dict[int, bool]) -> int:
    pairs, total = [], 0
    inside: tuple[dict[str, set[object]], dict[str, set[object]]] = ({}, {})
    for i, piece in enumerate(old):
        for name, end in (("a", piece.a), ("b", piece.b)):
            if end.kind == SPLICE:
                inside[0].setdefault(end.point, set()).add((i, name))
        if i not in chosen:
            total += OUT[piece.a.kind] + OUT[piece.b.kind]
    for j, (piece, i) in enumerate(zip(new, chosen, strict=True)):
        names = ("b", "a") if i is not None and turned[i] else ("a", "b")
        for name, end in zip(names, (piece.a, piece.b), strict=True):
            if end.kind == SPLICE:
                inside[1].setdefault(end.point, set()).add((i if i is not None else f"new {j}", name))
        if i is None:
            total += 1 + IN[piece.a.kind] + IN[piece.b.kind]
        else:
            was = (old[i].b, old[i].a) if turned[i] else (old[i].a, old[i].b)
            if old[i].made_of != piece.made_of:
                return 10**9
            pairs += list(zip(was, (piece.a, piece.b), strict=True))
    remade = {ref for ref, members in inside[0].items() if inside[1].get(ref) != members}
    return total + sum(cost(one, two, remade) for one, two in pairs)


@pytest.mark.parametrize("seed", range(25))
def test_against_brute_force(seed: int) -> None:
    rng = random.Random(seed)
    places = [cavity("P1-1"), cavity("P1-2"), cavity("J1-1", SOCKET), cavity("J1-2", SOCKET), SP1, SP1, SP2]
    places += [End(STUD, "GS1"), End(STOWED, "")]

    def some(count: int, tag: str) -> list[Piece]:
        made = []
        for number in range(count):
            a, b = rng.sample(range(len(places)), 2)
            extra = {"kind": "thin"} if rng.random() < 0.2 else {}
            made.append(replace(wire(f"{tag}{number}", places[a], places[b], **extra)))
        return made

    old = some(rng.randint(1, 4), "W")
    # Half of the new wires are old ones with one end moved, as in a real revision.
    new = some(rng.randint(0, 2), "N")
    for piece in rng.sample(old, k=min(2, len(old))):
        new.append(replace(piece, b=rng.choice(places)) if rng.random() < 0.7 else piece)
    found = fewest(old, new)
    assert found.proved
    assert operations(old, new) == brute(old, new)
    # Each old wire and each new wire stands in exactly one move.
    assert sorted(id(m.old) for m in found.moves if m.old) == sorted(id(w) for w in old)
    assert sorted(id(m.new) for m in found.moves if m.new) == sorted(id(w) for w in new)


def test_two_crossed_wires_cost_one_end_each() -> None:
    """By hand: take two contacts out and put them back crosswise: 2 + 2."""
    old = [wire("A", cavity("J1-1"), cavity("P1-1")), wire("B", cavity("J1-2"), cavity("P1-2"))]
    new = [wire("A", cavity("J1-1"), cavity("P1-2")), wire("B", cavity("J1-2"), cavity("P1-1"))]
    assert operations(old, new) == 4


def test_two_wires_that_change_names_need_no_work_but_marks() -> None:
    old = [wire("A", cavity("J1-1"), cavity("P1-1")), wire("B", cavity("J1-2"), cavity("P1-2"))]
    new = [replace(old[0], id="B", mark="B"), replace(old[1], id="A", mark="A")]
    assert operations(old, new) == 0
    assert fewest(old, new).total[MARK] == 2


def test_a_wire_more_in_a_splice_opens_it_for_all() -> None:
    """By hand: two wires cut and crimped again (2 x 2), the third cut to length, crimped into the splice and a contact
    crimped and inserted (1 + 1 + 2)."""
    old = [wire("A", cavity("J1-1"), SP1), wire("B", SP1, cavity("P1-1"))]
    new = [*old, wire("C", SP1, cavity("P2-1"))]
    assert operations(old, new) == 8
    assert fewest(old, new).untouched == frozenset()
    assert fewest(old, old).untouched == {"SP1"}


def test_a_longer_wire_is_used_only_where_an_end_is_cut_anyway() -> None:
    """Another contact part: out, off, crimp, in = 4; so a longer wire will do. A shorter one not: 2 + 5."""
    before = wire("A", cavity("J1-1", SOCKET), cavity("P1-1"), 0.4)
    after = wire("A", cavity("J1-1", SOCKET), cavity("P1-1", "M39029/58-360"), 0.3)
    assert operations([before], [after]) == 4
    assert operations([replace(before, length=0.2)], [after]) == 7
    assert operations([before], [replace(before, length=0.3)]) == 7


def test_cores_stay_in_their_cable() -> None:
    """One core more: the cable is made anew. 2 ends out; cable cut once, 4 ends crimped and inserted = 2 + 1 + 8."""
    one = wire("C", cavity("J1-1"), cavity("P1-1"), cable="CAB", core="white")
    two = wire("D", cavity("J1-2"), cavity("P1-2"), cable="CAB", core="blue")
    assert operations([one], [one, two]) == 11
    assert operations([one, two], [one, two]) == 0


def test_many_wires_stay_quick_and_right() -> None:
    """300 wires, two of them crossed."""
    old = [wire(f"W{i}", cavity(f"J1-{i}"), cavity(f"P1-{i}")) for i in range(300)]
    new = list(old)
    new[7], new[8] = replace(old[7], b=old[8].b), replace(old[8], b=old[7].b)
    assert operations(old, new) == 4


def test_nothing_from_nothing() -> None:
    assert fewest([], []).moves == ()
