"""The drawer: what is not known stays unknown, a shop's file lies over the data, and nothing is read too early."""

from __future__ import annotations

import pickle
import subprocess
import sys

import pytest

from harnesscheck.document import Document, parse
from harnesscheck.fault import InputError
from harnesscheck.parts import Drawer, Fact, Part, open_drawer
from harnesscheck.parts.values import same
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge, Range

SHOP = """\
kind: parts
parts:
  M39029/58-360:
    kind: contact
    facts:
      - {status: shop-confirmed, document: AS39029/58 rev X, by: A. Fitter, date: 2031-05-24, gauge: 26 AWG to 22 AWG}
"""


def _shop(text: str = SHOP) -> Document:
    return parse(text, "shop.yaml")


def _contact(drawer: Drawer) -> Part:
    part = drawer.get("contact", "M39029/58-360")
    assert part is not None
    return part


def test_a_part_that_is_not_there_is_none() -> None:
    drawer = open_drawer()
    assert drawer.get("contact", "M39029/58-999") is None
    assert drawer.get("connector", "M39029/58-360") is None, "a contact is no connector"
    assert drawer.suggest("contact", "M39029/58-36O")[0].startswith("M39029/58-36")


def test_a_kind_that_does_not_exist_is_an_error_of_the_caller() -> None:
    with pytest.raises(KeyError, match="conact"):
        open_drawer().get("conact", "M39029/58-360")


def test_an_unknown_field_is_none_and_a_misspelled_one_an_error() -> None:
    part = _contact(open_drawer())
    assert part.text("material") is None and part.fact("material") is None
    assert part.items("sizes") is None and part.quantity("drop") == pytest.approx(0.073)
    assert part.all("material") == () and part.source("material") is None
    with pytest.raises(KeyError, match="matreial"):
        part.text("matreial")


@pytest.mark.parametrize(
    ("accessor", "field"),
    [("text", "family"), ("items", "gender"), ("table", "gender"), ("quantity", "gender"), ("span", "gender"),
     ("gauge_range", "gender"), ("whole", "gender"), ("counts", "gender"), ("point", "gender")],
)  # fmt: skip
def test_an_accessor_of_the_wrong_type_is_an_error_not_a_guess(accessor: str, field: str) -> None:
    part = _contact(open_drawer())
    with pytest.raises(TypeError, match=field):
        getattr(part, accessor)(field, *(["x"] if accessor == "point" else []))


def test_shop_confirmed_beats_memory_and_the_beaten_value_is_kept() -> None:
    part = _contact(open_drawer(_shop()))
    assert part.gauge_range() == (Gauge(awg=26), Gauge(awg=22))
    assert part.all("gauge") == (
        Fact("26 AWG to 22 AWG", Source("AS39029/58 rev X", Status.SHOP, by="A. Fitter, 2031-05-24")),
        Fact("28 AWG to 22 AWG", Source("none: recalled", Status.MEMORY)),
    )
    fact = part.fact("gauge")
    assert fact and fact.firm
    assert part.text("gender") == "pin", "the rest of the part stays"


def test_a_field_stays_unknown_until_a_firm_statement_gives_it() -> None:
    assert "gauge" in _contact(open_drawer()).unknown, "a recalled value is still wanted"
    after = _contact(open_drawer(_shop())).unknown
    assert "gauge" not in after and "strip" in after


def test_a_shop_file_does_not_leak_into_another_drawer() -> None:
    open_drawer(_shop())
    assert len(_contact(open_drawer()).all("gauge")) == 1


def test_a_shop_may_overrule_a_confirmed_value_and_both_are_kept() -> None:
    part = _contact(open_drawer(_shop(SHOP.replace("gauge: 26 AWG to 22 AWG", "rated current: 4 A"))))
    assert [(fact.value, fact.source.status) for fact in part.all("rated current")] == [
        ("4 A", Status.SHOP),
        ("5 A", Status.CONFIRMED),
    ]


def test_a_shop_may_add_a_part_of_its_own() -> None:
    text = """\
kind: parts
parts:
  SENSOR-9P:
    kind: connector
    facts: [{status: invented for the demo, family: D-sub, insert: DE-9, gender: pin, style: receptacle}]
"""
    drawer = open_drawer(_shop(text))
    part = drawer.get("connector", "SENSOR-9P")
    assert part and part.text("insert") == "DE-9"
    assert part.source("insert") == Source("none: made up for the demonstration", Status.DEMO)
    assert "SENSOR-9P" in drawer.numbers("connector")
    assert open_drawer().get("connector", "SENSOR-9P") is None


