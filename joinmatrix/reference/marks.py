"""One plain mark for each that a keyboard, a phone or a word processor makes of it."""

import re

from joinmatrix.names import folded

_VULGAR = re.compile(r"(?<=\d)(?=[¼-¾⅐-⅞↉])")
# Before folding, which makes two primes of ″, an o of º, and of ˚ a space with a ring on it.
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("‐‑‒–—―−", "-"),
        **dict.fromkeys("”“„‟″˝", '"'),
        **dict.fromkeys("’‘‛′´", "'"),
        **dict.fromkeys("º˚", "°"),
        "×": "x",
        "⁄": "/",
        "∕": "/",
    }
)


def plain(text: str) -> str:
    """The text folded as names are, with plain dashes, inch marks, apostrophes and fractions.

    Two apostrophes are an inch mark, and "1½" is 1 1/2: folding alone would make 11/2 of it.
    """
    if not text.isascii():
        text = _VULGAR.sub(" ", text).translate(_SIGNS)
    return folded(text).replace("⁄", "/").replace("''", '"')
