import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from joinmatrix.findings import Finding, Kind, Severity
from joinmatrix.reports.page import to_page
from joinmatrix.reports.page_matrix import MOST_ROWS
from tests.builders import assembly_of, table
from tests.reports.browser import AXE, ask, browse
from tests.reports.scene import report_on, wing_report
from tests.reports.test_terminal import HOSTILE


class Outline(HTMLParser):
    """Checks that a page is well formed, and gathers what it is made of."""

    VOID = frozenset(("meta", "input", "rect", "path", "br"))

    def __init__(self, page):
        super().__init__()
        self.open, self.ids, self.links, self.tags = [], [], [], set()
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        attributes = dict(attrs)
        if "id" in attributes:
            self.ids.append(attributes["id"])
        if "href" in attributes:
            self.links.append(attributes["href"])
        assert not any(name.startswith("on") for name in attributes)
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_report(golden):
    page = to_page(wing_report())
    body = page[page.index("<body>") : page.index("<script>")]
    golden("page-body.html", body.replace("><", ">\n<"))


@pytest.mark.parametrize("plan", [False, True], ids=["work", "plan"])
def test_every_link_leads_somewhere_in_the_page(plan):
    outline = Outline(to_page(wing_report(plan=plan)))
    assert len(set(outline.ids)) == len(outline.ids)
    assert {link for link in outline.links if link.lstrip("#") not in outline.ids} == set()
    assert all(link.startswith("#") for link in outline.links)


def test_page_loads_nothing():
    page = to_page(wing_report())
    assert "default-src 'none'" in page
    assert set(re.findall(r'(?:src|href)="(.)', page)) == {"#"}
    assert not Outline(page).tags & {"img", "link", "iframe", "object", "embed", "audio", "video"}
    assert "url(" not in page
    assert "@import" not in page
    assert "fetch(" not in page


def hostile_report():
    bad = '"><script>alert(1)</script><img src=x onerror=alert(2)>\u202e\x07'
    text = HOSTILE + f"{bad} | {bad} | L | {bad} | {bad} | {bad}\n"
    finding = Finding(
        Kind.UNREADABLE, Severity.HOLD, bad, bad, (), joint=bad, sides=("L",),
        connections=(bad, "[red]A[/red]"), stages=(bad,), items=(bad,),
    )  # fmt: skip
    report = report_on(assembly_of(table("connections", text, file=bad, sheet=bad)), (finding,))
    return replace(report, assembly=replace(report.assembly, unit=bad))


def test_text_of_a_list_is_never_markup():
    page = to_page(hostile_report())
    body = page.split("<body>")[1].rsplit("<script>", 1)[0]
    outline = Outline(page)
    assert "<script" not in body
    assert "<img" not in body
    assert "img" not in outline.tags
    assert "\u202e" not in page
    assert "\x07" not in page
    assert "&lt;script&gt;alert(1)" in body
    assert "&lt;U+202E&gt;" in body


def test_states_and_marks_are_told_in_words_and_letters():
    page = to_page(wing_report())
    text = re.sub(r"<[^>]+>", " ", page.split("<body>")[1].split("<script>")[0])
    for word in ("■H HOLD", "inspected 2031-03-02 CD", "opened 2031-03-04 16:20 AB",
                 "nothing done", "none", "■H1", "□O1", "◊N1", "2 of 5 made"):  # fmt: skip
        assert word in text, word


