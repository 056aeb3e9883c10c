"""Text from people: what may be kept, and how it is shown without upsetting a screen or a spreadsheet."""

import re
import unicodedata

from bench.errors import BadInput

ZERO_WIDTH_JOINER = "\u200d"
EMOJI_STYLE = "\ufe0f"
REPLACEMENT = "\ufffd"
LINE_MARK = " ⏎ "

_TAB_WIDTH = 4
_NOT_TEXT = frozenset({"Cc", "Cf", "Cs", "Zl", "Zp"})
_NEWLINE = re.compile("\r\n|[\r\n\u2028\u2029]")
_PLAIN_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?")
# The full-width forms are taken as the plain ones by some spreadsheets.
_STARTS_A_FORMULA = frozenset("=+-@＝＋－＠")


def clean_line(text: str, what: str, longest: int = 200, allow_empty: bool = False) -> str:
    """One line fit to keep: composed (NFC), ends stripped, free of control and direction characters.

    `what` names the field in the sentence of a BadInput; `longest` counts characters after composing.
    """
    line = unicodedata.normalize("NFC", text).strip()
    if not line and not allow_empty:
        raise BadInput(f"{what} is empty.", "Type at least one character.")
    if _NEWLINE.search(line):
        raise BadInput(f"{what} has more than one line.", "Put it on one line.")
    _check_characters(line, what, longest)
    return line


def clean_note(text: str, what: str, longest: int = 10_000) -> str:
    """A note fit to keep: like a line, but it may be empty and have several lines; tabs become spaces."""
    note = _NEWLINE.sub("\n", unicodedata.normalize("NFC", text)).expandtabs(_TAB_WIDTH).strip()
    _check_characters(note.replace("\n", " "), what, longest)
    return note


def for_display(text: str) -> str:
    """The same text, safe in one cell of a screen: columns stay aligned and nothing acts as a command.

    Joiners and emoji style marks go (they break the alignment), line ends become a visible mark, tabs a
    space, and any other control or direction character the replacement character U+FFFD.
    """
    if text.isascii() and text.isprintable():
        return text
    joined = text.replace(ZERO_WIDTH_JOINER, "").replace(EMOJI_STYLE, "").replace("\t", " ")
    one_line = _NEWLINE.sub(LINE_MARK, joined)
    shown = "".join(REPLACEMENT if unicodedata.category(c) in _NOT_TEXT else c for c in one_line)
    return unicodedata.normalize("NFC", shown)


def task_on(task: str, tag: str) -> str:
    """A task within a sentence, such as "brush out dust" on 10629."""
    return f'"{task}" on {tag}'


def quoted(text: str, longest: int = 40) -> str:
    """What someone typed, in quotation marks, harmless and short enough for a sentence."""
    shown = for_display(text.strip()[: longest + 1])
    return f"“{shown if len(shown) <= longest else shown[: longest - 1] + '…'}”"


def cell_for_csv(text: str) -> str:
    """The same cell, marked with a leading ' if a spreadsheet would run it as a formula.

    A plain number such as -12.50 stays as it is.
    Source: OWASP, "CSV Injection" (the characters = + - @, tab and carriage return).
    """
    bare = text.lstrip()
    before = text[: len(text) - len(bare)]
    if _PLAIN_NUMBER.fullmatch(text.strip()):
        return text
    if bare[:1] in _STARTS_A_FORMULA or any(c in before for c in "\t\r\n"):
        return "'" + text
    return text


def _check_characters(text: str, what: str, longest: int) -> None:
    if len(text) > longest:
        raise BadInput(f"{what} has {len(text)} characters; {longest} is the most.", "Shorten it.")
    for character in text:
        if unicodedata.category(character) in _NOT_TEXT and character != ZERO_WIDTH_JOINER:
            raise BadInput(
                f"{what} holds a character that cannot be shown (U+{ord(character):04X}).",
                "Type it again without it.",
            )
