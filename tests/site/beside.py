"""Python beside the browser, in place of the one in the page.

To bring Python up in a page takes two seconds of processor time or more, and there it answers
several times more slowly. So in the short tier pages ask this process, with the very text that they
would send to their worker, and with `--all` each brings up its own. A page that is kept on its
device always does, and so do tests of how Python starts and ends. That both say the same, but for
the last bits of a number, is a test of its own (test_beside.py).
"""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import BrowserContext

from calc.language import speaking
from site_src.live import worker

may_be = True  # not with `--all`
SCRIPT = Path(__file__).with_name("beside.js")


def answers(context: BrowserContext) -> None:
    """Have all pages of a context ask here."""
    context.expose_function("askBeside", reply)
    context.add_init_script(path=SCRIPT)


def reply(language: str, question: str) -> str:
    """What Python says to a page of that language."""
    with speaking(language):
        return worker.answer(question)
