"""Open the dashboard in a terminal of its own, wait until it shows a text, leave it: `PROGRAM DATA TEXT`."""

import os
import pty
import select
import sys
import time

program, data, text = sys.argv[1:]
child, terminal = pty.fork()
if child == 0:
    os.environ.update(TERM="xterm-256color", COLUMNS="120", LINES="36")
    os.execv(program, [program, "--data", data])
shown, asked_to_leave, until = b"", False, time.monotonic() + 60
while time.monotonic() < until:
    if not select.select([terminal], [], [], 1)[0]:
        continue
    try:
        shown += os.read(terminal, 65536)
    except OSError:  # it has left
        break
    if text.encode() in shown and not asked_to_leave:
        os.write(terminal, b"q")
        asked_to_leave = True
code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) if asked_to_leave else "not asked"
sys.exit(None if code == 0 else f"The dashboard did not show {text} and leave: {code}, {shown[-500:]!r}")
