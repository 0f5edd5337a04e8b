# Everything a newcomer or a build machine runs. Needs only Python 3.11, make and git.

SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help

PYTHON ?= $(shell command -v python3.11 || command -v python3)
PORT ?= 8000
BIN := .venv/bin
TRANSLATIONS := $(patsubst %.po,%.mo,$(wildcard project/locale/*/LC_MESSAGES/*.po))
export PORT

.PHONY: help
help: ## Say what can be made
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/^([a-z-]+):.*## (.*)/  make \1|\2/' | column -t -s '|'

.venv/runs: requirements.lock
	test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements.lock
	touch $@

.venv/tests: requirements-test.lock .venv/runs
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements-test.lock
	touch $@

.venv/bench: requirements-bench.lock .venv/tests
	$(BIN)/python -m pip install --quiet --require-hashes -r requirements-bench.lock
	touch $@

%.mo: %.po .venv/runs
	$(BIN)/pybabel --quiet compile -i $< -o $@

.PHONY: ready
ready: .venv/runs $(TRANSLATIONS) ## Make the database, translations, static files and the demo firm
	$(BIN)/python manage.py migrate --verbosity 0
	$(BIN)/python manage.py createcachetable
	$(BIN)/python manage.py check --database default
	$(BIN)/python manage.py keep_packs --verbosity 0
	$(BIN)/python manage.py collectstatic --no-input --verbosity 0
	$(BIN)/python manage.py load_demo
	$(BIN)/python manage.py queue_looks
	$(BIN)/python manage.py db_worker --batch --no-startup-delay --verbosity 0

.PHONY: run
run: ready ## Serve the site and its worker at http://127.0.0.1:PORT/ (PORT=8000)
	@exec $(BIN)/python -m project.serve

.PHONY: lint
lint: .venv/tests ## Style, types and the arrows between the rooms
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

# Programs that tests start read bytecode of earlier ones. Style, types and arrows are among the tests themselves.
.PHONY: test
test: .venv/tests $(TRANSLATIONS) ## What any change can break, lint and browser tests included (at most 8 minutes)
	env -u PYTHONDONTWRITEBYTECODE $(BIN)/pytest -q -n 3 -m "not long"

.PHONY: test-long
test-long: .venv/tests $(TRANSLATIONS) ## Crash, fuzz, load and million-row runs
	$(BIN)/pytest -q -m long --durations=0 --durations-min=1

.PHONY: bench
bench: .venv/bench ## Ratios against plain Python, a JSON rule library, a bare canvas and json.dumps
	$(BIN)/python -m benchmarks

.PHONY: lock
lock: ## Pin the dependencies anew (needs uv)
	uv pip compile --quiet --universal --generate-hashes --no-header --no-strip-extras pyproject.toml -o requirements.lock
	uv pip compile --quiet --universal --generate-hashes --no-header --no-strip-extras --group test pyproject.toml -o requirements-test.lock
	uv pip compile --quiet --universal --generate-hashes --no-header --no-strip-extras --group bench -o requirements-bench.lock
