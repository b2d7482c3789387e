"""The command line: a thin face over ticket, suggest and store.

Exit 0 done, 1 a clear refusal, 2 wrong use. `--json` prints for programs.
"""

from __future__ import annotations

import json
import sys

from clothwise.errors import LengthError, ShelfError, TicketError, WorkroomError


def main() -> None:
    """The command `clothwise`."""
    from clothwise.cli.app import app  # typer and rich are heavy: only when a command is run

    try:
        app()
    except WorkroomError as refusal:
        if "--json" in sys.argv:
            print(json.dumps({"refused": refusal.what, "where": refusal.where, "mend": refusal.mend}))
        else:
            print(refusal, file=sys.stderr)
        sys.exit(2 if isinstance(refusal, LengthError | ShelfError | TicketError) else 1)
    except BrokenPipeError:  # `clothwise suggest | head` closed the pipe: nothing is wrong
        sys.stderr.close()
        sys.exit(0)
