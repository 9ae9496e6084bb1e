"""Every fault of a small network listed by hand, with the change that it makes and its share of the weight."""

from __future__ import annotations

from dataclasses import replace

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble import faults
from harnesscheck.trouble.faults import ADDED, LOADS, PRIORS, Plan, Trouble, universe
from harnesscheck.trouble.network import Network
from harnesscheck.trouble.predict import OPEN, Edit

J = [Point("J1", str(n)) for n in range(8)]


def rear(n: int) -> Point:
    return Point("J1 rear", str(n))


def net(*wired: int, new: bool = True) -> Network:
    """Contacts of J1, each with a wire behind it to a terminal of its own."""
    made = Network()
    for n in range(1, 6):
        made.node(J[n])
    for n in wired:
        number = len(made.pieces)
        made.add("contact", str(J[n]), J[n], rear(n), 0.008, at=(J[n],), wire=f"W{n}", new=new)
        made.add("wire", f"W{n}", rear(n), Point("E", str(n)), 0.05, wire=f"W{n}", new=new)
        made.contacts[J[n]] = (number, made.node(rear(n)), made.node(J[n]))
    for n in range(1, 6):
        made.faces[J[n]] = made.node(J[n])
    return made


NAMES = {J[1]: "A PWR", J[2]: "A RTN", J[3]: "CAN H", J[4]: "CAN L"}
SIGNALS = {J[1]: "power", J[2]: "ground", J[3]: "can", J[4]: "can"}
PLAN = Plan(SIGNALS, NAMES, kit=frozenset(J))


def by_kind(network: Network, plan: Plan) -> dict[str, list[Trouble]]:
    found: dict[str, list[Trouble]] = {}
    for one in universe(network, plan):
        found.setdefault(one.kind, []).append(one)
    return found


def said(troubles: list[Trouble]) -> list[str]:
    return [t.says for t in troubles]


def at(made: Network, home: int, seat: int) -> tuple[int, int, int, float]:
    """The contact of one cavity in another."""
    number, behind, _ = made.contacts[J[home]]
    return number, behind, made.node(J[seat]), 0.008


def test_breaks() -> None:
    made = net(1, 2)
    found = by_kind(made, PLAN)
    assert said(found["contact open"]) == ["the contact at J1-1 (A PWR) is open"]
    assert said(found["ground contact open"]) == ["the contact at J1-2 (A RTN) is open"]
    assert said(found["wire open"]) == ["wire W1 is open", "wire W2 is open"]
    (first,) = found["contact open"]
    assert first.edits == (Edit(((0, made.node(J[1]), made.node(rear(1)), OPEN),)),)
    assert first.look == "J1, cavity 1: pull on wire W1; contact locked in? crimp holding?"
    assert (first.points, first.wires, first.spread, first.comes_and_goes) == ((J[1],), ("W1",), 0.0, 0.05)
    assert found["wire open"][1].edits[0].change[0][0] == 3 and found["wire open"][0].comes_and_goes == 0.02
    crimp = found["high resistance"][0]
    assert [e.change[0][3] for e in crimp.edits] == pytest.approx([0.008 + ohms for ohms in ADDED])
    assert (crimp.spread, crimp.comes_and_goes) == (0.4, 0.15)
    assert crimp.says == "the contact at J1-1 (A PWR) has a high resistance" and "crimp of wire W1" in crimp.look


def test_mated_contacts_splices_terminators() -> None:
    made = net(1)
    made.add("contact", "x", Point("P7", "1"), J[5], 0.01, at=(Point("P7", "1"), J[5]), wire="W9", new=False)
    made.add("leg", "SP1 W1", Point("SP1"), rear(1), 0.001, at=(Point("SP1"),), wire="W1")
    made.add("terminator", "terminator of CAN beyond P9", J[3], J[4], 120.0)
    made.add("contact", "no wire", J[6], J[7], 0.01, at=(J[6],))
    made.add("bond", "GS1", J[2], J[4], 0.001, at=(J[2],))
    found = by_kind(made, PLAN)
    assert said(found["contact open"])[1] == "the contact at J1-5, mated with P7-1 is open", "the new half comes first"
    assert len(found["contact open"]) == 2 and len(found["high resistance"]) == 2
    assert said(found["splice leg open"]) == ["wire W1 is missing from splice SP1"]
    assert "splice SP1: is wire W1 in it" in found["splice leg open"][0].look
    (lost,) = found["terminator missing"]
    assert lost.says == "terminator of CAN beyond P9 is missing" and lost.edits[0].change[0][3] == OPEN


