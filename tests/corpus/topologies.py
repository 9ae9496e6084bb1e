"""The shapes of clean jobs: (size, seed) to a job. ``size`` is 0 (least), 1 or 2 (largest)."""

from __future__ import annotations

from collections.abc import Callable

from tests.corpus.build import Build, Line, Run
from tests.corpus.jobs import Job

Topology = Callable[[int, int], Job]


def fit(build: Build, inserts: tuple[str, ...], spare: int = 0) -> str:
    """The smallest of the inserts that holds every line and some spares."""
    from tests.corpus.tables import INSERTS

    need = sum(len(run.lines) for run in build.runs) + spare
    return next(name for name in inserts if len(INSERTS[name].cavities) >= need)


DSUB = ("DE-9", "DA-15", "DB-25", "DC-37", "DD-50")
SMALL = ("9-35", "11-35", "13-35", "15-35", "17-35", "19-35", "21-35", "23-35")
TWENTY = ("9-98", "11-5", "11-98", "13-8", "13-98", "15-18", "15-19", "17-26")


def others(build: Build, count: int, gauge: int = 22) -> None:
    """Circuits that only pass through."""
    for i in range(count):
        if i == 4 and gauge in (20, 22):
            build.power(gauge, signal=build.rng.choice(("power", "lighting")))
            continue
        kind, word = build.rng.choice(
            (("discrete", "STALL"), ("discrete", "GEAR UP"), ("analogue", "OAT"), ("rs232", "AOA TX"),
             ("signal ground", "SIG GND"), ("pulse", "RPM"), ("audio", "MIC"))
        )  # fmt: skip
        build.signal(kind, word, gauge)


def run_of(lines: list[Line]) -> Run:
    """A run without a cable."""
    return Run(lines)


def straight(size: int, seed: int) -> Job:
    """D-sub led straight through, no equipment."""
    b = Build("straight", size, seed)
    feed = b.power(20)
    if size:
        b.twin(feed)
        b.ground(20, beside=b.ground(20))
        b.pair("can", "CAN")
    others(b, (1, 7, 36)[size])
    return b.finish(fit(b, DSUB, b.rng.randrange(3)))


def dsub_tap(size: int, seed: int) -> Job:
    """D-sub with one supply tap."""
    b = Build("dsub-tap", size, seed)
    feed, back = b.power(20, 22), b.ground(20)
    others(b, (0, 6, 28)[size])
    b.unit("9-35", [feed, back], loose=b.chance(0.5))
    return b.finish(fit(b, DSUB, b.rng.randrange(4)))


def can_shield(size: int, seed: int) -> Job:
    """CAN with shield, tapped together with its supply; the shield floats on purpose in some."""
    b = Build("can-shield", size, seed)
    feed, back = b.power(20, 22), b.ground(20)
    bus = b.pair("can", "CAN")
    if size:
        b.pair("rs485", "ENG", "AB")
    others(b, (0, 6, 20)[size])
    wants = [feed, back, *b.wanted(bus)]
    b.unit(b.rng.choice(("9-35", "11-35", "DE-9")), wants, loose=b.chance(0.3))
    return b.finish(fit(b, DSUB, b.rng.randrange(3)), key="N")


def serial_tap(size: int, seed: int) -> Job:
    """A serial line listened to."""
    b = Build("serial-tap", size, seed)
    feed, back = b.power(22), b.ground(22)
    talk, common = b.signal("rs232", "EFIS TX"), b.signal("signal ground", "EFIS GND")
    others(b, (1, 7, 30)[size])
    b.unit(b.rng.choice(("DE-9", "9-35", "11-98")), [feed, back, talk, common])
    return b.finish(fit(b, DSUB, 1))


def analogue_tap(size: int, seed: int) -> Job:
    """A sensor pair in a shielded cable, read by a second box."""
    b = Build("analogue-tap", size, seed)
    feed, back = b.power(22), b.ground(22)
    sensor = b.pair("analogue", "PROBE", "+-")
    if size:
        b.pair("analogue", "TEMP", "+-", shield=False)
    others(b, (0, 6, 18)[size])
    b.unit("11-35", [feed, back, *b.wanted(sensor)])
    return b.finish(fit(b, SMALL[2:], 2), b.rng.choice(("pin", "socket")), b.rng.choice("NABC"))


