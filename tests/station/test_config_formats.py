"""The format of a gauge is read, or refused with every reason; what cannot share a line is told."""

from functools import partial

import pytest

from drivers.addresses import parse_address
from drivers.presets import load_presets
from shared.gauges import (
    AsciiText,
    ByteOrder,
    Format,
    LineEnding,
    Loop,
    Meaning,
    ModbusRegister,
    NmeaDepth,
    NmeaGeneric,
    NmeaProprietary,
    NumberKind,
    RegisterTable,
    Status,
    WireUnit,
)
from shared.toml_file import FileFault
from shared.wire.pattern import compile_pattern
from station.config import Known, parse_station

KNOWN = Known({"mask"}, partial(parse_address, rehearsal=True), load_presets())
HEAD = """\
[station]
name = "S"
[[supply]]
name = "primary"
[[diver]]
name = "Diver 1"
person = "A. Reed"
equipment = "mask"
supply = "primary"
"""
LINE = "serial:///dev/ttyUSB0?baud=9600&parity=even"
CHANNELS = (
    'channel = "depth"\ndiver = "Diver 1"\nrange = { low_fsw = -5, high_fsw = 250 }\n',
    'channel = "supply"\ndiver = "Diver 1"\nrange = { low_psi = -5, high_psi = 300 }\n',
    'channel = "bank"\nsupply = "primary"\nrange = { low_psi = -5, high_psi = 3500 }\n',
)


def file_of(*formats: str, port: str = LINE) -> str:
    """A station file with one gauge for each format, on one line: depth, supply, bank."""
    gauges = [
        f'[[gauge]]\nname = "g{place}"\n{CHANNELS[place]}port = "{port}"\nformat = {{ {text} }}\n'
        for place, text in enumerate(formats)
    ]
    return HEAD + "".join(gauges)


def formats_of(*formats: str, port: str = LINE) -> tuple[Format, ...]:
    """The formats that are read."""
    settings = parse_station("s.toml", file_of(*formats, port=port), KNOWN)
    return tuple(gauge.format for gauge in settings.gauges)


def problems_of(*formats: str, port: str = LINE) -> list[str]:
    """What is told, without file and line."""
    with pytest.raises(FileFault) as caught:
        parse_station("s.toml", file_of(*formats, port=port), KNOWN)
    return [f"{problem.key}: {problem.what}" for problem in caught.value.problems]


PATTERN = r"pattern = '(?P<value>\d+)'"
MODBUS = 'kind = "modbus", device = 1, table = "input", unit = "psi"'


