"""Writes year.json: the year ahead, orders and budget of two workbooks, for tests of src/book/year, orders and budget.

Written apart from src: cells are read by openpyxl, wear is a linear system and a transform (not solved backwards),
lives are fitted by SciPy, costs are added up over all pairs of numbers (not on a lattice).
The workbooks: `sparespan demo` (report date 2026-07-06) and `birthsBook()` of tests/scenes/births.ts (2015-01-15).
    python3 tests/reference/year.py VELLORAN.xlsx BIRTHS.xlsx > tests/reference/year.json
"""

import calendar
import datetime
import json
import math
import sys
from collections import defaultdict

import numpy as np
import openpyxl
import scipy
from scipy import linalg, optimize, stats

MONTH = 30.436875
HALF_WEEK = 3.5
FINE = ("", "clean", "ok", "okay", "good", "intact", "pass", "passed", "none", "no finding", "no findings")
FINE += ("nothing found", "-", "other")
LAST = {
    "SET": "Electrode set replaced",
    "CUSHION": "Ear cushion replaced",
    "CALIBRATION": "Last calibrated",
}
Date = datetime.date


def later(date, months):
    at = date.year * 12 + date.month - 1 + months
    year, month = divmod(at, 12)
    return Date(year, month + 1, min(date.day, calendar.monthrange(year, month + 1)[1]))


def first_of(date):
    return date.replace(day=1)


def length(month):
    return calendar.monthrange(month.year, month.month)[1]


def plus(date, days):
    return date + datetime.timedelta(days)


class Book:
    """The cells of a workbook as a person would read them."""

    def __init__(self, path):
        self.file = openpyxl.load_workbook(path, data_only=True)
        setup = {row["Setting"]: row["Value"] for row in self.rows("Setup", "Setting")}
        self.today = setup["Report date"].date()
        self.setup = setup
        self.parts = self.rows("Parts", "Code")
        self.sites = {row["Code"]: row for row in self.rows("Sites", "Code")}
        self.free = {row["Date"].date() for row in self.rows("Holidays", "Date")}
        self.jobs = self.rows("Job log", "Date")
        self.shelf = self.rows("Shelf", "Part")
        self.devices = self.rows("Equipment", "Device")
        self.counts = self.read_counts()
        self.factor = setup["Sessions per baby"] if setup["Counts are"] == "babies" else 1
        self.zero_counts = setup["Zero counts are real"] == "yes"

    def rows(self, sheet, key):
        lines = list(self.file[sheet].iter_rows(values_only=True))
        head = next(at for at, line in enumerate(lines) if key in line)
        names = lines[head]
        made = [dict(zip(names, line)) for line in lines[head + 1 :]]
        return [row for row in made if row[key] is not None]

    def read_counts(self):
        """Count by device and month; "?" for what is no number, absent where nothing stands."""
        counts = defaultdict(dict)
        name = next(name for name in self.file.sheetnames if name.startswith("Monthly"))
        for row in self.rows(name, "Device"):
            cells = (
                {row["Month"]: row["Babies"]}
                if "Month" in row
                else {key: cell for key, cell in row.items() if isinstance(key, datetime.datetime)}
            )
            for month, cell in cells.items():
                if cell is not None:
                    counts[row["Device"]][month.date()] = cell if isinstance(cell, int) else "?"
        return counts

    def workday(self, date):
        while date.weekday() > 4 or date in self.free:
            date = plus(date, -1)
        return date

    def left(self, row):
        """Somebody wrote that it has left by today."""
        on = row["Retired on"]
        return row["Status"] == "Retired" or (on is not None and on.date() <= self.today)

    def doubted(self, row):
        """It has left, and was counted, worked with or given a part on a later day."""
        if not self.left(row):
            return False
        on, device = row["Retired on"].date(), row["Device"]
        days = [job["Date"].date() for job in self.jobs if job["Device"] == device]
        days += [row[name].date() for name in LAST.values() if isinstance(row[name], datetime.datetime)]
        days += [month for month, count in self.counts[device].items() if count != "?" and count > 0]
        return any(on < date <= self.today for date in days)

    def gone(self, row):
        return self.left(row) and not self.doubted(row)

    def in_service(self):
        return [row for row in self.devices if not self.gone(row)]

    def sure(self):
        """Devices that nobody says have left."""
        return [row for row in self.devices if not self.left(row)]

    def events(self, part):
        """By device, in the order of the log (its rows run from old to new): day, complete, worn."""
        made = defaultdict(list)
        for job in self.jobs:
            if job["Part"] == part["Code"]:
                complete = job["Job"] == "replaced" and job["Complete set"] == "yes"
                worn = (job["Finding"] or "").strip().lower() not in FINE
                made[job["Device"]].append((job["Date"].date(), complete, worn))
        return made


def in_line(counts):
    """Least and greatest count in line with some: modified z-scores on Anscombe's scale (Iglewicz and Hoaglin)."""
    if len(counts) < 3:
        return None
    scaled = 2 * np.sqrt(np.array(counts, float) + 3 / 8)
    middle = np.median(scaled)
    spread = max(np.median(np.abs(scaled - middle)) / 0.6745, math.hypot(1, 0.25 * middle / 2))
    low, high = (max(0.0, middle + side * 3.5 * spread) for side in (-1, 1))
    return math.ceil(max(0, (low / 2) ** 2 - 3 / 8)), math.floor(max(0, (high / 2) ** 2 - 3 / 8))


def at_most(counts):
    """What a count nobody knows can have been at most."""
    limits = in_line(counts)
    return limits[1] if limits else max(counts, default=0)


def is_far_below(count, near):
    """Less than half of every other of eight at least, and more than 4 apart on Anscombe's scale."""
    others = sorted(near)
    others.remove(count)
    if len(others) < 8 or 2 * count >= others[0]:
        return False
    return 2 * math.sqrt(others[0] + 3 / 8) - 2 * math.sqrt(count + 3 / 8) > 4


def marks(book, device):
    """Months whose count is out of line with those of a year each way: -1 too low, 1 too high."""
    own = sorted(
        (month, count)
        for month, count in book.counts[device].items()
        if count != "?" and month < first_of(book.today)
    )
    found = {}
    for at, (month, count) in enumerate(own):
        near = [other for _, other in own[max(0, at - 12) : at + 13]]
        limits = in_line(near)
        if limits and count and not limits[0] <= count <= limits[1]:
            found[month] = -1 if count < limits[0] else 1
        elif count and is_far_below(count, near):
            found[month] = -1
    return found


