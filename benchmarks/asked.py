"""What a bench is asked for: its words on the command line, alike in all; others are refused."""

from __future__ import annotations

import argparse
from collections.abc import Sequence


def asker(about: str | None, quick: str) -> argparse.ArgumentParser:
    """A reader of a bench's words that knows `--quick`; `about` is the text of its `--help`."""
    words = argparse.ArgumentParser(description=about, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("--quick", action="store_true", help=quick)
    return words


def quick_only(about: str | None, quick: str, arguments: Sequence[str] | None) -> bool:
    """Whether a bench that knows no other word is to be quick."""
    return bool(asker(about, quick).parse_args(arguments).quick)
