"""Print a page to a file with WebKitGTK, which has neither a driver's command nor a switch for it.

    python -m tests.site.webkit_print ADDRESS FILE PAPER [across]

The library itself is asked (webkit_print_operation_print), with GTK's printer that writes a file.
PAPER is A4 or Letter; a page across has no margin, one upright 8 mm, as the styles have it.
"""

import ctypes
import sys
from collections.abc import Callable
from ctypes import c_char_p, c_double, c_int, c_uint, c_ulong, c_void_p
from typing import Any

PAPERS = {"A4": b"iso_a4", "Letter": b"na_letter"}
_LOADED = 3  # WEBKIT_LOAD_FINISHED
_MM, _LANDSCAPE = 3, 1  # GTK_UNIT_MM, GTK_PAGE_ORIENTATION_LANDSCAPE
_SETTLE = 500  # ms between a page that is there and its print

_GTK, _WEBKIT = ctypes.CDLL("libgtk-3.so.0"), ctypes.CDLL("libwebkit2gtk-4.1.so.0")
_OBJECTS, _LIB = ctypes.CDLL("libgobject-2.0.so.0"), ctypes.CDLL("libglib-2.0.so.0")
_LOAD_CHANGED = ctypes.CFUNCTYPE(None, c_void_p, c_int, c_void_p)
_FINISHED = ctypes.CFUNCTYPE(None, c_void_p, c_void_p)
_FAILED = ctypes.CFUNCTYPE(None, c_void_p, c_void_p, c_void_p)
_LATER = ctypes.CFUNCTYPE(c_int, c_void_p)


def _call(library: ctypes.CDLL, name: str, *given: tuple[Any, Any], gives: Any = None) -> Any:
    """A function of C with (type, value) of each argument."""
    function = library[name]
    function.restype, function.argtypes = gives, [kind for kind, _ in given]
    return function(*(value for _, value in given))


def _new(library: ctypes.CDLL, name: str, *given: tuple[Any, Any]) -> int:
    return int(_call(library, name, *given, gives=c_void_p))


def _on(thing: int, signal: bytes, does: Any) -> None:
    _call(
        _OBJECTS, "g_signal_connect_data", (c_void_p, thing), (c_char_p, signal),
        (c_void_p, ctypes.cast(does, c_void_p)),
        (c_void_p, None), (c_void_p, None), (c_int, 0), gives=c_ulong,
    )  # fmt: skip


def _operation(view: int, file: str, paper: str, across: bool) -> int:
    """The print of a page, to the file."""
    settings, setup = _new(_GTK, "gtk_print_settings_new"), _new(_GTK, "gtk_page_setup_new")
    given = {b"printer": b"Print to File", b"output-uri": f"file://{file}".encode(),
             b"output-file-format": b"pdf"}  # fmt: skip
    for key, value in given.items():
        _call(
            _GTK, "gtk_print_settings_set", (c_void_p, settings), (c_char_p, key), (c_char_p, value)
        )
    size = _new(_GTK, "gtk_paper_size_new", (c_char_p, PAPERS[paper]))
    _call(_GTK, "gtk_page_setup_set_paper_size", (c_void_p, setup), (c_void_p, size))
    for side in ("top", "bottom", "left", "right"):
        margin = (c_double, 0.0 if across else 8.0)
        _call(_GTK, f"gtk_page_setup_set_{side}_margin", (c_void_p, setup), margin, (c_int, _MM))
    if across:
        _call(_GTK, "gtk_page_setup_set_orientation", (c_void_p, setup), (c_int, _LANDSCAPE))
    made = _new(_WEBKIT, "webkit_print_operation_new", (c_void_p, view))
    for what, value in (("print_settings", settings), ("page_setup", setup)):
        _call(_WEBKIT, f"webkit_print_operation_set_{what}", (c_void_p, made), (c_void_p, value))
    return made


def print_to(address: str, file: str, paper: str, *, across: bool) -> bool:
    """Whether it was printed."""
    if not _call(_GTK, "gtk_init_check", (c_void_p, None), (c_void_p, None), gives=c_int):
        raise RuntimeError("no screen")
    view = _new(_WEBKIT, "webkit_web_view_new")
    window = _new(_GTK, "gtk_offscreen_window_new")
    _call(_GTK, "gtk_container_add", (c_void_p, window), (c_void_p, view))
    _call(_GTK, "gtk_widget_show_all", (c_void_p, window))
    failed: list[bool] = []
    ends: Callable[[], Any] = lambda: _call(_GTK, "gtk_main_quit")  # noqa: E731
    finished = _FINISHED(lambda _, __: ends())
    went_wrong = _FAILED(lambda _, __, ___: failed.append(True))

    def prints(_: int) -> int:
        made = _operation(view, file, paper, across)
        _on(made, b"finished", finished)
        _on(made, b"failed", went_wrong)
        _call(_WEBKIT, "webkit_print_operation_print", (c_void_p, made))
        return 0

    later = _LATER(prints)

    def changed(_: int, how: int, __: int) -> None:
        if how == _LOADED:
            _call(
                _LIB, "g_timeout_add", (c_uint, _SETTLE), (c_void_p, ctypes.cast(later, c_void_p)),
                (c_void_p, None), gives=c_uint,
            )  # fmt: skip

    loaded = _LOAD_CHANGED(changed)
    _on(view, b"load-changed", loaded)
    _call(_WEBKIT, "webkit_web_view_load_uri", (c_void_p, view), (c_char_p, address.encode()))
    _call(_GTK, "gtk_main")
    return not failed


if __name__ == "__main__":
    sys.exit(not print_to(*sys.argv[1:4], across=len(sys.argv) > 4))
