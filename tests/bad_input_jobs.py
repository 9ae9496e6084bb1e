"""More data of ``test_bad_input.py``: jobs that are YAML, but not a job; marks as in ``bad_input_rows.py``."""

from __future__ import annotations

from bad_input_rows import MARK, WIRE, A, E, J, Row, swap, wire

SCHEMA = [
    wire("unknown key", "length:", f"{MARK}lenght:", "unknown key 'lenght'", "did you mean length?"),
    swap("unknown section", "wires:", f"{MARK}wire:", "unknown key 'wire'", "did you mean wires?"),
    swap("unknown key in a connector", "    mates: P14", f"    {MARK}mate: P14", "unknown key 'mate'", "mates"),
    swap("unknown key in a pin", "peak: 2.2 A", f"{MARK}paek: 2.2 A", "unknown key 'paek'", "did you mean peak?", E),
    swap("key nothing like any", "revision: A", f"{MARK}zzzz: A", "unknown key 'zzzz'", "the keys here are: "),
    swap(
        "Cyrillic in a key",
        "revision: A",
        f"{MARK}r\u0435vision: A",
        "unknown key",
        "U+0435 (cyrillic small letter ie)",
    ),
    swap("missing end", WIRE, MARK + WIRE.replace("from: J114-1, ", ""), "wires P501A20 has no 'from'", "add 'from"),
    swap(
        "missing title",
        "kind: jumper\ntitle: Ice probe jumper, left wing root",
        f"{MARK}kind: jumper",
        "has no 'title'",
        "add 'title",
    ),
    swap("missing kind", "kind: jumper\ntitle", f"{MARK}title", "does not say what it is", "add 'kind: jumper'"),
    swap("kind is a list", "kind: jumper", f"kind: {MARK}[jumper]", "does not say what it is", "add 'kind: jumper'"),
    swap("unknown kind", "kind: jumper", f"kind: {MARK}jmper", "unknown kind of file 'jmper'", "did you mean jumper?"),
    swap("kind in capitals", "kind: jumper", f"kind: {MARK}Jumper", "unknown kind of file", "capital and small"),
    Row(
        "no opens",
        ("has no 'opens'",),
        ("add 'opens",),
        edits=((J, "opens: P14/J14\n", ""), (J, "kind: jumper", f"{MARK}kind: jumper")),
    ),
    swap("wire is a text", WIRE, f"P501A20: {MARK}J114-1 to SP1", "the text 'J114-1 to SP1'", "{from: P14-1, to: SP1}"),
    swap("wire is a list", WIRE, f"P501A20: {MARK}[J114-1, SP1]", "holds a list", "{from: P14-1, to: SP1}"),
    wire("value is a list", "60 mm", f"{MARK}[60 mm]", "one value is expected", "write it like 320 mm"),
    wire("value is a block", "60 mm", f"{MARK}{{mm: 60}}", "one value is expected", "write it like 320 mm"),
    wire("value missing", "length: 60 mm", f"length: {MARK}", "the value is missing", "like 320 mm"),
    wire("negative length", "60 mm", f"{MARK}-60 mm", "a length is above zero", "320 mm"),
    wire("zero length", "60 mm", f"{MARK}0 mm", "a length is above zero", "320 mm"),
    wire("no unit", "60 mm", f"{MARK}60", "the unit is missing", "write it like 320 mm"),
    wire("unknown unit", "60 mm", f"{MARK}60 mn", "unit 'mn' is not one of mm, cm, m, in, ft", "320 mm"),
    wire("unit of another kind", "60 mm", f"{MARK}60 V", "unit 'V' is not one of", "320 mm"),
    wire("decimal comma", "60 mm", f"1,{MARK}5 mm", "unknown key '5 mm'", "a comma inside { }"),
    wire("decimal comma quoted", "60 mm", f"{MARK}'1,5 mm'", "a decimal comma is not read", "320 mm"),
    wire(".nan", "60 mm", f"{MARK}.nan mm", "not a number and a unit", "320 mm"),
    wire("exponent", "60 mm", f"{MARK}6e1 mm", "not a number and a unit", "320 mm"),
    wire("digits of another script", "60 mm", f"{MARK}\u0666\u0660 mm", "not a number and a unit", "320 mm"),
    wire("blank inside a number", "60 mm", f"{MARK}1 000 mm", "not a number and a unit", "320 mm"),
    wire("gauge not in the table", "length: 60 mm", f"gauge: {MARK}41 AWG", "AWG sizes run from 4/0 to 40", "22 AWG"),
    wire("gauge in small letters", "length: 60 mm", f"gauge: {MARK}22 awg", "not an AWG size", "22 AWG"),
    wire("gauge without unit", "length: 60 mm", f"gauge: {MARK}22", "the unit is missing", "22 AWG"),
    wire("gauge 5/0", "length: 60 mm", f"gauge: {MARK}5/0 AWG", "not an AWG size", "22 AWG"),
    wire("area of zero", "length: 60 mm", f"gauge: {MARK}0 mm2", "between 0 and 1000 mm2", "0.35 mm2"),
    wire("part number of 5 pages", "M22759/16-20-9", MARK + "M" * 61, "at most 60 characters", "shorten it"),
    swap(
        "enum in capitals", "fitted: aircraft", f"fitted: {MARK}Aircraft", "not one of: bench, aircraft", "capital and"
    ),
    swap("enum misspelt", "signal: rs232", f"signal: {MARK}rs223", "not one of: power", "did you mean rs232", A),
    swap("yes in capitals", "wet: yes", f"wet: {MARK}YES", "not one of: yes, no", "did you mean yes?", A),
    swap("yes as true", "wet: yes", f"wet: {MARK}true", "not one of: yes, no", "write one of: yes, no", A),
    swap("range backwards", "10 V to 32 V", f"{MARK}32 V to 10 V", "the first value of a range", "9 V to 32 V", E),
    swap("range of one value", "10 V to 32 V", f"{MARK}28 V", "this is not a range", "9 V to 32 V", E),
    swap("negative current", "0.9 A", f"{MARK}-0.9 A", "a current is zero or above", "5 A or 400 mA", E),
    swap(
        "title of 401 characters",
        "title: Ice probe jumper, left wing root",
        f"title: {MARK}{'n' * 401}",
        "(401 characters): this text is too long",
        "under 400 characters",
    ),
    swap(
        "Spare as a circuit", "13: spare", f"13: {MARK}Spare", "is used for, it is no circuit name", "spare in small", A
    ),
    swap("drain misspelt", "core: drain", f"core: {MARK}drian", "neither a colour nor shield nor drain", "mean drain?"),
    swap("blank in a wire id", "P501A20:", f"{MARK}P501 A20:", "this is not a wire id", "without blanks"),
    swap(
        "Cyrillic look-alike",
        "  J114:\n",
        f"  {MARK}J\u041014:\n",
        "not a reference",
        "U+0410 (cyrillic capital letter a)",
    ),
    wire(
        "Greek look-alike", "from: J114-1", f"from: {MARK}J114-\u0391", "not a wire end", "U+0391 (greek capital letter"
    ),
    wire("no-break space", "60 mm", f"60{MARK}\u00a0mm", "U+00A0 (no-break space)", "an ordinary blank"),
    wire("zero width", "J114-1", f"J114-1{MARK}\u200b", "U+200B (zero width space)", "delete it"),
    wire("bidi", "J114-1", f"J114-{MARK}\u202e1", "U+202E (right-to-left override)", "delete it"),
    wire("soft hyphen", "J114-1", f"J114{MARK}\u00ad-1", "U+00AD (soft hyphen)", "delete it"),
    wire("Hangul filler", "SP1", f"SP1{MARK}\u3164", "U+3164 (hangul filler)", "delete it"),
    wire("point without reference", "from: J114-1", f"from: {MARK}-1", "not a wire end", "P14-3"),
    wire("point with an empty cavity", "from: J114-1", f"from: {MARK}J114-", "not a wire end", "P14-3"),
]

