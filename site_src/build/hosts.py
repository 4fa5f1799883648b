"""Headers that a host should send with the site, as the files that usual static hosts read.

Formats: the manuals of the Apache HTTP Server 2.4 (mod_headers, mod_setenvif, mod_mime) and of
nginx (ngx_http_headers_module); `_headers` as several hosts of static sites document it.
"""

from __future__ import annotations

from collections.abc import Iterator

from site_src.pages.info import CSP

# Only a header can say who may frame a page; a meta element with it is ignored (CSP level 3, 3.3).
POLICY = f"{CSP}; frame-ancestors 'none'"
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}
FOR_EVER = "public, max-age=31536000, immutable"
ASK_AGAIN = "no-cache"
HASHED = ("a-", "py-", "wb-")
"""How names begin that change with their content."""
_IN_ADDRESS = f"/({'|'.join(name.removesuffix('-') for name in HASHED)})-[0-9a-f]{{10}}[/.]"
TYPES = {
    ".js": "text/javascript",
    ".webmanifest": "application/manifest+json",
    ".packed": "application/octet-stream",
}


def files() -> dict[str, bytes]:
    """Name -> content. They are for hosts, which do not all serve them: no visitor needs any."""
    made = {"_headers": _headers(), ".htaccess": _htaccess(), "nginx-headers.conf": _nginx()}
    return {name: "".join(f"{line}\n" for line in lines).encode() for name, lines in made.items()}


def _headers() -> Iterator[str]:
    yield "# For a site at the root of its host; in a folder, put that before each path."
    yield "/*"
    yield from (f"  {name}: {value}" for name, value in HEADERS.items())
    for name in HASHED:
        yield f"/{name}*"
        yield f"  Cache-Control: {FOR_EVER}"


def _htaccess() -> Iterator[str]:
    yield "# For Apache 2.4, where AllowOverride FileInfo lets a folder say this."
    yield "<IfModule mod_headers.c>"
    yield from (f'  Header always set {name} "{value}"' for name, value in HEADERS.items())
    yield f'  SetEnvIf Request_URI "{_IN_ADDRESS}" named_by_content'
    yield f'  Header set Cache-Control "{FOR_EVER}" env=named_by_content'
    yield f'  Header set Cache-Control "{ASK_AGAIN}" env=!named_by_content'
    yield "</IfModule>"
    yield "<IfModule mod_mime.c>"
    yield from (f"  AddType {kind} {ending}" for ending, kind in TYPES.items())
    yield "</IfModule>"


def _nginx() -> Iterator[str]:
    yield "# To include in a server block of nginx that has the site at its root."
    # Headers of a block are not passed on to one inside that has its own: each says them all.
    for place, keep in (("/", ASK_AGAIN), (f'~ "{_IN_ADDRESS}"', FOR_EVER)):
        yield f"location {place} {{"
        yield from (f'  add_header {name} "{value}" always;' for name, value in HEADERS.items())
        yield f'  add_header Cache-Control "{keep}";'
        yield "}"
