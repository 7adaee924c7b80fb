"""Characters that stand in JSON by their number, so that none acts on whoever reads the text."""

import re

# Control characters above those that JSON escapes itself, direction marks and overrides, invisible
# marks and separators, halves of characters: a terminal acts on them, or shows another text.
_ACTING = re.compile(
    "[\x7f-\x9f\xad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\ud800-\udfff\U000e0000-\U000e007f]"
)


def escaped(text: str) -> str:
    """JSON that means the same, with such characters by their number, and no others."""
    plain = text.isascii() and "\x7f" not in text
    return text if plain else _ACTING.sub(_by_number, text)


def _by_number(found: "re.Match[str]") -> str:
    code = ord(found.group())
    if code < 0x10000:
        return f"\\u{code:04x}"
    return f"\\u{0xD7C0 + (code >> 10):04x}\\u{0xDC00 + (code & 0x3FF):04x}"
