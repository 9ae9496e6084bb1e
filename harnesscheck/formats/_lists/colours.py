"""Colours as lists write them: words, keys of two and three letters, stripes, digits. No ambiguous key is guessed.

Keys: IEC 60757 (``BK BN RD OG YE GN BU VT GY WH PK TQ``, as in the parts drawer), the trade's two and three letters and
the German letters of DIN 47100 (both common practice). Several meanings are in use for ``BL GR B G P``; one of them is
only taken when a legend, the map or the other keys of the column leave no choice.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from harnesscheck.formats._lists.spellings import UNSTATED, Read, rest_of

Keys = tuple[tuple[str, str], ...]
"""Key in capitals to colour word, of one column or list; an empty word: listed, since it has several meanings."""

_DIGITS = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "gray", "white")
"""MIL-STD-681: the place of a word is its digit."""
_WORDS = (
    *(
        "black",
        "brown",
        "red",
        "orange",
        "yellow",
        "green",
        "blue",
        "violet",
        "purple",
        "gray",
        "grey",
        "white",
        "pink",
    ),
    *(
        "tan",
        "turquoise",
        "natural",
        "clear",
        "transparent",
        "cyan",
        "magenta",
        "slate",
        "beige",
        "gold",
        "silver",
        "bare",
    ),
    "drain",
)
_FOREIGN = {
    **dict.fromkeys(("schwarz", "noir", "noire"), "black"),
    **dict.fromkeys(("braun", "brun", "marron"), "brown"),
    **dict.fromkeys(("rot", "rouge"), "red"),
    **dict.fromkeys(("gelb", "jaune"), "yellow"),
    **dict.fromkeys(("grün", "gruen", "vert"), "green"),
    **dict.fromkeys(("blau", "bleu"), "blue"),
    **dict.fromkeys(("violett", "lila"), "violet"),
    **dict.fromkeys(("grau", "gris"), "gray"),
    **dict.fromkeys(("weiß", "weiss", "blanc"), "white"),
    **dict.fromkeys(("rosa", "rose"), "pink"),
    **dict.fromkeys(("türkis", "tuerkis"), "turquoise"),
    "blank": "bare",
    **dict.fromkeys(("negro", "nero"), "black"),
    **dict.fromkeys(("marrón", "marrone"), "brown"),
    **dict.fromkeys(("rojo", "rosso"), "red"),
    **dict.fromkeys(("naranja", "arancione"), "orange"),
    **dict.fromkeys(("amarillo", "giallo"), "yellow"),
    "verde": "green",
    **dict.fromkeys(("azul",), "blue"),
    **dict.fromkeys(("violeta", "viola"), "violet"),
    **dict.fromkeys(("grigio",), "gray"),
    **dict.fromkeys(("blanco", "bianco"), "white"),
}
"""German, French, Spanish and Italian words."""
IEC = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue",
    "VT": "violet", "GY": "gray", "WH": "white", "PK": "pink", "TQ": "turquoise", "GD": "gold", "SR": "silver",
}  # fmt: skip
_TRADE = {
    **IEC,
    "BR": "brown", "OR": "orange", "YL": "yellow", "VI": "violet", "WT": "white", "PU": "purple", "TN": "tan",
    "BLK": "black", "BRN": "brown", "RED": "red", "ORN": "orange", "ORG": "orange", "ORA": "orange", "YEL": "yellow",
    "GRN": "green", "BLU": "blue", "VIO": "violet", "PUR": "purple", "PPL": "purple", "GRY": "gray", "GRA": "gray",
    "WHT": "white", "PNK": "pink", "TAN": "tan", "TRQ": "turquoise", "NAT": "natural",
    "W": "white", "R": "red", "Y": "yellow", "O": "orange", "V": "violet",
}  # fmt: skip
_GERMAN = {
    "SW": "black", "BR": "brown", "RT": "red", "OR": "orange", "GE": "yellow", "GN": "green", "BL": "blue",
    "VI": "violet", "GR": "gray", "WS": "white", "RS": "pink", "TK": "turquoise",
}  # fmt: skip
_ONLY_GERMAN = frozenset(("SW", "RT", "GE", "WS"))
_SEVERAL = {"BL": "blue or black", "GR": "green or gray", "B": "black, blue or brown", "G": "green or gray",
            "P": "pink or purple", "L": "blue or light"}  # fmt: skip
_SHADES = {"light": "light", "lt": "light", "lite": "light", "dark": "dark", "dk": "dark", "pale": "pale", "sky": "sky",
           "lime": "lime", "navy": "navy", "hell": "light", "dunkel": "dark"}  # fmt: skip
_PART = re.compile(rf"(?:(?P<shade>{'|'.join(_SHADES)})(?:\.[ -]?|[ -]))?(?P<hue>[^\W\d_]+)", re.I)
_SIGN = re.compile(
    r"\s*[/:]\s*|\s*-\s*(?=\w)|\s+(?:with|w/)\s*(?:an?\s+)?|\s*[,+&]\s*(?=[^\W\d_]+\s+(?:stripe|tracer|band))", re.I
)
_STRIPE = re.compile(r"\s+(?:stripes?|striped|tracers?|bands?|trace)\b", re.I)
_LEGEND = re.compile(rf"\b([A-Za-z]{{1,3}})\s*=\s*((?:light |dark )?(?:{'|'.join(_WORDS)}))\b", re.I)


def legend(texts: Iterable[str]) -> Keys:
    """The keys that a note explains: ``GR = green; GY = gray``. One told twice in different words is no key.

    >>> legend(["Colours: GR = green, BL = blue"])
    (('BL', 'blue'), ('GR', 'green'))
    """
    told: dict[str, str] = {}
    for text in texts:
        for key, word in _LEGEND.findall(text):
            if key.upper() in told and told[key.upper()] != word.casefold():
                told[key.upper()] = ""
            else:
                told[key.upper()] = word.casefold()
    return tuple(sorted(told.items()))


def keys_of(texts: Iterable[str], stated: Keys = ()) -> tuple[Keys, str]:
    """The keys of a column, with what is to be said of them. ``stated``: by a legend or a map.

    >>> keys_of(["sw", "bl"])[0], keys_of(["BK", "BL"])[0], keys_of(["BL", "WH"])[0]
    ((('BL', 'blue'), ('SW', 'black')), (('BK', 'black'), ('BL', 'blue')), (('BL', ''), ('WH', 'white')))
    """
    known = dict(stated)
    used = {token.upper() for text in texts for token in _tokens(text, frozenset(known))}
    german = bool(used & _ONLY_GERMAN) and not used - _GERMAN.keys() - known.keys()
    made, said = {}, []
    for key in sorted(used):
        if key in known:
            made[key] = known[key]
        elif german:
            made[key] = _GERMAN[key]
        elif key in _SEVERAL:
            made[key] = _left_over(key, used)
            if made[key]:
                other = {"BL": "BK", "GR": "GY" if made[key] == "green" else "GN"}[key]
                said.append(f"{key} is read as {made[key]}, since {other} stands in the same column")
        else:
            made[key] = _TRADE.get(key) or _GERMAN.get(key, "")
    plain = [
        f"{key} is {word}" for key, word in made.items() if word and not any(s.startswith(f"{key} ") for s in said)
    ]
    text = "; ".join([*(["colour keys: " + ", ".join(plain)] if plain else []), *said])
    return tuple(sorted(made.items())), text


def _left_over(key: str, used: set[str]) -> str:
    """The one meaning that the other two-letter keys of the column leave to a key; empty when they do not."""
    if key == "BL" and "BK" in used and "BU" not in used:
        return "blue"
    if key == "GR" and ("GN" in used) != ("GY" in used):
        return "gray" if "GN" in used else "green"
    return ""


def _tokens(text: str, known: frozenset[str]) -> list[str]:
    """The keys in a text, none when it is no colour."""
    found = _split(text, known)
    return [hue for _, hue in found[0] if not _word(hue) and not hue.isdigit()] if found else []


def _word(hue: str) -> str:
    if hue.isdigit():
        return _DIGITS[int(hue)]
    low = hue.casefold()
    return low if low in _WORDS else _FOREIGN.get(low, "")


def _is_key(hue: str, known: frozenset[str]) -> bool:
    up = hue.upper()
    return up in known or up in _TRADE or up in _GERMAN or up in _SEVERAL


def _apart(hue: str, known: frozenset[str]) -> list[str]:
    """``GNYE`` as ``GN`` and ``YE``; the text itself when it is a word or one key; nothing when it is neither."""
    if _word(hue) or _is_key(hue, known):
        return [hue]
    for size in (2, 3):
        parts = [hue[at : at + size] for at in range(0, len(hue), size)]
        if len(hue) in (2 * size, 3 * size) and all(_is_key(part, known) and len(part) == size for part in parts):
            return parts
    return []


@lru_cache(maxsize=4096)
def _split(text: str, known: frozenset[str]) -> tuple[list[tuple[str, str]], str, bool] | None:
    """Shades and hues of a text, what stands behind them, and whether a word for a stripe was left out."""
    at, striped = 0, False
    found: list[tuple[str, str]] = []
    said = text.strip()
    while True:
        if found and len(found[-1][1]) > 2 and (digit := re.compile(r"\d(?!\w)").match(said, at)):
            found.append(("", digit[0]))
            at = digit.end()
        else:
            part = _PART.match(said, at)
            hues = _apart(part["hue"], known) if part else []
            if not part or not hues or (part.end() < len(said) and said[part.end()] == "_"):
                plain = re.compile(r"[^\W\d_]+").match(
                    said, at
                )  # a shade that is a colour by itself has none behind it
                hues = _apart(plain[0], known) if plain else []
                if not plain or not hues or said[plain.end() : plain.end() + 1] == "_":
                    return None
                part = plain
            shade = part.groupdict().get("shade") or ""
            found += [(shade if n == 0 else "", hue) for n, hue in enumerate(hues)]
            at = part.end()
        stripe = _STRIPE.match(said, at)
        if stripe:
            at, striped = stripe.end(), True
        sign = _SIGN.match(said, at)
        if not sign:
            second = re.compile(r"\s+(?=[^\W\d_]+\s+(?:stripe|tracer))", re.I).match(said, at)
            sign = second
        if not sign:
            return found, said[at:], striped
        at = sign.end()


@lru_cache(maxsize=4096)
def colour(text: str, keys: Keys = ()) -> Read:
    """A colour: words as typed, keys as words, colour digits after MIL-STD-681 as digits.

    >>> colour("White/ Yellow").value, colour("RED (thick)"), colour("white w/ blue stripe").value
    ('White/Yellow', Read(value='RED', note='thick', refused=''), 'white/blue')
    >>> colour("WHT/BLU").value, colour("GNYE").value, colour("9/6").value, colour("GR").refused
    ('white/blue', 'green/yellow', '96', 'GR is green or gray')
    """
    said = text.strip()
    if not said or UNSTATED.fullmatch(said):
        return Read(note=said if said.strip("-? ") else "")
    digits = re.fullmatch(r"-?(\d(?:[/-]?\d){0,3})", said)
    if digits:
        return Read(re.sub(r"\D", "", digits[1]))
    stated = dict(keys)
    split = _split(said, frozenset(stated))
    if split is None:
        return Read(refused="not a colour")
    found, rest, striped = split
    if rest[:1].isdigit() and not _word(found[-1][1]):
        return Read(refused="not a colour")  # W1 is a name
    if rest[:1].isalpha() or re.match(r"\s*[/:+]", rest):
        return Read(refused="not a colour")
    words, as_typed = [], not striped
    for shade, hue in found:
        word = _word(hue)
        if not word:
            key = hue.upper()
            word = stated.get(key, "") if key in stated else "" if key in _SEVERAL else _TRADE.get(key) or _GERMAN[key]
            if not word:
                return Read(refused=f"{key} is {_SEVERAL.get(key, 'not one colour')}")
            as_typed = as_typed and hue.casefold() == word
        elif hue.casefold() in _FOREIGN:
            as_typed = False
        if hue.isdigit():
            as_typed = False
        words.append(f"{_SHADES[shade.casefold().rstrip('.')]} {word}" if shade else word)
    value = "/".join(words)
    if as_typed:
        value = re.sub(r"\s*[/:]\s*", "/", said[: len(said) - len(rest)]).replace(".", "")
    if rest[:1].isdigit():
        return Read(value, said)
    return Read(value, rest_of(rest))
