"""Labels and action cards as files to print; nothing is sent to a printer."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bench.commands.opening import desk_for
from bench.commands.printing import say
from bench.errors import BadInput

if TYPE_CHECKING:
    from bench.domain.labels import Label, LabelSheet, LabelSize

ENDINGS = (".pdf", ".png", ".zpl")
CARDS = "cards"


def label(
    ctx: typer.Context,
    tags: Annotated[
        list[str] | None, typer.Argument(metavar="[TAG]...", help="Units, or the word cards.")
    ] = None,
    drive: Annotated[str, typer.Option(metavar="SERIAL", help="A drive's label, by its serial number.")] = "",
    part: Annotated[
        int | None, typer.Option(metavar="NUMBER", help="A part's label, by the number in its list.")
    ] = None,
    place: Annotated[str, typer.Option(metavar="NAME", help="The label of a place on the shelf.")] = "",
    to: Annotated[
        str, typer.Option(metavar="FILE", help="Write it: a name that ends in .pdf, .png or .zpl.")
    ] = "",
    size: Annotated[str, typer.Option(metavar="WxH", help="Size of a label in mm; 62x29 if not said.")] = "",
    sheet: Annotated[
        str, typer.Option(metavar="SHEET", help='Many on a sheet, such as "A4 3x8 margin 8x12"; PDF only.')
    ] = "",
) -> None:
    """Write labels or action cards to print, with a QR code."""
    from bench.domain.labels import USUAL, read_label_sheet, read_label_size

    on_sheet = read_label_sheet(sheet) if sheet else None
    if size and on_sheet:
        raise BadInput("A sheet says how large its labels are.", "Leave out --size or --sheet.")
    measure = on_sheet.label if on_sheet else read_label_size(size) if size else USUAL
    labels = _wanted(ctx, tags or [], drive, part, place)
    path = _path(to)
    for written in _write(labels, path, measure, on_sheet):
        say(f"Wrote {written}.")


def _wanted(
    ctx: typer.Context, tags: list[str], drive: str, part: int | None, place: str
) -> tuple[Label, ...]:
    from bench.views.labels import action_cards, drive_label, part_label_of, place_label, unit_labels

    asked = [bool(tags), bool(drive), part is not None, bool(place)]
    if sum(asked) != 1:
        raise BadInput("What the label is for is not said.", "Name tags, --drive, --part, --place or cards.")
    desk = desk_for(ctx)
    if drive:
        return (drive_label(desk, drive),)
    if part is not None:
        return (part_label_of(desk, part),)
    if place:
        return (place_label(desk, place),)
    return action_cards(desk) if tags == [CARDS] else unit_labels(desk, tags)


def _path(to: str) -> Path:
    from bench.reports.saving import new_path

    return new_path(to, ENDINGS)


def _write(labels: tuple[Label, ...], path: Path, size: LabelSize, sheet: LabelSheet | None) -> list[Path]:
    from bench.reports.label_drawing import draw
    from bench.reports.label_forms import label_png, labels_pdf, labels_zpl
    from bench.reports.saving import new_path, save_new

    ending = path.suffix.lower()
    if sheet is not None and ending != ".pdf":
        raise BadInput(f"A sheet of labels cannot be a {ending} file.", "End the name in .pdf.")
    drawings = [draw(one, size) for one in labels]
    if ending == ".pdf":
        return [save_new(labels_pdf(drawings, sheet), path)]
    if ending == ".zpl":
        return [save_new(labels_zpl([one.code for one in labels], drawings), path)]
    # One picture each: several get numbers before the ending, and none is written where one is there already.
    several = len(drawings) > 1
    paths = [path.with_stem(f"{path.stem}-{at}") if several else path for at in range(1, len(drawings) + 1)]
    for one in paths:
        new_path(str(one), ENDINGS)
    return [save_new(label_png(drawing), one) for drawing, one in zip(drawings, paths, strict=True)]
