# Everything here works on a fresh machine that has python3 (3.11 or newer), make and pip's way to a package index.
# `make` alone lists the targets. Run things side by side with WORKERS=4; use another interpreter with PYTHON=python3.12.

PYTHON ?= python3
WORKERS ?= 2
SOAK_MINUTES ?= 30
INSTANCES ?= 500
MUTATE_MINUTES ?= 60
KILLS ?= 200
BIN := .venv/bin
PYTEST := $(BIN)/pytest

.DEFAULT_GOAL := help
.PHONY: help demo test lint types layers unit journeys postgres bench mutate lock known audit faults soak clean runtime tested browser
.NOTPARALLEL:

help:  ## list these targets
	@awk -F ':.*## ' '/^[a-z]+:.*## / { printf "make %-9s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

demo: runtime  ## build Tern Street Pharmacy and serve it (DEMO_SERVE=0: build only)
	@$(BIN)/dosewright demo $(if $(filter 0 no,$(DEMO_SERVE)),--no-serve)

test: browser lint types layers known postgres  ## everything the build runs; ends with pytest's own summary
	@DOSEWRIGHT_PACKING_INSTANCES=$(INSTANCES) $(PYTEST) -n $(WORKERS)

lint: tested  ## ruff: style, and the code as its formatter writes it
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .

types: tested  ## mypy, strict
	@$(BIN)/mypy

layers: tested  ## import-linter: the rooms and their order
	@$(BIN)/lint-imports

unit: tested  ## the tests without the browser
	@$(PYTEST) -n $(WORKERS) --ignore=tests/journeys

journeys: browser  ## the tests in a real browser
	@$(PYTEST) tests/journeys

postgres: tested  ## store, actions, commands once more, on a PostgreSQL of their own
	@$(BIN)/python tools/with_postgres.py $(PYTEST) tests/store tests/actions tests/config

bench: tested  ## every benchmark; prints ratios and growth
	@$(BIN)/python -m benchmarks

mutate: tested  ## put faults into the reader and the expansion, see which no test notices
	@$(BIN)/python -m tools.mutate --minutes $(MUTATE_MINUTES)

soak: tested  ## a million steps of changes, new seeds for SOAK_MINUTES (30)
	@$(BIN)/python tools/soak.py $(SOAK_MINUTES)

lock:  ## pin requirements/*.in again, with hashes
	@tools/lock

known: tested  ## known faults of the pinned requirements, as far as the package index tells
	@$(BIN)/python -m tools.known_faults

audit:  ## look up known faults of the pinned requirements; needs PyPI over the network
	@tools/audit

faults: tested  ## kill the server KILLS times (200) while cards are filled, and more
	@$(BIN)/python -m tools.kill_server --times $(KILLS)

clean:  ## remove what was made here: the environment, outputs, caches
	rm -rf .venv out var build src/*.egg-info .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis

runtime:
	@$(PYTHON) tools/set_up.py runtime

tested:
	@$(PYTHON) tools/set_up.py test

browser: tested
	@$(BIN)/python -m tools.find_chromium > /dev/null
	@$(BIN)/python -m tools.find_dmtx
