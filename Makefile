# What a maker or a developer types.  `make` alone lists it.
# The recipes only name scripts in .ci/ and tools in .venv/; nothing else needs installing.
# Kept to the words of GNU make 3.81, which is what macOS ships.

.DEFAULT_GOAL := help
SHELL := /bin/sh

STARTED := $(shell date +%s)
BUILT := .venv/.installed
TESTED := .venv/.installed-dev
IN_VENV := .ci/in-venv
ENGINE := build/lines-engine

# A stamp holds the folder it was made for.  When the folder has been moved, or the Python
# under .venv is gone, the stamps count for nothing and the next target sets up anew.
ifneq ($(shell .venv/bin/python -c 'print(open("$(BUILT)").read())' 2>/dev/null),$(CURDIR))
.PHONY: $(BUILT) $(TESTED)
endif

.PHONY: help booklet test explore bench bench-cutting bench-lines lines-data clean libraries browser engine

help: ## list what make can do
	@sed -n 's/^\([a-z-]*\):.*## /  make \1	/p' Makefile

booklet: $(BUILT) libraries ## set up if need be, then build every booklet in designs/ into build/
	@STARTED=$(STARTED) $(IN_VENV) .ci/build-booklets

test: $(TESTED) libraries browser ## set up if need be, then run every check and every test
	$(IN_VENV) ruff check
	$(IN_VENV) ruff format --check
	$(IN_VENV) mypy --strict patternpress
	$(IN_VENV) pytest -n 2 --dist worksteal -q

explore: $(TESTED) libraries browser ## run the tests on fresh random examples
	EXAMPLES=fresh $(IN_VENV) pytest -n 2 --dist worksteal -q

bench: $(TESTED) libraries ## time the builds and write build/bench.json
	$(IN_VENV) python -m tests.bench

bench-cutting: $(TESTED) libraries ## lay out CASES=FILE and write build/bench-cutting.json
	$(IN_VENV) python -m tests.bench_cutting $(CASES)

bench-lines: engine ## time hidden lines against another engine, fetched for it alone
	$(IN_VENV) $(ENGINE)/bin/python -m tests.bench_lines

lines-data: engine ## have that engine make tests/drawing/hlr_scenes.json again
	$(IN_VENV) $(ENGINE)/bin/python -m tests.drawing.make_hlr_scenes

clean: ## remove what was built, the caches and .venv
	find build -mindepth 1 ! -name README.md -delete
	rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis
	find patternpress tests -name __pycache__ -type d -prune -exec rm -rf {} +

browser:
	@.ci/browser

engine: $(TESTED)
	@$(IN_VENV) .ci/lines-engine $(ENGINE)

libraries: $(BUILT)
	@$(IN_VENV) .ci/system-libraries

$(BUILT): pyproject.toml constraints.txt
	@.ci/make-venv
	@$(IN_VENV) .ci/install-package .
	@printf %s "$(CURDIR)" >$@

$(TESTED): $(BUILT)
	@$(IN_VENV) .ci/install-package '.[dev]'
	@printf %s "$(CURDIR)" >$@
