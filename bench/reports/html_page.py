"""Pages to print or send: one HTML file each, no script, nothing loaded from elsewhere, text literal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape
from typing import TypeVar

from bench.domain.text import for_display
from bench.views.columns import Table
from bench.views.kinds import BAR, PLAIN, Context

Record = TypeVar("Record")

_HEAD = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy"
  content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">
<meta name="viewport" content="width=device-width">
<title>{title}</title>
<style>
body {{ font: 11pt/1.4 sans-serif; color: #000; background: #fff; max-width: 45em; margin: 2em auto; }}
h1 {{ font-size: 1.5em; }} h2 {{ font-size: 1.1em; margin: 1.2em 0 .3em; }}
table {{ border-collapse: collapse; width: 100%; }}
th, td {{ text-align: left; vertical-align: top; padding: .2em .6em .2em 0; border-bottom: 1px solid #bbb; }}
th {{ font-weight: normal; color: #333; }} td {{ overflow-wrap: anywhere; }}
body.wide {{ max-width: none; font-size: 9pt; }}
figure {{ margin: .6em 0; break-inside: avoid; }} img {{ max-width: 100%; height: auto; }}
.note {{ color: #333; font-size: .9em; }}
@media print {{ body {{ margin: 0; }} h2 {{ break-after: avoid; }} tr {{ break-inside: avoid; }} }}
</style>
</head>
<body class="{width}">
"""


def page(title: str, *parts: str, wide: bool = False) -> str:
    """A whole page of parts made by the functions below; those that are empty are left out.

    `wide`: as wide as the paper, in smaller letters, for a table of many columns.
    """
    head = _HEAD.format(title=shown(title), width="wide" if wide else "narrow")
    body = "\n".join(part for part in (f"<h1>{shown(title)}</h1>", *parts) if part)
    return f"{head}{body}\n</body>\n</html>\n"


def shown(text: str) -> str:
    """Text from people, literally: it can be neither markup nor a direction mark."""
    return escape(for_display(text))


def heading(text: str) -> str:
    """The title of a part."""
    return f"<h2>{shown(text)}</h2>"


def paragraph(text: str, *, note: bool = False) -> str:
    """A paragraph, or a note in smaller letters."""
    return f'<p class="note">{shown(text)}</p>' if note else f"<p>{shown(text)}</p>"


def items(texts: Iterable[str]) -> str:
    """A list; nothing for nothing."""
    lines = "\n".join(f"<li>{shown(text)}</li>" for text in texts)
    return f"<ul>\n{lines}\n</ul>" if lines else ""


def figure(source: str, caption: str) -> str:
    """A picture that stands in the page itself, with what is said of it; without a source that alone."""
    picture = f'<img src="{escape(source)}" alt="{shown(caption)}">' if source else ""
    words = f"<figcaption>{shown(caption)}</figcaption>" if caption else ""
    return f"<figure>{picture}{words}</figure>"


def facts_table(facts: Iterable[tuple[str, str]]) -> str:
    """Labels with what stands beside them; an empty value leaves room to write."""
    rows = "\n".join(
        f'<tr><th scope="row" style="width: 40%">{shown(label)}</th><td>{shown(value) or "&nbsp;"}</td></tr>'
        for label, value in facts
    )
    return f"<table>\n{rows}\n</table>"


def rows_table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Rows under headings; nothing for no rows."""
    head = "".join(f'<th scope="col">{shown(text)}</th>' for text in headings)
    lines = "\n".join(f"<tr>{''.join(f'<td>{shown(cell)}</td>' for cell in row)}</tr>" for row in rows)
    return f"<table>\n<tr>{head}</tr>\n{lines}\n</table>" if lines else ""


def told_html(
    table: Table[Record], records: Iterable[Record], context: Context = PLAIN, *, total: Record | None = None
) -> str:
    """A described table with all of its columns but bars; nothing for no records."""
    headings, *rows = words_of(table, (*records, *(() if total is None else (total,))), context)
    return rows_table(headings, rows)


def words_of(
    table: Table[Record], records: Iterable[Record], context: Context = PLAIN
) -> tuple[tuple[str, ...], ...]:
    """The headings of a described table and the words of each record, but for bars."""
    columns = [column for column in table.columns if column.kind is not BAR]
    rows = (tuple(column.words(record, context) for column in columns) for record in records)
    return (tuple(column.heading for column in columns), *rows)
