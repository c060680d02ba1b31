"""The tables of the record. Plain words that both SQLite and PostgreSQL speak, but for the triggers.

Text columns only: an asset that is no text lies there as base64. Nothing is ever updated or deleted. `event` and
`asset` are the record; the other tables are derived from them, to look things up by.
"""

from __future__ import annotations

FORMAT = 2

KEPT = {
    "record": "CREATE TABLE record (name TEXT PRIMARY KEY, value TEXT NOT NULL)",
    "event": """CREATE TABLE event (
  number INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  kind TEXT NOT NULL,
  batch TEXT,
  nth INTEGER,
  once_key TEXT,
  once_step TEXT,
  body TEXT NOT NULL,
  previous TEXT NOT NULL UNIQUE,
  hash TEXT NOT NULL UNIQUE,
  UNIQUE (batch, kind, nth),
  UNIQUE (once_key, once_step)
)""",
    "asset": """CREATE TABLE asset (
  sha256 TEXT PRIMARY KEY,
  kind TEXT NOT NULL,
  coding TEXT NOT NULL,
  data TEXT NOT NULL
)""",
    "event_batch": "CREATE INDEX event_batch ON event (batch, number)",
    "event_kind": "CREATE INDEX event_kind ON event (kind, number)",
}

DERIVED = {
    "opened": """CREATE TABLE opened (
  code_key TEXT PRIMARY KEY,
  code TEXT NOT NULL,
  stem TEXT NOT NULL,
  formula TEXT NOT NULL,
  made TEXT NOT NULL,
  event INTEGER NOT NULL UNIQUE,
  product TEXT NOT NULL,
  version TEXT,
  size_g TEXT,
  opened_by TEXT
)""",
    "changed": """CREATE TABLE changed (
  batch TEXT NOT NULL,
  event INTEGER PRIMARY KEY,
  state TEXT NOT NULL
)""",
    "printed": """CREATE TABLE printed (
  batch TEXT NOT NULL,
  nth INTEGER NOT NULL,
  event INTEGER PRIMARY KEY,
  labels INTEGER NOT NULL,
  file TEXT NOT NULL,
  sha256 TEXT NOT NULL
)""",
    "mention": "CREATE TABLE mention (word TEXT NOT NULL, event INTEGER NOT NULL)",
    "named": "CREATE TABLE named (word TEXT NOT NULL, asset TEXT NOT NULL)",
    "opened_code": "CREATE INDEX opened_code ON opened (code)",
    "opened_stem": "CREATE INDEX opened_stem ON opened (stem)",
    "opened_day": "CREATE INDEX opened_day ON opened (formula, made)",
    "changed_batch": "CREATE INDEX changed_batch ON changed (batch, event)",
    "printed_batch": "CREATE INDEX printed_batch ON printed (batch, nth, labels)",
    "printed_sha256": "CREATE INDEX printed_sha256 ON printed (sha256)",
    "mention_word": "CREATE INDEX mention_word ON mention (word, event)",
    "named_word": "CREATE INDEX named_word ON named (word, asset)",
}


def _refuse(table: str, verb: str) -> str:
    return (
        f"CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table}\n"
        "BEGIN\n  SELECT RAISE(ABORT, 'what is on record is never changed');\nEND"
    )


def _append_only(table: str, known: str) -> str:
    return (
        f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} WHEN {known}\n"
        "BEGIN\n  SELECT RAISE(ABORT, 'what is on record is never replaced');\nEND"
    )


_GUARDED = ("event", "asset", "opened", "changed", "printed", "mention", "named")
_KNOWN = {
    "event": "NEW.number <> 1 + (SELECT COALESCE(MAX(number), 0) FROM event)"
    " OR EXISTS (SELECT 1 FROM event WHERE id = NEW.id OR hash = NEW.hash OR previous = NEW.previous)",
    "opened": "EXISTS (SELECT 1 FROM opened WHERE code_key = NEW.code_key OR event = NEW.event)",
    "asset": "EXISTS (SELECT 1 FROM asset WHERE sha256 = NEW.sha256)",
    "changed": "EXISTS (SELECT 1 FROM changed WHERE event = NEW.event)",
    "printed": "EXISTS (SELECT 1 FROM printed WHERE event = NEW.event)",
}

TRIGGERS = (
    {f"{table}_no_{verb.lower()}": _refuse(table, verb) for table in _GUARDED for verb in ("UPDATE", "DELETE")}
    | {f"{table}_no_replace": _append_only(table, known) for table, known in _KNOWN.items()}
)

EVERYTHING = KEPT | DERIVED | TRIGGERS