def use_now(book, device):
    """Uses a month from the last three counts by days; None where they cannot be trusted or lie too far apart.

    A month that others have counted and this device has not is the most it can have been, where that gives
    more. Also until when the counts reach, and the uses of the counts in line alone.
    """
    odd = marks(book, device)
    known = sorted(
        (month for month, count in book.counts[device].items() if count != 0 or book.zero_counts),
        reverse=True,
    )
    if not known:
        return None, None, None
    until = plus(later(known[0], 1), -1)
    own = book.counts[device]
    late = book.setup["Counts late after (months)"]
    recent = known[:3]
    doubted = any(own[month] == "?" or odd.get(month) == -1 for month in recent)
    if len(recent) < 3 or recent[2] <= later(recent[0], -(3 + late)) or doubted:
        return None, until, None

    def rate(counts):
        uses = sum(counts.values()) / sum(length(month) for month in counts) * MONTH * book.factor
        return math.ceil(uses * 100 - 1e-9) / 100

    uses = rate({month: own[month] for month in recent})
    sound = {month: own[month] for month in recent if month not in odd}
    least = min(uses, rate(sound)) if sound else uses
    fine = sorted((m for m, count in own.items() if count != "?" and m not in odd), reverse=True)
    around = [own[month] for month in fine[:12]]
    limits = in_line(around)
    busy = limits is not None and limits[0] > 0
    ended = [m for counts in book.counts.values() for m, c in counts.items() if c != "?" and m < first_of(book.today)]
    wanted = [later(max(ended), -back) for back in range(3)]
    gone = {m for m in wanted if m not in own or (own[m] == 0 and busy and not book.zero_counts)}
    if gone:
        uses = max(uses, rate({m: at_most(around) if m in gone else own[m] for m in wanted}))
    return uses, until, least


def mixed(book, device, guess):
    """An estimate with the first one or two counts in the place of as many thirds, where that is more.

    A month since the first that others have counted is the most of what is known; in doubt nothing is.
    """
    own = {m: c for m, c in book.counts[device].items() if c != 0 or book.zero_counts}
    if guess is None or not own or len(own) > 2:
        return guess
    if "?" in own.values():
        return None
    newest = max(m for counts in book.counts.values() for m, c in counts.items() if c != "?")
    months, month = [], min(own)
    while month <= newest:
        months.append(month)
        month = later(month, 1)
    last = months[-3:]
    days = sum(length(m) for m in last)
    uses = sum(own.get(m, max(own.values())) for m in last) / days * MONTH * book.factor
    share = len(last) / 3
    return max(guess, share * (math.ceil(uses * 100 - 1e-9) / 100) + (1 - share) * guess)


def smoothing(values):
    """Last level of single smoothing, weight and start by least squares."""

    def at(alpha):
        level, share, made, shares = 0.0, 1.0, [], []
        for value in values:
            made.append(level)
            shares.append(share)
            level, share = level + alpha * (value - level), share * (1 - alpha)
        made, shares = np.array(made), np.array(shares)
        start = shares @ (values - made) / (shares @ shares)
        errors = values - made - shares * start
        return errors @ errors, level + share * start

    grid = np.linspace(0, 1, 101)
    best = min(grid, key=lambda alpha: at(alpha)[0])
    found = optimize.minimize_scalar(
        lambda alpha: at(alpha)[0],
        bounds=(max(0, best - 0.01), min(1, best + 0.01)),
        method="bounded",
        options={"xatol": 1e-13},
    ).x
    return at(min([best, found], key=lambda alpha: at(alpha)[0]))[1]


def seasons(rates):
    """Index of each calendar month; ones where no season is evident.

    Ratios of a month to the mean of the two years' worth of twelve that it is the middle of, by calendar month;
    months differ where an analysis of variance says so at one in twenty, and by less than they seem to: the
    James-Stein estimate about one. Months of less than half or more than double the usual are no season.
    """
    ratios = defaultdict(list)
    for month, rate in rates.items():
        early, late = ([later(month, at + by) for at in range(12)] for by in (-6, -5))
        if all(m in rates for m in early + late):
            centre = (np.mean([rates[m] for m in early]) + np.mean([rates[m] for m in late])) / 2
            if centre > 0:
                ratios[month.month].append(rate / centre)
    plain = dict.fromkeys(range(1, 13), 1.0)
    if len(ratios) < 12 or min(map(len, ratios.values())) < 2:
        return plain
    means = {month: np.mean(own) for month, own in ratios.items()}
    usual = np.mean(list(means.values()))
    free = sum(len(own) - 1 for own in ratios.values())
    noise = sum(np.sum((np.array(own) - means[m]) ** 2) for m, own in ratios.items()) / free
    noise *= np.mean([1 / len(own) for own in ratios.values()])
    between = np.var(list(means.values()), ddof=1)
    if between == 0 or (noise > 0 and stats.f.ppf(0.95, 11, free) >= between / noise):
        return plain
    shrunken = {m: 1 + (1 - 9 * noise / (11 * between)) * (mean / usual - 1) for m, mean in means.items()}
    return shrunken if all(0.5 <= one <= 2 for one in shrunken.values()) else plain


def look_ahead(known, start, months):
    """The default: what is expected without the season, and the season on top."""
    index = seasons({month: count / length(month) for month, count in known.items()})
    made = look_plain({month: count / index[month.month] for month, count in known.items()}, start, months)
    return made and [uses * index[later(start, at).month] for at, uses in enumerate(made)]


def look_plain(known, start, months):
    """Without a season: mean of level, last twelve counts and last year's month, per day."""
    if len(known) < 3:
        return None
    rates = {month: count / length(month) for month, count in known.items()}
    ordered = sorted(rates)
    values = np.array([rates[month] for month in ordered])
    last = ordered[-1]
    made = []
    level = smoothing(values) if len(values) >= 12 else None
    for step in range(months):
        month = later(start, step)
        if level is None:
            rate = values[:6].mean()
            for value in values:
                rate += 0.2 * (value - rate)
        else:
            year = values[-12:].mean()
            # Last year's month, seen from the last count: a year before, or what stands for it.
            before = later(month, -12)
            while before > last:
                before = later(before, -12)
            steady = (level + year) / 2
            old = before
            while old >= ordered[0] and old not in rates:
                old = later(old, -12)
            seen = rates.get(old, steady)
            rate = (level + year + (seen if before in rates else max(seen, steady))) / 3
        made.append(max(0.0, float(rate)) * length(month))
    return made


