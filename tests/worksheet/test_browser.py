"""The worksheet used in a real browser. Skipped, and said so, where there is none."""

from __future__ import annotations

import json
import math
import re
import subprocess
import sys
from dataclasses import asdict
from pathlib import Path

import pytest
from browser import BROWSER, browse, drive
from cases import CASES, READINGS

from harnesscheck import api
from harnesscheck.trouble import readings

JOB = Path(__file__).resolve().parents[2] / "harnesses" / "engine-display" / "jumper.yaml"


def run(*words: str, expect: int) -> str:
    command = [sys.executable, "-m", "harnesscheck", *words]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert done.returncode == expect, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if not BROWSER:
        pytest.skip("no chromium on the PATH: the worksheet was not opened in a browser")
    path = tmp_path_factory.mktemp("worksheet") / "worksheet.html"
    run("worksheet", str(JOB), "-o", str(path), expect=0)
    return path


def test_the_script_gives_the_same_verdicts_as_python(page: Path) -> None:
    limits = {name: {key: asdict(r)[key] for key in ("low", "high", "unit")} for name, r in READINGS.items()}
    script = f"var limits = {json.dumps(limits)}, cases = {json.dumps(CASES)};"
    script += "told.words = cases.map(function (c) { return worksheet.verdict(limits[c[0]], c[1], c[2])[0]; });"
    # What a keyboard without a point types; 1,234 may be thousands and is asked back.
    script += "told.pointed = ['0,3', ',3', '1,234', '0,123', '12,5 V', '1,2,3', '0.3', '<0,3'].map(worksheet.pointed);"
    told = drive(page, script)
    wrong = [(c, said) for c, said in zip(CASES, told["words"], strict=True) if c[3] != said]
    assert not wrong
    assert told["pointed"] == ["0.3", "0.3", "1,234", "0.123", "12.5 V", "1,2,3", "0.3", "<0.3"]


USE = """
localStorage.clear();
fill('who', 'A. Nobody, "invented"'); fill('meter', 'meter; 3,5 digits'); fill('meter id', 'M-17');
fill('date', '2030-01-31');
type('BC1', '0.1'); told.a = lit('at-a'); told.b = lit('at-b');
told.faces = row('BC1').querySelectorAll('.face').length;
press(part('BC1', 'value'), 'Enter'); told.now = document.activeElement.id;
press(part('BC2', 'value'), 'Enter', true); told.back = document.activeElement.id;
part('BC1', 'next').click(); told.next = document.activeElement.id;
type('BC2', '0,1'); type('BC3', 'OL');
told.wrong = [seen('BC3'), row('BC3').className, part('BC3', 'said').textContent];
part('BC18', 'ol').click(); told.ol = [part('BC18', 'value').value, seen('BC18')];
type('BC4', 'twelve'); told.odd = seen('BC4');
type('BC5', '9'); told.flips = [seen('BC5')]; type('BC5', '0.1'); told.flips.push(seen('BC5'));
type('BS1', '30', 'Mohm'); told.mega = seen('BS1');
told.one = lit('at-a'); told.many = lit('at-b').length;
type('IR1', '60.2'); told.bus = seen('IR1'); type('IV1', '9.8'); told.volts = seen('IV1');
part('BC6', 'note').value = 'pin\\u00a0bent,  "again"'; fire(part('BC6', 'note'), 'input');
told.count = document.getElementById('count').textContent;
document.getElementById('onward').click(); told.onward = document.activeElement.id;
var saved = [];
HTMLAnchorElement.prototype.click = function () { saved.push([this.download, this.href.slice(0, 5)]); };
document.getElementById('save-csv').click(); document.getElementById('save-json').click(); told.saved = saved;
document.getElementById('save-text').click(); told.same = document.getElementById('out').value.split('\\n').length;
"""
AGAIN = "told.csv = worksheet.asCsv(); told.json = worksheet.asJson(); told.who = " \
    "document.querySelector('[data-head=who]').value; told.note = part('BC6', 'note').value;"  # fmt: skip
CLEAR = """
document.getElementById('clear').click(); told.asked = !document.getElementById('sure').hidden;
told.before = document.getElementById('count').textContent;
document.getElementById('keep').click(); told.kept = document.getElementById('count').textContent;
document.getElementById('clear').click(); document.getElementById('cleared').click();
told.after = document.getElementById('count').textContent; told.csv = worksheet.asCsv();
"""


