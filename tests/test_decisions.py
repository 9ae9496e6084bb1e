"""Written limits and waivers: always printed, never silently void."""

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import report, sheets

DEMO = Path(__file__).parents[1] / "harnesses" / "ice-probe"
WAIVER = """
waivers:
  - {check: unplugged-cavity, at: P115-5, reason: closed with potting, by: demo fabricator, date: 2026-11-20}
"""


def job(folder: Path, *changes: tuple[str, str], more: str = "") -> hc.Job:
    for file in DEMO.glob("*.yaml"):
        text = file.read_text()
        for old, new in changes:
            text = text.replace(old, new) if old else text
        (folder / file.name).write_text(text + (more if file.name == "jumper.yaml" else ""))
    return hc.load(folder / "jumper.yaml")


OPEN = ("    plugs: MS27488-22-2\n", "    plugs: none\n")


def test_a_waived_finding_stays_listed_and_no_longer_stops(tmp_path: Path) -> None:
    open_ = hc.check(job(tmp_path, OPEN))
    assert [f.check for f in open_.primary] == ["unplugged-cavity"]
    assert not open_.clear
    waived = hc.check(job(tmp_path, OPEN, more=WAIVER))
    assert waived.primary == ()
    assert waived.clear
    assert [f.check for f in waived.waived] == ["unplugged-cavity"]
    text = report.as_text(waived)
    assert "waived by demo fabricator, 2026-11-20: closed with potting" in text
    assert "3 decisions in writing" in text.splitlines()[-1]  # the demo itself states two limits
    assert report.as_data(waived, "x")["findings"][0]["waived"]


def test_a_waiver_that_fits_nothing_is_noted(tmp_path: Path) -> None:
    result = hc.check(job(tmp_path, more=WAIVER))
    assert [f.headline for f in result.findings] == ["the waiver of unplugged-cavity at P115-5 fits no finding"]
    assert result.clear


def test_a_waiver_for_one_cavity_does_not_carry_another_away(tmp_path: Path) -> None:
    """Two open cavities, one of them waived: the finding stands until both are."""
    lost = ("  D505C22: {from: SP5, to: P115-6", "  # D505C22: {from: SP5, to: P115-6")
    one = "\nwaivers:\n  - {check: unplugged-cavity, at: P115-5, reason: r, by: b, date: d}\n"
    first = hc.check(job(tmp_path, OPEN, lost, more=one), ["unplugged-cavity"])
    assert [f.headline for f in first.primary] == [
        "P115 cavities 5 and 6: unused and not plugged, although the connector is sealed"
    ]
    both = one + "  - {check: unplugged-cavity, at: P115-6, reason: r, by: b, date: d}\n"
    assert not hc.check(job(tmp_path, OPEN, lost, more=both), ["unplugged-cavity"]).primary
    whole = one.replace("P115-5", "P115")
    assert not hc.check(job(tmp_path, OPEN, lost, more=whole), ["unplugged-cavity"]).primary


def test_a_waiver_for_another_place_waives_nothing(tmp_path: Path) -> None:
    result = hc.check(job(tmp_path, OPEN, more=WAIVER.replace("P115-5", "P115-6")))
    assert not result.clear
    assert len(result.primary) == 2


@pytest.mark.parametrize(
    "section, phrase",
    [
        (
            "\nwaivers:\n  - {check: unpluged-cavity, at: P115-5, reason: r, by: b, date: d}\n",
            "did you mean unplugged-cavity?",
        ),
        ("\nlimits:\n  no-such: {value: 3, reason: r, by: b}\n", "there is no check 'no-such'"),
        ("\nlimits:\n  pin-collision: {value: 3, reason: r, by: b}\n", "has no limit that can be set"),
    ],
)
def test_a_decision_about_nothing_is_refused(tmp_path: Path, section: str, phrase: str) -> None:
    change = ("\nlimits:\n", section) if "limits" in section else ("", "")
    with pytest.raises(hc.InputError, match=r"jumper.yaml:\d+:\d+") as caught:
        hc.check(job(tmp_path, change, more="" if "limits" in section else section))
    assert phrase in str(caught.value)


def test_every_sheet_carries_the_decisions(tmp_path: Path) -> None:
    loaded = job(tmp_path, OPEN, more=WAIVER)
    for name in sheets.names():
        form = sheets.forms(name)[0]
        assert b"closed with potting" in sheets.render(name, loaded, form), name