REFERENCES = [
    wire("unknown reference", "J114-1", f"{MARK}J141-1", "nothing is called 'J141'", "did you mean J14 or J114?"),
    wire("reference in small letters", "J114-1", f"{MARK}j114-1", "nothing is called 'j114'", "capital and small"),
    wire("connector without cavity", "J114-1", f"{MARK}J114", "names a connector but no cavity", "write J114-1"),
    wire("splice with cavity", "to: SP1", f"to: {MARK}SP1-2", "SP1 is a splice and has no cavities", "write SP1 alone"),
    wire("wire to itself", "to: SP1", f"to: {MARK}J114-1", "ends where it starts", "correct one end"),
    swap("breaker without terminal", "CB7-load", f"{MARK}CB7", "not a breaker terminal", "CB7-load", A),
    swap(
        "ground with cavity", "from: GS3", f"from: {MARK}GS3-1", "GS3 is a ground and has no cavities", "GS3 alone", A
    ),
    swap("unknown mate", "mates: P14", f"mates: {MARK}P41", "nothing is called 'P41'", "did you mean P14"),
    swap(
        "mate is a splice", "mates: P14", f"mates: {MARK}SP1", "SP1 is a splice, not a connector", "the connector names"
    ),
    swap("mate is itself", "    mates: P14\n", f"    mates: {MARK}J114\n", "cannot mate with itself", "one other"),
    swap("half mated twice", "    mates: J14\n", f"    mates: {MARK}P14\n", "already mated with", "one other"),
    swap("unknown cable", "cable: C501A", f"cable: {MARK}C510A", "there is no cable 'C510A'", "did you mean C501A"),
    swap("unknown zone", "zone: wing root", f"zone: {MARK}wing rot", "no zone 'wing rot'", "did you mean wing root?"),
    swap("unknown breaker", "breaker: CB7", f"breaker: {MARK}CB8", "nothing is called 'CB8'", "CB7 or CB9", A),
    swap(
        "unknown bus",
        "name: WING EQPT, rating: 5 A, bus: BUS1",
        f"name: WING EQPT, rating: 5 A, bus: {MARK}BSU1",
        "nothing is called 'BSU1'",
        "BUS1",
        A,
    ),
    swap("unlisted circuit", "3: CAN H", f"3: {MARK}CAN HH", "'CAN HH' is not listed under circuits:", "CAN H", A),
    swap(
        "reference used twice",
        "  SP1: {part",
        f"  {MARK}GS3: {{part",
        "GS3 is used twice: first as ground",
        "another name",
        more=True,
    ),
    swap(
        "wire of the airframe again",
        "P501A20:",
        f"{MARK}P107A20:",
        "is used twice: first at airframe.yaml:",
        "another name",
    ),
    swap("wire and cable", "  C501A: {", f"  {MARK}P501A20: {{", "both a wire and a cable", "another name", more=True),
    swap("not mated", "opens: P14/J14", f"opens: {MARK}P14/J44", "not a mated pair", "did you mean P14/J14?"),
    swap("opens one half", "opens: P14/J14", f"opens: {MARK}P14", "does not name a mated pair", "did you mean P14/J14"),
    swap(
        "tap of an unknown circuit",
        "A12J1-1: WING EQPT PWR",
        f"A12J1-1: {MARK}WING EQPT PWT",
        "no circuit 'WING EQPT PWT'",
        "did you mean WING EQPT PWR?",
    ),
    # Once accepted without a word: the tap then belonged to no pin, and was compared with nothing.
    swap(
        "tap of an unknown pin",
        "  A12J1-1: W",
        f"  {MARK}A12J1-9: W",
        "not a pin that an equipment",
        "did you mean A12J1-",
    ),
    swap("tap of an unknown unit", "  A12J1-1: W", f"  {MARK}A13J1-1: W", "nothing is called 'A13J1'", "mean A12J1?"),
    swap(
        "tap of a plug of the kit",
        "  A12J1-1: W",
        f"  {MARK}P115-1: W",
        "not a pin that an equipment",
        "did you mean A12J1-1?",
    ),
    swap(
        "equipment with mates",
        "    part: D38999/24WA35PN",
        f"    mates: {MARK}P115\n    part: D38999/24WA35PN",
        "does not know what it is mated with",
        "into the jumper file",
        E,
    ),
    swap(
        "unknown check in a limit",
        "limits:\n",
        f"limits:\n  {MARK}wrong-mat: {{value: x, reason: y, by: z}}\n",
        "there is no check 'wrong-mat'",
        "did you mean wrong-mate?",
    ),
]