def site_months(book, rows, view):
    """Uses of a site by month. A month that lacks the count of a device in service is no month of its site.

    Views: counts out of line above as "counted"; "without peaks"; "filled", where a month nobody typed is the
    most it can have been; "newcomers", where a device that came lately, and took no uses from the others, is taken
    to have been there before.
    """
    start = first_of(book.today)
    every = {m for row in rows for m in book.counts[row["Device"]] if later(start, -60) <= m < start}
    totals = dict.fromkeys(every, 0)
    sound, begun = {}, {}
    for row in rows:
        device = row["Device"]
        own, odd = book.counts[device], marks(book, device)
        out = {m for m, side in odd.items() if side < 0 or view not in ("counted", "newcomers")}
        sound[device] = {
            m: count
            for m, count in own.items()
            if m in every and count != "?" and m not in out and (count or book.zero_counts)
        }
        there = [*sound[device], *(m for m in every if own.get(m) == "?" or m in out)]
        if there:
            came = row.get("Commissioned")
            begun[device] = max(min(there), first_of(came.date())) if came else min(there)
    for row in rows:
        device = row["Device"]
        own, fine = book.counts[device], sound[device]
        typical = newcomer(device, sound, begun, every) if view == "newcomers" else None
        for month in every:
            if typical is not None and month <= begun[device]:
                if totals[month] is not None:
                    totals[month] += max(fine.get(month, 0), typical * length(month))
            elif month in fine:
                if totals[month] is not None:
                    totals[month] += fine[month]
            elif not book.left(row) and device in begun and month >= begun[device]:
                near = [c for m, c in fine.items() if later(month, -12) <= m <= later(month, 12)]
                if view == "filled" and own.get(month) != 0 and near and totals[month] is not None:
                    totals[month] += at_most(near)
                else:
                    totals[month] = None
    return {month: total * book.factor for month, total in totals.items() if total is not None}


def newcomer(device, sound, begun, every):
    """Uses a day of a device that came within two years and took less than half of them from the others."""
    if device not in begun or later(begun[device], 24) <= max(every):
        return None
    after = [later(begun[device], at) for at in (1, 2, 3)]
    before = [later(begun[device], at) for at in (-3, -2, -1)]

    def rate(one, months):
        if any(month not in sound[one] for month in months):
            return None
        return sum(sound[one][month] for month in months) / sum(length(month) for month in months)

    own = rate(device, after)
    others = [
        (rate(one, before), rate(one, after))
        for one in sound
        if one != device and rate(one, before) is not None and rate(one, after) is not None
    ]
    if own is None or not others or sum(was - now for was, now in others) >= own / 2:
        return None
    return own


def site_use(book, months):
    """Uses ahead by site, the highest where doubtful months may be taken in several ways."""
    start = first_of(book.today)
    ahead, uses = {}, {}
    by_site = defaultdict(list)
    for row in book.devices:
        by_site[row["Site"]].append(row)
    for site, rows in by_site.items():
        made = [
            look_ahead(site_months(book, rows, view), start, months)
            for view in ("counted", "filled", "without peaks", "newcomers")
        ]
        ahead[site] = made[0] and [max(uses) for uses in zip(*(one for one in made if one))]
    days = sum(length(later(start, at)) for at in range(months))
    for site, rows in by_site.items():
        own = {r["Device"]: use_now(book, r["Device"]) for r in rows if not book.left(r)}
        whole = sum(least or 0 for _, _, least in own.values())
        share = sum(ahead[site]) / days * MONTH / whole if ahead[site] and whole else 1
        uses.update({device: value * share for device, (value, _, _) in own.items() if value is not None})
    return ahead, uses


def history_of(book):
    """Uses of each site, and of all where every site that has begun has a count; by month, in the order of the counts."""
    order = list(dict.fromkeys(
        row["Site"] for device in book.counts for row in book.devices if row["Device"] == device
    ))
    by_site = {
        site: site_months(book, [row for row in book.devices if row["Site"] == site], "counted") for site in order
    }
    by_site = {site: known for site, known in by_site.items() if known}
    every = sorted({month for known in by_site.values() for month in known})
    whole = {
        month: sum(known[month] for known in by_site.values() if month in known)
        for month in every
        if sum(month in known for known in by_site.values())
        == sum(min(known) <= month for known in by_site.values())
    }
    return whole, by_site


def tried(known, months):
    """Errors of earlier forecasts for three months' mean that ends 1, 2, … months ahead, as shares; season apart."""
    index = seasons({month: count / length(month) for month, count in known.items()})
    known = {month: count / index[month.month] for month, count in known.items()}
    errors = [[] for _ in range(months)]
    ordered = sorted(known)
    last = ordered[-1] if ordered else None
    for at, origin in enumerate(ordered):
        if at + 1 < 12 or later(origin, 24) < last:
            continue
        reach = min(months, (last.year - origin.year) * 12 + last.month - origin.month)
        if reach < 1:
            continue
        start = later(origin, 1)
        said = look_plain({month: known[month] for month in ordered[: at + 1]}, start, reach)
        for step in range(reach):
            window = [later(start, back) for back in range(max(0, step - 2), step + 1)]
            if any(month not in known for month in window):
                continue
            came = [known[month] / length(month) for month in window]
            rates = [said[(m.year - start.year) * 12 + m.month - start.month] / length(m) for m in window]
            errors[step].append(sum(c - r for c, r in zip(came, rates)) / (3 * np.mean(rates)))
    return errors


def spreads(book, months):
    """Standard deviations of the logarithm of use 1, 2, … months ahead: common to all, and of a site besides."""
    whole, by_site = history_of(book)

    def spread(series, stated):
        made = []
        for step in range(months):
            looks = sum(len(errors[step]) for errors in series) / (step + 1)
            squares = sum(error**2 for errors in series for error in errors[step]) / (step + 1)
            made.append(math.sqrt((stated**2 * (step + 1) / 12 + squares) / (1 + looks)))
        return made

    common = spread([tried(whole, months)], 0.05)
    site = spread([tried(known, months) for known in list(by_site.values())[:12]], 0.1)
    own = [0 if len(by_site) == 1 else math.sqrt(max(0, s * s - c * c)) for s, c in zip(site, common)]
    return common, own


POINTS = [(-math.sqrt(3), 1 / 6), (0.0, 2 / 3), (math.sqrt(3), 1 / 6)]


