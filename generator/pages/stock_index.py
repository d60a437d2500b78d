"""The finder's index as a script, so that a page that was opened as a file can load it too.

Knows how it is written, not what is in it.
"""

from collections.abc import Collection
from datetime import date
from json import dumps

from generator.views.stock_index import stock_index
from generator.views.stock_model import StockRow

NAME = "hearthbookIndex"
"""What the script calls it; `finder.js` takes it from there."""


def index_script(rows: Collection[StockRow], *, day: date) -> bytes:
    """The index of a stock as it stands on a day."""
    written = dumps(stock_index(rows, day=day), ensure_ascii=False, separators=(",", ":"))
    return f"window.{NAME}={written};\n".encode()
