"""`overbottom tables --check`: the tables against their own rules and the gas model."""

import argparse
import json
import sys

from station.table_files import load_books
from station.tables_check import check_tables

HOLDS, DOES_NOT_HOLD = 0, 1


def tables_command(options: argparse.Namespace) -> int:
    """Tell which tables these are, and with --check whether they hold: only the known cells may differ."""
    books = load_books(options.tables)
    if not options.check:
        tables = books.tables
        said = f"{books.edition}: {tables.document} ({tables.dated}), {tables.rights}; {tables.read}\n"
        sys.stdout.write(
            json.dumps({"edition": books.edition, "document": tables.document}) + "\n"
            if options.json
            else said
        )
        return HOLDS
    report = check_tables(books.tables)
    if options.json:
        sys.stdout.write(
            json.dumps({**report.as_json(), "edition": books.edition}, ensure_ascii=False) + "\n"
        )
    else:
        sys.stdout.write("\n".join([books.edition, *report.lines()]) + "\n")
    return HOLDS if report.ok else DOES_NOT_HOLD