def discretes(size: int, seed: int) -> Job:
    """Switch lines listened to by a recorder."""
    b = Build("discretes", size, seed)
    feed, back = b.power(20), b.ground(20)
    if size:
        b.twin(feed)
        b.ground(20, beside=back)
    lines = [b.signal("discrete", word) for word in ("GEAR", "FLAP", "DOOR", "STALL", "HOOK")[: (2, 4, 5)[size]]]
    others(b, (1, 6, 30)[size])
    b.unit("11-99", [feed, back, *lines])
    return b.finish(fit(b, DSUB, 2))


def power_heavy(size: int, seed: int) -> Job:
    """Several breakers and wire sizes in size 16 contacts."""
    b = Build("power-heavy", size, seed)
    feeds = [b.power(16, 18) if i % 2 else b.power(18) for i in range((1, 3, 6)[size])]
    backs = [b.ground(18) for _ in range((1, 2, 5)[size])]
    b.unit("13-4", [feeds[0], backs[0]], loose=True, key="C")
    if size:
        b.unit("13-4" if size == 1 else "11-2", [feeds[1], backs[1]], key="B")
    return b.finish(fit(b, ("13-4", "17-8", "21-16"), 1), b.rng.choice(("pin", "socket")))


def circular(size: int, seed: int) -> Job:
    """Circular to circular, size 20 contacts."""
    b = Build("circular", size, seed)
    feed, back = b.power(20), b.ground(20)
    others(b, (1, 5, 20)[size])
    b.unit(b.rng.choice(("9-98", "11-5")), [feed, back], key="A")
    return b.finish(fit(b, TWENTY[2:], 1), b.rng.choice(("pin", "socket")), b.rng.choice("NABCDE"))


def multi_pair(size: int, seed: int) -> Job:
    """Several shielded pairs; one is tapped, shield left open on purpose."""
    b = Build("multi-pair", size, seed)
    kinds = (("arinc429", "ADC", "AB"), ("rs422", "GPS", "AB"), ("rs485", "ENG", "AB"), ("can", "NAV", "HL"))
    pairs = [b.pair(*kinds[i % 4]) for i in range((2, 4, 9)[size])]
    feed, back = b.power(22), b.ground(22)
    b.unit("11-35", [feed, back, *b.wanted(pairs[0])])
    return b.finish(fit(b, SMALL[2:], 2), b.rng.choice(("pin", "socket")), b.rng.choice("NAB"))


def multi_branch(size: int, seed: int) -> Job:
    """Several units on one supply and one bus, each with its own plug and key."""
    b = Build("multi-branch", size, seed)
    feed, back = b.power(22), b.ground(22)
    bus = b.pair("can", "CAN")
    units = (2, 3, 4)[size]
    lines = [b.signal("discrete", f"SEL {i}") for i in range(units)]
    others(b, (0, 8, 30)[size])
    for i in range(units):
        b.unit("11-35", [feed, back, *b.wanted(bus), lines[i]], loose=i == 0, key="NABCDE"[i])
    return b.finish(fit(b, (*SMALL[2:],), 1), b.rng.choice(("pin", "socket")))


def two_plugs(size: int, seed: int) -> Job:
    """One unit with two receptacles, and two breakers."""
    b = Build("two-plugs", size, seed)
    feed, back, spare_feed = b.power(20, 22), b.ground(20), b.power(20, 22)
    talk, listen = b.signal("rs232", "RADIO TX"), b.signal("rs232", "RADIO RX")
    if size:
        b.twin(spare_feed)
        b.ground(22, beside=back)
    others(b, (2, 8, 30)[size])
    unit = b.unit("9-35", [feed, back], key="A")
    b.socket(unit, b.jump["equipment"][unit], "11-35" if size == 0 else "9-35", [spare_feed, talk, listen], False, "B")
    return b.finish(fit(b, DSUB, 2))


def ground_stud(size: int, seed: int) -> Job:
    """The return of the new unit goes to the stud in the frame, not to a splice."""
    b = Build("ground-stud", size, seed)
    feed, back = b.power(20, 22), b.ground(20)
    back.stud = True
    extra = b.signal("discrete", "TEST")
    others(b, (1, 6, 20)[size])
    b.unit(b.rng.choice(("9-35", "DE-9")), [feed, back, extra])
    return b.finish(fit(b, DSUB, 3))


