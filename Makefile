# make demo    checks the demo collection and writes all of it in both term systems and all formats
# make test    runs every test
# make lint    style, types and layers, as .ci/run does
# make gallery pictures of every demo in every edition, to look at
# make bench   speed of reading, executing, checking and writing
# Each sees to its own environment first (.venv, and Pango where it may install it).

SHELL := /bin/bash
BIN := .venv/bin

.PHONY: demo test lint gallery bench clean ready

demo: ready
	@$(BIN)/python fixtures/make_demo.py

test: ready
	@$(BIN)/python -m pytest -n auto --dist loadgroup

lint: ready
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

gallery: ready
	@$(BIN)/python fixtures/gallery.py

bench: ready
	@$(BIN)/python -m pytest tests/benchmarks -p no:xdist --benchmark-enable --benchmark-only \
	  --benchmark-columns=min,median,rounds --benchmark-sort=name

clean:
	rm -rf .venv build dist .pytest_cache .mypy_cache .ruff_cache .hypothesis .benchmarks .import_linter_cache

ready:
	@bash .ci/prepare