def test_a_shop_may_confirm_a_field_of_a_number_that_only_decodes() -> None:
    text = """\
kind: parts
parts:
  D38999/26WA35SN:
    kind: connector
    facts: [{status: shop-confirmed, document: sheet 26, by: A. Fitter, date: 2031-05-24, sealed: yes}]
  AS22759/16-22:
    kind: wire size
    facts: [{status: shop-confirmed, document: sheet 16, by: A. Fitter, date: 2031-05-24, od: 0.049 in to 0.053 in}]
"""
    drawer = open_drawer(_shop(text))
    part = drawer.get("connector", "D38999/26WA35SN")
    assert (
        part
        and part.yes("sealed") is True
        and part.source("sealed") == Source("sheet 26", Status.SHOP, by="A. Fitter, 2031-05-24")
    )
    assert part.text("insert") == "9-35"
    wire = drawer.get("wire", "M22759/16-22-9")
    assert wire and same(wire.span("od"), Range(0.049 * 0.0254, 0.053 * 0.0254))
    assert "od" not in wire.unknown
    assert drawer.numbers("connector") == open_drawer().numbers("connector"), "a decoded number is not listed"


def test_a_shop_may_not_weaken_a_part_that_is_there() -> None:
    with pytest.raises(InputError) as caught:
        open_drawer(
            _shop(
                SHOP.replace(
                    "shop-confirmed, document: AS39029/58 rev X, by: A. Fitter, date: 2031-05-24", "from memory"
                )
            )
        )
    (fault,) = caught.value.faults
    assert (fault.file, fault.line, fault.column) == ("shop.yaml", 6, 38)
    assert "may only be shop-confirmed here" in fault.message


def test_two_shop_values_that_differ_are_refused() -> None:
    again = SHOP.splitlines()[-1].replace("26 AWG to 22 AWG", "28 AWG to 22 AWG")
    with pytest.raises(InputError) as caught:
        open_drawer(_shop(SHOP + again))
    assert [(fault.line, fault.message) for fault in caught.value.faults] == [
        (7, "M39029/58-360: gauge is shop-confirmed twice with different values")
    ]


def test_one_part_under_two_spellings_is_refused() -> None:
    said = "facts: [{status: shop-confirmed, document: d, by: A. Fitter, date: 2031-05-24, note: x}]"
    text = f"kind: parts\nparts:\n  M22759/16:\n    kind: wire\n    {said}\n  AS22759/16:\n    kind: wire\n    {said}\n"
    with pytest.raises(InputError) as caught:
        open_drawer(_shop(text))
    assert [(fault.line, fault.message) for fault in caught.value.faults] == [(6, "M22759/16 is given twice")]


def test_a_part_travels_to_a_worker_process() -> None:
    for kind, number in (("contact", "M39029/58-360"), ("face view", "9-35"), ("connector", "D38999/26WA35SN")):
        part = open_drawer().get(kind, number)
        assert part is not None and pickle.loads(pickle.dumps(part)) == part


def test_importing_the_package_reads_nothing_and_loads_no_heavy_library() -> None:
    script = (
        "import sys, harnesscheck.parts\n"
        "heavy = {'pydantic', 'networkx', 'numpy', 'scipy', 'ruamel.yaml', '_ruamel_yaml'} & set(sys.modules)\n"
        "from harnesscheck.parts import loader\n"
        "print(sorted(heavy), loader._supplied.cache_info().currsize)\n"
        "harnesscheck.parts.open_drawer().get('contact', 'M39029/58-360')\n"
        "print(loader._supplied.cache_info().currsize)\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == ["[] 0", "1"]


def test_two_shop_files_are_laid_over_each_other() -> None:
    said = "{status: shop-confirmed, document: d, by: b, date: 2026-11-20, "
    one = parse(
        f"kind: parts\nparts:\n  M39029/58-360:\n    kind: contact\n    facts:\n      - {said}strip: 4 mm}}\n", "a"
    )
    two = parse(
        f"kind: parts\nparts:\n  M39029/58-360:\n    kind: contact\n    facts:\n      - {said}cycles: 500}}\n", "b"
    )
    part = open_drawer(one, two).get("contact", "M39029/58-360")
    assert part is not None
    assert part.text("strip") == "4 mm"
    assert part.source("strip").status == "shop-confirmed"  # type: ignore[union-attr]
    assert part.source("cycles").status == "shop-confirmed"  # type: ignore[union-attr]


def test_two_shop_files_that_contradict_each_other_are_refused() -> None:
    said = "{status: shop-confirmed, document: d, by: b, date: 2026-11-20, "
    head = "kind: parts\nparts:\n  M39029/58-360:\n    kind: contact\n    facts:\n      - "
    one, two = parse(f"{head}{said}strip: 4 mm}}\n", "a"), parse(f"{head}{said}strip: 5 mm}}\n", "b")
    with pytest.raises(InputError, match="strip is shop-confirmed twice with different values"):
        open_drawer(one, two)