def dense(size: int, seed: int) -> Job:
    """The largest inserts; at size 2 every line is tapped three times: about 500 wires."""
    b = Build("dense", size, seed)
    b.step = 30
    count, units = ((17, 1), (45, 1), (96, 3))[size]
    feed, back = b.power(22), b.ground(22)
    bus = [b.pair("can", "CAN"), b.pair("arinc429", "ADC", "AB")]
    lines = [b.signal("discrete", "SW") for _ in range(count - 8)]
    wants = [feed, back, *b.wanted(bus[0])]
    if size == 2:
        wants += lines
    for i in range(units):
        b.unit("23-35" if size == 2 else "11-35", wants, key="NAB"[i])
    inserts = ("DB-25", "DD-50", "23-35") if b.chance(0.5) else ("13-35", "17-35", "23-35")
    return b.finish(inserts[size], b.rng.choice(("pin", "socket")), "E")


def least(size: int, seed: int) -> Job:
    """Two or three wires."""
    b = Build("least", size, seed)
    b.power(22)
    for _ in range(size):
        b.ground(22)
    return b.finish(b.rng.choice(("9-98", "11-5", "DE-9")), b.rng.choice(("pin", "socket")))


def bus_recorder(size: int, seed: int) -> Job:
    """A recorder on three buses of different classes."""
    b = Build("bus-recorder", size, seed)
    feed, back = b.power(22), b.ground(22)
    runs = [b.pair("rs485", "ENG", "AB"), b.pair("rs422", "GPS", "AB"), b.pair("can", "CAN")]
    talk = b.signal("rs232", "FMS TX")
    others(b, (0, 5, 16)[size])
    b.unit("13-35", [feed, back, *(line for run in runs for line in b.wanted(run)), talk])
    return b.finish(fit(b, SMALL[2:], 2), b.rng.choice(("pin", "socket")), "B")


def sensor_hub(size: int, seed: int) -> Job:
    """A data logger on lines of every slow class."""
    b = Build("sensor-hub", size, seed)
    feed, back = b.power(20, 22), b.ground(20)
    sensor = b.pair("analogue", "PROBE", "+-")
    lines = [b.signal(*each) for each in (("pulse", "RPM"), ("audio", "PHONES"), ("discrete", "DOOR"))]
    others(b, (0, 6, 20)[size])
    b.unit("11-35", [feed, back, *b.wanted(sensor), *lines])
    return b.finish(fit(b, DSUB[1:], 2))


def engine_monitor(size: int, seed: int) -> Job:
    """Speed, temperature and a bus; the return goes to its stud."""
    b = Build("engine-monitor", size, seed)
    feed, back = b.power(22), b.ground(22)
    back.stud = b.chance(0.5)
    bus = b.pair("rs485", "ENG", "AB")
    sensor = b.pair("analogue", "EGT", "+-", shield=False)
    speed, horn = b.signal("pulse", "FLOW"), b.signal("audio", "HORN")
    others(b, (1, 6, 20)[size])
    b.unit("11-35", [feed, back, *b.wanted(bus), *b.wanted(sensor), speed, horn])
    return b.finish(fit(b, SMALL[2:], 1), b.rng.choice(("pin", "socket")), "C")


def second_display(size: int, seed: int) -> Job:
    """A display that listens to everything the first one gets."""
    b = Build("second-display", size, seed)
    feed, back = b.power(22), b.ground(22)
    buses = [b.pair("can", "CAN"), b.pair("rs485", "AHRS", "AB"), b.pair("rs422", "NAV", "AB")]
    lines = [b.signal(*each) for each in (("rs232", "GPS TX"), ("pulse", "RPM"), ("audio", "WARN"))]
    others(b, (0, 5, 14)[size])
    b.unit("13-35", [feed, back, *(line for run in buses for line in b.wanted(run)), *lines], loose=b.chance(0.3))
    return b.finish(fit(b, SMALL[2:], 1), b.rng.choice(("pin", "socket")), "A")


TOPOLOGIES: dict[str, Topology] = {
    function.__name__.replace("_", "-"): function
    for function in (
        straight, dsub_tap, can_shield, serial_tap, analogue_tap, discretes, power_heavy, circular, multi_pair,
        multi_branch, two_plugs, ground_stud, dense, least, bus_recorder, sensor_hub, engine_monitor, second_display,
    )
}  # fmt: skip


def clean(topology: str, size: int, seed: int) -> Job:
    """One clean job."""
    return TOPOLOGIES[topology](size, seed)
