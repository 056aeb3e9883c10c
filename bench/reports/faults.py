"""Faults as text and JSON: those of a unit with its tests, those of the shop, one opened, what they cost."""

from __future__ import annotations

from bench.domain.durations import hours_and_minutes
from bench.domain.faults import CURED
from bench.domain.localtime import day_and_time
from bench.domain.money import show_money
from bench.reports.plain_tables import one_line, sections, told, under, wrapped
from bench.reports.plain_values import facts_of, json_text
from bench.views.fault_costs import FaultReport, FaultSheet
from bench.views.faults import FaultList, UnitFaults
from bench.views.kinds import context_of
from bench.views.tables.faults import BEHIND, FAULT_GROUPS, FAULTS, FAULTS_ON_PAPER, OPEN_FAULTS, state_words
from bench.views.tables.outcomes import OUTCOMES


def unit_faults_text(view: UnitFaults) -> str:
    """A unit's faults, the open ones first, and every attempt at a test."""
    context = context_of(view)
    return sections(
        one_line(f"Unit {view.tag}, {view.model}, {view.stage}"),
        under(FAULTS.title, told(FAULTS_ON_PAPER, view.faults, context)),
        under(OUTCOMES.title, told(OUTCOMES, view.outcomes, context)),
    )


def faults_text(view: FaultList) -> str:
    """Faults of the shop, those found last first."""
    return sections(told(OPEN_FAULTS, view.faults, context_of(view)))


def fault_text(sheet: FaultSheet) -> str:
    """One fault: what is known of it, what it took, and what that is made of."""
    fault, cost, currency = sheet.fault, sheet.cost, sheet.currency
    step = ", ".join(word for word in (fault.stage, fault.task) if word)
    when = day_and_time(fault.found_us, sheet.zone)
    facts = {
        "Where": fault.place or "not said",
        "Whose": fault.whose,
        "Found": ", ".join(word for word in (when, fault.person, step) if word),
        "Suspected": fault.suspected,
        "Cause": fault.cause,
        "State": state_words(fault),
        "Why it stays" if fault.state not in (CURED, "open") else "Done": fault.done,
        "Closed": ""
        if fault.closed_us is None
        else f"{day_and_time(fault.closed_us, sheet.zone)}, {fault.closed_by}",
        "Hands-on": hours_and_minutes(cost.hours_us),
        "Machine": hours_and_minutes(cost.machine_us) if cost.machine_us else "",
        "Parts": show_money(cost.parts_minor, currency),
        "Consumables": show_money(cost.consumables_minor, currency) if cost.consumables_minor else "",
        "Returns": f"{cost.returns}, {show_money(cost.returned_minor, currency)}" if cost.returns else "",
        "In all": f"{show_money(sheet.cost_minor, currency)}, hands-on time at the shop's rate",
    }
    return sections(
        one_line(f"Fault f{fault.fault_id} of {fault.tag}, {fault.model}: {fault.symptom}"),
        "\n".join(wrapped(f"{name:<14}{words}", indent=14) for name, words in facts.items() if words),
        under(BEHIND.title, told(BEHIND, sheet.rows, context_of(sheet))),
    )


def fault_report_text(report: FaultReport) -> str:
    """What faults took together, what costs most first."""
    if not report.groups:
        return f"{FAULT_GROUPS.empty}\n"
    return sections(
        told(FAULT_GROUPS, report.groups, context_of(report), total=report.total),
        wrapped(
            "In all: parts, consumables and returns, and hands-on time at "
            f"{show_money(report.rate_minor_per_hour, report.currency)} per hour."
        ),
    )


def unit_faults_json(view: UnitFaults) -> str:
    """A unit's faults and tests as a JSON document."""
    return json_text("unit_faults", facts_of(view, view.zone))


def faults_json(view: FaultList) -> str:
    """Faults of the shop as a JSON document."""
    return json_text("faults", facts_of(view, view.zone))


def fault_json(sheet: FaultSheet) -> str:
    """One fault as a JSON document."""
    return json_text("fault", facts_of(sheet, sheet.zone))


def fault_report_json(report: FaultReport) -> str:
    """What faults took as a JSON document."""
    return json_text("fault_report", facts_of(report, report.zone))
