"""What several tests share: the demo book, and its site built once for the whole run."""

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

# A slow machine is no fault of the program: no test has a time limit for one example.
settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="session")
def root():
    """The folder of the demo book."""
    return ROOT


def run_fettlebook(*args, cwd=ROOT, **kwargs):
    """The command as a person runs it."""
    return subprocess.run(
        [sys.executable, "-m", "fettlebook", *args], cwd=cwd, capture_output=True, text=True, timeout=600, **kwargs
    )


@pytest.fixture(scope="session")
def fettlebook():
    return run_fettlebook


@pytest.fixture(scope="session")
def site(tmp_path_factory):
    """The demo site, built by the first test that asks; the others wait for it. FETTLEBOOK_SITE names one that is built already."""
    if ready := os.environ.get("FETTLEBOOK_SITE"):
        return Path(ready)
    shared = tmp_path_factory.getbasetemp()
    if os.environ.get("PYTEST_XDIST_WORKER"):
        shared = shared.parent
    target, done = shared / "demo-site", shared / "demo-site.done"
    try:
        (shared / "demo-site.lock").mkdir()
    except FileExistsError:
        deadline = time.monotonic() + 600
        while not done.exists() and time.monotonic() < deadline:
            time.sleep(0.2)
    else:
        built = run_fettlebook("build", "--into", str(target))
        done.write_text(built.stdout + built.stderr, encoding="utf-8")
    assert (target / "index.html").exists(), done.read_text(encoding="utf-8")
    return target
