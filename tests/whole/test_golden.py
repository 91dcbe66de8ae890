"""The first log that was kept, and its status stream: they must still replay, figure for figure."""

import gzip
import json
import shutil
from pathlib import Path

import pytest

GOLDEN = Path(__file__).parent.parent / "data" / "golden"
NAME = "lock_gate_30min"
WORDS = {"next", "text", "action", "caution"}
"""Sentences may be worded better; figures may not change."""


@pytest.fixture(scope="module")
def kept_log(tmp_path_factory):
    """The kept log, unpacked."""
    log = tmp_path_factory.mktemp("golden") / f"{NAME}.dive"
    with gzip.open(GOLDEN / f"{NAME}.dive.gz") as packed, log.open("wb") as out:
        shutil.copyfileobj(packed, out)
    shutil.copy(GOLDEN / f"{NAME}.dive.sha256", log.with_name(f"{NAME}.dive.sha256"))
    return log


def identity(each, place):
    """What tells a member of a list from the others: a later program may have more of them."""
    if isinstance(each, dict) and "id" in each:
        return each["id"], each["subject"]
    return each.get("name", place) if isinstance(each, dict) else place


def differences(kept, now, where="$"):
    """Every figure of the kept line that is another now, or gone; what was null may be known."""
    if isinstance(kept, dict):
        for key, value in kept.items():
            if key in WORDS:
                continue
            if key not in now:
                yield f"{where}.{key} is gone"
            else:
                yield from differences(value, now[key], f"{where}.{key}")
    elif isinstance(kept, list):
        found = {identity(each, place): each for place, each in enumerate(now)}
        for place, each in enumerate(kept):
            name = identity(each, place)
            if name in found:
                yield from differences(each, found[name], f"{where}[{name}]")
            else:
                yield f"{where}[{name}] is gone"
    elif kept is not None and kept != now:
        yield f"{where}: {kept} became {now}"


def test_kept_log_is_whole(kept_log, overbottom, tmp_path):
    """The log of the first version is whole; that a later program derives more is no fault of it."""
    verdict = json.loads(overbottom("verify", kept_log, "--json", home=tmp_path).out)
    assert verdict["findings"] == []
    assert verdict["closed"]
    assert verdict["holds"]
    assert verdict["replay"]["records"] == verdict["records"]


def test_kept_status_stream_is_given_again(kept_log, overbottom, tmp_path):
    """The replay gives every line of the kept stream, and every figure that was known then."""
    ran = overbottom("replay", kept_log, "--headless", "--status", "-", home=tmp_path)
    with gzip.open(GOLDEN / f"{NAME}.status.jsonl.gz", "rt") as packed:
        kept = [json.loads(line) for line in packed]
    assert len(ran.lines) == len(kept)
    found = [
        f"{line['elapsed_s']} s {difference}"
        for line, now in zip(kept, ran.lines, strict=True)
        for difference in differences({k: v for k, v in line.items() if k not in {"mode", "log"}}, now)
    ]
    assert found == []
