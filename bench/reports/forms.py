"""The forms each document comes in: the ending that asks for a form, and what makes it; plain text first."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

Forms = Mapping[str, Callable[[Any], str | bytes]]


def papers_forms(text: Callable[[Any], str], paper: Callable[[Any], Any]) -> Forms:
    """Papers of one kind in one file, each from a new page on."""
    from bench.reports.paper_forms import papers_pdf

    return {
        ".pdf": lambda views: papers_pdf([paper(one) for one in views]),
        ".txt": lambda views: "\f".join(text(one) for one in views),
    }


def listing_forms() -> Forms:
    """A listing."""
    from bench.reports.listing import listing_html, listing_json, listing_pdf, listing_text

    return {".txt": listing_text, ".html": listing_html, ".json": listing_json, ".pdf": listing_pdf}


def buyer_sheet_forms() -> Forms:
    """A buyer's sheet."""
    from bench.reports.buyer_sheet import buyer_html, buyer_json, buyer_pdf, buyer_text

    return {".txt": buyer_text, ".html": buyer_html, ".json": buyer_json, ".pdf": buyer_pdf}


def hand_over_forms() -> Forms:
    """A hand-over note."""
    from bench.reports.hand_over import hand_over_html, hand_over_json, hand_over_pdf, hand_over_text

    return {".txt": hand_over_text, ".html": hand_over_html, ".json": hand_over_json, ".pdf": hand_over_pdf}


def labels_forms() -> Forms:
    """Labels of the usual size."""
    from bench.reports.label_forms import labels_as_pdf, labels_as_png, labels_as_zpl, labels_text

    return {".txt": labels_text, ".pdf": labels_as_pdf, ".png": labels_as_png, ".zpl": labels_as_zpl}


def cards_forms() -> Forms:
    """Action cards, ten on a sheet."""
    from bench.reports.label_forms import cards_as_pdf, labels_as_zpl, labels_text

    return {".txt": labels_text, ".pdf": cards_as_pdf, ".zpl": labels_as_zpl}


def certificate_forms() -> Forms:
    """A certificate of sanitization."""
    from bench.reports.certificate import certificate_html, certificate_json, certificate_text

    return {".txt": certificate_text, ".html": certificate_html, ".json": certificate_json, ".pdf": _as_pdf}


def week_forms() -> Forms:
    """A week."""
    from bench.reports.week_sheet import week_csv, week_json, week_text

    return {".txt": week_text, ".csv": week_csv, ".json": week_json}


def month_forms() -> Forms:
    """A month or a year."""
    from bench.reports.month_sheet import month_csv, month_json, month_text

    return {".txt": month_text, ".csv": month_csv, ".json": month_json}


def postings_forms() -> Forms:
    """The postings of a span."""
    from bench.reports.postings import postings_csv, postings_json, postings_text

    return {".txt": postings_text, ".csv": postings_csv, ".json": postings_json}


def register_forms() -> Forms:
    """The register of second-hand goods."""
    from bench.reports.register import register_csv, register_html, register_json, register_text

    return {".txt": register_text, ".csv": register_csv, ".html": register_html, ".json": register_json}


def repair_forms() -> Forms:
    """A paper of a repair: its quote, its bill, the note when the machine goes back."""
    from bench.reports.repair_papers import repair_html, repair_json, repair_pdf, repair_text

    return {".txt": repair_text, ".html": repair_html, ".json": repair_json, ".pdf": repair_pdf}


def _as_pdf(certificate: Any) -> bytes:
    from bench.reports.certificate_pdf import certificate_pdf  # what draws it takes time to load

    return certificate_pdf(certificate)