def large_report(connections, *, found=0.6):
    head = (
        "connection | joint | side | type | service | from | to | from size | to size | from end | "
        "to end | timing | inspect | closed by | limits\n"
    )
    rows = "\n".join(
        f"HY-{number:05} | outer joint {number % 10} | {side} | hydraulic line | brake pressure "
        f"{number} | H-{number} hull | W-{number} wing | -6 | -6 | flare 37 | flare 37 | after "
        "outer wing mate; before hydraulic pressure on | before wing root fairing | "
        "wing root fairing | torque 135..150 in-lbf"
        for number in range(connections // 2)
        for side in "LR"
    )
    assembly = assembly_of(table("connections", head + rows))
    findings = []
    for number, each in enumerate(assembly.connections):
        if number % 10 < found * 10:
            weight = Severity.HOLD if number % 10 == 0 else Severity.OPEN
            kind = Kind.ASYMMETRIC if number % 10 == 0 else Kind.UNMADE
            findings.append(
                Finding(
                    kind, weight, f'"{each.id}" is not made', f'make "{each.id}" and record it',
                    each.id_cells, joint=each.joint, sides=(each.key.side,), connections=(each.id,),
                )
            )  # fmt: skip
    findings.sort(key=lambda each: each.sort_key)
    return report_on(assembly, tuple(findings))


def test_five_thousand_connections_stay_under_five_megabytes():
    page = to_page(large_report(5000))
    assert len(page.encode("utf-8")) < 5_000_000
    assert page.count('<td class="s" id=') == 5000


def test_a_page_that_would_be_too_large_says_what_it_leaves_out():
    page = to_page(large_report(2 * MOST_ROWS + 400, found=0.1))
    assert "200 rows without findings, or with lesser ones, are left out of this page" in page
    assert page.count('<tr><th scope="row"><a') == MOST_ROWS
    Outline(page)


@pytest.mark.desktop
@pytest.mark.parametrize("report", [wing_report, hostile_report], ids=["usual", "hostile"])
def test_opens_without_a_word_on_the_console(report):
    dom, console = browse(to_page(report()))
    assert console == []
    assert 'id="filter" role="search" aria-label="Filter">' in dom  # shown by the script


FILTER = """
    const form = document.getElementById('filter');
    const wait = () => new Promise((done) => setTimeout(done, 300));
    const set = async (name, value) => {
      form.reset(); await wait();
      const field = form.elements[name];
      if (name === 'weight') field[value].checked = true; else field.value = value;
      form.dispatchEvent(new Event('input', {bubbles: true})); await wait();
      const seen = (selector) =>
        [...document.querySelectorAll(selector)].filter((each) => each.checkVisibility());
      return [seen('tbody tr a[href^="#c"]').map((each) => each.textContent),
        seen('article').map((each) => each.querySelector('b').textContent)];
    };
"""


@pytest.mark.desktop
def test_filter():
    found = ask(
        to_page(wing_report()),
        FILTER
        + """
        return {
          all: await set('text', ''),
          text: await set('text', 'BRAKE pressure'),
          joint: await set('joint', '1'),
          side: await set('side', 'C'),
          state: await set('state', '3'),
          kind: await set('kind', 'self-inspected'),
          weight: await set('weight', 1),
          status: document.getElementById('shown').textContent,
          requests: performance.getEntriesByType('resource').length,
        };""",
    )
    every = ["■H1", "■H2", "■H3", "□O1", "◊N1", "◊N2"]
    assert found == {
        "all": [["H-01", "H-02", "H-03", "C-01", "E-10", "C-20", "B-01"], every],
        "text": [["H-01"], ["◊N1"]],
        "joint": [["C-20", "B-01"], ["■H3"]],
        "side": [["B-01"], ["◊N2"]],
        "state": [["H-01", "C-20"], every],
        "kind": [["C-20"], ["■H3"]],
        "weight": [["H-02"], ["□O1"]],
        "status": "1 connection of 12 and 1 entry of 6 under findings shown. "
        "The verdict is that of the whole.",
        "requests": 0,
    }


@pytest.mark.desktop
def test_a_click_shows_the_rest():
    found = ask(
        to_page(wing_report()),
        """
        const wait = () => new Promise((done) => setTimeout(done, 300));
        const bar = () => document.getElementById('selected').textContent;
        const on = () => [...document.querySelectorAll('td.on')].length;
        const press = (key) => document.getElementById('sheet').dispatchEvent(
          new KeyboardEvent('keydown', {key, bubbles: true}));
        const out = {};
        const click = (selector) => document.querySelector(selector).dispatchEvent(
          new MouseEvent('click', {bubbles: true}));
        click('.q[data-c="0"]');
        await wait(); out.square = [bar(), location.hash, on()];
        click('text.joint');
        await wait(); out.joint = [bar(), location.hash];
        document.querySelector('td a[href="#N1"]').click();
        await wait(); out.finding = [bar(), on(), document.querySelectorAll('.q.on').length];
        press('ArrowRight'); press('ArrowRight'); await wait(); out.key = bar();
        press('Enter'); await wait(); out.enter = location.hash;
        press('Escape'); await wait();
        out.escape = [location.hash, document.getElementById('bar').hidden];
        return out;""",
    )
    assert found["square"] == [
        "outer wing L: H-01, brake pressure, inspected 2031-03-02 CD, findings ◊N1.", "#c0", 1,
    ]  # fmt: skip
    assert found["joint"] == [
        "Joint outer wing: 9 connections, 4 entries under findings. ■H1 ■H2 □O1 ◊N1", "#j0",
    ]  # fmt: skip
    assert found["finding"][1:] == [2, 2]
    assert found["key"].startswith("outer wing L: H-02")
    assert found["enter"].startswith("#c")
    assert found["escape"] == ["", True]


@pytest.mark.desktop
def test_routes_are_shown_as_one():
    lines = """
    connection | joint | side | type | service | from | to
    A | inner | L | hydraulic line | brake | H1 | W1
    B | outer | L | hydraulic line | brake | W2 | F1
    C | outer | L | hydraulic line | return | W3 | F2
    """
    runs = "from | to | side\nW1 | W2 | L"
    page = to_page(report_on(assembly_of(table("connections", lines), table("runs", runs))))
    found = ask(
        page,
        """location.hash = 'c0'; await new Promise((done) => setTimeout(done, 300));
        return [document.getElementById('selected').textContent,
          [...document.querySelectorAll('td.on')].map((each) => each.id),
          document.getElementById('way').getAttribute('d') !== '',
          document.querySelector('.bundles text').textContent];""",
    )
    assert found == [
        "inner L: A, brake, nothing done. Its route goes on through B L",
        ["c0", "c1"],
        True,
        "1",
    ]


@pytest.mark.desktop
def test_five_thousand_connections_are_filtered_within_a_second():
    found = ask(
        to_page(large_report(5000)),
        """
        const form = document.getElementById('filter'), took = [];
        const asked = [['text', 'pressure 77'], ['text', ''], ['state', 'u'], ['side', 'L']];
        for (const [name, value] of asked) {
          form.elements[name].value = value;
          const start = Date.now();
          form.dispatchEvent(new Event('submit', {cancelable: true, bubbles: true}));
          document.body.offsetHeight;
          took.push(Date.now() - start);
        }
        return took;""",
    )
    assert max(found) < 1000, found


@pytest.mark.desktop
@pytest.mark.parametrize("width", [390, 1024, 1920])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_stands_in_the_way_of_a_reader(width, scheme):
    page = to_page(wing_report())
    if scheme == "dark":
        page = page.replace("@media (prefers-color-scheme: dark)", "@media all")
    found = ask(
        page,
        """location.hash = 'c0'; await new Promise((done) => setTimeout(done, 300));
        const found = await axe.run(document, {resultTypes: ['violations']});
        return found.violations.map((each) => [each.id, each.nodes[0].html]);""",
        f"--window-size={width},900",
        extra=Path(AXE).read_text(encoding="utf-8"),
    )
    assert found == []


@pytest.mark.desktop
@pytest.mark.parametrize("width", [390, 1024, 1920])
def test_nothing_is_wider_than_the_screen(width):
    found = ask(
        to_page(wing_report()),
        "return [document.documentElement.scrollWidth, innerWidth];",
        f"--window-size={width},900",
    )
    assert found[0] <= found[1]
