"""Walk the site as a person does, by its links, and look at every page on the way."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

from django.http import HttpResponse
from django.test import Client
from django.urls import Resolver404, resolve

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "wbr"}
LOADS = {"script": "src", "img": "src", "link": "href", "source": "src", "iframe": "src",
         "use": "href", "image": "href", "object": "data"}  # fmt: skip


@dataclass
class Page:
    """What matters of one page: headings, landmarks, links, what it loads, ids, open tags."""

    url: str
    name: str
    html: str
    tags: Counter[str] = field(default_factory=Counter)
    links: list[str] = field(default_factory=list)
    loads: list[str] = field(default_factory=list)
    ids: Counter[str] = field(default_factory=Counter)
    unlabelled: list[str] = field(default_factory=list)
    broken: list[str] = field(default_factory=list)
    title: str = ""
    heading: str = ""
    labels: set[str] = field(default_factory=set)
    fields: list[tuple[str, str]] = field(default_factory=list)
    pieces: list[str] = field(default_factory=list)
    is_piece: bool = False


class Reader(HTMLParser):
    """Reads a page into its ``Page``; tags must close in the order they opened."""

    def __init__(self, page: Page) -> None:
        super().__init__()
        self.page, self.open = page, []  # type: ignore[var-annotated]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.page.tags[tag] += 1
        if tag not in VOID:
            self.open.append(tag)
        if "id" in given:
            self.page.ids[given["id"]] += 1
        self._note(tag, given)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        if not self.open or self.open.pop() != tag:
            self.page.broken.append(f"</{tag}> at {self.getpos()}")

    def handle_data(self, data: str) -> None:
        if self.open[-1:] == ["title"] and "svg" not in self.open:
            self.page.title += data
        if "h1" in self.open:
            self.page.heading += data.strip()

    def _note(self, tag: str, given: dict[str, str]) -> None:
        if tag == "a" and "href" in given:
            self.page.links.append(given["href"])
        if given.get("hx-get"):
            self.page.pieces.append(given["hx-get"])
        if (loads := LOADS.get(tag)) and given.get(loads):
            self.page.loads.append(given[loads])
        if tag == "label" and "for" in given:
            self.page.labels.add(given["for"])
        if tag in ("select", "textarea", "input") and given.get("type") not in ("hidden", "submit"):
            named = "label" in self.open or "aria-label" in given or "aria-labelledby" in given
            self.page.fields.append(("" if named else given.get("id", "?"), given.get("name", "")))


def read(url: str, name: str, answer: HttpResponse) -> Page:
    """The page behind an answer."""
    page = Page(url, name, answer.content.decode())
    reader = Reader(page)
    reader.feed(page.html)
    page.broken += [f"<{tag}> never closed" for tag in reader.open]
    page.unlabelled = [name for key, name in page.fields if key and key not in page.labels]
    return page


@dataclass(frozen=True)
class Visit:
    """One address that was asked: what it is called, what it answered, and the page there."""

    url: str
    name: str
    status: int
    page: Page | None = None


def crawl(client: Client, start: list[str], *, each: int = 2) -> Iterator[Visit]:
    """Everything the links lead to, at most ``each`` times a name; pieces as htmx asks for them."""
    waiting, seen, count = [(url, False) for url in start], set(start), Counter[str]()
    while waiting:
        url, is_piece = waiting.pop(0)
        name = _name_of(url)
        if name is None:
            yield Visit(url, "", 404)
        elif count[name] < each and not name.startswith("admin"):
            count[name] += 1
            visit = _visit(client, url, name, is_piece=is_piece)
            yield visit
            found = [found for found in _targets(visit) if found[0] not in seen]
            seen |= {target for target, _ in found}
            waiting += found


def _name_of(url: str) -> str | None:
    try:
        return resolve(urlsplit(url).path).view_name
    except Resolver404:
        return None


def _visit(client: Client, url: str, name: str, *, is_piece: bool) -> Visit:
    answer = client.get(url, headers={"HX-Request": "true"} if is_piece else {})
    is_page = answer.get("Content-Type", "").startswith("text/html") and answer.status_code == 200
    page = read(url, name, answer) if is_page else None
    if page:
        page.is_piece = is_piece
    return Visit(url, name, answer.status_code, page)


def _targets(visit: Visit) -> Iterator[tuple[str, bool]]:
    """Where the page leads on this site, and whether a piece of a page is there."""
    page = visit.page
    if page is None:
        return
    wanted = [(link, False) for link in page.links] + [(piece, True) for piece in page.pieces]
    wanted += [(load, True) for load in page.loads if not load.startswith("/static/")]
    for link, is_piece in wanted:
        target = urljoin(visit.url, link).split("#")[0]
        if not urlsplit(target).netloc and target.startswith("/"):
            yield target, is_piece