def test_existing_wiring_has_a_fifth_of_the_weight() -> None:
    """Two contacts of one kind, 1 to 0.2: five sixths and one sixth of the same share."""
    made = net(1, 3)
    made.pieces[2] = replace(made.pieces[2], new=False)
    new, old = by_kind(made, PLAN)["contact open"]
    assert new.weight / old.weight == pytest.approx(5.0)
    whole = sum(PRIORS[k] for k in ("contact open", "high resistance", "wire open", "nothing", "something else"))
    more = by_kind(made, PLAN).keys() - {"contact open", "high resistance", "wire open"}
    whole += sum(PRIORS[kind] for kind in more)
    assert new.weight + old.weight == pytest.approx(PRIORS["contact open"] / whole)


def test_contacts_where_they_do_not_belong() -> None:
    made = net(1, 2)
    plan = replace(PLAN, near=((J[1], J[2]), (J[2], J[3]), (J[4], J[5])))
    found = by_kind(made, plan)
    (swap,) = found["swapped contacts"]
    assert swap.says == "J1-1 (A PWR) and J1-2 (A RTN) are exchanged"
    assert swap.edits == (Edit((at(made, 1, 2), at(made, 2, 1))),) and swap.wires == ("W1", "W2")
    assert swap.look == "J1, cavities 1 and 2: read both wire marks"
    (off,) = found["wrong cavity"]
    assert off.says == "the contact of J1-2 (A RTN) sits in cavity 3" and off.edits == (Edit((at(made, 2, 3),)),)
    assert off.look == "J1, cavities 2 and 3: in which one sits wire W2?" and off.points == (J[2], J[3])
    # One swap among two contacts is half of the share that a full connector would have.
    kinds = {kind: sum(t.weight for t in troubles) for kind, troubles in found.items()}
    assert kinds["swapped contacts"] / kinds["contact open"] == pytest.approx(
        PRIORS["swapped contacts"] / 2 / PRIORS["contact open"]
    )
    backwards = by_kind(made, replace(PLAN, near=((J[3], J[2]),)))
    assert said(backwards["wrong cavity"]) == said([off])


def test_pairs_exchanged() -> None:
    made = net(3, 4)
    plan = replace(PLAN, pairs=((J[3], J[4]), (J[1], J[3])))
    (pair,) = by_kind(made, plan)["pair exchanged"]
    assert pair.edits == (Edit((at(made, 3, 4), at(made, 4, 3))),)
    # The same change as a swap of neighbours is one fault, of the likelier kind.
    both = by_kind(made, replace(plan, near=((J[3], J[4]),)))
    kept = max(("pair exchanged", "swapped contacts"), key=PRIORS.__getitem__)
    assert len(both[kept]) == 1 and ({"pair exchanged", "swapped contacts"} - {kept}).isdisjoint(both)


@pytest.mark.parametrize(
    ("wired", "count", "rows"),
    [
        # 1 2 3 wired, 4 and 5 empty: from 1 and from 2 up to the empty 4; downwards nothing before 1 is empty: round.
        ((1, 2, 3), 5, ["one cavity off from 1 to 4", "one cavity off from 2 to 4"]),
        ((1, 2, 3), 3, ["sit one cavity on, from 1 in 2", "sit one cavity on, from 3 in 2"]),
        ((1, 2), 2, []), ((1, 3), 4, []),
        ((2, 3), 4, ["one cavity off from 2 to 4", "one cavity off from 3 to 1"]),
    ],
)  # fmt: skip
def test_rows_that_are_shifted(wired: tuple[int, ...], count: int, rows: list[str]) -> None:
    made = net(*wired)
    found = by_kind(made, replace(PLAN, orders=(tuple(J[1 : count + 1]),))).get("shifted row", [])
    assert [row for row in rows if not any(row in s for s in said(found))] == []
    assert len(found) == len(rows)


