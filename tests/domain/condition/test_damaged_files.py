"""Each reader survives 10,000 damaged files: figures within limits or one sentence, never anything else."""

from __future__ import annotations

import json
import unicodedata
from collections import Counter
from collections.abc import Iterable
from typing import Any

import pytest

from bench.domain.condition.figures import facts
from bench.domain.condition.reading_files import NVME_LOG, POWER_SUPPLY, SMARTCTL, read_file
from bench.domain.condition.readings import reading_line
from bench.errors import BadInput
from tests.condition_files import ADAPTER, MOUSE, UEVENT, as_bytes, ata_json, nvme_json, nvme_log
from tests.domain.condition.mutating import damaged, damaged_json

MANY = 10_000

BY_CHARGE = UEVENT.replace("ENERGY", "CHARGE").replace("57000000", "4400000").replace("51300000", "4100000")

ORIGINALS: dict[str, list[bytes]] = {
    POWER_SUPPLY: [
        UEVENT.encode(),
        (ADAPTER + UEVENT + MOUSE + UEVENT.replace("BAT0", "BAT1")).encode(),
        BY_CHARGE.encode(),
    ],
    NVME_LOG: [nvme_log(), nvme_log(b5=143, b0=5, w1=0)],
    SMARTCTL: [as_bytes(one) for one in (ata_json(), nvme_json(), nvme_json(percentage_used=143))],
}

# What no laptop's battery or drive can have, told here again and apart from the program's own limits.
SANE: dict[str, tuple[int, int]] = {
    "design_uwh": (1, 1_000_000_000),
    "full_uwh": (1, 1_000_000_000),
    "design_uah": (1, 100_000_000),
    "full_uah": (1, 100_000_000),
    "cycles": (1, 10_000),
    "voltage_uv": (1, 60_000_000),
    "voltage_min_design_uv": (1, 60_000_000),
    "temperature_tenths_c": (-600, 1500),
    "temperature_c": (-100, 200),
    "size_bytes": (1, 10**18),
    "exit_status": (0, 255),
    "critical_warning": (0, 63),
    "spare_percent": (0, 100),
    "spare_threshold_percent": (0, 100),
    "used_percent": (0, 255),
}


def require_sane(name: str, value: Any) -> None:
    if isinstance(value, bool):
        assert name == "passed"
    elif isinstance(value, int):
        least, most = SANE.get(name, (0, 10**16))
        assert least <= value <= most, (name, value)
    elif isinstance(value, str):
        assert len(value) <= 100
        require_shown(value)
    elif name == "sensors_c":
        assert all(-100 <= one <= 200 for one in value)
    else:
        assert name == "attributes"
        for row in value:
            assert 0 <= row["raw"] < 2**56
            assert all(0 <= row[key] <= 255 for key in ("number", "value", "worst", "threshold"))


@pytest.mark.parametrize("kind", ORIGINALS)
def test_ten_thousand_damaged_files(kind: str) -> None:
    require_sentence_or_figures(kind, damaged(ORIGINALS[kind], MANY, seed=88_800))


def test_ten_thousand_documents_of_the_wrong_shape() -> None:
    documents = [json.loads(one) for one in ORIGINALS[SMARTCTL]]
    require_sentence_or_figures(SMARTCTL, damaged_json(documents, MANY, seed=88_801))


def require_shown(text: str) -> None:
    assert not {unicodedata.category(character) for character in text} & {"Cc", "Cf", "Cs", "Zl", "Zp"}


def require_one_sentence(error: BadInput) -> None:
    assert error.what.endswith(".")
    require_shown(str(error))
    assert len(str(error)) < 400


def require_sentence_or_figures(kind: str, files: Iterable[bytes]) -> None:
    outcomes: Counter[str] = Counter()
    for at, data in enumerate(files):
        try:
            # every other one with its kind told by its content, as a person would give it
            readings = read_file(data, kind if at % 2 else None)
        except BadInput as error:
            outcomes["sentence"] += 1
            require_one_sentence(error)
            continue
        outcomes["figures"] += 1
        assert readings
        for reading in readings:
            json.dumps(reading.figures, allow_nan=False)
            for name, value in reading.figures.items():
                require_sane(name, value)
            line = reading_line(
                reading_id=1,
                moment="before",
                subject=reading.subject,
                source=reading.source,
                at_us=0,
                person="",
                drive_id=None,
                drive="",
                note="",
                figures=json.loads(json.dumps(reading.figures)),
            )
            assert line.verdicts
            assert line.facts == facts(reading.figures)
    assert sum(outcomes.values()) == MANY
    # both ends are reached, or the damage was too mild or too wild to tell anything
    assert min(outcomes["sentence"], outcomes["figures"]) > MANY // 50, outcomes


@pytest.mark.parametrize("kind", ORIGINALS)
def test_every_way_of_breaking_off(kind: str) -> None:
    """Cut after each byte: never a figure that the whole file does not hold too."""
    for whole in ORIGINALS[kind]:
        held = [reading.figures for reading in read_file(whole)]
        for end in range(len(whole)):
            try:
                readings = read_file(whole[:end], kind)
            except BadInput:
                continue
            for reading in readings:
                kept = [one for one in held if one.get("name") == reading.figures.get("name")] or held
                numbers = {key: one for key, one in reading.figures.items() if isinstance(one, int)}
                assert any(numbers.items() <= one.items() for one in kept), whole[:end][-40:]


def test_the_undamaged_files_are_read() -> None:
    for kind, originals in ORIGINALS.items():
        for whole in originals:
            assert read_file(whole) == read_file(whole, kind)


def test_deep_nesting_and_long_numbers_are_one_sentence() -> None:
    long_number = b'{"smartctl": {"exit_status": ' + b"9" * 5000 + b"}}"
    for body in (b"[" * 100_000, b'{"smartctl": ' * 50_000, long_number):
        with pytest.raises(BadInput):
            read_file(body, SMARTCTL)