@pytest.mark.parametrize(
    ("text", "wire"),
    [
        (
            'kind = "nmea-generic", transducer = "P1", unit = "fsw"',
            NmeaGeneric("P1", WireUnit.FSW),
        ),
        (
            'kind = "nmea-generic", transducer = "P1", unit = "fsw", letter = "F", '
            "loop = { at_4_ma = 0, at_20_ma = 250 }",
            NmeaGeneric("P1", WireUnit.FSW, "F", Loop(0.0, 250.0)),
        ),
        (
            'kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "msw"',
            NmeaProprietary("PDSM", 3, WireUnit.MSW),
        ),
        (
            'kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "fsw", name_field = 2, '
            'name = "PN", unit_field = 4, unit_text = "FSW", status_field = 5, '
            'status = { OK = "good", ER = "fault" }',
            NmeaProprietary(
                "PDSM",
                3,
                WireUnit.FSW,
                2,
                "PN",
                4,
                "FSW",
                5,
                (Status("OK", Meaning.GOOD), Status("ER", Meaning.FAULT)),
            ),
        ),
        ('kind = "nmea-dpt", talker = "SD", water_depth_is_diver_depth = true', NmeaDepth("SD")),
        (
            f'kind = "ascii", {PATTERN}, unit = "kPa"',
            AsciiText(r"(?P<value>\d+)", WireUnit.KILOPASCAL),
        ),
        (
            'kind = "ascii", pattern = \'{address}:(?P<value>\\d+) (?P<unit>f)(?P<status>.)\', unit = "fsw", '
            'address = "07", ending = "lf", poll = "V{address}", poll_ending = "crlf", echo = true, '
            'unit_text = "f", decimals = 2, scale = 10, offset = -1.5, status = { "+" = "good" }',
            AsciiText(
                r"07:(?P<value>\d+) (?P<unit>f)(?P<status>.)",
                WireUnit.FSW,
                LineEnding.LF,
                "V07",
                LineEnding.CRLF,
                True,
                "f",
                2,
                10.0,
                -1.5,
                (Status("+", Meaning.GOOD),),
            ),
        ),
        (
            'kind = "modbus", device = 9, table = "holding", register = 4, number = "int16", unit = "fsw", '
            "scale = 0.1",
            ModbusRegister(9, RegisterTable.HOLDING, 4, NumberKind.INT16, WireUnit.FSW, scale=0.1),
        ),
        (
            'kind = "modbus", device = 9, table = "input", register = 65534, number = "float32", '
            'unit = "bar", order = "cdab", order_confirmed_on = 2031-03-02',
            ModbusRegister(
                9,
                RegisterTable.INPUT,
                65534,
                NumberKind.FLOAT32,
                WireUnit.BAR,
                ByteOrder.CDAB,
                "2031-03-02",
            ),
        ),
    ],
)
def test_every_format_is_read_to_the_last_key(text, wire):
    """What is written stands in the settings; what is left out has its default."""
    assert formats_of(text) == (wire,)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (
            'kind = "nmea-dpt", talker = "SD"',
            [
                "gauge[1].format.water_depth_is_diver_depth: DPT is the depth of water under a transducer, "
                "not a diver's: it is read only where this is true"
            ],
        ),
        (
            'kind = "nmea-dpt", talker = "sd", water_depth_is_diver_depth = true',
            ["gauge[1].format.talker: 'sd' is no talker, two capitals such as SD"],
        ),
        (
            'kind = "nmea-proprietary", address = "SDDPT", field = 1, unit = "msw"',
            ["gauge[1].format.address: 'SDDPT' is no proprietary address, P and three letters at least"],
        ),
        (
            'kind = "nmea-proprietary", address = "PDSM", field = 0, unit = "msw", name_field = 2, '
            "status_field = 3",
            [
                "gauge[1].format.name: missing: a text is needed",
                "gauge[1].format.status: status and status_field belong together",
                "gauge[1].format.field: 0 is below 1",
            ],
        ),
        (
            'kind = "nmea-generic", transducer = "P*1", unit = "psi", loop = { at_4_ma = 3, at_20_ma = 3 }',
            [
                "gauge[1].format.transducer: 'P*1' cannot stand in a sentence: "
                "printable ASCII without ! $ * \\ ^ ~ ,",
                "gauge[1].format.loop.at_20_ma: is the value at 4 mA too",
            ],
        ),
        (
            'kind = "ascii", pattern = \'(?P<value>(?:a+)+)\', unit = "psi"',
            [
                "gauge[1].format.pattern: at character 17: '+': a group may be followed by ? only",
            ],
        ),
        (
            'kind = "ascii", pattern = \'(?P<value>.)(?P<status>.)(?P<unit>.)\', unit = "psi"',
            [
                "gauge[1].format.status: the pattern takes a status: say what its words mean",
                "gauge[1].format.unit_text: the pattern takes a unit: say how the gauge writes it",
            ],
        ),
        (
            'kind = "ascii", pattern = \'(?P<value>.)(?P<status>.)\', unit = "psi", status = { E = "bad" }',
            [
                "gauge[1].format.status.E: 'bad' is none of fault, good, no_value, out_of_range",
            ],
        ),
        (
            'kind = "ascii", pattern = \'(?P<value>.)(?P<status>.)\', unit = "psi", status = { E = "fault" }',
            ["gauge[1].format.status: no word means good: no value would ever be read"],
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", ending = "none", scale = 0, decimals = 7, poll = "Qé"',
            [
                "gauge[1].format.poll: 'Qé': printable ASCII, 32 characters at most",
                "gauge[1].format.ending: a line without an ending cannot be told from the next",
                "gauge[1].format.decimals: 7 is above 6",
                "gauge[1].format.scale: 0 makes every value the same",
            ],
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q{{address}}"',
            ["gauge[1].format.address: missing: needed for {address}"],
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", address = "07"',
            ["gauge[1].format.address: neither pattern nor poll holds {address}"],
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q{{address}}", address = "0;7"',
            ["gauge[1].format.address: '0;7': one to eight letters and digits"],
        ),
        (
            'kind = "ascii", preset = "adressed-answer", unit = "psi"',
            [
                "gauge[1].format.preset: 'adressed-answer' is none of addressed-answer, addressed-query, "
                "echoed-command, polled-frame, status-stream, unit-stream; did you mean addressed-answer?",
                "gauge[1].format.pattern: missing: a text is needed",
            ],
        ),
        (
            f'{MODBUS}, register = 0, number = "float32"',
            [
                "gauge[1].format.order_confirmed_on: missing: read the register in all four orders, "
                "hold them against the gauge's own display, and write the day here",
                "gauge[1].format.order: missing: a text is needed",
            ],
        ),
        (
            f'{MODBUS}, register = 0, number = "int16", order = "abcd"',
            ["gauge[1].format.order: a number of 16 bits leaves no order to choose"],
        ),
        (
            'kind = "modbus", device = 248, table = "coil", register = 65535, number = "uint32", '
            'unit = "psi", order = "abdc", order_confirmed_on = 2031-03-02',
            [
                "gauge[1].format.order: 'abdc' is none of abcd, badc, cdab, dcba; did you mean badc?",
                "gauge[1].format.device: 248 is above 247",
                "gauge[1].format.table: 'coil' is none of holding, input",
                "gauge[1].format.register: 65535 is above 65534",
            ],
        ),
        (
            f'{MODBUS}, register = 0, number = "float"',
            [
                "gauge[1].format.number: 'float' is none of float32, int16, int32, uint16, uint32; "
                "did you mean float32?"
            ],
        ),
        (
            'kind = "morse", key = 1',
            [
                "gauge[1].format.kind: 'morse' is none of ascii, modbus, nmea-dpt, nmea-generic, "
                "nmea-proprietary, nmea-xdr"
            ],
        ),
    ],
)
def test_what_a_format_is_refused_for(text, told):
    """Every reason at once, each at its key, and nothing that hangs on another."""
    assert problems_of(text) == told


