"""`overbottom ports`: what there is, and what one line says, byte for byte."""

import os
import signal
import subprocess
import tty

import pytest

from shared.wire.nmea0183 import XdrGroup, xdr_sentence


def test_listing_needs_no_port(overbottom, tmp_path):
    """Where there is no serial port the command says so and is done."""
    ran = overbottom("ports", home=tmp_path)
    assert ran.exit_status == 0
    assert ran.out or "no serial port" in ran.err


def test_address_that_is_none_is_told(overbottom, tmp_path):
    """A wrong address is a bad argument; the message shows how one looks."""
    ran = overbottom("ports", "--listen", "ttyUSB0", home=tmp_path)
    assert ran.exit_status == 2
    assert "serial://" in ran.err


@pytest.mark.posix
def test_listening_shows_bytes_sentences_and_faults(command, surroundings, tmp_path):
    """Raw bytes, the decoded sentence, and what is wrong with a torn one, as they come."""
    master, slave = os.openpty()
    tty.setraw(slave)
    with subprocess.Popen(
        command("ports", "--listen", f"serial://{os.ttyname(slave)}?baud=9600"),
        stdout=subprocess.PIPE,
        text=True,
        env=surroundings(tmp_path),
    ) as listening:
        assert "opened" in listening.stdout.readline()
        os.write(master, xdr_sentence("YX", [XdrGroup("P", "0.61363", "B", "P1")]))
        assert "bytes    b'$YXXDR,P,0.61363,B,P1*" in listening.stdout.readline()
        assert "XDR      P1 P 0.61363 B" in listening.stdout.readline()
        os.write(master, b"$YXXDR,P,0.7,B,P1*00\r\n")
        assert "bytes" in listening.stdout.readline()
        assert "checksum" in listening.stdout.readline()
        listening.send_signal(signal.SIGINT)
        assert listening.wait() == 0
    os.close(master)
    os.close(slave)
