"""What has to be done with contacts in the aircraft: connectors that are shipped loose."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import NONE, Cavity, Connector, Origin
from harnesscheck.finding import NotChecked
from harnesscheck.harness import Harness


def site_contacts(harness: Harness) -> tuple[dict[str, list[Cavity]], list[Connector]]:
    """Contacts that are inserted in the aircraft, by part number, and the connectors they go into.

    A contact is one in a cavity of a kit connector with ``fitted: aircraft`` in which a wire ends.
    """
    used: dict[str, list[Cavity]] = {}
    loose: list[Connector] = []
    for connector in harness.connectors.values():
        if connector.origin is not Origin.JUMPER or connector.fitted != "aircraft":
            continue
        loose.append(connector)
        for cavity in connector.cavities.values():
            if harness.wires_at(cavity.point) and cavity.contact != NONE:
                used.setdefault(cavity.contact or "", []).append(cavity)
    return used, loose


def unstated(used: dict[str, list[Cavity]]) -> Iterator[NotChecked]:
    """Takes the cavities without a stated contact out of ``used`` and answers for them."""
    for cavity in used.pop("", []):
        yield NotChecked(place=cavity.place, missing="the contact is not stated", remedy="give contacts:")
