"""``python3 manage.py start``: an empty club, ready for its first coordinator."""

from __future__ import annotations

from getpass import getpass
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from workshops.home.starting import QUESTIONS, Question, StartRefused, start_club


class Command(BaseCommand):
    """Asks six questions, or takes them as options, and writes nothing until all are answered."""

    help = "Sets up an empty club: its shop, time zone, units and first coordinator."

    def add_arguments(self, parser: CommandParser) -> None:
        """One option a question, and whether to ask for the rest."""
        for question in QUESTIONS:
            parser.add_argument(_option(question.key), help=question.asks.replace("%", "%%"))
        parser.add_argument(
            "--no-input", action="store_true", help="ask nothing: take the options alone"
        )

    def handle(self, *_args: Any, **options: Any) -> None:
        """Migrate, gather the answers, write them, and say how to go on."""
        call_command("migrate", verbosity=0, interactive=False)
        try:
            answers = {question.key: self._answer(question, options) for question in QUESTIONS}
            member = start_club(**answers)
        except StartRefused as refused:
            raise CommandError(f"{_option(refused.key)}: {refused}") from refused
        except (EOFError, KeyboardInterrupt):
            raise CommandError("Stopped: nothing was written.") from None
        self.stdout.write(
            f"{member.shop} is ready. Serve it with: python3 manage.py serve\n"
            f"Then sign in as {member.user}: the first page says what comes next."
        )

    def _answer(self, question: Question, options: dict[str, Any]) -> str:
        given: str | None = options[question.key]
        if given is not None or options["no_input"]:
            return question.check((given if given is not None else question.usual).strip())
        while True:
            try:
                return question.check(self._ask(question))
            except StartRefused as refused:
                self.stderr.write(f"  {refused}")

    def _ask(self, question: Question) -> str:
        usual = f" [{question.usual}]" if question.usual else ""
        ask = getpass if question.is_secret else input
        return ask(f"{question.asks}{usual} ").strip() or question.usual


def _option(key: str) -> str:
    return "--" + key.replace("_", "-")
