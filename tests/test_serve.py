"""The preview as a person uses it: a fault is shown on the page and in the terminal without stopping it, and goes when it is mended."""

import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from urllib.error import URLError

import pytest


@pytest.fixture
def preview(root, tmp_path):
    """(folder, address, log) of a running preview of a small book."""
    shutil.copytree(root / "tests" / "book" / "demo", tmp_path / "book")
    book = tmp_path / "book"
    (book / "docs").mkdir()
    (book / "mkdocs.yml").write_text(
        "site_name: A book\ntheme: {name: material, font: false}\nplugins: [fettlebook]\n", encoding="utf-8"
    )
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        address = f"127.0.0.1:{free.getsockname()[1]}"
    log = tmp_path / "log"
    with log.open("w", encoding="utf-8") as out:
        running = subprocess.Popen(
            [sys.executable, "-m", "fettlebook", "serve", "--address", address],
            cwd=book,
            stdout=out,
            stderr=subprocess.STDOUT,
            preexec_fn=heed_interrupts,
        )
        yield book, f"http://{address}", log
        assert running.poll() is None, "the preview stopped: " + log.read_text(encoding="utf-8")
        running.send_signal(signal.SIGINT)
        running.wait(timeout=120)


def heed_interrupts():
    """What is started in the background of a shell passes its deafness to Ctrl-C on to all that it starts; a preview is stopped by it."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def until(holds, seconds=150):
    """Wait for HOLDS; its last value when it does, or when the time is up."""
    deadline = time.monotonic() + seconds
    while not (value := holds()) and time.monotonic() < deadline:
        time.sleep(0.3)
    return value


def page(address, uri="index.html"):
    try:
        with urllib.request.urlopen(f"{address}/{uri}", timeout=60) as answer:
            return answer.read().decode()
    except (URLError, TimeoutError, ConnectionError):
        return ""


def test_a_fault_is_shown_and_mended_while_it_runs(preview):
    book, address, log = preview
    assert until(lambda: "Mill Lane Repairs" in page(address)), log.read_text(encoding="utf-8")
    procedure = book / "procedures" / "replace-a-plug-seal.yml"
    good = procedure.read_text(encoding="utf-8")
    procedure.write_text(good.replace("cautions:\n", "cautoins:\n", 1), encoding="utf-8")
    assert until(lambda: "cautoins" in page(address)), log.read_text(encoding="utf-8")
    shown = page(address)
    assert "Faults in what is written" in shown and "did you mean" in shown
    told = log.read_text(encoding="utf-8")
    assert "procedures/replace-a-plug-seal.yml:" in told and "cautoins" in told and "Traceback" not in told
    procedure.write_text("title: [\n", encoding="utf-8")
    assert until(lambda: "cautoins" not in page(address)), "another fault takes its place"
    assert "Faults in what is written" in page(address)
    procedure.write_text(good.replace("Two people", "Two"), encoding="utf-8")
    assert until(lambda: "Faults in what is written" not in page(address)), log.read_text(encoding="utf-8")
    assert "seal" in page(address, "procedures/replace-a-plug-seal.html")
    assert "Traceback" not in log.read_text(encoding="utf-8")