def test_a_shifted_row_moves_each_contact_to_the_next() -> None:
    made = net(1, 2)
    (row,) = by_kind(made, replace(PLAN, orders=(tuple(J[1:4]),)))["shifted row"]
    assert row.edits == (Edit((at(made, 1, 2), at(made, 2, 3))),) and row.points == (J[1], J[2])
    assert row.look == "J1, cavities 1 to 3: count from the key again"
    ring = net(1, 2, 3)
    on, back = by_kind(ring, replace(PLAN, orders=(tuple(J[1:4]),)))["shifted row"]
    assert on.edits == (Edit((at(ring, 1, 2), at(ring, 2, 3), at(ring, 3, 1))),)
    assert back.edits == (Edit((at(ring, 1, 3), at(ring, 2, 1), at(ring, 3, 2))),)


def test_mirrors_and_halves_the_wrong_way_round() -> None:
    made = net(1, 2)
    table = {J[1]: J[3], J[2]: J[2], J[3]: J[1]}
    plan = replace(PLAN, mirrors=(table, {J[5]: J[4]}), halves=(("J1", "P2"), ("X", "Y")))
    found = by_kind(made, plan)
    (turned,) = found["mirrored"]
    assert turned.edits == (Edit((at(made, 1, 3),)),) and turned.says == "J1 is wired as its mirror image"
    assert turned.points == (J[1], J[2])
    (way,) = found["wrong way round"]
    ends = [made.node(Point("P2", n)) for n in ("1", "2")]
    assert [move[2] for move in way.edits[0].change] == ends
    assert way.says == "the jumper is the wrong way round (J1 for P2)"


def test_shorts() -> None:
    made = net(1, 2, 3, 4)
    made.add("wire", "loop", rear(3), rear(4), 0.01, wire="loop")
    plan = replace(PLAN, near=((J[1], J[2]), (J[3], J[4]), (J[4], J[5])))
    found = by_kind(made, plan)
    # 3 and 4 are one piece of copper already; 5 holds no contact; 1 and 2 are power and ground.
    near = found["short between neighbours"]
    assert said(near) == ["J1-1 (A PWR) and J1-2 (A RTN) are shorted"]
    assert near[0].edits[0].add == ((made.node(J[1]), made.node(J[2]), 0.05),)
    assert said(found.get("short to ground", [])) == ["J1-3 (CAN H) is shorted to J1-2 (A RTN)"] + (
        [] if near else ["J1-1 (A PWR) is shorted to J1-2 (A RTN)"]
    ) or "J1-1 (A PWR) is shorted to J1-2 (A RTN)" in said(found["short to ground"])
    assert "J1-3 (CAN H) is shorted to J1-1 (A PWR)" in said(found["short to power"])
    assert not any("CAN L" in s for s in said(found["short to ground"]))
    (load,) = found["line loaded"]
    assert load.says == "a unit loads J1-3 (CAN H)" and load.spread == 0.4
    assert [e.add[0] for e in load.edits] == [(made.node(J[3]), made.node(J[2]), ohms) for ohms in LOADS]


def test_grounds_are_not_shorted_to_themselves_and_two_feeds_once() -> None:
    made = net(1, 2, 3)
    plan = replace(PLAN, signals={J[1]: "power", J[2]: "power", J[3]: "ground"})
    found = by_kind(made, plan)
    # Two feeds: one short between them, named once; ground to each feed is the same pair as feed to ground.
    assert len(found["short to power"]) == 1 + 2
    assert len(found["short to ground"]) == 2
    assert "line loaded" not in found


