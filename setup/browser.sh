#!/bin/sh
# Makes sure that there is a Chromium for the tests: one on the machine, Debian's through apt when root, else Playwright's own.
set -eu
cd "$(dirname "$0")/.."
for name in chromium chromium-browser google-chrome; do
    if command -v "$name" >/dev/null; then exit 0; fi
done
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -qq && apt-get install -y -qq chromium >/dev/null && exit 0
fi
.venv/bin/playwright install chromium