INCLUDES = [
    swap(
        "include outside",
        "airframe: airframe.yaml",
        f"airframe: {MARK}../airframe.yaml",
        "may not leave the folder",
        "or below",
    ),
    swap(
        "include outside by detour",
        "airframe: airframe.yaml",
        f"airframe: {MARK}sub/../../airframe.yaml",
        "may not leave",
        "below",
    ),
    swap(
        "include absolute", "airframe: airframe.yaml", f"airframe: {MARK}/etc/passwd", "a path is relative", "or below"
    ),
    swap(
        "include with backslash",
        "airframe: airframe.yaml",
        f"airframe: {MARK}sub\\a.yaml",
        "forward slashes",
        "or below",
    ),
    swap(
        "include address", "airframe: airframe.yaml", f"airframe: {MARK}file:a.yaml", "a path is relative", "or below"
    ),
    swap(
        "include by symlink",
        "airframe: airframe.yaml",
        f"airframe: {MARK}link.yaml",
        "may not leave the folder",
        "or below",
    ),
    swap(
        "include missing",
        "airframe: airframe.yaml",
        f"airframe: {MARK}airfarme.yaml",
        "there is no such file",
        "or below",
    ),
    swap(
        "include is a folder", "airframe: airframe.yaml", f"airframe: {MARK}d.yaml", "there is no such file", "or below"
    ),
    swap(
        "airframe names a jumper",
        "airframe: airframe.yaml",
        f"airframe: {MARK}jumper.yaml",
        "this is a jumper file, not an airframe file",
        "name the airframe file here",
    ),
    swap(
        "equipment names an airframe",
        "A12: ice-probe.yaml",
        f"A12: {MARK}airframe.yaml",
        "this is an airframe file, not an equipment file",
        "name the equipment file here",
    ),
    swap(
        "parts names an airframe",
        "parts: shop-parts.yaml",
        f"parts: {MARK}airframe.yaml",
        "this is an airframe file, not a parts file",
        "name the parts file here",
    ),
    swap(
        "equipment missing",
        "A12: ice-probe.yaml",
        f"A12: {MARK}ice-prob.yaml",
        "equipment A12 'ice-prob.yaml'",
        "or below",
    ),
    swap(
        "airframe without kind",
        "kind: airframe\ntitle",
        f"{MARK}title",
        "does not say what it is",
        "add 'kind: airframe'",
        A,
    ),
    swap(
        "airframe of unknown kind",
        "kind: airframe",
        f"kind: {MARK}airfram",
        "unknown kind of file",
        "mean airframe?",
        A,
    ),
    Row(
        "parts file given",
        ("this is a parts file",),
        ("name the jumper, airframe or equipment file",),
        edits=(("shop-parts.yaml", "kind: parts", f"kind: {MARK}parts"),),
        argv="shop-parts.yaml",
    ),
]