def test_no_ground_no_load() -> None:
    assert "line loaded" not in by_kind(net(3), replace(PLAN, signals={J[3]: "can"}))
    assert "line loaded" not in by_kind(net(2, 3), replace(PLAN, signals={J[2]: "ground", J[3]: "shield"}))


@pytest.mark.parametrize(
    ("signals", "extra"),
    [(("can", "can"), 1), (("rs485", "rs485"), 1), (("rs422", "rs422"), 1), (("audio", "audio"), 0),
     (("can", "rs485"), 0)],
)  # fmt: skip
def test_a_terminator_too_many(signals: tuple[str, str], extra: int) -> None:
    made = net(3, 4)
    plan = replace(PLAN, signals=dict(zip((J[3], J[4]), signals, strict=True)), pairs=((J[3], J[4]),) * 2)
    found = by_kind(made, plan).get("terminator extra", [])
    assert len(found) == extra
    if found:
        assert found[0].edits[0].add == ((made.node(J[3]), made.node(J[4]), 120.0),)
        assert found[0].says == "J1-3 (CAN H) has one terminator too many"
        other = by_kind(made, replace(plan, terminator=100.0))["terminator extra"]
        assert other[0].edits[0].add[0][2] == 100.0


def test_a_terminator_joins_nothing_and_one_is_not_put_across_one_piece() -> None:
    """With a terminator between them two lines are still two; a wire between them makes them one."""
    for kind, extra in (("terminator", 1), ("load", 1), ("breaker", 1), ("wire", 0)):
        made = net(3, 4)
        made.add(kind, "x", rear(3), rear(4), 120.0)
        plan = replace(PLAN, pairs=((J[3], J[4]), (J[3], Point("Q", "1"))))
        assert len(by_kind(made, plan).get("terminator extra", [])) == extra, kind


def test_weights_sum_to_one_with_nothing_and_something_else() -> None:
    made = net(1, 2, 3, 4)
    found = by_kind(made, replace(PLAN, orders=(tuple(J[1:6]),)))
    whole = sum(PRIORS[kind] for kind in found if kind != "shifted row") + PRIORS["nothing"] + PRIORS["something else"]
    rows = min(1.0, len(found["shifted row"]) / 4) * PRIORS["shifted row"]
    for kind, troubles in found.items():
        share = rows if kind == "shifted row" else PRIORS[kind]
        assert sum(t.weight for t in troubles) == pytest.approx(share / (whole + rows)), kind


def test_where_a_fault_sits() -> None:
    plan = replace(PLAN, wires={"W1": (J[1], J[2])})
    assert plan.reached(Trouble("x", "", "", points=(J[1], Point("SP1")))) == (J[1],)
    assert plan.reached(Trouble("x", "", "", points=(Point("SP1"),), wires=("W1", "W2"))) == (J[1], J[2])


def test_priors_as_they_were_agreed() -> None:
    """Opinion has no source to be compared with: the table is stated again, so that no slip of a finger changes it."""
    assert universe(Network(), Plan({}, {})) == [], "nothing can go wrong with nothing"
    assert faults.PRIORS == {
        "contact open": 4, "ground contact open": 3, "swapped contacts": 2, "wrong cavity": 1.4, "shifted row": 0.3,
        "mirrored": 0.2, "wrong way round": 0.1, "pair exchanged": 3, "terminator missing": 1, "terminator extra": 1,
        "high resistance": 2, "short between neighbours": 0.6, "short to ground": 0.25, "short to power": 0.15,
        "wire open": 0.5, "splice leg open": 0.5, "line loaded": 0.5, "nothing": 1, "something else": 0.1,
    }  # fmt: skip
    assert (faults.EXISTING, faults.BRIDGE, faults.TERMINATOR) == (0.2, 0.05, 120.0), "a fifth; a strand; ISO 11898-2"
    assert frozenset({"swapped contacts", "wrong cavity", "shifted row"}) == faults.BY_CONTACT
    assert frozenset({"can", "rs485", "rs422"}) == faults.TERMINATED


