"""What of a solved network is in doubt: the feeds that collapse, and resistances that were counted as zero."""

from __future__ import annotations

from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.elements import Gap
from harnesscheck.electrics.wiring import Wiring


def unsure(net: Wiring, mode: str, level: str = "nominal") -> dict[str, Consumer]:
    """The wires whose current is not known because a load has no solution, and that load."""
    flow = net.flow(mode, level)
    found = ((e.name, net.lame(e, flow)) for e in net.elements if e.kind == "wire") if flow.failed else ()
    return {name: load for name, load in found if load is not None}


def counted_zero(net: Wiring, consumer: Consumer) -> list[Gap]:
    """The breakers and studs on the way of a load whose resistance nobody has stated: the solve counts 0 ohm."""
    harness = net.harness
    own = {net.part_of(consumer.at), net.part_of(consumer.back)} - {None}
    found = []
    for element in net.elements:
        if element.kind not in ("breaker", "bond") or net.element_part(element) not in own:
            continue
        if element.kind == "breaker" and (breaker := harness.breakers[element.name]).resistance is None:
            found.append(Gap(breaker.place, f"the resistance of {breaker.ref} is not stated", "give resistance:"))
        if element.kind == "bond" and (stud := harness.grounds[element.name]).bond is None:
            missing = f"the resistance from {stud.ref} to the generator ground is not stated"
            found.append(Gap(stud.place, missing, "measure it and give bond:"))
    return found


def no_peak(consumer: Consumer) -> list[Gap]:
    """A supply pin of the new equipment whose highest current nobody has stated: the solve counts its current."""
    pin = consumer.pin
    if pin is None or pin.current is None or pin.peak is not None:
        return []
    remedy = "give peak: (that of current: if it never draws more)"
    return [Gap(pin.place, f"the highest current of {pin.point} is not stated", remedy)]
