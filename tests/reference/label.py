"""Writes label.json: labels made at random from their parts, for tests/label.test.ts.

The parts come first and the label is put together from them, so that nothing here reads a label.
Characters and dates by Python's own calendar.
    python3 tests/reference/label.py > tests/reference/label.json
"""

import calendar
import json
import platform
import random
import string

random.seed(20260517)
GS = "\x1d"
SET82 = "!\"%&'()*+,-./:;<=>?_" + string.digits + string.ascii_letters


def number(size, first=""):
    body = first + "".join(random.choice(string.digits) for _ in range(size - 1 - len(first)))
    total = sum(int(d) * w for d, w in zip(reversed(body), [3, 1] * size))
    return body + str(-total % 10)


def text(size, brackets):
    letters = SET82 if brackets else SET82.replace("(", "").replace(")", "")
    return "".join(random.choice(letters) for _ in range(random.randint(1, size)))


def date():
    year, month = random.randint(1951, 2050), random.randint(1, 12)
    last = calendar.monthrange(year, month)[1]
    day = random.randint(0, last)
    return f"{year % 100:02}{month:02}{day:02}", f"{year}-{month:02}-{day or last:02}"


rows = []
for index in range(400):
    bracketed = index % 2 == 0
    made, made_iso = date()
    expires, expires_iso = date()
    parts = {
        "01": number(14),
        "10": text(20, not bracketed),
        "21": text(20, not bracketed),
        "11": made,
        "17": expires,
    }
    gives = {"01": parts["01"], "10": parts["10"], "21": parts["21"], "11": made_iso, "17": expires_iso}
    others = {"3103": "001250", "414": number(13), "20": "07", "37": "12", "240": "A-1", "91": "x", "8008": "260101"}
    chosen = random.sample(sorted(parts), random.randint(1, 5))
    elements = [(ai, parts[ai], ai in ("10", "21")) for ai in chosen]
    for ai in random.sample(sorted(others), random.randint(0, 3)):
        elements.append((ai, others[ai], ai in ("37", "240", "91", "8008")))
    random.shuffle(elements)
    scan = ""
    for at, (ai, value, is_open) in enumerate(elements):
        if bracketed:
            scan += f"({ai}){value}" + random.choice(["", " "])
        else:
            scan += ai + value + (GS if is_open and at < len(elements) - 1 else "")
    if not bracketed:
        scan = random.choice(["", "]d2", "]C1", "]Q3", "]d2" + GS, GS]) + scan
    rows.append({"scan": scan, "gives": {ai: gives[ai] if ai in chosen else None for ai in parts}})

print(json.dumps({"made": f"label.py, Python {platform.python_version()}", "rows": rows}, indent=1))
