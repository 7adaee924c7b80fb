"""Pages made for paper: one file, numbered pages, what it is about on each of them."""

from joinmatrix.reports.markup import asset, policy
from joinmatrix.reports.text import safe


def printed_page(title: str, footer: str, body: str) -> str:
    """A page for A4 and for Letter.

    title, footer  text of lists, not yet escaped; the footer stands on every page
    body           markup
    """
    style = asset("card.css") + (
        "@page { margin: 12mm 12mm 15mm; "
        f"@bottom-left {{ content: {_css_text(footer)}; font: 8pt sans-serif; }} "
        '@bottom-right { content: "page " counter(page) " of " counter(pages); '
        "font: 8pt sans-serif; } }"
    )
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"{policy(style)}\n"
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"
    )


def _css_text(text: str) -> str:
    """Text as a style sheet can hold it: nothing in it ends the text, or the style sheet."""
    plain = "".join(
        each if each.isascii() and (each.isalnum() or each in " .,:_-") else f"\\{ord(each):x} "
        for each in safe(text)
    )
    return f'"{plain}"'
