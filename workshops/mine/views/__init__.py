"""The link and the calendar, which need no sign-in; and the pages of one's own."""