@pytest.mark.parametrize(
    ("strengths", "first", "last"), [(ADDED, (0.7, 1.5, 3.3), 330.0), (LOADS, (15.0, 33.0, 70.0), 33e3)]
)
def test_strengths_are_three_steps_a_decade(
    strengths: tuple[float, ...], first: tuple[float, ...], last: float
) -> None:
    assert strengths[:3] == first and strengths[-1] == last
    assert [b / a for a, b in zip(strengths, strengths[3:], strict=False)] == pytest.approx(
        [10.0] * (len(strengths) - 3)
    )


@pytest.mark.parametrize(
    ("swapped", "pair", "kept"),
    [(2.0, 3.0, "pair exchanged"), (3.0, 2.0, "swapped contacts"), (2.0, 2.0, "swapped contacts"),
     (None, 0.5, "pair exchanged"), (0.5, None, "swapped contacts")],
)  # fmt: skip
def test_of_two_names_for_one_change_the_likelier_stays(swapped: float | None, pair: float | None, kept: str) -> None:
    """Equally likely: the one that was named first. A kind without a prior has none; what comes after is named too."""
    made = net(1, 2, 3, 4)
    priors = {k: v for k, v in PRIORS.items() if k not in ("swapped contacts", "pair exchanged")}
    priors |= {} if swapped is None else {"swapped contacts": swapped}
    priors |= {} if pair is None else {"pair exchanged": pair}
    plan = replace(PLAN, near=((J[3], J[4]),), pairs=((J[3], J[4]),), orders=(tuple(J[1:6]),))
    found = universe(made, plan, priors)
    assert {t.kind for t in found} & {"swapped contacts", "pair exchanged"} == {kept}
    assert [t.kind for t in found if t.kind in ("shifted row", "terminator extra")] == ["shifted row"] * 3 + [
        "terminator extra"
    ]


def test_a_kind_without_a_prior_has_no_weight() -> None:
    priors = {"contact open": 3.0, "nothing": 1.0, "something else": 1.0}
    weights = {t.kind: t.weight for t in universe(net(1), PLAN, priors)}
    assert weights == {"contact open": pytest.approx(0.6), "high resistance": 0.0, "wire open": 0.0}


@pytest.mark.parametrize(
    ("wired", "near", "share"),
    [
        # one contact, one empty neighbour: all of the share; two of them: not twice the share
        ((1,), [(1, 2)], 1.0), ((2,), [(1, 2), (2, 3)], 1.0),
        # one of two contacts, one of three has such a neighbour
        ((1, 5), [(1, 2)], 1 / 2), ((1, 4, 5), [(1, 2)], 1 / 3),
    ],
)  # fmt: skip
def test_what_is_meant_for_every_contact_is_less_with_fewer(
    wired: tuple[int, ...], near: list[tuple[int, int]], share: float
) -> None:
    found = by_kind(net(*wired), Plan({}, {}, near=tuple((J[a], J[b]) for a, b in near)))
    off = sum(t.weight for t in found["wrong cavity"])
    assert off / sum(t.weight for t in found["contact open"]) == pytest.approx(share * 1.4 / 4)


def loose(trouble: Trouble) -> tuple[float, float]:
    return trouble.spread, trouble.comes_and_goes


def test_how_loosely_each_fault_is_read() -> None:
    """Spread where the strength is not known; a share of good readings where a bad joint may happen to touch."""
    made = net(1, 2, 3, 4)
    made.add("leg", "SP1 W1", Point("SP1"), rear(1), 0.001, at=(Point("SP1"),), wire="W1")
    made.add("terminator", "end", J[3], J[4], 120.0)
    plan = replace(PLAN, near=((J[1], J[2]), (J[4], J[5])), pairs=((J[3], J[4]),), orders=(tuple(J[1:6]),))
    found = universe(made, plan)
    assert {(t.kind, *loose(t)) for t in found} == {
        ("contact open", 0.0, 0.05), ("ground contact open", 0.0, 0.05), ("high resistance", 0.4, 0.15),
        ("wire open", 0.0, 0.02), ("splice leg open", 0.0, 0.0), ("terminator missing", 0.0, 0.0),
        ("swapped contacts", 0.0, 0.0), ("wrong cavity", 0.0, 0.0), ("pair exchanged", 0.0, 0.0),
        ("shifted row", 0.0, 0.0), ("short between neighbours", 0.0, 0.05), ("short to ground", 0.0, 0.05),
        ("short to power", 0.0, 0.05), ("line loaded", 0.4, 0.0), ("terminator extra", 0.0, 0.0),
    }  # fmt: skip


