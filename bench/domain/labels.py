"""Labels: what stands on one, how large it is, how many fit on a sheet; codes of parts and action cards."""

from __future__ import annotations

import re
from dataclasses import dataclass

from bench.domain.text import quoted
from bench.errors import BadInput

# A card's code: CARD, the act, for a person their number, and a check character. Letters and digits alone: a
# scanner that types as on another keyboard has other signs elsewhere.
CARD = "CARD"
START, STOP, DONE, NEXT, WHO = "START", "STOP", "DONE", "NEXT", "WHO"
ACTS = (START, STOP, DONE, NEXT, WHO)
PART = "PART"  # begins the code of a part, which ends in a check character too
_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_CARD = re.compile(rf"{CARD}({'|'.join(ACTS)})(\d*)([0-9A-Z])", re.ASCII)
_PART = re.compile(rf"{PART}(\d+)([0-9A-Z])", re.ASCII)
_SIZE = re.compile(r"(\d{1,3})\s*[xX×*]\s*(\d{1,3})", re.ASCII)
LEAST_MM, MOST_MM = 10, 300


@dataclass(frozen=True, slots=True)
class Label:
    """What stands on a label: the code that a scanner reads, its largest line, and lines beneath."""

    code: str
    title: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LabelSize:
    """Millimetres of one label."""

    width_mm: int
    height_mm: int


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """A sheet of labels: its own size, margins and how many stand beside and beneath each other."""

    width_mm: int
    height_mm: int
    columns: int
    rows: int
    margin_x_mm: int
    margin_y_mm: int

    @property
    def label(self) -> LabelSize:
        """The size of one label."""
        return LabelSize(
            (self.width_mm - 2 * self.margin_x_mm) // self.columns,
            (self.height_mm - 2 * self.margin_y_mm) // self.rows,
        )

    def place_mm(self, number: int) -> tuple[int, int, int]:
        """The sheet, and the left and upper edge on it, of the label of this number, counted from 0."""
        sheet, at = divmod(number, self.columns * self.rows)
        row, column = divmod(at, self.columns)
        size = self.label
        x, y = self.margin_x_mm + column * size.width_mm, self.margin_y_mm + row * size.height_mm
        return sheet, x, y


USUAL = LabelSize(62, 29)
CARDS = LabelSheet(210, 297, 2, 5, 15, 13)
PAPERS = {"A4": (210, 297), "Letter": (216, 279)}  # ISO 216; ANSI/ASME Y14.1 size A, to the millimetre


@dataclass(frozen=True, slots=True)
class Card:
    """What an action card asks for. `person_id`: of a card that says who is working."""

    act: str
    person_id: int | None = None


def check_character(body: str) -> str:
    """The check character for digits and capital letters. Source: ISO/IEC 7064, hybrid system MOD 37,36."""
    product = 36
    for character in body:
        total = (product + _ALPHABET.index(character)) % 36 or 36
        product = total * 2 % 37
    return _ALPHABET[(37 - product) % 36]


def card_code(card: Card) -> str:
    """The code on a card."""
    body = f"{CARD}{card.act}{card.person_id if card.person_id is not None else ''}"
    return body + check_character(body)


def read_card(code: str) -> Card | None:
    """What a scanned code asks for; None where it is no card's, or was read wrongly."""
    found = _CARD.fullmatch(code.strip().upper())
    if found is None:
        return None
    act, number, check = found.groups()
    if check != check_character(code.strip().upper()[:-1]) or bool(number) != (act == WHO):
        return None
    return Card(act, int(number) if number else None)


def part_code(component_id: int) -> str:
    """The code of a part: the same wherever it goes."""
    body = f"{PART}{component_id}"
    return body + check_character(body)


def read_part_code(code: str) -> int | None:
    """The number of the part that a scanned code names; None where it is no part's, or was read wrongly."""
    found = _PART.fullmatch(code.strip().upper())
    if found is None or found[2] != check_character(f"{PART}{found[1]}"):
        return None
    return int(found[1])


def read_label_size(text: str) -> LabelSize:
    """A size such as 62x29: width and height in millimetres. BadInput for another form or extent."""
    found = _SIZE.fullmatch(text.strip().removesuffix("mm").strip())
    if found is None:
        raise BadInput(f"{quoted(text)} is not the size of a label.", "Write width x height in mm: 62x29.")
    size = LabelSize(int(found[1]), int(found[2]))
    if not all(LEAST_MM <= one <= MOST_MM for one in (size.width_mm, size.height_mm)):
        raise BadInput(f"A label of {text.strip()} mm cannot be printed.", f"Use {LEAST_MM} to {MOST_MM} mm.")
    return size


def read_label_sheet(text: str) -> LabelSheet:
    """A sheet such as "A4 3x8" or "Letter 3x10 margin 5x13": paper, columns x rows, margins in millimetres.

    BadInput for another form, or labels that would be smaller than can be printed.
    """
    words = text.split()
    paper = next((name for name in PAPERS if words and name.casefold() == words[0].casefold()), None)
    grid = _SIZE.fullmatch(words[1]) if len(words) > 1 else None
    margin = _SIZE.fullmatch(words[3]) if len(words) == 4 and words[2].casefold() == "margin" else None
    if paper is None or grid is None or (len(words) != 2 and margin is None):
        raise BadInput(f"{quoted(text)} is not a sheet of labels.", 'Write it as "A4 3x8 margin 8x12" (mm).')
    columns, rows = int(grid[1]), int(grid[2])
    across, down = (int(margin[1]), int(margin[2])) if margin else (0, 0)
    width, height = PAPERS[paper]
    if columns < 1 or rows < 1:
        raise BadInput("A sheet has at least one label.", "Write columns x rows, such as 3x8.")
    sheet = LabelSheet(width, height, columns, rows, across, down)
    if min(sheet.label.width_mm, sheet.label.height_mm) < LEAST_MM:
        raise BadInput(
            f"Labels of {sheet.label.width_mm} by {sheet.label.height_mm} mm are too small.",
            "Use fewer on a sheet, or smaller margins.",
        )
    return sheet
