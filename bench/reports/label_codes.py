"""The bars and squares that a scanner reads, by libraries of the extra `labels`."""

from __future__ import annotations

from bench.errors import BadInput, NotInstalled

QUIET_QR = 4  # modules kept free around a QR code (ISO/IEC 18004, 6.3.8)
QUIET_BARS = 10  # modules kept free before and after Code 128 (ISO/IEC 15417, 4.2)


def qr_modules(code: str) -> tuple[tuple[bool, ...], ...]:
    """The squares of a QR code, rows from the top, True for dark; without what is kept free around it.

    BadInput where the libraries are not installed.
    """
    try:
        import segno
    except ImportError:
        raise NotInstalled("Labels need", "labels") from None
    matrix = segno.make(code, error="m", micro=False).matrix
    return tuple(tuple(bool(one) for one in row) for row in matrix)


def bars(code: str) -> tuple[bool, ...]:
    """The modules of a Code 128, from the left, True for a bar; BadInput for what it cannot hold."""
    try:
        from barcode.codex import Code128
        from barcode.errors import BarcodeError
    except ImportError:
        raise NotInstalled("Labels need", "labels") from None
    try:
        built = Code128(code).build()
    except BarcodeError as error:
        raise BadInput(f"{code} cannot be printed as bars ({error}).", "Use letters and digits.") from error
    return tuple(module == "1" for module in built[0])
