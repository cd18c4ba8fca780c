#!/bin/sh
# Makes .venv with the program and what it needs; does nothing when it is newer than pyproject.toml.
# $1: "site" for building only, "dev" with the tools for testing too.
# LOCKED=1 takes exactly the releases in setup/locked.txt, each file checked against its hash; they are known good on the Python named there.
set -eu
cd "$(dirname "$0")/.."
kind=${1:-site}
stamp=.venv/.ready-$kind
python=${PYTHON:-python3}
if [ -e "$stamp" ] && [ ! pyproject.toml -nt "$stamp" ]; then exit 0; fi
"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or newer is needed; set PYTHON=/path/to/python3" >&2; exit 1; }
if [ ! -x .venv/bin/pip ]; then
    rm -rf .venv
    if ! "$python" -m venv .venv 2>/dev/null; then
        rm -rf .venv
        if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
            apt-get update -qq && apt-get install -y -qq python3-venv >/dev/null
            "$python" -m venv .venv
        else
            echo "python3 cannot make a virtual environment; install python3-venv first" >&2
            exit 1
        fi
    fi
fi
if [ "$kind" = dev ]; then what='.[dev]'; else what='.'; fi
made_with=$(sed -n '1s/.*Python \([0-9.]*\);.*/\1/p' setup/locked.txt)
running=$(.venv/bin/python -c 'import sys; print("%d.%d" % sys.version_info[:2])')
if [ "${LOCKED:-}" = 1 ] && [ "$made_with" = "$running" ]; then
    .venv/bin/pip install --quiet --disable-pip-version-check --require-hashes -r setup/locked.txt
    .venv/bin/pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
else
    .venv/bin/pip install --quiet --disable-pip-version-check -e "$what"
fi
touch "$stamp"
