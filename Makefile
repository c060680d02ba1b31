# What can be made of a fresh clone, given Python 3.11 or newer, make and git.

BIN   := .venv/bin
READY := .venv/ready

.DEFAULT_GOAL := help
.PHONY: help demo test check bench torture docs clean

help:  ## these lines
	@sed -n 's/^\([a-z]*\):.*  ## /\1: /p' $(MAKEFILE_LIST)

$(READY): pyproject.toml tools/venv.sh
	@sh tools/venv.sh

demo: $(READY)  ## print the labels of the demo workshop into demo/out
	@$(BIN)/python tools/system_packages.py run
	@$(BIN)/python demo/run

check: $(READY)  ## style and types
	$(BIN)/ruff check .
	$(BIN)/mypy --strict

test: check  ## check, then every test, with the sample sizes of each harness
	@$(BIN)/python tools/system_packages.py run test
	$(BIN)/pytest -n auto

torture: $(READY)  ## 500 kills and 16 writers, then the tests with fifty times the random samples
	@$(BIN)/python tools/system_packages.py run test
	$(BIN)/python tools/torture.py --kills 500 --writers 16 --each 50 --write
	HYPOTHESIS_PROFILE=torture LABELTOOL_SAMPLES=50 $(BIN)/pytest -n auto

bench: $(READY)  ## how fast it is, into docs/performance.md
	@$(BIN)/python tools/system_packages.py run
	$(BIN)/python bench/table.py --write

docs: $(READY)  ## write again what is generated under docs/
	@set -e; for script in tools/*docs.py; do $(BIN)/python "$$script"; done

clean:  ## everything that building, testing and the demo left, the environment aside
	rm -rf demo/out dist build .mypy_cache .ruff_cache .pytest_cache .hypothesis .coverage
	find . -name __pycache__ -not -path './.venv/*' -prune -exec rm -rf {} +
