"""Jobs of the slice: each takes ids and calls one action."""

from __future__ import annotations

from typing import Any

from workshops.common.jobs import Running, job
from workshops.mine.links import people_at
from workshops.mine.mailing import send_link
from workshops.mine.models import Link
from workshops.mine.scrubbing import scrub_mine
from workshops.mine.telling import links_sent
from workshops.people.erasing import also_erase
from workshops.people.telling import also_tell

also_erase(scrub_mine)
also_tell(links_sent)


# A job, so that the page answers as quickly for an address nobody knows.
@job("mail_link", title="Send a link to somebody's own pages")
def mail_link(running: Running, *, link: int, site: str) -> dict[str, Any]:
    """Send a one-time link; neither the address nor the link stands in the job's row."""
    running.say(50, "sending")
    row = Link.objects.get(pk=link)
    send_link(row, list(people_at(row.email)), site=site)
    return {"says": "The link is sent."}
