"""Runs in the browser's Python: finds the modules of the standard library in use, and compiles
them.

In:  /lean/python_stdlib.zip, /app (the sources), and everything in use already imported
Out: /lean/stdlib.zip    the sources in use, for a start without the image
     /lean/compiled.zip  the same compiled without documentation, to make the image from
     /lean/app.zip       the application compiled without documentation, its assertions kept
"""

import ast
import importlib.util
import io
import marshal
import sys
import zipfile
from collections.abc import Mapping
from pathlib import Path

LEAN, APP = Path("/lean"), Path("/app")
HEAD = importlib.util.MAGIC_NUMBER + bytes(
    12
)  # header of compiled code without time or size of its source
# Imported by Python itself, but only when something fails.
ON_FAILURE = {"linecache", "tokenize", "traceback", "textwrap", "encodings.idna", "stringprep"}


def module(path: str) -> str:
    """Name of the module in this file."""
    return path.removesuffix(".py").replace("/", ".").removesuffix(".__init__")


DOCUMENTED = ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef


def undocumented(content: bytes) -> ast.Module:
    """A module without its documentation. A class keeps a dot for it, because a dataclass without
    any writes a longer one."""
    tree = ast.parse(content)
    for node in ast.walk(tree):
        if not isinstance(node, DOCUMENTED) or ast.get_docstring(node, clean=False) is None:
            continue
        first, *rest = node.body
        if isinstance(node, ast.ClassDef):
            rest = [ast.Expr(ast.Constant(".")), *rest]
        node.body = rest or ([] if isinstance(node, ast.Module) else [ast.Pass()])
        for made in node.body[:1]:
            if not hasattr(made, "lineno"):
                ast.fix_missing_locations(ast.copy_location(made, first))
    return tree


def compiled(files: Mapping[str, bytes], optimize: int) -> dict[str, bytes]:
    """Each module compiled without documentation, everything else unchanged."""
    made: dict[str, bytes] = {}
    for name, content in files.items():
        if not name.endswith(".py"):
            made[name] = content
            continue
        tree = undocumented(content)
        code = compile(tree, name, "exec", dont_inherit=True, optimize=optimize)
        made[f"{name}c"] = HEAD + marshal.dumps(code)
    return made


def write(name: str, files: Mapping[str, bytes]) -> None:
    """A zip that does not depend on the time, stored: on the host it is packed as a whole."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, (1980, 1, 1, 0, 0, 0))
            archive.writestr(entry, files[path])
    (LEAN / name).write_bytes(buffer.getvalue())


def lean() -> None:
    """Write the three archives."""
    used = {*sys.modules, *ON_FAILURE}
    with zipfile.ZipFile(LEAN / "python_stdlib.zip") as archive:
        names = [name for name in archive.namelist() if name.endswith(".py")]
        library = {name: archive.read(name) for name in names if module(name) in used}
    files = [f for f in APP.rglob("*") if f.is_file() and "__pycache__" not in f.parts]
    app = {f.relative_to(APP).as_posix(): f.read_bytes() for f in files}
    write("stdlib.zip", library)
    write("compiled.zip", compiled(library, optimize=2))
    write("app.zip", compiled(app, optimize=0))


lean()
