"""What comes again on a page stands there once: the frame in a load case that several findings speak of."""

from __future__ import annotations

import re
from hashlib import sha256

END = "<!-- same -->"
GROUP = re.compile(f"<g><!-- (same-[0-9a-f]{{12}}) -->(.*?)</g>{END}", flags=re.DOTALL)


def may_come_again(inner: str) -> str:
    """Return marks of SVG as a group that `once` finds."""
    return f"<g><!-- same-{sha256(inner.encode()).hexdigest()[:12]} -->{inner}</g>{END}"


def once(page: str) -> str:
    """Return a page on which every group stands once; where it comes again, a reference stands."""
    seen: set[str] = set()

    def first_or_reference(found: re.Match[str]) -> str:
        name = found.group(1)
        if name in seen:
            return f'<use href="#{name}"/>'
        seen.add(name)
        return f'<g id="{name}">{found.group(2)}</g>'

    return GROUP.sub(first_or_reference, page)
