#!/bin/sh
# Writes build/sbom.cdx.json: what is installed in .venv, as a CycloneDX bill of materials.
set -eu
cd "$(dirname "$0")/.."
tools=build/sbom-tools
[ -x $tools/bin/cyclonedx-py ] || { python3 -m venv $tools && $tools/bin/pip install --quiet "cyclonedx-bom>=5,<8"; }
$tools/bin/cyclonedx-py environment --output-reproducible --output-format JSON --output-file build/sbom.cdx.json .venv/bin/python
echo "build/sbom.cdx.json"