def test_the_kit_speaks_for_a_fault_between_new_and_existing() -> None:
    """New beside existing weighs as new, two existing a fifth: 1 to 0.2 of swaps, and of shorts."""
    made = net(1, 2, 3, 4)
    for number in (2, 4, 6):  # the contacts at 2, 3 and 4
        made.pieces[number] = replace(made.pieces[number], new=False)
    near = ((J[1], J[2]), (J[3], J[4]))
    found = by_kind(made, replace(PLAN, near=near))
    for kind in ("swapped contacts", "short between neighbours"):
        mixed, old = found[kind]
        assert (mixed.points, old.points) == near and mixed.weight == pytest.approx(5 * old.weight), kind


def test_what_is_no_part_of_the_article_stops_nothing() -> None:
    """Halves that hold no contact, pairs of other signals or without copper: those behind them are looked at."""
    made = net(1, 3, 4)
    pairs = ((J[1], J[2]), (J[3], Point("Q", "1")), (Point("Q", "1"), J[3]), (J[3], J[4]))
    signals = {**SIGNALS, Point("Q", "1"): "can"}
    plan = replace(PLAN, signals=signals, pairs=pairs, halves=(("X", "Y"), ("J1", "P2")), mirrors=({}, {J[1]: J[3]}))
    found = by_kind(made, plan)
    assert said(found["wrong way round"]) == ["the jumper is the wrong way round (J1 for P2)"]
    assert said(found["mirrored"]) == ["J1 is wired as its mirror image"] and found["mirrored"][0].points == (J[1],)
    (extra,) = found["terminator extra"]
    assert extra.points == (J[3], J[4]) and found["wrong way round"][0].points == (J[1], J[3], J[4])


def test_one_terminator_too_many_a_pair_of_lines() -> None:
    """The pair at both ends of the same two wires is one pair of copper."""
    made = net(3, 4)
    ends = (Point("E", "3"), Point("E", "4"))
    plan = replace(PLAN, signals={**SIGNALS, **dict.fromkeys(ends, "can")}, pairs=((J[3], J[4]), ends))
    assert len(by_kind(made, plan)["terminator extra"]) == 1


def test_shorts_are_named_from_the_lower_numbered_copper() -> None:
    made = net(1, 2, 3, 4)
    plan = Plan({J[1]: "power", J[2]: "ground", J[3]: "power", J[4]: "ground"}, {})
    found = by_kind(made, plan)
    assert sorted(said(found["short to power"])) == [
        "J1-1 is shorted to J1-3", "J1-2 is shorted to J1-1", "J1-2 is shorted to J1-3", "J1-4 is shorted to J1-1",
        "J1-4 is shorted to J1-3",
    ]  # fmt: skip
    assert sorted(said(found["short to ground"])) == [
        "J1-1 is shorted to J1-2", "J1-1 is shorted to J1-4", "J1-2 is shorted to J1-4", "J1-3 is shorted to J1-2",
        "J1-3 is shorted to J1-4",
    ]  # fmt: skip


def test_a_row_is_looked_through_beyond_an_empty_cavity() -> None:
    """1 empty, 2 and 3 wired, 4 empty, 5 wired: down from 3 to 1, up from 2 to 4."""
    found = by_kind(net(2, 3, 5), replace(PLAN, orders=(tuple(J[1:6]),)))["shifted row"]
    assert [(t.points[0], t.points[-1]) for t in found] == [(J[2], J[3]), (J[3], J[2])]
