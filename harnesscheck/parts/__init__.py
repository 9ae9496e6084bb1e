"""The parts drawer: what is known of each part, field by field, with the source and status of every field.

Data lies in ``data/<kind>.yaml``, one file a kind, read when a part of that kind is first asked for; a shop lays its
own parts file over it. A field that is not known is ``None``: there is no default anywhere in this package.

>>> drawer = open_drawer()
>>> part = drawer.get("contact", "M39029/58-360")
>>> part.text("gender"), str(part.source("gender").status)
('pin', 'confirmed')
"""

from harnesscheck.parts.loader import Drawer, open_drawer
from harnesscheck.parts.part import Fact, Part

__all__ = ["Drawer", "Fact", "Part", "open_drawer"]