def open_pairs(book, part, unit, spread, highest=False):
    """Chances of each pair of intervals, at each point common to all and each of the site.

    Of the highest use until then: a walk's highest value is distributed as its last one without the sign.
    """
    centre = (unit["now"], unit["then"])
    if part["Dated task"] == "yes":
        return [[{centre: 1.0}] * 3] * 3
    due = 0.0 if unit["at once"] else max(0.0, (later(unit["began"], unit["now"]) - book.today).days / MONTH)
    if highest:
        due = math.ceil(due)

    def at(uses, ahead, points, otherwise):
        if not uses or uses <= 0:
            return otherwise
        step = min(len(spread[0]), math.floor(ahead + 0.5)) - 1
        common, own = (spread[0][step], spread[1][step]) if step >= 0 else (0.0, 0.0)
        alone = math.sqrt(2 * min(3, ahead) / 3 / (3 * uses))
        error = common * points[0] + own * points[1] + alone * points[2]
        return interval(part, uses * math.exp(error), unit["wipes"])

    made = []
    for one, _ in POINTS:
        row = []
        for other, _ in POINTS:
            chances = defaultdict(float)
            for own, share in POINTS:
                points = (one, other, own)
                if highest:
                    points = tuple(abs(point) for point in points)
                pair = centre
                if any(points):
                    now = None if unit["at once"] else unit["uses now"]
                    pair = (
                        at(now, due, points, unit["now"]),
                        at(unit["uses then"], due + unit["then"], points, unit["then"]),
                    )
                chances[pair] += share
            row.append(chances)
        made.append(row)
    return made


def interval(part, uses, wipes):
    short, long = part["Shortest (months)"], part["Longest (months)"]
    budget, light, heavy = (
        part[name] for name in ("Use budget (uses)", "Light use (a month)", "Heavy use (a month)")
    )
    curve = budget or (light is not None and heavy is not None)
    if part["Dated task"] == "yes" or not curve or uses is None:
        return short
    if part["Vinyl"] != "no" and wipes != "alcohol-free":
        return short
    ends = [long]
    if budget:
        ends.append(min(long, max(short, budget / uses)) if uses else long)
    if light is not None:
        ends.append(long - (long - short) * min(1, max(0, (uses - light) / (heavy - light))))
    return math.floor(min(ends) + 1e-9)


def unit_list(book, part, uses, ahead):
    """Every part in use: when its interval began, this and the later intervals, and until when it serves."""
    code, made = part["Code"], []
    task = part["Dated task"] == "yes"
    events = book.events(part)
    for row in book.in_service():
        device, site = row["Device"], row["Site"]
        home = book.sites[site]
        now, until, _ = use_now(book, device)
        late = until is None or later(until, book.setup["Counts late after (months)"]) < book.today
        doubted = book.doubted(row)
        trusted = None if late or doubted else now
        began = row[LAST[code]]
        began = began.date() if isinstance(began, datetime.datetime) and not doubted else None
        own = events[device]
        # The register's date and a complete part in a later row answer what was found before them.
        bad = began is not None and any(
            worn and not complete and date >= began and not any(new for _, new, _ in own[at + 1 :])
            for at, (date, complete, worn) in enumerate(own)
        )
        # A date nobody knows makes the part due at once, and nothing that lengthens is believed then.
        months = interval(part, trusted, home["Wipes"])
        guess = mixed(book, device, home["Expected uses (a device a month)"]) if ahead[site] is None else None
        sure = began is not None and not (now is not None and late)
        following = uses.get(device, guess) if sure else None
        then = interval(part, following, home["Wipes"])
        due = None if began is None else max(book.workday(later(began, months)), plus(began, 1))
        leaves = row["Retired on"].date() if row["Retired on"] and not doubted else None
        made.append(
            {
                "device": device,
                "site": site,
                "began": began,
                "now": months,
                "then": then,
                "uses now": trusted if began is not None else None,
                "uses then": following,
                "wipes": home["Wipes"],
                "due": due,
                "at once": began is None or bad,
                "until": leaves,
                "doubt": (not task and not sure) or bad,
            }
        )
    return made


def served(book, part):
    """Months each logged complete part lasted, and whether wear ended it: found first, or with what replaced it."""
    here = {row["Device"] for row in book.sure()}
    made = []

    def ended(begun, end, worn):
        days = (end - begun).days - (HALF_WEEK / 2 if worn else 0)
        made.append((max(days, 0.5) / MONTH, worn))

    for device, events in book.events(part).items():
        begun, running = None, False
        for date, complete, worn in events:
            if running and (complete or worn):
                ended(begun, date, worn)
                running = False
            if complete:
                begun, running = date, True
        if running and device in here:
            ended(begun, book.today, False)
    return made


def lives(records):
    """Nine lives (scale, shape, share) around the Weibull fit, by three points of Gauss and Hermite."""
    ages = np.array([months for months, _ in records])
    worn = np.array([one for _, one in records])

    def slope(b):
        beta = math.exp(b)
        powers = (ages / ages.max()) ** beta
        logs = np.log(ages / ages.max())
        return powers @ logs / powers.sum() - 1 / beta - logs[worn].mean()

    b = optimize.brentq(slope, -5, 5, xtol=1e-15, rtol=1e-14)
    beta = math.exp(b)
    theta = math.log(((ages / ages.max()) ** beta).sum() / worn.sum()) / beta + math.log(ages.max())
    z = beta * (np.log(ages) - theta)
    e = np.exp(z)
    information = -np.array(
        [
            [-(beta**2) * e.sum(), -beta * worn.sum() + beta * ((1 + z) * e).sum()],
            [-beta * worn.sum() + beta * ((1 + z) * e).sum(), z[worn].sum() - ((z + z * z) * e).sum()],
        ]
    )
    root = np.linalg.cholesky(np.linalg.inv(information))
    points = [(-math.sqrt(3), 1 / 6), (0.0, 2 / 3), (math.sqrt(3), 1 / 6)]
    made = []
    for x, one in points:
        for y, other in points:
            move = root @ np.array([x, y])
            made.append((math.exp(theta + move[0]), math.exp(b + move[1]), one * other))
    return {"shape": beta, "scale": math.exp(theta)}, made


