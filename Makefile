# Two commands do everything on a fresh machine with Python 3.11+ and make: `make site` and `make test`.
BIN := .venv/bin
BENCHES := checking building growing saving searching weighing worksheets handouts change_gears levelling

.PHONY: site test check serve bench fuzz mutants kill lock sbom wheelhouse clean

site:               ## the demo site and its handouts, in site/
	@setup/venv.sh site
	$(BIN)/fettlebook build

test: check         ## every test, in real Chromium too
	@setup/browser.sh
	$(BIN)/pytest -n 2 --dist loadfile

check:              ## lint, format, types, the import rule, and the book itself
	@setup/venv.sh dev
	$(BIN)/ruff check generator tests benchmarks
	$(BIN)/ruff format --check generator tests benchmarks
	$(BIN)/mypy
	$(BIN)/pytest tests/test_one_way.py
	$(BIN)/fettlebook check

serve:              ## live preview at http://127.0.0.1:8000
	@setup/venv.sh site
	$(BIN)/fettlebook serve

bench:              ## long timings, as ratios; each is run even when one before it misses its target
	@setup/venv.sh dev
	@missed=""; for one in $(BENCHES); do $(BIN)/python benchmarks/$$one.py || missed="$$missed $$one"; done; \
	 [ -z "$$missed" ] || { echo "missed:$$missed"; exit 1; }

fuzz:               ## long random tests
	@setup/venv.sh dev
	$(BIN)/pytest tests/fuzz -q -p no:cacheprovider -o addopts=""

mutants:            ## small changes to tables/, and how many of them the tests notice
	@setup/venv.sh dev
	@[ -d build/mutants/cosmic_ray ] || $(BIN)/pip install --quiet --target build/mutants "cosmic-ray>=8.4,<9" "coverage>=7.4,<8"
	$(BIN)/python -W ignore benchmarks/mutants.py

kill:               ## 200 builds killed at random moments, and what was left of the old site
	@setup/venv.sh dev
	@rm -rf build/kill && mkdir -p build/kill && cp -r tests/book/demo/procedures mkdocs.yml build/kill && mkdir build/kill/docs && echo "# About" > build/kill/docs/about.md
	$(BIN)/python tests/killing.py build/kill 200 1

lock:               ## pin what pyproject.toml asks for, with hashes, and list its licences
	@setup/venv.sh dev
	@mkdir -p build && setup/lock.sh

sbom:               ## the bill of materials of .venv, in build/sbom.cdx.json
	@setup/venv.sh dev
	@mkdir -p build && setup/sbom.sh

wheelhouse:         ## everything that an install without network needs, in build/wheelhouse/
	@setup/venv.sh site
	$(BIN)/pip download --quiet --require-hashes --requirement setup/locked.txt --dest build/wheelhouse
	$(BIN)/pip wheel --quiet --no-deps --wheel-dir build/wheelhouse .

clean:
	rm -rf site .site-* .fettlebook-cache build .pytest_cache .ruff_cache .mypy_cache .hypothesis
