# The two commands: make demo, make test. The rest serves them.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin

.PHONY: help demo test lint types bench load lock serve shots clean

help: ## what there is
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed 's/:.*##/\t/' | expand -t 10

demo: $(VENV)/.serve ## install all it needs, build the demo house, serve it
	$(BIN)/python -m seed_demo

test: $(VENV)/.test lint types ## lint, types and the whole suite, on both databases and in a real browser
	$(BIN)/python -m pytest -n 3 --dist worksteal

lint: $(VENV)/.test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(VENV)/.test
	$(BIN)/mypy

bench: $(VENV)/.test ## ratios side by side, one run
	$(BIN)/python -m tests.bench

load: $(VENV)/.test ## fifty tablets for five minutes on two workers, against a bare endpoint
	$(BIN)/python -m tests.load

serve: $(VENV)/.serve ## serve with your own data (STUDBAY_* settings)
	$(BIN)/python -m server

shots: $(VENV)/.test ## screenshots of every page at three sizes, light and dark, into var/shots
	$(BIN)/python -m tests.browser.shots

lock: $(VENV)/.test ## pin what pyproject.toml asks for
	$(BIN)/python -m pip install -q uv
	$(BIN)/uv pip compile -q --generate-hashes --no-emit-index-url --no-annotate --no-header pyproject.toml -o requirements.lock
	$(BIN)/uv pip compile -q --extra test --generate-hashes --no-emit-index-url --no-annotate --no-header pyproject.toml -o requirements-test.lock

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Studbay needs Python 3.11 or newer; $(PYTHON) is older. Try: make PYTHON=python3.11"; exit 1; }
	bash .ci/system venv
	$(PYTHON) -m venv $(VENV)

$(VENV)/.serve: requirements.lock $(VENV)/bin/python
	bash .ci/system serve
	$(BIN)/python -m pip install -q --disable-pip-version-check --require-hashes -r requirements.lock
	@touch $@

$(VENV)/.test: requirements-test.lock $(VENV)/bin/python
	bash .ci/system test
	$(BIN)/python -m pip install -q --disable-pip-version-check --require-hashes -r requirements-test.lock
	@touch $@

clean: ## remove what was installed and built here
	rm -rf $(VENV) var .pytest_cache .mypy_cache .ruff_cache .hypothesis
