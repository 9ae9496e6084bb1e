"""The worksheet as it is written, without a browser."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from harnesscheck import api, sheets, worksheet
from harnesscheck.fault import InputError
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.ringout import live, plan
from harnesscheck.ringout.article import article
from harnesscheck.sheets import Wish

HARNESSES = Path(__file__).resolve().parents[2] / "harnesses"
DEMO = HARNESSES / "engine-display" / "jumper.yaml"


class Elements(HTMLParser):
    """Every start tag with its attributes, and the text of footer and data."""

    def __init__(self, data: bytes) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.feed(data.decode("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def made(job: Path = DEMO, mode: str = "", **stamped: str) -> bytes:
    found = api.load(job)
    return worksheet.page(found, Wish(mode=mode), replace(sheets.stamp(found), **stamped))


def data_of(page: bytes) -> dict[str, object]:
    found = re.search(rb'<script type="application/json" id="data">(.*?)</script>', page, re.DOTALL)
    assert found
    said: dict[str, object] = json.loads(found[1])
    return said


def test_nothing_comes_from_outside_and_nothing_but_its_own_script_may_run() -> None:
    page = made()
    found = Elements(page)
    policy = next(named["content"] for _, named in found.tags if "http-equiv" in named)
    assert policy is not None and policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy and "http" not in policy and policy.count("script-src") == 1
    assert not {"link", "img", "iframe", "object", "base"} & {tag for tag, _ in found.tags}
    assert not any({"src", "srcset", "style", "onclick"} & set(named) for _, named in found.tags)
    assert all((named.get("href") or "#").startswith("#") for _, named in found.tags)
    assert set(re.findall(rb"https?://[^\s\"'<>]+", page)) <= {b"http://www.w3.org/2000/svg"}


def test_every_reading_of_the_sheets_has_its_row_once_and_ids_stand_once() -> None:
    job = api.load(DEMO)
    wanted = [r.id for name in ("bench", "installed", "aircraft") for r in plan.plan(article(job, name)).readings]
    wanted += [reading.id for reading in live.volts(job)]
    found = Elements(made())
    assert sorted(str(n["data-id"]) for _, n in found.tags if "data-id" in n) == sorted(wanted) and len(wanted) > 50
    ids = [named["id"] for _, named in found.tags if "id" in named]
    assert len(ids) == len(set(ids))
    labelled = {named["for"] for tag, named in found.tags if tag == "label"}
    fields = {n["id"] for tag, n in found.tags if tag in ("input", "select")}
    assert labelled == fields, "a field without a label cannot be found by ear"


def test_cautions_and_the_warning_of_a_job_that_is_not_clear_always_show() -> None:
    found = Elements(made(warning="STOP, do not build: invented for this test."))
    whole = " ".join(found.text)
    for said in (*CAUTIONS, "STOP, do not build: invented for this test."):
        assert whole.count(said) == 2  # at the top, and in the bar that stays


def test_a_title_cannot_end_the_page_s_data() -> None:
    page = made(title="</script><script>alert(1)</script><!--")
    assert page.count(b"<script") == 2 and b"<!--" not in page
    head = data_of(page)["head"]
    assert isinstance(head, dict) and head["title"] == "</script><script>alert(1)</script><!--"


def test_readings_of_another_list_are_not_taken_over() -> None:
    """What is kept in the browser goes under a key that changes with the file, the mode and the limits."""
    keys = {str(data_of(page)["key"]) for page in (made(), made(mode="field"), made(pack="7K2M-9QXD-44TB"))}
    assert len(keys) == 3
    assert made() == made()


def test_a_mode_gives_its_readings_and_is_said_in_the_file() -> None:
    page = data_of(made(mode="field, bussed, installed, units unplugged"))
    assert page["head"]["mode"] == "field" and page["head"]["groups"] == "tied"  # type: ignore[index]
    assert page["head"]["other units"] == "unplugged"  # type: ignore[index]
    assert [group["name"] for group in page["groups"]] == ["installed", "volts"]  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("file", "mode", "says"),
    [
        ("jumper.yaml", "fild", "did you mean field?"),
        ("airframe.yaml", "bench", "it has: aircraft"),
        ("display.yaml", "", "name a jumper or airframe file"),
    ],
)
def test_what_cannot_be_made_is_refused_with_a_remedy(file: str, mode: str, says: str) -> None:
    with pytest.raises(InputError) as refused:
        made(DEMO.with_name(file), mode)
    assert [fault.remedy for fault in refused.value.faults] == [says]
