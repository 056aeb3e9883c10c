"""Reads an HTML page back: its tags and the text between them, as a browser would show it."""

from __future__ import annotations

from html.parser import HTMLParser


class Page(HTMLParser):
    """Collects tags and text; a page with a tag left open does not balance."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.open: list[str] = []
        self.texts: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip() and "style" not in self.open:
            self.texts.append(data.strip().replace("\xa0", ""))


def read_page(text: str) -> Page:
    """The page, which must balance, hold no script and load nothing."""
    page = Page(text)
    assert page.open == []
    assert set(page.tags) <= {
        *("html", "head", "meta", "title", "style", "body"),
        *("h1", "h2", "p", "table", "tr", "th", "td", "ul", "li"),
    }
    assert "default-src 'none'" in text
    return page
