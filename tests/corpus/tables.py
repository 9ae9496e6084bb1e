"""What the generator knows about parts: its own short tables, typed from the documents, apart from the parts drawer.

Two places that must agree find a slip in either. Wire ranges and diameters are those of the drawer's own pages.
"""

from __future__ import annotations

from dataclasses import dataclass

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZabc"
"""Cavity letters of 38999 inserts: I, O and Q are left out."""


@dataclass(frozen=True)
class Insert:
    """An insert arrangement: cavity names, contact size, rows of a D-sub."""

    name: str
    size: str
    cavities: tuple[str, ...]
    rows: tuple[int, ...] = ()
    confirm: bool = False
    """The drawer lacks the cavity names: the shop's file must give them."""


def _numbers(count: int) -> tuple[str, ...]:
    return tuple(str(n) for n in range(1, count + 1))


def _letters(count: int) -> tuple[str, ...]:
    return tuple(LETTERS[:count])


_D = {"DE-9": (5, 4), "DA-15": (8, 7), "DB-25": (13, 12), "DC-37": (19, 18), "DD-50": (17, 16, 17)}
_22D = {"9": 6, "11": 13, "13": 22, "15": 37, "17": 55, "19": 66, "21": 79, "23": 100}
_20 = {"9-98": 3, "11-5": 5, "11-98": 6, "11-99": 7, "13-8": 8, "13-98": 10, "15-18": 18, "15-19": 19, "17-26": 26}
_16 = {"11-2": 2, "13-4": 4, "17-8": 8, "21-16": 16}

INSERTS: dict[str, Insert] = {
    **{name: Insert(name, "20", _numbers(sum(rows)), rows) for name, rows in _D.items()},
    **{f"{shell}-35": Insert(f"{shell}-35", "22D", _numbers(count)) for shell, count in _22D.items()},
    **{name: Insert(name, "20", _letters(count)) for name, count in _20.items()},
    **{name: Insert(name, "16", _letters(count), confirm=True) for name, count in _16.items()},
}
SHELL = {"9": "A", "11": "B", "13": "C", "15": "D", "17": "E", "19": "F", "21": "G", "23": "H", "25": "J"}
_DASH = {"DE-9": "1", "DA-15": "2", "DB-25": "3", "DC-37": "4", "DD-50": "5"}

CONTACTS = {
    ("D-sub", "20", "pin"): "M39029/64-369",
    ("D-sub", "20", "socket"): "M39029/63-368",
    ("38999", "22D", "pin"): "M39029/58-360",
    ("38999", "22D", "socket"): "M39029/56-348",
    ("38999", "20", "pin"): "M39029/58-363",
    ("38999", "20", "socket"): "M39029/56-351",
    ("38999", "16", "pin"): "M39029/58-364",
    ("38999", "16", "socket"): "M39029/56-352",
    ("38999", "12", "pin"): "M39029/58-365",
    ("38999", "12", "socket"): "M39029/56-353",
}
BARREL = {"D-sub 20": "24 AWG to 20 AWG", "22D": "28 AWG to 22 AWG", "20": "24 AWG to 20 AWG", "16": "20 AWG to 16 AWG"}
SEAL = {"22D": "0.76 mm to 1.37 mm", "20": "1.02 mm to 2.11 mm", "16": "1.65 mm to 2.77 mm"}
"""Wire diameters that the grommet of a contact size takes (recalled; shop-confirmed in the corpus, invented)."""
PLUGS = {"22D": "MS27488-22-2", "20": "MS27488-20-2", "16": "MS27488-16-2", "12": "MS27488-12-2"}
TOOLS = {"22D": "M81969/14-01", "20": "M81969/14-10", "16": "M81969/14-03"}
GAUGES = {"22D": (22, 24), "20": (20, 22), "16": (16, 18)}
"""Gauges that fit both barrel and grommet of a contact size."""
OD = {24: "1.14 mm", 22: "1.32 mm", 20: "1.52 mm", 18: "1.78 mm", 16: "1.96 mm"}
"""Finished diameters of M22759/16 wire (recalled; shop-confirmed in the corpus, invented)."""
CMIL = {24: 475, 22: 755, 20: 1216, 18: 1900, 16: 2426}
"""Conductor areas, AC 43.13-1B Table 11-9."""
BREAKER = {22: 5.0, 20: 7.5, 18: 10.0, 16: 15.0}
"""Greatest breaker of a gauge, AC 43.13-1B Table 11-3."""
SPLICES = {"M81824/1-1": (304, 1510), "M81824/1-2": (779, 2680), "M81824/1-3": (1900, 6755)}
"""Least and greatest conductor area in one end, circular mils (recalled; shop-confirmed in the corpus, invented)."""
COLOURS = ("9", "96", "95", "93", "92", "90", "0", "6", "5", "4")


APART = {
    "9-35": {("1", "2"), ("4", "5")},
    "11-35": {("10", "11"), ("11", "12")},
}
"""Cavities that follow each other by number and do not stand side by side (catalogue drawing, measured)."""
NO_FACE = frozenset(("DD-50", "13-35", "15-35", "17-35", "19-35", "21-35", "23-35"))
"""Inserts of which the drawer gives no face view."""


def side_by_side(insert: str, one: str, two: str) -> bool:
    """True when two cavities that follow each other by number are neighbours."""
    found = INSERTS[insert]
    ends, count = set(), 0
    for row in found.rows:
        count += row
        ends.add(str(count))
    return one not in ends and (one, two) not in APART.get(insert, ())


def splice_for(gauges: list[int]) -> str:
    """The smallest splice whose two ends take these conductors when they are divided well."""
    areas = [CMIL[g] for g in gauges]
    for part, (low, high) in SPLICES.items():
        for mask in range(1, 2 ** (len(areas) - 1)):
            one = sum(a for i, a in enumerate(areas) if mask >> i & 1)
            if all(low <= end <= high for end in (one, sum(areas) - one)):
                return part
    raise AssertionError(f"no splice takes {gauges}")


def family(insert: str) -> str:
    """``D-sub`` or ``38999``."""
    return "D-sub" if insert in _D else "38999"


def part(insert: str, style: str, gender: str, key: str = "N") -> str:
    """Part number of a half; a D-sub plug has pins and a D-sub receptacle sockets, whatever ``gender`` says."""
    if insert in _D:
        return f"M24308/{'4' if gender == 'pin' else '2'}-{_DASH[insert]}"
    shell, _, arrangement = insert.partition("-")
    code = "26" if style == "plug" else "24"
    return f"D38999/{code}W{SHELL[shell]}{arrangement}{'P' if gender == 'pin' else 'S'}{key}"


def insert_of(number: str) -> str:
    """The insert arrangement of a part number that ``part`` wrote."""
    if number.startswith("M24308"):
        dash = number.partition("-")[2]
        return next(name for name, code in _DASH.items() if code == dash)
    body = number.partition("W")[2]
    shell = next(size for size, letter in SHELL.items() if letter == body[0])
    return f"{shell}-{body[1:-2]}"


def gender_of(number: str) -> str:
    """``pin`` or ``socket``, from a part number that ``part`` wrote."""
    if number.startswith("M24308"):
        return "pin" if number.startswith("M24308/4") else "socket"
    return "pin" if number[-2] == "P" else "socket"


def key_of(number: str) -> str:
    """Keying letter of a 38999 part number."""
    return number[-1]


def contact_of(number: str) -> str:
    """The crimp contact of a half."""
    insert = insert_of(number)
    return CONTACTS[family(insert), INSERTS[insert].size, gender_of(number)]
