# The two commands a newcomer needs: `make demo` and `make test`. Both set everything up.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready
DEMO_TURN ?= german

.PHONY: browser demo test suite sweep lint types measure bench guard office clean

demo: $(READY)
	@$(BIN)/python -m rewriter.demo --turn $(DEMO_TURN)

# The types are checked while the tests run: on a first run that takes one process half a minute.
test: $(READY) lint browser
	@$(MAKE) --no-print-directory -j 2 types suite

# Byte code is kept, also where the environment says otherwise: each process that a test starts needs it.
suite: export PYTHONDONTWRITEBYTECODE =
suite: $(READY)
	@$(BIN)/python -m compileall -q rewriter
	$(BIN)/python -m pytest -n 2 -q

# What the tests give the drafts in turn, all of it: each draft with each turning method and each join.
sweep: $(READY)
	SWEEP=1 $(BIN)/python -m pytest -n 2 -q tests/test_corpus.py tests/test_follow.py tests/test_style.py \
	  tests/test_respace.py tests/test_cli.py

measure: $(READY)
	@$(BIN)/python corpus_synthetic/measure.py

bench: $(READY)
	@$(BIN)/python -m tests.bench

# Ratios of speed against their guards, in a quarter of a minute.
guard: $(READY)
	@$(BIN)/python -m tests.bench --check --quick --rounds 3

# The page is tested in a real browser: installed where that may be done, else these tests are left out.
browser:
	@command -v chromium >/dev/null || command -v chromium-browser >/dev/null || { \
	  test "$$(id -u)" = 0 && command -v apt-get >/dev/null && { \
	    apt-get install -qq -y --no-install-recommends chromium || \
	    { apt-get update -qq && apt-get install -qq -y --no-install-recommends chromium; }; \
	  } >/dev/null; } || echo "Chromium is not installed: the page is not tested in a browser"

office: $(READY)
	@$(BIN)/python -m tests.office

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY)
	$(BIN)/mypy

$(READY): pyproject.toml
	@command -v $(PYTHON) >/dev/null || { echo "Python 3.11 or newer is needed (set PYTHON=...)"; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or newer is needed"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade 'pip>=25.1'
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable . --group dev
	@# byte code, expressions and tables of the parser are kept from here on: commands start quickly
	@PYTHONDONTWRITEBYTECODE= $(BIN)/python -m rewriter.demo >/dev/null
	@touch $@

clean:
	rm -rf $(VENV) build dist *.egg-info .pytest_cache .mypy_cache .ruff_cache