class Course:
    """One life and the months ahead, as a matrix: from the day a part is fitted to the day it ends.

    Found worn at a look, twice a week; done on the working day it is due, worn or not. Expected numbers solve a
    linear system; chances of numbers come from it at roots of unity, as a transform.
    """

    def __init__(self, book, life, months):
        self.book, self.life, self.months = book, life, months
        self.today = book.today
        start = first_of(self.today)
        self.last = (later(self.today, months) - self.today).days
        self.looks = np.array([d for d in (math.floor(HALF_WEEK * at) for at in range(1, 999)) if d <= self.last])
        self.month = np.array(
            [
                (d.year - start.year) * 12 + d.month - start.month
                for d in (plus(self.today, day) for day in range(self.last + 1))
            ]
        )
        self.booked = np.eye(months + 1)[self.month]
        self.after, self.solved, self.turned = {}, {}, {}

    def good(self, days):
        scale, shape, _ = self.life
        return np.exp(-((np.maximum(days, 0) / MONTH / scale) ** shape))

    def ends(self, fitted, due):
        """Chances to be replaced early, and as planned, on each day; `fitted` may lie before today."""
        early, planned = np.zeros(self.last + 1), np.zeros(self.last + 1)
        if due <= 0:
            planned[0] = 1
            return early, planned
        looks = self.looks[(self.looks > max(fitted, 0)) & (self.looks < due)]
        left = self.good(np.concatenate([[max(fitted, 0)], looks]) - fitted) / self.good(max(fitted, 0) - fitted)
        early[looks] = left[:-1] - left[1:]
        if due <= self.last:
            planned[due] = left[-1]
        return early, planned

    def due(self, fitted, months):
        date = plus(self.today, fitted)
        return (max(self.book.workday(later(date, months)), plus(date, 1)) - self.today).days

    def matrix(self, then):
        if then not in self.after:
            rows = [self.ends(day, self.due(day, then)) for day in range(self.last + 1)]
            self.after[then] = tuple(np.array(one) for one in zip(*rows))
        return self.after[then]

    def first(self, unit):
        if unit["at once"]:
            return self.ends(0, 0)
        began = (unit["began"] - self.today).days
        return self.ends(began, self.due(began, unit["now"]))

    def need(self, unit):
        """Planned and early by month."""
        then = unit["then"]
        early, planned = self.matrix(then)
        if then not in self.solved:
            booked = np.hstack([planned @ self.booked, early @ self.booked])
            self.solved[then] = linalg.solve_triangular(np.eye(self.last + 1) - early - planned, booked)
        worn, due = self.first(unit)
        both = np.concatenate([due @ self.booked, worn @ self.booked]) + (worn + due) @ self.solved[then]
        return both[: self.months + 1], both[self.months + 1 :]

    def chances(self, unit, span):
        """Chances of 0, 1, 2, … replacements within some months, or (span of one number) so many days."""
        then, points = unit["then"], 24
        early, planned = self.matrix(then)
        if len(span) == 1:
            inside = np.arange(self.last + 1) <= span[0]
        else:
            inside = (self.month >= span[0]) & (self.month <= span[1])
        if (then, span) not in self.turned:
            both = early + planned
            tail = 1 - both.sum(axis=1)
            self.turned[then, span] = [
                linalg.solve_triangular(np.eye(self.last + 1) - both * np.where(inside, z, 1), tail)
                for z in np.exp(2j * np.pi * np.arange(points) / points)
            ]
        first = sum(self.first(unit))
        turned = [
            1 - first.sum() + (first * np.where(inside, z, 1)) @ later_on
            for z, later_on in zip(np.exp(2j * np.pi * np.arange(points) / points), self.turned[then, span])
        ]
        return np.clip(np.fft.fft(np.array(turned)).real / points, 0, None)


def schedule(book, unit, months):
    """Due dates by calendar month; a part that is late is done today and starts anew."""
    counts = np.zeros(months + 1)
    start = first_of(book.today)
    for date in due_dates(book, unit, later(book.today, months)):
        counts[(date.year - start.year) * 12 + date.month - start.month] += 1
    return counts


def due_dates(book, unit, end):
    """The working days on which a part is done if nothing happens before."""
    today = book.today
    dates = []
    done = today if unit["at once"] else max(today, book.workday(later(unit["began"], unit["now"])))
    while done <= end:
        dates.append(done)
        # The next interval begins on the day on which it was really done.
        done = book.workday(later(done, unit["then"]))
    return dates


def needs(book, part, units, months):
    """Planned and early by unit and month."""
    today, task = book.today, part["Dated task"] == "yes"
    records = [] if task else served(book, part)
    worn = sum(one for _, one in records)
    exposure = sum(length for length, _ in records)
    # A young log is taken with one shortest interval of every device in service.
    taken = exposure + len(book.sure()) * (part["Shortest (months)"] or 1) if exposure else 0
    starts = [later(first_of(today), at) for at in range(months + 1)]
    fit, mix = (None, None) if worn < 3 else lives(records)
    seen, made = {}, []
    courses = [Course(book, life, months) for life in mix or []]
    for unit in units:
        key = (unit["at once"], unit["began"], unit["now"], unit["then"])
        if key not in seen:
            if mix is None:
                planned = schedule(book, unit, months)
                rate = 0 if taken == 0 else (worn + 0.5) / taken
                ends = [min(plus(later(month, 1), -1), later(today, months)) for month in starts]
                begins = [today] + ends[:-1]
                early = np.array([(end - begin).days for begin, end in zip(begins, ends)]) * rate / MONTH
            else:
                planned, early = np.zeros(months + 1), np.zeros(months + 1)
                for life, course in zip(mix, courses):
                    one, other = course.need(unit)
                    planned, early = planned + life[2] * one, early + life[2] * other
            seen[key] = (planned, early)
        planned, early = seen[key]
        stays = np.array([unit["until"] is None or month <= unit["until"] for month in starts])
        made.append((planned * stays, early * stays))
    return made, {"fit": fit, "mix": mix, "worn": int(worn), "exposure": exposure, "taken": taken, "courses": courses}


def convolved(rows):
    made = np.ones(1)
    for row in rows:
        made = np.convolve(made, row)
        made = made[: np.flatnonzero(made > 1e-17)[-1] + 1]
    return made


def added(parts):
    """Chances of one of several numbers, each with its share."""
    made = np.zeros(max(len(row) for _, row in parts))
    for share, row in parts:
        made[: len(row)] += share * row
    return made


def wear_states(wear, rates=8):
    """What may be true of wear, with its share: lives, or a rate at the middles of equally likely parts."""
    if wear["mix"] is not None:
        return [(life[2], course, 0.0) for life, course in zip(wear["mix"], wear["courses"])]
    if wear["taken"] == 0:
        return [(1.0, None, 0.0)]
    middles = stats.gamma(wear["worn"] + 0.5).ppf((np.arange(rates) + 0.5) / rates)
    return [(1 / rates, None, rate) for rate in middles / middles.mean() * (wear["worn"] + 0.5) / wear["taken"]]