def test_air_is_told_neither_in_feet_of_water_nor_by_a_depth_sounder():
    """Units and sentences of a depth belong to a depth gauge."""
    depth = 'kind = "nmea-dpt", talker = "SD", water_depth_is_diver_depth = true'
    air = 'kind = "nmea-generic", transducer = "S1", unit = "fsw"'
    assert problems_of(depth, air) == ["gauge[2].format.unit: a pressure of air is not told in fsw"]
    assert problems_of(air, depth) == ["gauge[2].format.kind: DPT tells a depth and no pressure of air"]


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (
            'kind = "nmea-generic", transducer = "P1", unit = "psi"',
            f'kind = "ascii", {PATTERN}, unit = "psi"',
            "ASCII and NMEA 0183 cannot share a line: another gauge of it stands on line 16 too",
        ),
        (
            f'{MODBUS}, register = 0, number = "int16"',
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q"',
            "ASCII and Modbus cannot share a line: another gauge of it stands on line 16 too",
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q"',
            'kind = "ascii", pattern = \'a(?P<value>.)\', unit = "psi"',
            "a gauge that is polled and one that speaks by itself cannot share a line: another gauge of it "
            "stands on line 16 too",
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi"',
            'kind = "ascii", pattern = \'a(?P<value>.)\', unit = "psi", ending = "cr"',
            "gauges of one line, or one poll, end their lines alike: another gauge of it stands "
            "on line 16 too",
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q"',
            'kind = "ascii", pattern = \'a(?P<value>.)\', unit = "psi", poll = "Q", echo = true',
            "gauges of one poll have one echo and one poll_ending: another gauge of it stands on line 16 too",
        ),
        (
            f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q"',
            f'kind = "ascii", {PATTERN}, unit = "bar", poll = "Q"',
            r"pattern '(?P<value>\\d+)' is read from this line on line 16 too",
        ),
        (
            'kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "psi"',
            'kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "bar"',
            "field 3 of PDSM is read from this line on line 16 too",
        ),
        (
            'kind = "nmea-generic", transducer = "P1", unit = "psi"',
            'kind = "nmea-xdr", transducer = "P1", unit = "bar"',
            "transducer 'P1' is read from this line on line 16 too",
        ),
        (
            f'{MODBUS}, register = 4, number = "int16"',
            f'{MODBUS}, register = 3, number = "int32", order = "abcd", order_confirmed_on = 2031-03-02',
            "input register 3 of device 1 is read from this line on line 16 too",
        ),
        (
            f'{MODBUS}, register = 3, number = "int32", order = "abcd", order_confirmed_on = 2031-03-02',
            f'{MODBUS}, register = 4, number = "int16"',
            "input register 4 of device 1 is read from this line on line 16 too",
        ),
    ],
)
def test_what_cannot_share_a_line(one, other, told):
    """Ways of speaking that disturb each other, and two gauges that would read the same thing."""
    assert problems_of(one, other) == [f"gauge[2].format: {told}"]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ('kind = "nmea-generic", transducer = "P1", unit = "psi"',
         'kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "psi"'),
        ('kind = "nmea-proprietary", address = "PDSM", field = 3, unit = "psi"',
         'kind = "nmea-proprietary", address = "PDSM", field = 4, unit = "psi"'),
        (f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q1"',
         f'kind = "ascii", {PATTERN}, unit = "psi", poll = "Q2", ending = "cr"'),
        (f'{MODBUS}, register = 0, number = "int32", order = "abcd", order_confirmed_on = 2031-03-02',
         f'{MODBUS}, register = 2, number = "int16"'),
        (f'{MODBUS}, register = 0, number = "int16"',
         'kind = "modbus", device = 2, table = "input", unit = "psi", register = 0, number = "int16"'),
    ],
)  # fmt: skip
def test_what_can_share_a_line(one, other):
    """Several formats of NMEA 0183, fields of one sentence, polls and devices on one bus."""
    assert len(formats_of(one, other)) == 2


