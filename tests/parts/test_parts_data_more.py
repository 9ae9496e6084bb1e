"""Shells, keys, tools, sleeves, crimp forces, breakers and rules against themselves."""

from __future__ import annotations

import itertools

import pytest

from harnesscheck.parts import Part, open_drawer
from harnesscheck.source import Status

DRAWER = open_drawer()
SHELLS = ("9", "11", "13", "15", "17", "19", "21", "23", "25")


def _all(kind: str) -> list[Part]:
    return [part for number in DRAWER.numbers(kind) if (part := DRAWER.get(kind, number))]


def _awg(part: Part) -> int:
    gauge = part.gauge_range()
    assert gauge and gauge[0].awg is not None
    return gauge[0].awg


# --- shells and keys --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "field",
    ["plug diameter", "flange square", "jam nut diameter", "jam nut hole", "jam nut hex", "coupling thread",
     "back mount hole", "front mount hole"],
)  # fmt: skip
def test_shells_grow_with_shell_size(field: str) -> None:
    shells = [DRAWER.get("shell", f"38999-III-{size}") for size in SHELLS]
    values = [shell.quantity(field) for shell in shells if shell]
    assert len(values) == 9 and None not in values
    assert all((a or 0) < (b or 0) for a, b in itertools.pairwise(values))


def test_shell_dimensions_fit_each_other() -> None:
    for shell in _all("shell"):
        hole, flat, across = (shell.quantity(f"jam nut {name}") or 0.0 for name in ("hole", "flat", "hex"))
        assert flat < hole < across < (shell.quantity("jam nut diameter") or 0.0), shell.number
        assert (shell.quantity("coupling thread") or 0.0) < (shell.quantity("plug diameter") or 0.0), shell.number
        assert shell.quantity("plug passes") == pytest.approx(shell.quantity("plug diameter"), abs=0.05e-3)
        side = shell.quantity("flange square") or 0.0
        diagonal = shell.quantity("flange diagonal") or 0.0
        assert diagonal > side * 2**0.5 - 0.05e-3, "an upper bound that is too small lets a connector get stuck"
        assert diagonal == pytest.approx(side * 2**0.5, abs=0.2e-3), shell.number
        assert shell.text("backshell") is None and "backshell" in shell.unknown


def test_every_shell_has_six_keys_and_no_two_are_alike() -> None:
    """Two key letters of one shell with the same angles would mate across: that would be a misread table."""
    assert len(_all("keying")) == 9 * 6
    for size in SHELLS:
        rows = [DRAWER.get("keying", f"38999-III-{size}-{key}") for key in "NABCDE"]
        angles = []
        for row, key in zip(rows, "NABCDE", strict=True):
            assert row and (row.text("shell"), row.text("key")) == (size, key)
            value = row.value("angles")
            assert isinstance(value, dict) and list(value) == ["A", "B", "C", "D"]
            assert list(value.values()) == sorted(value.values()), "minor keys run round the shell in order"
            assert value["A"] > 0 and value["D"] < 360
            angles.append(tuple(value.values()))
        assert len(set(angles)) == 6, size


def test_every_38999_insert_has_a_shell() -> None:
    for insert in _all("insert"):
        if insert.text("family") == "38999":
            assert DRAWER.get("shell", f"38999-III-{insert.text('shell')}"), insert.number


# --- tools ------------------------------------------------------------------------------------------------------------


def test_tools_are_used_for_what_they_are() -> None:
    expected = {
        "crimp frame": "crimp frame", "alternate frame": "crimp frame", "positioner": "positioner",
        "alternate positioner": "positioner", "insertion tool": "insertion and removal tool",
        "removal tool": "insertion and removal tool",
    }  # fmt: skip
    seen = 0
    for contact in _all("contact"):
        for field, kind in expected.items():
            for fact in contact.all(field):
                for number in (fact.value,) if isinstance(fact.value, str) else fact.value:
                    tool = DRAWER.get("tool", str(number))
                    if tool:
                        seen += 1
                        assert tool.text("type") == kind, f"{contact.number} {field} {number}"
    assert seen > 60


def test_a_positioner_goes_into_the_frame_it_is_listed_with() -> None:
    seen = 0
    for contact in _all("contact"):
        for frame, positioner in (("crimp frame", "positioner"), ("alternate frame", "alternate positioner")):
            tool = DRAWER.get("tool", contact.text(positioner) or "")
            if tool:
                seen += 1
                assert tool.text("fits frame") == contact.text(frame), contact.number
    assert seen > 20


def test_selector_settings_of_contacts_are_never_confirmed() -> None:
    """They stand on the data plate of the positioner; a shipped number would be taken for it."""
    for kind in ("contact", "tool"):
        for part in _all(kind):
            assert not any(fact.firm for fact in part.all("selector")), part.number
            if kind == "contact" and part.text("positioner"):
                assert "selector" in part.unknown, part.number


def test_go_and_no_go_do_not_overlap() -> None:
    gauges = [part for part in _all("tool") if part.text("type") == "inspection gauge"]
    assert len(gauges) == 2
    for gauge in gauges:
        go, no_go = gauge.span("go"), gauge.span("no go")
        assert go and no_go and go.high < no_go.low, gauge.number


# --- sleeves, splices, terminals --------------------------------------------------------------------------------------


