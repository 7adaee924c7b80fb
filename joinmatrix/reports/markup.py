"""Text of a list as it can stand in a page: nothing in it is markup, nothing in it hides."""

import base64
import hashlib
import html
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources

from joinmatrix.reports.text import safe


def shown(text: str) -> str:
    """Text with markup escaped and control characters shown by their number."""
    return html.escape(safe(text))


def name(text: str) -> str:
    """A name of a list, set apart so that its direction of writing turns nothing beside it."""
    escaped = shown(text)
    return escaped if text.isascii() else f"<bdi>{escaped}</bdi>"


def tag(element: str, *content: str, **attributes: str | int | None) -> str:
    """An element; `class_` and `data_x` are written "class" and "data-x", None is left out.

    The content is markup already, the attributes are not.
    """
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{html.escape(str(value))}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{element}{written}>{''.join(content)}</{element}>"


def listed(items: Iterable[str]) -> str:
    """Items of markup as a list."""
    return f"<ul>{''.join(f'<li>{item}</li>' for item in items)}</ul>"


def policy(style: str, script: str = "") -> str:
    """What a page may do: show its own style, run its own script, and load nothing at all."""
    scripts = f"script-src '{_digest(script)}'; " if script else ""
    return (
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
        f"style-src '{_digest(style)}'; {scripts}base-uri 'none'; form-action 'none'\">"
    )


def _digest(content: str) -> str:
    """By this the page knows its own style and script, so that no other can act in it."""
    digest = hashlib.sha256(content.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"


@lru_cache(maxsize=8)
def asset(file: str) -> str:
    """A style sheet or script that ships beside this file."""
    return resources.files(__package__).joinpath(file).read_text(encoding="utf-8")
