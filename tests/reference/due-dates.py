"""A calendar file of ours read by another program, so that its reading can be compared with what was meant.

due-dates.ics is what calendarText gives for the entries of tests/calendar.test.ts; due-dates.json is made by
    python3 tests/reference/due-dates.py > tests/reference/due-dates.json
which needs the Python package icalendar (Debian: python3-icalendar).
"""

import hashlib
import importlib.metadata
import json
import pathlib
import platform

import icalendar

data = (pathlib.Path(__file__).parent / "due-dates.ics").read_bytes()
calendar = icalendar.Calendar.from_ical(data)
events = [
    {
        "uid": str(event["UID"]),
        "stamp": event["DTSTAMP"].dt.isoformat(),
        "date": event["DTSTART"].dt.isoformat(),
        "allDay": not hasattr(event["DTSTART"].dt, "hour"),
        "summary": str(event["SUMMARY"]),
        "description": str(event["DESCRIPTION"]),
        "categories": [str(one) for one in event["CATEGORIES"].cats],
        "errors": [list(error) for error in event.errors],
    }
    for event in calendar.walk("VEVENT")
]
reading = {
    "made with": f"Python {platform.python_version()}, icalendar {importlib.metadata.version('icalendar')}",
    "sha256": hashlib.sha256(data).hexdigest(),
    "version": str(calendar["VERSION"]),
    "errors": [list(error) for error in calendar.errors],
    "events": events,
}
print(json.dumps(reading, indent=2, ensure_ascii=False))
