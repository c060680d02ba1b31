"""From each earlier format of the record to the next, by name. Events and assets are never touched.

Format 2, `index-of-prints-and-words`: states, prints, words and what a list shows are looked up in tables of their own.
"""

from __future__ import annotations

from labeltool.records.assets import Assets
from labeltool.records.log import Log
from labeltool.records.schema import DERIVED, FORMAT, TRIGGERS
from labeltool.records.sqlite import Database

NAMES = {2: "index-of-prints-and-words"}


def migrate(db: Database, found: int) -> None:
    """Bring a record of format `found` to today's; only inside a write transaction. Raises MachineError where an
    event does not prove: then nothing has changed."""
    for number in range(found + 1, FORMAT + 1):
        db.run("INSERT INTO record (name, value) VALUES (?, ?)", (f"migration {number}", NAMES[number]))
    _index_anew(db)
    db.run("UPDATE record SET value = ? WHERE name = 'format'", (str(FORMAT),))


def _index_anew(db: Database) -> None:
    """Drop every derived table and make it again from the log."""
    there = {str(row[0]) for row in db.rows("SELECT name FROM sqlite_master WHERE type = 'table'")}
    for name, sql in DERIVED.items():
        if sql.startswith("CREATE TABLE") and name in there:
            db.run(f"DROP TABLE {name}")
    left = {str(row[0]) for row in db.rows("SELECT name FROM sqlite_master")}
    for name, sql in (DERIVED | TRIGGERS).items():
        if name not in left:
            db.run(sql)
    log, assets = Log(db), Assets(db)
    for kept in assets.stored():
        assets.enter(kept)
    for event in log.walk():
        log.enter(event)
