"""The data files against themselves: every value sourced, no reference into nowhere, no row out of order."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

import pytest

from harnesscheck.document import read
from harnesscheck.parts import Part, open_drawer
from harnesscheck.parts.fields import FIELDS, file_name
from harnesscheck.parts.loader import DATA
from harnesscheck.parts.reading import RECALLED
from harnesscheck.source import Status
from harnesscheck.units import Gauge

DRAWER = open_drawer()
ONLY_DECODED = {"cable"}
"""Kinds that have no data file: their parts are always taken apart from the number."""

NOT_IN_THE_DRAWER = {
    "M81969/8-01",  # named by one third-party list only; nothing else is known of it
    "M81969/8-02",
    "M81969/39-01",  # recalled number only
    "M22520/3-1",  # inspection gauges: the number is confirmed, no dimension was seen
    "M22520/3-2",
    "M22520/3-3",
    "M22520/4-02",
    "M22520/40-01",
    *(f"M22759/{sheet}" for sheet in (12, 17, 18, 19, 33, 35, 43)),  # recalled basic wire codes of cable
}
"""Part numbers the data refers to and that have no record of their own."""


def _all(kind: str) -> list[Part]:
    parts = [DRAWER.get(kind, number) for number in DRAWER.numbers(kind)]
    return [part for part in parts if part is not None]


def _parts() -> Iterator[Part]:
    for kind in FIELDS:
        yield from _all(kind)


def test_every_kind_has_a_data_file_and_every_data_file_a_kind() -> None:
    assert {path.name for path in DATA.iterdir()} == {file_name(kind) for kind in FIELDS if kind not in ONLY_DECODED}


@pytest.mark.parametrize("kind", sorted(set(FIELDS) - ONLY_DECODED))
def test_a_data_file_holds_one_kind_and_cites_every_source_it_lists(kind: str) -> None:
    document = read(DATA / file_name(kind))
    assert {part["kind"] for part in document.root["parts"].values()} == {kind}
    cited = {
        statement["source"].split(" ")[0]
        for part in document.root["parts"].values()
        for statement in part["facts"]
        if "source" in statement
    }
    assert cited == set(document.root.get("sources", {}))


def test_every_field_names_a_document_and_a_status_that_fit() -> None:
    seen = 0
    for part in _parts():
        for name in part.facts:
            for fact in part.all(name):
                seen += 1
                where = f"{part.kind} {part.number} {name}"
                assert fact.source.document, where
                assert fact.source.status not in (Status.SHOP, Status.DEMO), where
                if fact.source.status in (Status.CONFIRMED, Status.SECOND_HAND):
                    assert fact.source.document != RECALLED, where
                if fact.source.status is Status.MEMORY:
                    assert fact.source.document == RECALLED, where
                if fact.source.status is Status.DERIVED:
                    assert "rule: " in fact.source.paragraph, where
    assert seen > 1000


WITHOUT_PAGE = {
    "AC 21-99 Aircraft Wiring and Bonding",  # the survey noted section and chapter only
    "MIL-W-16878F",
    "three stranded wire catalogues (manufacturer reproductions)",
    "NASA analysis of pull force test results for crimped connections",
}
"""Documents seen without a note of the page or paragraph."""


def test_a_confirmed_value_names_its_page_or_paragraph() -> None:
    bare = {
        fact.source.document
        for part in _parts()
        for name in part.facts
        for fact in part.all(name)
        if fact.source.status is Status.CONFIRMED and not fact.source.paragraph
        if "clause" not in fact.source.edition and "title block" not in fact.source.edition
    }
    assert bare == WITHOUT_PAGE


def test_every_field_of_the_vocabulary_is_used_or_wanted() -> None:
    """A field no part has and no part lacks would be a stub."""
    for kind in set(FIELDS) - ONLY_DECODED:
        used = {name for part in _all(kind) for name in (*part.facts, *part.unknown)}
        if kind == "wire":
            decoded = DRAWER.get("wire", "M22759/11-22-9")
            assert decoded is not None
            used |= set(decoded.facts) | set(decoded.unknown)
        if kind == "connector":
            for number in ("D38999/26WA35SN", "D38999/26WA35HN", "D38999/26WA35AN"):
                decoded = DRAWER.get("connector", number)
                assert decoded is not None
                used |= set(decoded.facts)
        assert set(FIELDS[kind]) - used <= {"note"}, kind


def test_no_web_address_and_no_path_stands_in_the_data() -> None:
    for path in DATA.iterdir():
        assert not re.search(r"https?:|www\.|\.(?:com|org|net|fr|io|gov)\b|/work/", path.read_text("utf-8")), path.name


# --- contacts ---------------------------------------------------------------------------------------------------------


def _thickness(gauge: Gauge) -> float:
    """Solid diameter of an AWG number, inch: 0.005 x 92^((36 - n)/39) (ASTM B258)."""
    assert gauge.awg is not None
    return float(0.005 * 92 ** ((36 - gauge.awg) / 39))


def test_contact_gauges_run_thin_to_thick_and_enter_the_well() -> None:
    """A strand bundle is wider than the solid wire of its number: that diameter is a lower bound for the well."""
    seen = 0
    for part in _all("contact") + _all("contact size"):
        for fact in part.all("gauge"):
            thin, thick = Part(part.number, part.kind, {"gauge": fact}).gauge_range() or pytest.fail("no range")
            assert thin.awg is not None and thick.awg is not None and thin.awg >= thick.awg
            well = part.quantity("well diameter")
            if well is not None:
                seen += 1
                assert _thickness(thick) * 0.0254 < well, f"{part.number}: {thick} is thicker than the well"
    assert seen > 20


def test_well_and_current_grow_with_contact_size() -> None:
    order = ["22D", "20", "16", "12", "10", "8", "4", "0"]
    rows = [DRAWER.get("contact size", name) for name in order]
    for field in ("well diameter", "rated current", "well depth"):
        values = [row.quantity(field) for row in rows if row]
        assert len(values) == len(order) and None not in values
        assert values == sorted(values, key=lambda value: value or 0.0), field
    drops = [row.quantity("resistance") for row in rows if row]
    assert drops == sorted(drops, key=lambda value: -(value or 0.0))


def test_derived_contact_values_follow_their_rules() -> None:
    for row in _all("contact size"):
        drop, current, depth = row.quantity("drop"), row.quantity("rated current"), row.quantity("well depth")
        resistance, strip, bundle = row.quantity("resistance"), row.span("strip"), row.quantity("conductor diameter")
        well, slack = row.quantity("well diameter"), row.quantity("well tolerance")
        assert drop and current and depth and resistance and strip and bundle and well and slack
        assert resistance == pytest.approx(drop / current, rel=0.01), row.number
        assert strip.low == pytest.approx(depth + 0.25e-3, abs=0.01e-3), row.number
        small = row.number in ("23", "22M", "22D", "22", "20")
        assert strip.high == pytest.approx(depth + (0.75e-3 if small else 1.25e-3), abs=0.01e-3), row.number
        assert bundle == pytest.approx(well - slack, abs=0.001e-3), row.number


def test_a_contact_repeats_the_numbers_of_its_size() -> None:
    seen = 0
    for part in _all("contact"):
        size = DRAWER.get("contact size", part.text("size") or "")
        for field in ("rated current", "drop", "well diameter", "well depth", "strip", "resistance"):
            if size and field in part.facts and part.facts[field].source.status is not Status.MEMORY:
                seen += 1
                assert part.facts[field].value == size.facts[field].value, f"{part.number} {field}"
    assert seen > 100


def test_insulation_range_is_wider_than_the_conductor_that_enters_the_well() -> None:
    for part in _all("contact size"):
        insulation, bundle = part.lengths("insulation"), part.quantity("conductor diameter")
        if insulation and bundle:
            assert insulation.high > bundle, part.number


def test_pins_and_sockets_by_slash_number() -> None:
    """/58 and /107 are pins, /56, /57 and /106 sockets; /57 is the socket of series II: 38999 catalogue p18."""
    sheets = {"58": "pin", "107": "pin", "56": "socket", "57": "socket", "106": "socket"}
    seen = set()
    for part in _all("contact"):
        sheet = part.number.split("/")[1].split("-")[0]
        if sheet in sheets:
            seen.add(sheet)
            assert part.text("gender") == sheets[sheet], part.number
            assert ("38999-II" in (part.items("family") or ())) == (sheet in ("57", "58")), part.number
    assert seen == set(sheets)


# --- inserts ----------------------------------------------------------------------------------------------------------


def test_insert_counts_agree() -> None:
    for part in _all("insert"):
        contacts, sizes = part.whole("contacts"), part.counts("sizes")
        assert contacts and sizes
        assert sum(sizes.values()) == contacts, part.number
        cavities = part.items("cavities")
        if cavities is not None:
            assert len(cavities) == contacts, part.number
        else:
            assert "cavities" in part.unknown, part.number
        assert (part.text("cavity size") is not None) == (len(sizes) == 1), part.number
        rows = part.value("rows")
        if rows is not None:
            assert isinstance(rows, tuple) and sum(rows) == contacts, part.number


def test_38999_cavity_letters_skip_i_o_and_q() -> None:
    for part in _all("insert"):
        if part.text("family") == "38999" and part.items("cavities"):
            assert not {"I", "O", "Q", "i", "o", "q"} & set(part.items("cavities") or ()), part.number


def test_insert_names_carry_shell_code_and_count() -> None:
    for part in _all("insert"):
        if part.text("family") == "38999":
            shell, arrangement = part.number.split("-")
            assert part.text("shell") == shell
            code = part.text("code")
            if code:
                letter = DRAWER.get("code", f"D38999 shell {code[0]}")
                assert letter and letter.text("shell") == shell and code[1:] == arrangement, part.number
            rating = DRAWER.get("service rating", part.text("service rating") or "")
            assert rating is not None, part.number
        else:
            assert (
                part.number
                == f"{part.number[:3]}{part.whole('contacts')}{'HD' if part.text('cavity size') == '22D' else ''}"
            )


def test_face_views_show_every_cavity_once_and_apart() -> None:
    for view in _all("face view"):
        insert = DRAWER.get("insert", view.text("insert") or "")
        places = view.value("positions")
        assert insert and isinstance(places, dict)
        assert list(places) == list(insert.items("cavities") or ()), view.number
        points = list(places.values())
        gaps = [abs(complex(*a) - complex(*b)) for i, a in enumerate(points) for b in points[:i]]
        assert min(gaps) > 0.25, f"{view.number}: two cavities lie on each other"
        assert view.text("face") == "mating face" and view.text("gender") == "pin"
        assert view.facts["positions"].source.status is Status.DERIVED


# --- wire -------------------------------------------------------------------------------------------------------------


def test_wire_grows_and_resistance_falls_with_size() -> None:
    by_spec: dict[str, list[Part]] = {}
    for part in _all("wire size"):
        by_spec.setdefault(part.text("spec") or "", []).append(part)
    assert len(by_spec) == 6
    for spec, sizes in by_spec.items():
        assert DRAWER.get("wire", spec) is not None
        rows = sorted(sizes, key=lambda part: -int(part.number.rsplit("-", 1)[1]))
        for part in rows:
            assert part.number == f"{spec}-{(part.text('gauge') or '').removesuffix(' AWG')}"
        for one, next_one in itertools.pairwise(rows):
            a, b = one.span("od"), next_one.span("od")
            assert a and b and a.high < b.low, f"{next_one.number} is not thicker than {one.number}"
            r, s = one.quantity("resistance"), next_one.quantity("resistance")
            assert r is None or s is None or r > s, next_one.number


def test_statements_about_one_diameter_stay_within_eight_percent() -> None:
    """Recalled finished diameters are within about 5 percent; a larger gap to a seen value would be a misread row."""
    seen = 0
    for part in _all("wire size"):
        spans = [Part(part.number, part.kind, {"od": fact}).span("od") for fact in part.all("od")]
        if len(spans) > 1:
            middles = [(span.low + span.high) / 2 for span in spans if span]
            seen += 1
            assert max(middles) / min(middles) < 1.08, part.number
    assert seen >= 9


def test_conductor_area_is_strands_times_mils_squared() -> None:
    """19x34 etc. against the areas of AC 43.13-1B Table 11-9, with strand diameters (ASTM B258) to 0.1 mil."""
    for row in _all("conductor"):
        count, _, strand = (row.text("stranding") or "").partition("x")
        area = row.quantity("area")
        assert area
        expected = int(count) * round(_thickness(Gauge(awg=int(strand))) * 1000, 1) ** 2
        assert area / 5.067074790974977e-10 == pytest.approx(expected, abs=1), row.number


def test_wire_resistance_is_that_of_its_plating() -> None:
    platings = {"tin-coated copper": "tin", "silver-coated copper": "silver", "nickel-coated copper": "nickel"}
    seen = 0
    for part in _all("wire size"):
        spec = DRAWER.get("wire", part.text("spec") or "")
        assert spec
        row = DRAWER.get("conductor", part.text("gauge") or "")
        if row and "resistance" in part.facts:
            seen += 1
            assert part.quantity("resistance") == row.quantity(platings[spec.text("conductor") or ""]), part.number
    assert seen > 40


def test_cable_diameter_follows_its_rule() -> None:
    """Bundle ratio 1, 2, 2.1547 for one to three equal circles (best known packings) times wire, plus 0.036 in."""
    for part in _all("cable size"):
        wire = DRAWER.get("wire size", part.number.split(" ")[0])
        cores, od = part.whole("cores"), part.span("od")
        assert wire and cores and od
        recalled = [fact.value for fact in wire.all("od") if fact.source.status is Status.MEMORY]
        diameter = float(str(recalled[0]).removesuffix(" in"))
        assert od.low / 0.0254 == pytest.approx((1, 2, 2.1547)[cores - 1] * diameter + 0.036, abs=0.0006), part.number


# --- references -------------------------------------------------------------------------------------------------------


def _references() -> Iterator[tuple[str, str, str]]:
    for part in _all("contact"):
        for name in ("crimp frame", "positioner", "alternate frame", "alternate positioner", "inspection gauge"):
            for fact in part.all(name):
                yield part.number, "tool", str(fact.value)
        for name in ("insertion tool", "removal tool"):
            for fact in part.all(name):
                for tool in fact.value:
                    yield part.number, "tool", tool
        if part.text("size") and part.items("family") and "38999-III" in (part.items("family") or ()):
            size = part.text("size") or ""
            yield part.number, "contact size", size
    for part in _all("contact size"):
        if part.text("sealing plug"):
            yield part.number, "sealing plug", part.text("sealing plug") or ""
    for part in _all("splice"):
        for fact in part.all("crimp frame"):
            yield part.number, "tool", str(fact.value)
    for part in _all("connector"):
        yield part.number, "insert", part.text("insert") or ""
    for part in _all("insert"):
        for name in ("receptacle number", "plug number"):
            for fact in part.all(name):
                yield part.number, "connector", str(fact.value)
    for part in _all("cable size") + [part for part in _all("code") if part.text("spec")]:
        yield part.number, "wire", part.text("spec") or ""
    for part in _all("tool"):
        for name in ("fits frame", "positioner", "inspection gauge", "gauge for"):
            for fact in part.all(name):
                yield part.number, "tool", str(fact.value)


def test_no_reference_leads_into_nowhere() -> None:
    dangling = {target for _, kind, target in _references() if DRAWER.get(kind, target) is None}
    assert dangling == NOT_IN_THE_DRAWER, "add a record, or list it as not in the drawer"


def test_sealing_plugs_name_the_sizes_that_name_them() -> None:
    for size in _all("contact size"):
        plug = DRAWER.get("sealing plug", size.text("sealing plug") or "")
        if size.text("sealing plug"):
            assert plug and size.number in (plug.items("size") or ()), size.number


def test_d_sub_numbers_point_both_ways() -> None:
    for part in _all("connector"):
        insert = DRAWER.get("insert", part.text("insert") or "")
        assert insert and insert.text(f"{part.text('style')} number") == part.number