def packs_of(book, part, units, wear, spans, months, spread, more):
    """Packs by site and span as expected, and chances of all packs over the last span at each common point."""
    per, pack = part["Units a replacement"], part["Pack size"]
    starts = [later(first_of(book.today), at) for at in range(months + 1)]
    ways = [open_pairs(book, part, unit, spread) for unit in units]
    sites = sorted({unit["site"] for unit in units})
    expected = {site: [0.0] * len(spans) for site in sites}
    points = [[] for _ in POINTS]

    def number(course, unit, pair, span):
        """Chances of the numbers of a unit with a pair of intervals."""
        leaves = unit["until"]
        last = months if leaves is None else max([at for at, m in enumerate(starts) if m <= leaves], default=-1)
        span = (span[0], min(span[1], last))
        if span[1] < span[0]:
            return np.ones(1)
        key = (id(course), unit["at once"], unit["began"], pair, span)
        if key not in known:
            other = {**unit, "now": pair[0], "then": pair[1]}
            if course is None:
                count = int(schedule(book, other, months)[span[0] : span[1] + 1].sum())
                known[key] = np.eye(count + 1)[count]
            else:
                known[key] = course.chances(other, span)
        return known[key]

    known = {}
    for share, course, rate in wear_states(wear):
        for nth, span in enumerate(spans):
            for c, (_, common) in enumerate(POINTS):
                rows = []
                for site in sites:
                    here = [at for at, unit in enumerate(units) if unit["site"] == site]
                    mixed = added(
                        [
                            (
                                weight,
                                convolved(
                                    added([(p, number(course, units[at], pair, span)) for pair, p in ways[at][c][s].items()])
                                    for at in here
                                ),
                            )
                            for s, (_, weight) in enumerate(POINTS)
                        ]
                    )
                    if rate:
                        days = 0
                        for at in here:
                            leaves = units[at]["until"]
                            inside = [m for m in starts[span[0] : span[1] + 1] if leaves is None or m <= leaves]
                            if inside:
                                begin = book.today if inside[0] <= book.today else plus(inside[0], -1)
                                days += (plus(later(inside[-1], 1), -1) - begin).days
                        mean = rate * days / MONTH
                        mixed = np.convolve(mixed, stats.poisson(mean).pmf(np.arange(int(mean + 12 * math.sqrt(mean) + 12))))
                    packs = [max(0, math.ceil((n * per + more[site][nth]) / pack - 1e-9)) for n in range(len(mixed))]
                    row = np.zeros(max(packs) + 1)
                    np.add.at(row, packs, mixed)
                    expected[site][nth] += share * common * float(row @ np.arange(len(row)))
                    rows.append(row)
                if nth == len(spans) - 1:
                    points[c].append((share, convolved(rows)))
    return expected, [added(one) for one in points]


def lead_at_most(lead, spread, service):
    """Days an order takes at most with the chance asked for; its time is gamma."""
    if lead == 0 or spread == 0:
        return lead
    return max(lead, math.ceil(stats.gamma((lead / spread) ** 2, scale=spread**2 / lead).ppf(service) - 1e-9))


def called_at_most(book, units, wear, days, service):
    """Replacements within some days, by the intervals of the register, not exceeded with the chance asked for."""
    end = plus(book.today, days)
    stays = [
        end if unit["until"] is None else min(end, plus(later(first_of(unit["until"]), 1), -1)) for unit in units
    ]
    if wear["mix"] is None:
        fixed = sum(len(due_dates(book, unit, last)) for unit, last in zip(units, stays))
        used = sum(max(0, (last - book.today).days) for last in stays)
        if not wear["taken"] or not used:
            return fixed
        size = wear["worn"] + 0.5
        mean = size / wear["taken"] * used / MONTH
        return fixed + int(stats.nbinom(size, size / (size + mean)).ppf(service * (1 - 1e-12)))
    chances = added(
        [
            (life[2], convolved(course.chances(unit, ((last - book.today).days,)) for unit, last in zip(units, stays)))
            for life, course in zip(wear["mix"], wear["courses"])
        ]
    )
    return int(np.argmax(np.cumsum(chances) >= service * (1 - 1e-12)))


def due_at_most(book, part, units, days, service, spread):
    """Parts that come due, without wear, with what usage may still do to intervals: by the highest use until then."""
    end = plus(book.today, days)
    ways = [open_pairs(book, part, unit, spread, True) for unit in units]
    stays = [
        end if unit["until"] is None else min(end, plus(later(first_of(unit["until"]), 1), -1)) for unit in units
    ]
    sites = sorted({unit["site"] for unit in units})
    known = {}

    def number(at, pair):
        unit = units[at]
        key = (unit["at once"], unit["began"], pair, stays[at])
        if key not in known:
            count = len(due_dates(book, {**unit, "now": pair[0], "then": pair[1]}, stays[at]))
            known[key] = np.eye(count + 1)[count]
        return known[key]

    def group(site, c, s):
        here = [at for at, unit in enumerate(units) if unit["site"] == site]
        return convolved(added([(p, number(at, pair)) for pair, p in ways[at][c][s].items()]) for at in here)

    chances = added(
        [
            (
                common,
                convolved(
                    added([(weight, group(site, c, s)) for s, (_, weight) in enumerate(POINTS)]) for site in sites
                ),
            )
            for c, (_, common) in enumerate(POINTS)
        ]
    )
    return int(np.argmax(np.cumsum(chances) >= service * (1 - 1e-12)))


def place(book, part, site, members, months, wear, spread):
    """What one part needs at one place that keeps spares."""
    setup, today = book.setup, book.today
    per, lead = part["Units a replacement"], part["Lead time (days)"]
    end = later(today, months)
    whole = (end - today).days / MONTH
    early = sum(other.sum() for _, (_, other) in members) * per / whole
    due = sorted(
        date
        for unit, _ in members
        for date in due_dates(book, unit, min(end, unit["until"] or end))
        for _ in range(per)
    )
    cover = lead_at_most(lead, part["Lead time spread (days)"], setup["Service level"])
    days = cover + setup["Days between orders"]
    units = [unit for unit, _ in members]
    most = called_at_most(book, units, wear, days, setup["Service level"])
    floor = {"site": 1, "programme": 1, "device": len(members)}[setup["Spares kept"]] * per
    mean = early / per * days / MONTH
    usual = int(stats.poisson(mean).ppf(setup["Service level"])) if mean > 0 else 0
    covered = plus(today, days)
    within = sum(date <= covered for date in due)
    buffer = max(floor, usual * per, most * per - within)
    # What more use may bring forward counts on the last day covered.
    planned = due_at_most(book, part, units, days, setup["Service level"], spread) * per
    due = due[:within] + [
        min(date, covered) if at < planned - within else date for at, date in enumerate(due[within:])
    ]
    lots = [
        (item["Expiry"].date() if item["Expiry"] else None, item["On hand"] or 0)
        for item in book.shelf
        if item["Part"] == part["Code"] and item["Site"] == site
    ]
    # What is late, or comes on no known day, is not reckoned with.
    receipts = [
        (item["Expected on"].date(), item["On order"])
        for item in book.shelf
        if item["Part"] == part["Code"] and item["Site"] == site
        if item["On order"] and item["Expected on"] and item["Expected on"].date() >= today
    ]
    ordered = sum(number for _, number in receipts)
    return {
        "part": part["Code"],
        "site": site,
        "early a month": early,
        "due": due,
        "days": days,
        "buffer": buffer,
        "hand": sum(number for expiry, number in lots if expiry is None or expiry >= today),
        "lots": [(expiry, number) for expiry, number in lots if expiry and expiry >= today],
        "ordered": ordered,
        "receipts": receipts,
        "point": buffer + sum(date <= plus(today, days) for date in due),
        "lead": lead,
        "cover": cover,
        "pack": part["Pack size"],
        "price": part["Pack price"],
        "supplier": part["Supplier"],
    }


def lost_by(there, day):
    """Units that expire on the shelf before a day although the first to expire are taken first."""
    taken, lost, kept = 0, 0, 0
    for expiry, number in sorted(there["lots"]):
        if expiry >= day:
            break
        used = sum(date <= expiry for date in there["due"])
        kept += number
        gone = max(0, kept - lost - used)
        lost += gone
    return lost


def order_lines(book, places, months):
    """Orders: who is short when, in whole packs, put together by supplier into as few days as may be."""
    today, review = book.today, book.setup["Days between orders"]
    end = later(today, months)
    lines = []
    for there in places:
        due = there["due"]

        def used(day, there=there, due=due):
            over = max(0, (day - today).days - there["days"])
            return sum(date <= day for date in due) + there["early a month"] * over / MONTH

        def left(day, there=there, used=used):
            soon = max(day, plus(today, there["lead"]))
            come = sum(number for on, number in there["receipts"] if on <= soon)
            return there["hand"] + come - lost_by(there, day) - used(day)

        bought = 0
        looks = {today, *due} | {plus(expiry, 1) for expiry, _ in there["lots"] if expiry < end}
        # Every day on which one early call more counts than the day before.
        calls = [
            math.ceil(there["early a month"] * max(0, at - there["days"]) / MONTH - 1e-12)
            for at in range((end - today).days + 1)
        ]
        looks |= {plus(today, at) for at in range(1, len(calls)) if calls[at] > calls[at - 1]}
        looks |= {plus(on, -1) for on, _ in there["receipts"] if today < on <= end}
        for day in sorted(looks):
            if left(day) + bought >= there["buffer"]:
                continue
            until = min(plus(day, review), end)
            least = min(left(look) for look in [until, *(at for at in looks if day <= at <= until)])
            missing = max(1, math.ceil(there["buffer"] - least - bought - 1e-9))
            packs = math.ceil(missing / there["pack"])
            bought += packs * there["pack"]
            by = book.workday(plus(day, -there["cover"]))
            lines.append({"place": there, "packs": packs, "need": day, "by": by})
    for supplier in {line["place"]["supplier"] for line in lines}:
        own = sorted(
            (line for line in lines if line["place"]["supplier"] == supplier),
            key=lambda line: max(today, line["by"]),
        )
        joint = None
        for line in own:
            last = max(today, line["by"])
            if joint is None or plus(last, -review) > joint:
                joint = last
            line["on"] = joint
    return lines


def money(amount):
    return math.floor(amount * 100 + 0.5 + 1e-9) / 100


def price_on(book, price, date):
    years = max(0, date.year - book.today.year)
    return None if price is None else money(price * (1 + book.setup["Price rise a year"]) ** years)


def price_in(book, part, lines, there, first, used):
    """Price of a pack in the quarter of three months from one on: of the days on which what it needs is ordered.

    Where no order is made for it, of the last day to order for the middle of each of its months."""
    start = first_of(book.today)
    own = [
        line
        for line in lines
        if line["place"] is there and later(start, first) <= line["need"] < later(start, first + 3)
    ]
    packs = sum(line["packs"] for line in own)
    if packs:
        paid = sum(line["packs"] * price_on(book, part["Pack price"], line["on"]) for line in own)
        return money(paid / packs)
    prices = []
    for month in range(first, first + 3):
        day = plus(later(start, month), 15)
        by = book.workday(plus(day, -there["cover"])) if there else day
        prices.append(price_on(book, part["Pack price"], by))
    return money(float(used @ np.array(prices)) / used.sum() if used.sum() > 0 else sum(prices) / 3)


def budget(book, places, found, months, first):
    """Packs and cost by part, place and quarter; expected, and what is enough."""
    start = first_of(book.today)
    setup, rows, spent = book.setup, [], defaultdict(float)
    spread = spreads(book, months)
    shelves = {(there["part"], there["site"]): there for there in places}
    spans = [(first, first + 3 * quarter + 2) for quarter in range(4)]
    lines = order_lines(book, places, months)
    costs = []
    for part in book.parts:
        if part["Dated task"] == "yes" and part["Pack price"] is None:
            continue
        units, made, wear = found[part["Code"]]
        begin, end = defaultdict(int), defaultdict(int)
        more = defaultdict(lambda: [0] * len(spans))
        for site in {unit["site"] for unit in units}:
            there = shelves.get((part["Code"], site))
            if there:
                end[site] = there["buffer"]
                more[site] = [
                    bought_beyond_use(book, there, later(start, first), later(start, span[1] + 1), first == 0)
                    for span in spans
                ]
                again = bought_again(book, there, later(start, first), later(start, spans[-1][1] + 1), first == 0)
                begin[site] = end[site] + again - more[site][-1]
        packs, points = packs_of(book, part, units, wear, spans, months, spread, more)
        bought = paid = 0.0
        for site in sorted(packs):
            own = [sum(need) for unit, need in zip(units, made) if unit["site"] == site]
            by_month = sum(own) * part["Units a replacement"]
            row = []
            for quarter in range(4):
                at = first + 3 * quarter
                number = packs[site][quarter] - (packs[site][quarter - 1] if quarter else 0)
                used = by_month[at : at + 3]
                price = price_in(book, part, lines, shelves.get((part["Code"], site)), at, used)
                row.append(
                    {"units": float(by_month[at : at + 3].sum()), "packs": number, "cost": money(price * number)}
                )
                spent[quarter] += money(price * number)
                bought, paid = bought + number, paid + number * price
            rows.append(
                {"part": part["Code"], "site": site, "start": begin[site], "end": end[site], "quarters": row}
            )
        costs.append((math.floor(100 * paid / bought + 0.5), points))
    freight = []
    for quarter in range(4):
        begin = later(start, first + 3 * quarter)
        days = {
            (line["on"], line["place"]["site"], line["place"]["supplier"])
            for line in lines
            if begin <= line["on"] < later(begin, 3)
        }
        freight.append(money(len(days) * setup["Freight an order"]))
    expected = money(sum(spent.values()) + sum(freight))
    spare = money(max(0, upper(costs, setup["Budget level"]) - sum(spent.values())))
    return {
        "places": rows,
        "freight": freight,
        "expected": expected,
        "contingency": spare,
        "upper": money(expected + spare),
    }


def bought_beyond_use(book, there, begins, ends, now, late=True):
    """Units that must come from purchases in a time, less those used in it: every day of it is looked at, or the last."""
    today = book.today

    def used(day):
        over = max(0, (day - today).days - there["days"])
        return sum(date <= day for date in there["due"]) + there["early a month"] * over / MONTH

    def missing(day):
        soon = max(day, plus(today, there["lead"]))
        come = sum(number for on, number in there["receipts"] if on <= soon)
        return there["buffer"] - (there["hand"] + come - lost_by(there, day) - used(day))

    every = [missing(plus(today, at)) for at in range((ends - today).days)]
    split = 0 if now else (begins - today).days
    before = 0 if now else max(0, *every[:split])
    spent = 0 if now else used(plus(today, split - 1))
    most = max(every) if late else every[-1]
    return math.ceil(most - before - (used(plus(ends, -1)) - spent) - 1e-9)


def bought_again(book, there, begins, ends, now):
    """Those of them that are bought because a delivery comes after they are needed."""
    whole, last = (bought_beyond_use(book, there, begins, ends, now, late) for late in (True, False))
    return whole - last


def upper(costs, level):
    """Cost that is enough, over every pair and triple of numbers at each point of the common error.

    Between the points the cost goes along the parabola through its means, in 33 steps of equal chance of an error that is Student's,
    in whole steps of money: the greatest that divides every price."""
    at_points = []
    for at, _ in enumerate(POINTS):
        sums, weights = np.zeros(1), np.full(1, 1.0)
        for cents, points in costs:
            packs = np.flatnonzero(points[at] > 1e-12)
            sums = np.add.outer(sums, packs * float(cents)).ravel()
            weights = np.multiply.outer(weights, points[at][packs]).ravel()
            sums, where = np.unique(sums, return_inverse=True)
            weights = np.bincount(where.ravel(), weights)
        at_points.append((sums, weights / weights.sum()))
    step = max(1, math.gcd(*(int(round(cents)) for cents, _ in costs if cents > 0)))
    means = [float(sums @ weights) for sums, weights in at_points]
    along = np.polynomial.Polynomial.fit([at for at, _ in POINTS], means, 2)
    grid = stats.t(5).ppf((np.arange(33) + 0.5) / 33)
    every, chance = [], []
    for z in grid:
        near = int(np.argmin([abs(z - at) for at, _ in POINTS]))
        sums, weights = at_points[near]
        every.append(sums + math.floor((along(z) - means[near]) / step + 0.5) * step)
        chance.append(weights / 33)
    every, chance = np.concatenate(every), np.concatenate(chance)
    order = np.argsort(every, kind="stable")
    return every[order][int(np.argmax(np.cumsum(chance[order]) >= level - 1e-9))] / 100


def year_of(book, months):
    ahead, uses = site_use(book, months)
    spread = spreads(book, months)
    found = {}
    for part in book.parts:
        units = unit_list(book, part, uses, ahead)
        made, wear = needs(book, part, units, months)
        found[part["Code"]] = (units, made, wear)
    places = []
    for part in book.parts:
        if part["Dated task"] == "yes":
            continue
        units, made, wear = found[part["Code"]]
        for site in sorted({unit["site"] for unit in units}):
            members = [(u, need) for u, need in zip(units, made) if u["site"] == site]
            places.append(place(book, part, site, members, months, wear, spread))
    return ahead, uses, found, places


def told(book):
    ahead, uses, found, places = year_of(book, 12)
    lines = order_lines(book, places, 12)
    now = defaultdict(list)
    for line in lines:
        there = line["place"]
        if line["on"] <= plus(book.today, book.setup["Days between orders"]):
            now[(line["on"], there["part"], there["site"])].append(line)
    start = first_of(book.today)
    first = 0
    while later(start, first).month != book.setup["Fiscal year starts in month"]:
        first += 1
    _, _, later_found, later_places = year_of(book, first + 12)
    parts = {}
    for code, (units, made, wear) in found.items():
        parts[code] = {
            "planned": [float(sum(one[at] for one, _ in made)) for at in range(13)],
            "early": [float(sum(other[at] for _, other in made)) for at in range(13)],
            "now": [unit["now"] for unit in units],
            "then": [unit["then"] for unit in units],
            "due": [None if u["due"] is None or u["at once"] else u["due"].isoformat() for u in units],
            "worn": wear["worn"],
            "inUse": wear["exposure"],
            "life": wear["fit"],
        }
    return {
        "reportDate": book.today.isoformat(),
        "sessions": [sum(site[at] for site in ahead.values() if site) for at in range(12)],
        "sites": {site: made for site, made in ahead.items()},
        "uses": uses,
        "parts": parts,
        "places": [
            {
                "part": there["part"],
                "site": there["site"],
                "earlyAMonth": there["early a month"],
                "buffer": there["buffer"],
                "point": there["point"],
            }
            for there in places
        ],
        "lines": [
            {
                "part": part,
                "site": site,
                "orderOn": on.isoformat(),
                "packs": sum(line["packs"] for line in group),
                "needBy": group[0]["need"].isoformat(),
                "orderBy": group[0]["by"].isoformat(),
                "cost": money(
                    price_on(book, group[0]["place"]["price"], on) * sum(line["packs"] for line in group)
                ),
            }
            for (on, part, site), group in sorted(now.items())
        ],
        "budget": budget(book, later_places, later_found, first + 12, first),
    }


def main():
    books = {name: told(Book(path)) for name, path in zip(["velloran", "births"], sys.argv[1:])}
    made = (
        f"year.py, NumPy {np.__version__}, SciPy {scipy.__version__}, openpyxl {openpyxl.__version__}"
    )
    print(json.dumps({"made": made, **books}, indent=1))


main()
