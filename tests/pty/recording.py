"""A session kept as an asciinema v2 file: a header line, then one line an event."""

from __future__ import annotations

import codecs
import json
import time
from pathlib import Path


class Recording:
    """What a terminal showed and what was typed, with seconds since the start."""

    def __init__(self, path: Path, columns: int, rows: int) -> None:
        self.path = path
        self._began = time.monotonic()
        self._decode = codecs.getincrementaldecoder("utf-8")("replace").decode
        header = {
            "version": 2,
            "width": columns,
            "height": rows,
            "timestamp": int(time.time()),
            "env": {"TERM": "xterm-256color"},
        }
        self._lines = [json.dumps(header)]

    def output(self, data: bytes) -> None:
        text = self._decode(data)
        if text:
            self._add("o", text)

    def typed(self, text: str) -> None:
        self._add("i", text)

    def marker(self, label: str) -> None:
        self._add("m", label)

    def write(self) -> None:
        self.path.parent.mkdir(parents=True, exist_ok=True)
        self.path.write_text("\n".join(self._lines) + "\n", encoding="utf-8")

    def _add(self, kind: str, text: str) -> None:
        at = round(time.monotonic() - self._began, 6)
        self._lines.append(json.dumps([at, kind, text], ensure_ascii=False))