TOGETHER = [
    Row(
        "five faults in one file",
        (
            "P501A20 has no 'to'",
            "the unit is missing",
            "unknown key 'colur'",
            "not one of: bench",
            "this is not a wire id",
        ),
        ("add 'to: ...'", "320 mm", "did you mean colour?", "did you mean bench?", "without blanks"),
        files=(
            (
                J,
                f"""\
kind: jumper
title: five
airframe: airframe.yaml
opens: P14/J14
wires:
  {MARK}P501A20: {{from: J114-1}}
  W2: {{from: J114-1, to: P114-1, length: {MARK}60}}
  W3: {{from: J114-1, to: P114-1, {MARK}colur: 9}}
splices:
  SP1: {{fitted: {MARK}bnch}}
cables:
  {MARK}a b: {{}}
""",
            ),
        ),
    ),
    Row(
        "schema faults of three files",
        ("unknown key 'rateing'", "unknown key 'curent'", "unknown key 'lenght'"),
        ("did you mean rating?", "did you mean current?", "did you mean length?"),
        edits=(
            (A, "WING EQPT, rating: 5 A", f"WING EQPT, {MARK}rateing: 5 A"),
            (E, "current: 0.9 A", f"{MARK}curent: 0.9 A"),
            (J, WIRE, WIRE.replace("length", f"{MARK}lenght")),
        ),
    ),
    Row(
        "reference faults of airframe and jumper",
        ("nothing is called 'J44'", "nothing is called 'J141'", "no circuit 'CAN K'"),
        ("did you mean J14", "or J114?", "did you mean CAN H"),
        edits=(
            (A, "to: J14-1,", f"to: {MARK}J44-1,"),
            (J, WIRE, WIRE.replace("J114-1", f"{MARK}J141-1")),
            (J, "A12J1-3: CAN H", f"A12J1-3: {MARK}CAN K"),
        ),
    ),
    Row(
        "parts file, airframe and jumper at once",
        ("may not leave the folder", "there is no such file", "unknown key 'lenght'"),
        ("or below", "or below", "length"),
        edits=(
            (J, "airframe: airframe.yaml", f"airframe: {MARK}../airframe.yaml"),
            (J, "parts: shop-parts.yaml", f"parts: {MARK}shop.yaml"),
            (J, WIRE, WIRE.replace("length", f"{MARK}lenght")),
        ),
    ),
    Row(
        "two control characters",
        ("U+0007", "U+200B"),
        ("delete it", "delete it"),
        files=((J, f"kind: {MARK}\x07jumper\ntitle: a{MARK}\u200bb\n"),),
    ),
]