def test_a_wrong_gauge_is_not_compared_with_another():
    """Placeholders of what could not be read are no reason for a second complaint."""
    broken = 'kind = "modbus", table = "input", register = 0, number = "int16", unit = "psi"'
    assert problems_of(broken, broken) == [
        "gauge[1].format.device: missing: a whole number is needed",
        "gauge[2].format.device: missing: a whole number is needed",
    ]


def test_a_polled_gauge_cannot_be_rehearsed():
    """The lines of a rehearsal speak by themselves."""
    text = f'{MODBUS}, register = 0, number = "int16"'
    assert problems_of(text, port="rehearsal://PNEUMO") == [
        "gauge[1].format: a polled gauge lives on real lines only: those of a rehearsal speak and are "
        "never asked"
    ]


EXAMPLES = {
    "addressed-answer": (b"07:+0123.4;OK", b"123.4"),
    "addressed-query": (b"+0123.40", b"123.4"),
    "echoed-command": (b"-0025", b"-25"),
    "polled-frame": (b"T 00123.4 021.5 1", b"123.4"),
    "status-stream": (b"0;+1.2340E+02", b"123.4"),
    "unit-stream": (b"S,  123.4,psi", b"123.4"),
}


@pytest.mark.parametrize("name", load_presets())
def test_every_preset_reads_its_own_example(name):
    """The presets are found by walking their folder; each makes a format whose pattern fits its example."""
    address = ', address = "07"' if "addressed" in name else ""
    unit_text = ', unit_text = "psi"' if name == "unit-stream" else ""
    (wire,) = formats_of(f'kind = "ascii", preset = "{name}", unit = "psi"{address}{unit_text}')
    assert isinstance(wire, AsciiText)
    line, value = EXAMPLES[name]
    found = compile_pattern(wire.pattern).fullmatch(line)
    assert found is not None
    assert float(found["value"]) == float(value)


def test_a_key_of_the_file_goes_before_that_of_a_preset():
    """A preset fills in what is left out and nothing else."""
    (wire,) = formats_of('kind = "ascii", preset = "echoed-command", unit = "psi", decimals = 1')
    assert isinstance(wire, AsciiText)
    assert (wire.decimals, wire.poll, wire.echo) == (1, "PV", True)