def test_heat_shrink_shrinks_two_to_one_and_sizes_follow_on() -> None:
    sleeves = [part for part in _all("sleeve") if part.text("type") == "heat shrink"]
    assert len(sleeves) == 10
    for sleeve in sleeves:
        supplied, recovered, covers = (
            sleeve.quantity("supplied bore"),
            sleeve.quantity("recovered bore"),
            sleeve.span("covers"),
        )
        assert supplied and recovered and covers
        assert supplied / recovered == pytest.approx(2, rel=0.04), sleeve.number
        assert (covers.low, covers.high) == pytest.approx((recovered, supplied), abs=0.006e-3), sleeve.number
        assert sleeve.facts["covers"].source.status is Status.DERIVED
    for thin, thick in itertools.pairwise(sleeves):
        a, b = thin.span("covers"), thick.span("covers")
        assert a and b and a.low < b.low <= a.high < b.high, "a gap between two sizes"


def test_splice_barrels_grow_with_their_wire() -> None:
    splices = [DRAWER.get("splice", f"M81824/1-{dash}") for dash in (1, 2, 3)]
    ranges = [part.span("cma") for part in splices if part]
    assert len(ranges) == 3
    for a, b in itertools.pairwise(ranges):
        assert a and b and a.low < b.low < a.high < b.high, "neighbouring barrels overlap"
    for part in splices:
        assert part and part.fact("cma") and not part.facts["cma"].firm and "cma" in part.unknown


def test_a_splice_takes_the_area_of_its_gauges() -> None:
    """One conductor of each end of the gauge range lies in the CMA range (areas: AC 43.13-1B Table 11-9)."""
    for dash in (1, 2, 3):
        part = DRAWER.get("splice", f"M81824/1-{dash}")
        assert part
        gauges, area = part.gauge_range(), part.span("cma")
        assert gauges and area
        for gauge in gauges:
            row = DRAWER.get("conductor", str(gauge))
            assert row and (row.quantity("area") or 0.0) in area, f"{part.number} {gauge}"


def test_barrel_bores_lie_inside_barrel_diameters() -> None:
    seen = 0
    for part in _all("splice"):
        bore, outside = part.span("barrel bore"), part.span("barrel diameter")
        if bore and outside:
            seen += 1
            assert bore.high < outside.low, part.number
    assert seen == 4


def test_terminals_follow_the_colour_of_their_gauge() -> None:
    colours = {part.gauge_range(): part.text("colour") for part in _all("ring terminal") if part.text("colour")}
    assert set(colours.values()) == {"red", "blue", "yellow"}
    seen = 0
    for part in _all("ring terminal"):
        if part.text("stud"):
            seen += 1
            assert part.gauge_range() in colours, part.number
            assert part.facts["gauge"].source.status is Status.MEMORY and "gauge" in part.unknown
    assert seen == 8


# --- crimp pull, breakers ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "joint",
    ["machined contact", "machined contact nickel wire", "splice", "stamped contact or terminal",
     "terminal military", "terminal commercial", "printed board contact", "grounding lead"],
)  # fmt: skip
def test_pull_force_grows_with_wire_size(joint: str) -> None:
    rows = sorted(_all("pull test"), key=_awg, reverse=True)
    forces = [force for row in rows if (force := row.quantity(joint)) is not None]
    assert len(forces) >= 2
    assert all(a < b for a, b in itertools.pairwise(forces))


def test_pull_force_columns_keep_their_order() -> None:
    """A joint to nickel wire or a splice never asks more than a machined contact on silver or tin plated wire."""
    for row in _all("pull test"):
        machined = row.quantity("machined contact")
        for joint in ("machined contact nickel wire", "splice", "terminal commercial"):
            other = row.quantity(joint)
            assert machined is None or other is None or other <= machined, f"{row.number} {joint}"


def test_two_documents_agree_on_machined_contacts_of_30_to_20_awg() -> None:
    """MIL-DTL-55302G Table IV repeats IPC/WHMA-A-620B Table 19-12 for 30 to 20 AWG."""
    rows = [row for row in _all("pull test") if row.quantity("printed board contact") is not None]
    assert {row.number for row in rows} == {f"{size} AWG" for size in (30, 28, 26, 24, 22, 20)}
    assert all(row.quantity("printed board contact") == row.quantity("machined contact") for row in rows)


def test_protection_grows_with_wire_size() -> None:
    rows = sorted(_all("wire protection"), key=_awg, reverse=True)
    for field in ("breaker", "fuse"):
        values = [value for row in rows if (value := row.quantity(field)) is not None]
        assert len(values) >= 11 and values == sorted(values), field
    assert [row.number for row in rows if row.quantity("breaker") is None] == ["1 AWG", "0 AWG"]


def test_breaker_ratings_lie_in_their_range() -> None:
    for sheet in _all("breaker"):
        ratings, low, high = sheet.value("ratings"), sheet.quantity("least rating"), sheet.quantity("greatest rating")
        if isinstance(ratings, tuple):
            assert list(ratings) == sorted(ratings), sheet.number
            assert (low is None or low <= ratings[0]) and (high is None or ratings[-1] <= high), sheet.number
            assert not sheet.facts["ratings"].firm and "ratings" in sheet.unknown


def test_the_reduced_seal_takes_thinner_wire() -> None:
    for family in _all("seal range"):
        standard, reduced = family.span("standard seal"), family.span("reduced seal")
        assert standard and reduced and reduced.low < standard.low and reduced.high < standard.high, family.number


def test_rules_with_a_number_say_the_unit() -> None:
    rules = _all("rule")
    numbered = [rule for rule in rules if rule.table("values")]
    assert len(rules) > 90 and len(numbered) > 40
    topics = {rule.text("topic") for rule in rules}
    assert topics == {
        "crimp", "contact", "seal", "connector", "splice", "sleeve", "terminal", "ground", "protection", "supply",
        "wire", "marking", "bend", "support", "standard",
    }  # fmt: skip
