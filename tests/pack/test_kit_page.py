"""``kit.html`` in a real browser, at the size of a phone and of a desk. Skipped, and said so, where there is none."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
import reading

BROWSER = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), ""
)
SIZES = {"phone": (390, 844), "desk": (1400, 1000)}
"""Width and height in CSS pixels: a common phone held upright, a common desktop window."""

MEASURE = """
(function () {
  var out = [];
  var wide = Array.from(document.querySelectorAll('body *')).filter(function (e) {
    var box = e.getBoundingClientRect();
    return box.right > innerWidth + 1 && !e.closest('.wide');
  });
  out.push('inner=' + innerWidth, 'scroll=' + document.documentElement.scrollWidth, 'wide=' + wide.length);
  out.push('font=' + parseFloat(getComputedStyle(document.querySelector('section p')).fontSize));
  var input = document.getElementById('find');
  function type(text) { input.value = text; input.dispatchEvent(new Event('input')); }
  function shown() {
    return Array.from(document.querySelectorAll('tbody tr')).filter(function (r) { return r.offsetHeight > 0; });
  }
  out.push('rows=' + shown().length);
  type('p501a20');
  out.push('found=' + shown().length, 'said=' + document.getElementById('found').textContent.replace(' ', '_'));
  out.push('right=' + shown().every(function (r) { return r.textContent.indexOf('P501A20') >= 0; }));
  out.push('lit=' + document.querySelectorAll('svg a.hit').length);
  document.getElementById('clear').click();
  out.push('again=' + shown().length);
  var link = document.querySelector('svg a[data-name="wire-P501A20"]');
  link.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true }));
  out.push('hash=' + location.hash);
  setTimeout(function () {
    out.push('row=' + document.querySelector('tr.hit').id);
    document.title = out.join(' ');
  }, 200);
}());
"""


def browse(page: Path, size: tuple[int, int], *more: str, place: str = "") -> bytes:
    command = [
        BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--virtual-time-budget=3000",
        f"--user-data-dir={page.parent / 'browser'}", f"--window-size={size[0]},{size[1]}", *more,
        page.as_uri() + place,
    ]  # fmt: skip
    return subprocess.run(command, capture_output=True, timeout=120, check=True).stdout


@pytest.fixture(scope="module")
def page(demo_pack: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the page, alone in its folder: it needs nothing beside it."""
    if not BROWSER:
        pytest.skip("no chromium on the PATH: the page was not opened in a browser")
    folder = tmp_path_factory.mktemp("page")
    return Path(shutil.copy(demo_pack / "kit.html", folder / "kit.html"))


def test_the_page_needs_nothing_from_outside(demo_pack: Path) -> None:
    data = (demo_pack / "kit.html").read_bytes()
    root = reading.html(data)
    policy = next(m.attributes["content"] for m in root.all("meta") if "http-equiv" in m.attributes)
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy and "http" not in policy
    assert not root.all("link") and not root.all("img") and not root.all("iframe")
    assert all("src" not in script.attributes for script in root.all("script"))
    addresses = set(re.findall(rb"https?://[^\s\"'<>]+", data))
    assert addresses <= {b"http://www.w3.org/2000/svg"}


def test_every_link_of_the_page_leads_somewhere_and_ids_stand_once(demo_pack: Path) -> None:
    root = reading.html((demo_pack / "kit.html").read_bytes())
    ids: list[str] = []
    links: set[str] = set()
    stack = [root]
    while stack:
        node = stack.pop()
        stack += node.children
        if "id" in node.attributes:
            ids.append(node.attributes["id"])
        if node.tag == "a" and "href" in node.attributes:
            links.add(node.attributes["href"].removeprefix("#"))
            assert not node.all("a"), "a link inside a link"
    assert len(ids) == len(set(ids))
    assert links <= set(ids)
    wires = {name for name in links if name.startswith("wire-")}
    assert len(wires) > 20
    rows = {node.attributes["id"] for node in root.all("tr") if "id" in node.attributes}
    assert wires <= rows
    tapped = {node.attributes["href"] for svg in root.all("svg") for node in svg.all("a") if "href" in node.attributes}
    cut = reading.html_tables(root)["cut"]
    drawn = {f"#wire-{row['id']}" for row in cut if row["kind"] != "cable"}
    assert len(drawn) > 20 and drawn <= tapped, "a wire of the diagram leads to its row"


@pytest.mark.parametrize("size", SIZES)
def test_the_page_in_a_browser(page: Path, size: str) -> None:
    """The unchanged page runs its script under its own policy; a measured copy says how it is laid out."""
    seen = browse(page, SIZES[size], "--dump-dom", place="#wire-P501A20").decode("utf-8")
    assert re.search(r'<tr id="wire-P501A20" class="hit">', seen)
    assert re.search(r'<div id="search" role="search">', seen), "the search box shows itself when the script runs"
    picture = page.parent / f"{size}.png"
    browse(page, SIZES[size], f"--screenshot={picture}")
    assert picture.stat().st_size > 15_000, "an empty picture is smaller"

    text = page.read_text(encoding="utf-8")
    text = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    measured = page.parent / "measured.html"
    measured.write_text(text.replace("</body>", f"<script>{MEASURE}</script></body>"), encoding="utf-8")
    found = re.search(r"<title>(inner=.*?)</title>", browse(measured, SIZES[size], "--dump-dom").decode("utf-8"))
    assert found, "the measuring script did not finish"
    said = dict(pair.split("=", 1) for pair in found[1].split(" "))
    assert int(said["scroll"]) <= int(said["inner"]), "the page is wider than the window"
    assert said["wide"] == "0"
    assert float(said["font"]) >= 14
    assert 1 <= int(said["found"]) < int(said["rows"]) / 2
    assert said["said"] == f"{said['found']}_rows"
    assert said["right"] == "true"
    assert int(said["lit"]) >= 1
    assert said["again"] == said["rows"]
    assert said["hash"] == "#wire-P501A20"
    assert said["row"] == "wire-P501A20"
