"""Checking a log as a whole: each way of tampering is found and told with its place."""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from shared.clock import Instant
from station.core.inputs import Arrival, Tick
from station.log.fault import Check, LogFault
from station.log.integrity import check
from station.log.journal import Journal
from station.log.sealing import digest_of_file, write_digest
from station.plain import arrival_to_plain, canonical

SmallLog = Callable[..., tuple[Path, list[Arrival]]]
Edit = Callable[..., None]


def test_a_sound_log_has_no_findings(small_log: SmallLog) -> None:
    """A log as it was written holds, closed or not, and is counted."""
    path, arrivals = small_log()
    report = check(path)
    assert report.sound
    assert (report.closed, report.batches, report.arrivals) == (True, 41, len(arrivals))
    assert check(small_log(finished=False, name="open.log")[0]).sound


def test_the_digest_of_the_arrivals_does_not_hang_on_batches(
    small_log: SmallLog, begin: Callable[..., Journal]
) -> None:
    """Two logs of the same arrivals have the same digest of them, however they fell into batches."""
    path, arrivals = small_log()
    at_once = begin("other.log")
    for seq, arrival in enumerate(arrivals, 1):
        at_once.append(seq, arrival)
    at_once.close(finished=True)
    texts = b",".join(canonical(arrival_to_plain(one)) for one in arrivals)
    assert check(path).arrivals_digest == sha256(texts).hexdigest()
    other = check(at_once.path)
    assert other.arrivals_digest == sha256(texts).hexdigest()
    assert other.head != check(path).head


@pytest.mark.parametrize(
    ("statements", "kinds", "batch"),
    [
        (
            ["UPDATE batch SET arrivals = replace(arrivals, '0.0310', '0.0300') WHERE n = 11"],
            {Check.CHAIN},
            11,
        ),
        (["UPDATE batch SET derived = '[]' WHERE n = 12"], {Check.CHAIN}, 12),
        (["DELETE FROM batch WHERE n = 11"], {Check.NUMBER, Check.SEQUENCE, Check.CHAIN}, 12),
        (["DELETE FROM batch WHERE n > 30"], {Check.SEAL, Check.CHECKPOINT}, 30),
        (
            [
                "UPDATE batch SET n = -1 WHERE n = 11",
                "UPDATE batch SET n = 11 WHERE n = 12",
                "UPDATE batch SET n = 12 WHERE n = -1",
            ],
            {Check.SEQUENCE, Check.STAMP, Check.CHAIN},
            11,
        ),
        (
            [
                "UPDATE batch SET n = -n WHERE n > 11",
                "UPDATE batch SET n = 1 - n WHERE n < 0",
                "INSERT INTO batch SELECT 12, first_seq, last_seq, at_ns, arrivals, derived, chain "
                "FROM batch WHERE n = 11",
            ],
            {Check.SEQUENCE, Check.CHAIN},
            12,
        ),
        (
            ["UPDATE batch SET arrivals = '[7]', last_seq = first_seq WHERE n = 11"],
            {Check.PACKING, Check.CHAIN},
            11,
        ),
        (["UPDATE batch SET arrivals = '[]' WHERE n = 11"], {Check.PACKING, Check.CHAIN}, 11),
        (["UPDATE checkpoint SET body = '{}' WHERE seq = 60"], {Check.CHECKPOINT}, None),
        (["UPDATE checkpoint SET at_ns = 5, seq = 61 WHERE seq = 60"], {Check.CHECKPOINT}, None),
        (["DELETE FROM checkpoint WHERE seq = 60"], {Check.CHECKPOINT}, None),
        (["UPDATE seal SET last_seq = 7"], {Check.SEAL}, 41),
        (["UPDATE seal SET head = 7"], {Check.SEAL}, None),
        (["UPDATE header SET body = replace(body, 'sill', 'gate')"], {Check.CHAIN}, 1),
    ],
)
def test_tampering_is_found(
    small_log: SmallLog, edit: Edit, statements: list[str], kinds: set[Check], batch: int | None
) -> None:
    """Change, removal, cut, reorder and insertion are each told by the checks they break, with the batch."""
    path, _ = small_log()
    edit(path, *statements)
    write_digest(path)
    report = check(path)
    assert kinds <= {one.check for one in report.findings}
    assert batch in {one.batch for one in report.findings}
    for one in report.findings:
        assert one.batch is None or one.check is Check.SEAL or f"batch {one.batch}" in one.sentence


def test_a_checkpoint_with_a_forged_digest_is_found(small_log: SmallLog, edit: Edit) -> None:
    """A checkpoint that was changed together with its digest is not the one that the chain names."""
    path, _ = small_log()
    body = b'{"seq":60}'
    digest = sha256(body).hexdigest()
    edit(path, f"UPDATE checkpoint SET body = '{body.decode()}', digest = x'{digest}' WHERE seq = 60")
    write_digest(path)
    assert [(one.check, one.seq) for one in check(path).findings] == [(Check.CHECKPOINT, 60)]


def test_a_cut_tail_of_an_open_log_shows_by_its_head(small_log: SmallLog, edit: Edit) -> None:
    """Without a seal a cut tail leaves no trace in the file; the head that was written down shows it."""
    path, _ = small_log(finished=False)
    head = check(path).head
    edit(path, "DELETE FROM batch WHERE n > 31", "DELETE FROM checkpoint WHERE seq > 90")
    assert check(path).sound
    (finding,) = check(path, expected_head=head).findings
    assert head in finding.sentence
    assert finding.check is Check.CHAIN


def test_the_file_digest_of_a_closed_log_is_checked(small_log: SmallLog) -> None:
    """Missing, wrong and unreadable digests beside a closed log are told apart."""
    path, _ = small_log(2)
    beside = Path(f"{path}.sha256")
    beside.write_text("0" * 64 + "  day.log\n")
    (wrong,) = check(path).findings
    assert wrong.check is Check.DIGEST
    assert digest_of_file(path) in wrong.sentence
    beside.write_text("nonsense")
    assert "holds no digest" in check(path).findings[0].sentence
    beside.write_bytes(b"\xff")
    assert "cannot be read" in check(path).findings[0].sentence
    beside.unlink()
    assert "no digest stands beside" in check(path).findings[0].sentence


def test_a_tick_that_runs_back_is_found(begin: Callable[..., Journal], press: Callable[[int], Any]) -> None:
    """Station time is told by ticks: one that runs back inside a batch is named by its number."""
    journal = begin()
    for seq, at in enumerate((5, 9, 8), 1):
        journal.append(seq, Tick(Instant(at)))
    journal.close(finished=True)
    (finding,) = check(journal.path).findings
    assert (finding.check, finding.batch, finding.seq) == (Check.STAMP, 1, 3)


def test_what_is_no_log_is_refused(tmp_path: Path) -> None:
    """A file that is no log has no report: the reason is told."""
    (tmp_path / "day.log").write_text("hello")
    with pytest.raises(LogFault, match="not an SQLite file"):
        check(tmp_path / "day.log")
