"""How sure it is that a connector is sealed."""

from __future__ import annotations

from harnesscheck.connector import Connector
from harnesscheck.parts import Fact
from harnesscheck.source import Status


def unsure(connector: Connector) -> Fact | None:
    """The fact that the connector is sealed or not, when somebody only recalls it or has it at second hand.

    What the 38999 part number says counts as sure: it is derived from the catalogue, which is confirmed.
    """
    sealed = connector.fact("sealed")
    return sealed if sealed and sealed.source.status in (Status.MEMORY, Status.SECOND_HAND) else None
