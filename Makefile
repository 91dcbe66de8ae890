# Conveniences over the commands that the README gives; every one sets up what it needs.
PYTHON ?= python3
BIN := .venv/bin

.PHONY: rehearse test dives lint bench pictures clean

rehearse: .venv/run.stamp
	$(BIN)/overbottom rehearse lock_gate_30min

test: .venv/dev.stamp
	QT_QPA_PLATFORM=offscreen $(BIN)/python -m pytest -q -n 2 --dist loadfile -m "not dives and not alone"
	QT_QPA_PLATFORM=offscreen $(BIN)/python -m pytest -q -m alone

dives: .venv/dev.stamp
	$(BIN)/python -m pytest -q -n 2 -m dives

lint: .venv/dev.stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: .venv/dev.stamp
	$(BIN)/python -P tests/bench/run.py

pictures: .venv/dev.stamp
	QT_QPA_PLATFORM=offscreen $(BIN)/python -P -m station.panels --pictures rehearsal/pictures

.venv/pip.stamp:
	./.ci/libraries
	$(PYTHON) -m venv .venv
	touch $@

.venv/run.stamp: .venv/pip.stamp pyproject.toml constraints.txt
	# The horn is an extra: a computer for which it has no wheel goes without, and the station says so.
	$(BIN)/python -m pip install -q --disable-pip-version-check -c constraints.txt -e '.[sound]' || \
	    $(BIN)/python -m pip install -q --disable-pip-version-check -c constraints.txt -e .
	touch $@

.venv/dev.stamp: .venv/pip.stamp pyproject.toml constraints.txt
	./.ci/libraries tests
	$(BIN)/python -m pip install -q --disable-pip-version-check -c constraints.txt -e '.[dev]'
	touch $@ .venv/run.stamp

clean:
	rm -rf .venv build dist rehearsal .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache
