"""Damages files in the ways files get damaged: bits flip, ends break off, bytes slip in or go."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from random import Random
from typing import Any


def damaged(originals: list[bytes], count: int, seed: int) -> Iterator[bytes]:
    """So many damaged files, the same ones for the same seed."""
    random = Random(seed)
    for _ in range(count):
        data = random.choice(originals)
        for _ in range(random.choice((1, 1, 1, 2, 4, 16))):
            data = random.choice(_WAYS)(random, data)
        yield data


def _flip(random: Random, data: bytes) -> bytes:
    if not data:
        return data
    at = random.randrange(len(data))
    return data[:at] + bytes([data[at] ^ 1 << random.randrange(8)]) + data[at + 1 :]


def _truncate(random: Random, data: bytes) -> bytes:
    return data[: random.randrange(len(data) + 1)]


def _insert(random: Random, data: bytes) -> bytes:
    at = random.randrange(len(data) + 1)
    slip = random.choice(_SLIPS) if random.random() < 0.5 else random.randbytes(random.randrange(1, 9))
    return data[:at] + slip + data[at:]


def _delete(random: Random, data: bytes) -> bytes:
    at = random.randrange(len(data) + 1)
    return data[:at] + data[at + random.randrange(1, 40) :]


def _double(random: Random, data: bytes) -> bytes:
    at = random.randrange(len(data) + 1)
    return data[:at] + data[at : at + random.randrange(1, 200)] + data[at:]


def _number(random: Random, data: bytes) -> bytes:
    """Put an odd number in the place of some digits."""
    digits = [at for at, byte in enumerate(data) if 48 <= byte <= 57]
    if not digits:
        return data
    at = random.choice(digits)
    return data[:at] + random.choice(_NUMBERS) + data[at + random.randrange(1, 4) :]


def _noise(random: Random, data: bytes) -> bytes:
    return random.randbytes(random.choice((0, 1, 512, 512, 513, 2000)))


def _same_length(random: Random, data: bytes) -> bytes:
    """Overwrite a stretch, as a bad sector does."""
    at, width = random.randrange(len(data) + 1), random.randrange(1, 33)
    return data[:at] + random.randbytes(len(data[at : at + width])) + data[at + width :]


_SLIPS = (
    b"\x00",
    b"\xff\xfe",
    b"\n",
    b"=",
    b'"',
    b"{",
    b"[",
    b"]" * 3,
    b"null",
    b"-",
    b"1e999",
    b"NaN",
    b"\xe2",
)
_NUMBERS = (
    *(b"0", b"-1", b"255", b"65535", b"4294967295", b"18446744073709551615", b"9" * 40, b"9" * 5000),
    *(b"1e400", b"-Infinity", b"NaN", b"1.5", b"true", b"null", b'"7"', b"[]", b"{}"),
)
_WAYS: tuple[Callable[[Random, bytes], bytes], ...] = (
    *(_flip, _flip, _flip, _truncate, _insert, _insert, _delete),
    *(_double, _number, _number, _noise, _same_length, _same_length),
)


def damaged_json(originals: list[Any], count: int, seed: int) -> Iterator[bytes]:
    """JSON that is still JSON, with values of any kind in the place of others, keys gone or doubled lists."""
    random = Random(seed)
    for _ in range(count):
        document = copy.deepcopy(random.choice(originals))
        for _ in range(random.choice((1, 1, 2, 5))):
            holder, key = random.choice(list(_places(document)))
            holder[key] = copy.deepcopy(random.choice(_VALUES))
            if random.random() < 0.2:
                del holder[key]
        yield json.dumps(document).encode()


def _places(node: Any) -> Iterator[tuple[Any, Any]]:
    """Every place in a document that holds a value."""
    keys = list(node) if isinstance(node, dict) else range(len(node)) if isinstance(node, list) else ()
    for key in keys:
        yield node, key
        yield from _places(node[key])


_VALUES: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 64, 255, 256, 2**31, 2**56, 2**70, -(2**70), 1.5, 1e308, float("nan")),
    *("", "x", "7", "\x00", "a\nb", "\u202e", "\ud800", "9" * 500, [], [[]], [1, "2"], {}, {"value": 3}),
    *([None] * 300, {"current": "warm"}, [{"id": 1}], float("inf")),
)
