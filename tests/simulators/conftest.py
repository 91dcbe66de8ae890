"""A scenario small enough to be read at a glance, as text that a test can spoil."""

from collections.abc import Callable
from pathlib import Path

import pytest

SMALL = """\
title = "Small"
purpose = "Two lines and a plug for tests."
seed = 7
starts_utc = 2031-05-02T08:00:00Z
end_s = 3
station = "small.station.toml"

[[bank]]
supply = "primary"
start_psig = 2000
flasks = 2
floodable_cuft = 1.62

[[diver]]
name = "Diver 1"
supply = "primary"
acfm = 1.4
set_psig = 147
hose_ft = 300

[[diver.leg]]
begins = "left_surface"
to_fsw = 2
rate_fsw_min = 60

[[line]]
name = "PNEUMO"

[[line]]
name = "SUPPLY"

[[instrument]]
line = "PNEUMO"
transducer = "PNEUMO1"
channel = "depth"
diver = "Diver 1"
unit = "bar"
every_s = 0.1
low_fsw = 0
high_fsw = 250
noise_fsw = 0.1

[[instrument]]
line = "SUPPLY"
transducer = "SUPPLY1"
channel = "supply"
diver = "Diver 1"
unit = "pascal"
every_s = 0.5
low_psi = 0
high_psi = 400

[[fault]]
kind = "pulled"
line = "PNEUMO"
from_s = 1
to_s = 2

[[press]]
at_s = 0.2
by = "Mira Kestrel"
act = { act = "set_mark", diver = "Diver 1", dive = 1, kind = "left_surface" }

[[picture]]
at_s = 2.5
name = "under"
"""


@pytest.fixture
def small_scenario(tmp_path: Path) -> Callable[..., Path]:
    """Writes the small scenario with some of its text replaced, its station file beside it."""

    def write(replaced: dict[str, str] | None = None, added: str = "") -> Path:
        text = SMALL
        for old, new in (replaced or {}).items():
            assert text.count(old) >= 1, old
            text = text.replace(old, new, 1)
        (tmp_path / "small.station.toml").write_text("", encoding="utf-8")
        path = tmp_path / "small.toml"
        path.write_text(text + added, encoding="utf-8")
        return path

    return write