def test_readings_are_typed_judged_kept_saved_and_read_again(page: Path, tmp_path: Path) -> None:
    told = drive(page, USE)
    assert told["violations"] == []
    assert (told["a"], told["b"], told["faces"]) == (["J181-1"], ["P181-1"], 2)
    assert (told["now"], told["back"], told["next"]) == ("value-BC2", "value-BC1", "value-BC2")
    assert told["wrong"][0] == "wrong" and "wrong" in told["wrong"][1].split() and told["wrong"][2].startswith("Stop.")
    assert told["ol"] == ["OL", "wrong"] and told["odd"] == "not understood"
    assert told["flips"] == ["wrong", "good"] and told["mega"] == "good"
    assert told["one"] == ["J181-1"] and told["many"] == 14  # fifteen nets tied, one lifted off
    assert told["bus"] == "good" and told["volts"] == "wrong"  # a 14 V aircraft
    assert told["count"].startswith("8 of ") and told["count"].endswith(", 3 WRONG")
    assert told["onward"] == "value-IV2"  # the next one that is not read
    assert told["saved"] == [
        ["readings-jumper-2030-01-31.csv", "blob:"], ["readings-jumper-2030-01-31.json", "blob:"]
    ]  # fmt: skip

    dump = browse(page)  # the page as it was written, opened anew
    assert re.search(r'<article class="row wrong" id="reading-BC3"', dump)
    assert re.search(r'<article class="row good" id="reading-BC1"', dump)
    assert f">{told['count']}</output>" in dump

    told = drive(page, AGAIN)
    assert told["who"] == 'A. Nobody, "invented"' and told["note"] == 'pin\u00a0bent,  "again"'
    files = {suffix: tmp_path / f"readings.{suffix}" for suffix in ("csv", "json")}
    for suffix, path in files.items():
        path.write_text(told[suffix], encoding="utf-8", newline="")
    inputs = {file.name: file.sha256 for file in api.load(JOB).files}
    for path in files.values():
        found = readings.load(path, path.name)
        assert found.head["who"] == 'A. Nobody, "invented"' and found.head["meter"] == "meter; 3,5 digits"
        assert (found.head["meter id"], found.head["date"]) == ("M-17", "2030-01-31")
        assert (found.head["mode"], found.head["groups"]) == ("first article", "single")
        assert found.head["other units"] == "plugged in" and found.head["files"].count("; ") == len(inputs) - 1
        assert all(f"{name} {digest[:16]}" in found.head["files"] for name, digest in inputs.items())
        rows = {row.id: (row.value, row.unit, row.note) for row in found.rows}
        assert rows["BC1"] == (0.1, "ohm", "") and rows["BC2"] == (0.1, "ohm", "")
        assert rows["BC3"][0] == math.inf and rows["BS1"] == (30e6, "ohm", "") and rows["IV1"] == (9.8, "V", "")
        assert rows["BC4"] == (None, "", "typed: twelve ohm") and rows["BC6"] == (None, "", 'pin bent, "again"')
        assert len(rows) == 10

    for path in files.values():
        listed = json.loads(run("readings", str(JOB), str(path), "--format", "json", expect=1))
        words = {row["reading"]: row["verdict"] for row in listed["rows"]}
        assert {name for name, word in words.items() if word == "wrong"} == {"BC3", "BC18", "IV1"}
        assert {name for name, word in words.items() if word == "good"} == {"BC1", "BC2", "BC5", "BS1", "IR1"}
        assert listed["papers"] == []
    # BC3 and BC18 both open: what they share is J181-3, where the wires D503 begin.
    said = json.loads(run("diagnose", str(JOB), str(files["csv"]), "--article", "bench", "--format", "json", expect=1))
    assert said["wrong"] == ["BC3", "BC18"]
    first = said["suspects"][0]
    assert first["explains"] == ["BC3", "BC18"]
    assert any("J181-3" in point for one in first["faults"] for fault in one for point in fault["points"])

    told = drive(page, CLEAR)
    assert told["asked"] and told["before"] == told["kept"] and told["after"].startswith("0 of ")
    assert "BC1" not in told["csv"] and "M-17" in told["csv"]  # who and with what stays for the next kit
    assert f">{told['after']}</output>" in browse(page)


MEASURE = """
told.inner = innerWidth; told.wide = document.documentElement.scrollWidth; told.small = [];
document.getElementById('clear').click(); document.getElementById('save-text').click();
document.querySelectorAll('.row').forEach(function (r) { r.querySelector('.value').focus(); check(r); });
function check(box) {
  box.querySelectorAll('button,input,select,textarea,a[href]').forEach(function (e) {
    var size = e.getBoundingClientRect();
    if (size.height > 0 && (size.height < 44 || size.width < 44)) { told.small.push(e.id || e.className || e.tagName); }
    if (size.right > innerWidth + 1) { told.small.push('out: ' + e.id); }
  });
}
check(document);
var foot = document.getElementById('cautions').getBoundingClientRect();
told.foot = [foot.height > 20, Math.round(foot.bottom) === innerHeight];
scrollTo(0, 5000); told.bar = Math.round(document.getElementById('bar').getBoundingClientRect().top);
told.ink = getComputedStyle(document.body).backgroundColor;
localStorage.clear();
"""


@pytest.mark.parametrize("size", [(390, 844), (1280, 900)])
def test_it_fits_and_gloves_hit_everything(page: Path, size: tuple[int, int]) -> None:
    """44 px is the least target for a finger (WCAG 2.1, 2.5.5)."""
    told = drive(page, MEASURE, size)
    assert told["wide"] <= told["inner"] and told["small"] == []
    assert told["foot"] == [True, True] and told["bar"] == 0
    assert told["ink"] == "rgb(0, 0, 0)"


def test_a_browser_that_keeps_nothing_says_so_and_still_judges(page: Path) -> None:
    broken = page.with_name("broken.html")
    text = page.read_text(encoding="utf-8")
    # Without storage: the page's own script finds no localStorage under that name.
    script = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)[0]
    text = text.replace(script, script.replace("localStorage", "noStorage"))
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    broken.write_text(text.replace("</body>", """<script>
      var e = document.querySelector('[data-id="BC1"] .value'); e.value = '7'; e.dispatchEvent(new Event('input'));
      </script></body>"""), encoding="utf-8")  # fmt: skip
    dump = browse(broken)
    assert re.search(r'<article class="row wrong[^"]*" id="reading-BC1"', dump)
    assert re.search(r'<p id="unkept" class="warn">', dump)
