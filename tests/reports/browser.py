"""Real pages in a real browser: what a script finds on one, and what the console says."""

import html
import json
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

CHROMIUM = next(
    filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None
)
# The path of axe.min.js from the npm package axe-core; not among what the tests need.
AXE = os.environ.get("JOINMATRIX_AXE", "")


_OPTIONS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND", "--enable-logging=stderr", "--v=0",
)  # fmt: skip


def browse(page: str, *options: str, wait_ms: int = 8000) -> tuple[str, list[str]]:
    """Open a page; gives its text after scripts have run, and what the console said."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder, "page.html")
        file.write_text(page, encoding="utf-8")
        done = subprocess.run(
            [str(CHROMIUM), *_OPTIONS, f"--user-data-dir={folder}/profile",
             f"--virtual-time-budget={wait_ms}", *options, "--dump-dom", f"file://{file}"],
            capture_output=True, timeout=180, check=True,
        )  # fmt: skip
    log = done.stderr.decode("utf-8", "replace")
    return done.stdout.decode("utf-8"), re.findall(r"CONSOLE[:(\d)]*\] (.*)", log)


def ask(page: str, script: str, *options: str, extra: str = "", hash_: str = ""):
    """Run the body of an async function in a page; gives what it returns.

    The page's own policy forbids that, so this copy of it is without.
    """
    page = re.sub(r"<meta http-equiv[^>]*>", "", page)
    runner = (
        f"<script>{extra}</script><script>addEventListener('load', async () => {{"
        "let result; try { result = await (async () => {" + script + "})(); }"
        "catch (error) { result = {error: String(error.stack || error)}; }"
        "const out = document.createElement('pre'); out.id = 'result';"
        "out.textContent = JSON.stringify(result); document.body.append(out); });</script>"
    )
    dom, _ = browse(page.replace("</body>", runner + "</body>"), *options)
    found = re.search(r'<pre id="result">(.*?)</pre>', dom, re.DOTALL)
    assert found, "the script did not come to its end"
    return json.loads(html.unescape(found.group(1)))


def printed(page: str) -> list[str]:
    """The text of each sheet of paper that a page is printed on."""
    with tempfile.TemporaryDirectory() as folder:
        file, paper = Path(folder, "page.html"), Path(folder, "page.pdf")
        file.write_text(page, encoding="utf-8")
        subprocess.run(
            [str(CHROMIUM), *_OPTIONS, f"--user-data-dir={folder}/profile",
             f"--print-to-pdf={paper}", "--no-pdf-header-footer", f"file://{file}"],
            capture_output=True, timeout=180, check=True,
        )  # fmt: skip
        done = subprocess.run(["pdftotext", "-layout", paper, "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8").split("\f")[:-1]
