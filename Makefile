# Halewright. `make run` opens the programme, `make test` checks everything.
# Each step says what it does and is skipped the second time.

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
PYTHON ?= python3
BIN := .venv/bin
PIP := $(BIN)/uv pip install --quiet --python $(BIN)/python
PACKAGE := $(PIP) --no-build-isolation --no-deps --editable .
PYTEST := $(BIN)/pytest -n 2

.PHONY: help setup run test check unit postgres prove bench lock pages debian clean

help: ## Show what can be made
	@grep -hE '^[a-z]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 12

.venv/.base: requirements/tools.lock
	@echo "Making .venv with $$($(PYTHON) --version)."
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' \
	  || { echo "Halewright needs Python 3.11 or newer. Name one with: make run PYTHON=python3.12"; exit 1; }
	@$(PYTHON) -m venv .venv \
	  || { echo "Python lacks its venv module. On Debian: apt-get install python3-venv"; exit 1; }
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -r requirements/tools.lock
	@touch $@

.venv/.run: .venv/.base requirements/run.lock pyproject.toml
	@echo "Installing what Halewright needs, in locked versions."
	@$(PIP) -r requirements/run.lock
	@$(PACKAGE)
	@touch $@

.venv/.dev: .venv/.run requirements/dev.lock
	@echo "Installing what its checks need, in locked versions."
	@$(PIP) -r requirements/dev.lock
	@touch $@

setup: .venv/.dev ## Install everything into .venv, in locked versions

run: .venv/.run ## Load the demo group, plan it, print tonight's run sheet, open the app
	@$(BIN)/halewright run

debian:
	@scripts/debian.sh

test: .venv/.dev debian check unit postgres ## All checks and tests (under 10 minutes on 2 cores)

check: .venv/.dev ## Style, types and layers
	@echo "Checking style, types and layers."
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy
	@PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/lint-imports
	@$(BIN)/halewright catalogue check

unit: .venv/.dev
	@echo "Running the tests on SQLite."
	@$(PYTEST) -m "not prove"

postgres: .venv/.dev
	@echo "Running the tests of what is kept on Postgres."
	@scripts/with_postgres.sh $(BIN)/pytest -m "not prove and not journey" tests/web tests/unit/store

prove: .venv/.dev debian ## The long laws
	@HALEWRIGHT_LAWS=200 $(BIN)/pytest -m "prove or laws"

bench: .venv/.dev ## Measure speed; tables in docs/benchmarks.md
	@$(PIP) -r requirements/bench.lock
	@for measure in bench/*.py; do $(BIN)/python "$$measure"; done

lock: .venv/.base ## Choose versions anew and write the lock files
	@for kind in run dev bench; do \
	  group=""; [ $$kind = run ] || group="--group dev"; \
	  [ $$kind != bench ] || group="--group dev --group bench"; \
	  $(BIN)/uv pip compile pyproject.toml $$group --quiet --universal --python-version 3.11 \
	    --no-emit-index-url --no-emit-find-links --no-header -o requirements/$$kind.lock; \
	done

pages: .venv/.dev debian ## Make the README's pictures and the generated pages of docs/ anew
	@$(BIN)/python scripts/write_schemas.py
	@$(BIN)/python scripts/write_screening_page.py
	@$(BIN)/python scripts/write_commands_page.py
	@$(BIN)/python scripts/write_contact_sheet.py
	@$(BIN)/python scripts/take_pictures.py

clean: ## Remove what was made, but not your groups
	@rm -rf .venv .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
