"""A batch held against what a release asks for."""

from __future__ import annotations

from labeltool.batch.release import Release, release_findings
from labeltool.finding import Findings
from labeltool.workflow.asmade import AsMade, differences
from labeltool.workflow.prepare import prepare
from labeltool.workflow.setting import Setting


def judged(made: AsMade, setting: Setting) -> Findings:
    """The reasons against a release (errors), and what whoever releases should know."""
    at, batch = made.at, made.at.batch
    on = max(batch.made, setting.today)
    law = Findings(prepare(at.inputs, on, made.parts).findings.errors)
    found = release_findings(at.bench, Release(
        used=batch.made, ranges=at.ranges, without_lot=at.without_lot, lots=made.book,
        tolerance=at.tolerance, step_g=at.step_g, errors=law,
    ))
    return found + differences(made, on)
