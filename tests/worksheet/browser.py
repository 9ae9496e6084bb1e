"""A page in headless Chromium: opened as it is, or a copy of it with a driving script that its policy then names."""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

BROWSER = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), ""
)
PHONE = (390, 844)
"""Width and height in CSS pixels of a common phone held upright."""
HANDS = """
var told = { violations: [] };
document.addEventListener('securitypolicyviolation', function (e) { told.violations.push(e.violatedDirective); });
function row(id) { return document.querySelector('[data-id="' + id + '"]'); }
function part(id, name) { return row(id).querySelector('.' + name); }
function fire(e, name) { e.dispatchEvent(new Event(name, { bubbles: true })); }
function type(id, text, unit) {
  var e = part(id, 'value');
  e.focus();
  if (unit) { part(id, 'unit').value = unit; fire(part(id, 'unit'), 'change'); }
  e.value = text; fire(e, 'input'); fire(e, 'change');
}
function fill(key, text) {
  var e = document.querySelector('[data-head="' + key + '"]'); e.value = text; fire(e, 'input');
}
function press(e, key, shift) {
  e.dispatchEvent(new KeyboardEvent('keydown', { key: key, shiftKey: !!shift, bubbles: true, cancelable: true }));
}
function seen(id) { return part(id, 'verdict').textContent; }
function lit(name) {
  return Array.from(document.querySelectorAll('.row .' + name)).map(function (e) { return e.dataset.cavity; }).sort();
}
"""


def browse(page: Path, size: tuple[int, int] = PHONE) -> str:
    """The page's elements after its script ran. One profile for all pages of a folder: it keeps what they keep."""
    command = [
        BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--virtual-time-budget=3000",
        f"--user-data-dir={page.parent / 'profile'}", f"--window-size={size[0]},{size[1]}", "--dump-dom", page.as_uri(),
    ]  # fmt: skip
    return subprocess.run(command, capture_output=True, timeout=120, check=True).stdout.decode("utf-8")


def drive(page: Path, script: str, size: tuple[int, int] = PHONE) -> dict[str, Any]:
    """What ``script`` put into ``told`` in a copy of the page, which keeps its own policy but for this one script."""
    whole = HANDS + script + "\nvar pre = document.createElement('pre'); pre.id = 'told';\n"
    whole += "pre.textContent = JSON.stringify(told); document.body.appendChild(pre);"
    digest = base64.b64encode(hashlib.sha256(whole.encode("utf-8")).digest()).decode("ascii")
    text = page.read_text(encoding="utf-8")
    assert text.count("script-src 'sha256-") == 1 and text.count("</body>") == 1
    text = text.replace("script-src ", f"script-src 'sha256-{digest}' ", 1)
    copy = page.with_name("driven.html")
    copy.write_text(text.replace("</body>", f"<script>{whole}</script></body>"), encoding="utf-8", newline="\n")
    found = re.search(r'<pre id="told">(.*?)</pre>', browse(copy, size), re.DOTALL)
    assert found, "the driving script did not finish"
    result: dict[str, Any] = json.loads(html.unescape(found[1]))
    return result
