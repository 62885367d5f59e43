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


def crawl(
    client: Client, start: list[str], *, each: int = 2
) -> Iterator[tuple[str, str, int, Page | None]]:
    """URL, name, status and page of everything the links lead to, at most ``each`` a name."""
    waiting, seen, count = list(start), set(start), Counter[str]()
    while waiting:
        url = waiting.pop(0)
        try:
            name = resolve(urlsplit(url).path).view_name
        except Resolver404:
            yield url, "", 404, None
            continue
        if count[name] >= each or name.startswith("admin"):
            continue
        count[name] += 1
        answer = client.get(url)
        is_page = answer.get("Content-Type", "").startswith("text/html")
        page = read(url, name, answer) if is_page and answer.status_code == 200 else None
        yield url, name, answer.status_code, page
        for link in page.links if page else ():
            target = urljoin(url, link).split("#")[0]
            if urlsplit(target).netloc == "" and target.startswith("/") and target not in seen:
                seen.add(target)
                waiting.append(target)
