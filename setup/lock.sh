#!/bin/sh
# Pins every package that building and testing needs, with the hashes of its files, in setup/locked.txt, and lists their licences
# in THIRD-PARTY.md. Run it after a change of dependencies in pyproject.toml. "upgrade" as $1 takes newer releases too.
set -eu
cd "$(dirname "$0")/.."
tools=build/lock-tools
[ -x $tools/bin/pip-compile ] || { python3 -m venv $tools && $tools/bin/pip install --quiet "pip-tools>=7.4,<8" "pip-licenses>=5,<6"; }
grep -v '^#' setup/locked.txt > build/locked.txt 2>/dev/null || : > build/locked.txt
if [ "${1:-}" = upgrade ]; then set -- --upgrade; else set --; fi
$tools/bin/pip-compile "$@" --quiet --no-header --no-annotate --generate-hashes --strip-extras --allow-unsafe --extra dev --build-deps-for editable \
    --no-emit-index-url --no-emit-trusted-host --no-emit-find-links --output-file build/locked.txt pyproject.toml
version=$($tools/bin/python -c 'import sys; print("%d.%d" % sys.version_info[:2])')
{ echo "# Made by \`make lock\` with Python $version; do not edit."; cat build/locked.txt; } > setup/locked.txt
{
    printf '# Software of others\n\nMade by `make lock`. What building or testing the book installs, and the licence that each package states.\n\n'
    $tools/bin/pip-licenses --python=.venv/bin/python --format=markdown --with-urls --ignore-packages fettlebook | sed 's/| UNKNOWN  *|/| see below |/'
    cat setup/also-third-party.md
} > THIRD-PARTY.md
