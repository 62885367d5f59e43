"""``python3 manage.py pictures``: the README's pictures, taken of the demo by Chromium."""

from __future__ import annotations

import shutil
import socket
import subprocess
import threading
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.core.wsgi import get_wsgi_application
from django.utils import timezone
from playwright.sync_api import Page, sync_playwright
from waitress.server import create_server

from inventory.places.models import Shop
from workshops.home.demo.load import demo_shop
from workshops.home.demo.people import DEMO_PASSWORD
from workshops.nights.queries import next_night
from workshops.paper.models import Paper

CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


class Command(BaseCommand):
    """Serves the demo on a free port for as long as the pictures take."""

    help = "Takes the README's pictures of the demo (run demo --no-serve first)."

    def add_arguments(self, parser: CommandParser) -> None:
        """Where the pictures go."""
        parser.add_argument("--output", type=Path, default=settings.BASE_DIR / "fixtures/pictures")

    def handle(self, *_args: Any, **options: Any) -> None:
        """Take home, board, winter and one card."""
        shop, browser = demo_shop(), next(filter(None, map(shutil.which, CHROMIUM)), None)
        if shop is None:
            raise CommandError("Load the demo first: python3 manage.py demo --no-serve")
        if browser is None:
            raise CommandError("Chromium is missing. Install it: apt-get install chromium")
        folder: Path = options["output"]
        folder.mkdir(parents=True, exist_ok=True)
        pages = _pages(shop)
        address = _serve()
        with sync_playwright() as playwright:
            chromium = playwright.chromium.launch(executable_path=browser, args=FLAGS)
            page = chromium.new_page(viewport={"width": 1200, "height": 760})
            _sign_in(page, address)
            for name, path in pages.items():
                page.goto(address + path, wait_until="networkidle")
                page.screenshot(path=folder / f"{name}.png")
                self.stdout.write(f"written: {folder / name}.png")
            chromium.close()
        self._card(shop, folder)

    def _card(self, shop: Shop, folder: Path) -> None:
        cards = Paper.objects.filter(shop=shop, kind=Paper.Kind.CARDS).order_by("-pk").first()
        if cards is None or shutil.which("pdftoppm") is None:
            self.stdout.write("No card picture: make the cards, and install poppler-utils.")
            return
        command = ["pdftoppm", "-png", "-r", "80", "-f", "5", "-l", "5", "-singlefile"]
        subprocess.run([*command, cards.file.path, str(folder / "card")], check=True)
        self.stdout.write(f"written: {folder / 'card.png'}")


def _pages(shop: Shop) -> dict[str, str]:
    """Name -> address: asked before the browser runs, whose loop Django would take for its own."""
    night = next_night(shop, timezone.now())
    found = {"home": f"/{shop.slug}/", "winter": f"/{shop.slug}/winter/"}
    if night is not None:
        found["board"] = f"/{shop.slug}/nights/{night.date}/"
    return found


def _serve() -> str:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = create_server(get_wsgi_application(), host="127.0.0.1", port=port)
    threading.Thread(target=server.run, daemon=True).start()
    return f"http://127.0.0.1:{port}"


def _sign_in(page: Page, address: str) -> None:
    page.goto(f"{address}/sign-in/")
    page.fill("[name=username]", "coordinator")
    page.fill("[name=password]", DEMO_PASSWORD)
    page.click("main button[type=submit]")
