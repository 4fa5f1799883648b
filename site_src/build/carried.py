"""All that the site carries along and we did not write: its licences page and `bom.json`.

The list is CycloneDX 1.6 (ECMA-424) as JSON. It is written here and not by a library, because the
usual one brings more packages along than the whole build needs, for an object of five keys.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from site_src.pages.info import Licence

NAME = "bom.json"
FORMAT, RELEASE = "CycloneDX", "1.6"


def npm_version(folder: Path) -> str:
    """The version of a package from npm, in its folder."""
    version: str = json.loads((folder / "package.json").read_bytes())["version"]
    return version


def from_npm(folder: Path, terms: str, name: str = "") -> Licence:
    """The terms (their name by SPDX) of a package from npm, in its folder."""
    version, text = npm_version(folder), (folder / "LICENSE").read_text("utf-8")
    address = f"pkg:npm/{folder.name}@{version}"
    return Licence(name or folder.name, version, terms, text, address)


def bom(version: str, carried: Iterable[Licence]) -> bytes:
    """The list for this version of the site, without time or number: the same each time."""
    told = {
        "bomFormat": FORMAT,
        "specVersion": RELEASE,
        "version": 1,
        "metadata": {
            "component": {
                "type": "application",
                "bom-ref": "damper-bench",
                "name": "damper-bench",
                "version": version,
                "licenses": [{"license": {"id": "MIT"}}],
            }
        },
        "components": [_component(one) for one in carried],
    }
    return json.dumps(told, indent=1, ensure_ascii=False).encode()


def _component(one: Licence) -> Mapping[str, Any]:
    made: dict[str, Any] = {
        "type": "library",
        "bom-ref": one.address,
        "name": one.name,
        "licenses": [{"license": {_kind(one.licence_name): one.licence_name}}],
        "purl": one.address,
    }
    if one.version:
        made["version"] = one.version
    if one.changed:
        made["pedigree"] = {"notes": one.changed}
    return made


def _kind(licence_name: str) -> str:
    """Whether the name is on the list of SPDX, or of our own make as that allows."""
    return "name" if licence_name.startswith("LicenseRef-") else "id"
