"""Removes exports of the runtime that only other compiled modules would use: none is loaded; and
gives it the memory that the image needs.

The main module exports several thousand functions for modules that may be loaded later. Registering
them takes the browser longer than everything else at start, so those that the loader itself does
not name are removed from the list of exports (the code stays) and from the loader.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

MEMORY, EXPORTS = 5, 7  # numbers of the sections in the binary format
PAGES = 640  # of 64 KiB; what Python with all our forms loaded has to fit in
ASSIGN = re.compile(r"function assignWasmExports\(wasmExports\)\{([^}]*)\}")
STATEMENT = re.compile(r'[^;]*?=wasmExports\["([^"]+)"\][^;]*(?:;|$)')
DECLARED = re.compile(r"\bvar ((?:[\w$]+,)+[\w$]+);")
LONG = 10_000  # only the list of all exported functions is that long
WORD = re.compile(r"[\w$]+")


def trim(loader: str, wasm: bytes, caller: str) -> tuple[str, bytes] | None:
    """The loader and the module without unused exports; None if they are not as expected.

    `caller` is the other script that uses the module.
    """
    found = ASSIGN.search(loader)
    if not found:
        return None
    assigned = [(m[1], m[0]) for m in STATEMENT.finditer(found[1])]
    names = {name for name, _ in _exports(wasm)}
    if "".join(text for _, text in assigned) != found[1] or not names.issuperset(dict(assigned)):
        return None
    before, after = loader[: found.start(1)], loader[found.end(1) :]
    lists = [m for m in DECLARED.finditer(before) if len(m[0]) > LONG]
    if len(lists) != 1:
        return None
    start, end = lists[0].span()
    used = set(WORD.findall(" ".join((before[:start], before[end:], after, caller))))
    # In the loader the name of a function of the module has an underscore in front.
    kept = {name for name in names if used & {name, f"_{name}"}}
    body = "".join(text for name, text in assigned if name in kept)
    used |= set(WORD.findall(body))
    variables = ",".join(name for name in lists[0][1].split(",") if name in used)
    trimmed = f"{before[:start]}var {variables};{before[end:]}{body}{after}"
    return trimmed, _with_pages(_with_exports(wasm, kept), PAGES)


def _exports(wasm: bytes) -> Iterator[tuple[str, bytes]]:
    """Name and raw entry of each export."""
    for kind, _, content, end in _sections(wasm):
        if kind == EXPORTS:
            count, at = _number(wasm, content)
            for _ in range(count):
                length, text = _number(wasm, at)
                _, after = _number(wasm, text + length + 1)
                yield wasm[text : text + length].decode(), wasm[at:after]
                at = after
            if at != end:
                raise ValueError("the list of exports does not end where it should")


def _with_exports(wasm: bytes, kept: set[str]) -> bytes:
    parts = [wasm[:8]]
    for kind, start, _, end in _sections(wasm):
        if kind != EXPORTS:
            parts.append(wasm[start:end])
            continue
        entries = [entry for name, entry in _exports(wasm) if name in kept]
        content = _written(len(entries)) + b"".join(entries)
        parts += [bytes([EXPORTS]), _written(len(content)), content]
    return b"".join(parts)


def _with_pages(wasm: bytes, pages: int) -> bytes:
    """The module with at least so many pages of memory from the start: an image that is restored
    cannot have more than a fresh instance."""
    parts = [wasm[:8]]
    for kind, start, content, end in _sections(wasm):
        if kind != MEMORY:
            parts.append(wasm[start:end])
            continue
        count, at = _number(wasm, content)
        flags = wasm[at]
        least, after = _number(wasm, at + 1)
        if count != 1:
            raise ValueError("the module has not one memory of its own")
        body = _written(1) + bytes([flags]) + _written(max(least, pages)) + wasm[after:end]
        parts += [bytes([MEMORY]), _written(len(body)), body]
    return b"".join(parts)


def _sections(wasm: bytes) -> Iterator[tuple[int, int, int, int]]:
    """Number of each section, where it starts, where its content starts, where it ends."""
    at = 8
    while at < len(wasm):
        size, content = _number(wasm, at + 1)
        yield wasm[at], at, content, content + size
        at = content + size


def _number(data: bytes, at: int) -> tuple[int, int]:
    """An unsigned number in the variable-length encoding of the format, and where it ends."""
    value = shift = 0
    while True:
        byte = data[at]
        value |= (byte & 0x7F) << shift
        at, shift = at + 1, shift + 7
        if not byte & 0x80:
            return value, at


def _written(value: int) -> bytes:
    out = bytearray()
    while value > 0x7F:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    out.append(value)
    return bytes(out)
