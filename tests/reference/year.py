"""Writes year.json: the year ahead, orders and budget of two workbooks, for tests of src/book/year, orders and budget.

Written apart from src: cells are read by openpyxl, wear is followed by ages in half weeks (not by renewals),
lives are fitted by SciPy, costs are added up over all pairs of numbers (not on a lattice).
The workbooks: `sparespan demo` (report date 2026-07-06) and `birthsBook()` of tests/births.ts (2015-01-15).
    python3 tests/reference/year.py VELLORAN.xlsx BIRTHS.xlsx > tests/reference/year.json
"""

import bisect
import calendar
import datetime
import json
import math
import sys
from collections import Counter, defaultdict

import numpy as np
import openpyxl
import scipy
from scipy import optimize, stats

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


def use_now(book, device):
    """Uses a month from the last three counts by days; None where they cannot be trusted or lie too far apart."""
    known = sorted(
        (month for month, count in book.counts[device].items() if count != 0 or book.zero_counts),
        reverse=True,
    )
    if not known:
        return None, None
    until = plus(later(known[0], 1), -1)
    recent = [book.counts[device][month] for month in known[:3]]
    late = book.setup["Counts late after (months)"]
    if len(recent) < 3 or known[2] <= later(known[0], -(3 + late)) or "?" in recent:
        return None, until
    rate = sum(recent) / sum(length(month) for month in known[:3]) * MONTH * book.factor
    return math.ceil(rate * 100 - 1e-9) / 100, until


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


def look_ahead(known, start, months):
    """The stated default: mean of level, last twelve counts and last year's month, per day."""
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


def site_use(book, months):
    """Uses ahead by site. A month that lacks the count of a device in service is no month of its site."""
    start = first_of(book.today)
    ahead, uses = {}, {}
    by_site = defaultdict(list)
    for row in book.devices:
        by_site[row["Site"]].append(row)
    for site, rows in by_site.items():
        every = {m for row in rows for m in book.counts[row["Device"]] if later(start, -60) <= m < start}
        known = {}
        for month in every:
            total, whole = 0, True
            for row in rows:
                own = book.counts[row["Device"]]
                count = own.get(month)
                fine = [m for m, value in own.items() if value != "?" and (value or book.zero_counts)]
                if count is None or count == "?" or (count == 0 and not book.zero_counts):
                    if not book.left(row) and fine and month >= min(fine):
                        whole = False
                else:
                    total += count
            if whole:
                known[month] = total * book.factor
        ahead[site] = look_ahead(known, start, months)
    days = sum(length(later(start, at)) for at in range(months))
    for site, rows in by_site.items():
        own = {r["Device"]: use_now(book, r["Device"])[0] for r in rows if not book.left(r)}
        whole = sum(value or 0 for value in own.values())
        share = sum(ahead[site]) / days * MONTH / whole if ahead[site] and whole else 1
        uses.update({device: value * share for device, value in own.items() if value is not None})
    return ahead, uses


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
        now, until = use_now(book, device)
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
        guess = home["Expected uses (a device a month)"] if ahead[site] is None else None
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


def month_steps(today, months):
    """Number of the month of each look at the parts, every half week after today; looks in whole months."""
    ends = [plus(later(first_of(today), at + 1), -1) for at in range(months)]
    booked, step = [], 1
    while True:
        day = plus(today, math.floor(step * HALF_WEEK))
        if day > ends[-1]:
            return booked
        booked.append(bisect.bisect_left(ends, day))
        step += 1


def hazard(ages, scale, shape):
    """Chance to be found worn in the half week that ends at an age, if good at its beginning."""
    t = np.array(ages, float) * HALF_WEEK / MONTH / scale
    before = np.array([age - 1 for age in ages], float) * HALF_WEEK / MONTH / scale
    return -np.expm1(before**shape - t**shape)


def steps_of(months):
    return math.floor(months * MONTH / HALF_WEEK)


def walk(unit, today, booked, life, span=None):
    """Followed from look to look by age: planned and early by month, and chances of numbers in a span."""
    scale, shape, _ = life
    first, then = steps_of(unit["now"]), steps_of(unit["then"])
    age = first if unit["at once"] else min(first, math.floor((today - unit["began"]).days / HALF_WEEK))
    months = booked[-1] + 1
    planned, early = np.zeros(months), np.zeros(months)
    most = 1 if span is None else 12
    old, new = 1.0, np.zeros((then + 1, most))
    worn = hazard(range(1, then + 1), scale, shape)
    start = np.zeros(most)
    start[0] = 1
    old = start.copy()
    for step, month in enumerate(booked):
        inside = span is not None and span[0] <= month <= span[1]
        fresh = np.zeros(most)
        if old.any():
            age += 1
            if age >= first:
                planned[month] += old.sum()
                gone, old = old, np.zeros(most)
            else:
                share = float(hazard([age], scale, shape)[0]) if age > 0 else 0.0
                early[month] += share * old.sum()
                gone, old = old * share, old * (1 - share)
            fresh += gone
        # Those fitted since: one look older; what reaches the planned age goes, worn or not.
        moved = new[:-1]
        due = moved[-1].copy()
        planned[month] += due.sum()
        gone = moved[:-1] * worn[:-1, None]
        early[month] += gone.sum()
        fresh += due + gone.sum(axis=0)
        new = np.vstack([np.zeros((1, most)), moved[:-1] - gone, np.zeros((1, most))])
        if inside:
            fresh = np.concatenate([[0.0], fresh[:-1]])
        new[0] = fresh
    return planned, early, old + new.sum(axis=0)


def schedule(unit, today, months):
    """Due dates by calendar month; a part that is late is done today and starts anew."""
    counts = np.zeros(months)
    start = first_of(today)
    for date in due_dates(unit, today, later(start, months), lambda date: date):
        at = (date.year - start.year) * 12 + date.month - start.month
        if at < months:
            counts[at] += 1
    return counts


def due_dates(unit, today, end, rolled):
    late = unit["at once"] or later(unit["began"], unit["now"]) <= today
    anchor = today if late else later(unit["began"], unit["now"])
    dates = [anchor]
    if late or unit["now"] != unit["then"]:
        ahead = (later(anchor, at * unit["then"]) for at in range(1, 1000))
    else:
        ahead = (later(unit["began"], at * unit["now"]) for at in range(2, 1000))
    for date in ahead:
        if date > end:
            break
        dates.append(date)
    return [max(today, rolled(date)) for date in dates if date <= end]


def needs(book, part, units, months):
    """Planned and early by unit and month."""
    today, task = book.today, part["Dated task"] == "yes"
    records = [] if task else served(book, part)
    worn = sum(one for _, one in records)
    exposure = sum(length for length, _ in records)
    # A young log is taken with one shortest interval of every device in service.
    taken = exposure + len(book.sure()) * (part["Shortest (months)"] or 1) if exposure else 0
    starts = [later(first_of(today), at) for at in range(months)]
    fit, mix = (None, None) if worn < 3 else lives(records)
    seen, made = {}, []
    booked = month_steps(today, months)
    for unit in units:
        key = (unit["at once"], unit["began"], unit["now"], unit["then"])
        if key not in seen:
            if mix is None:
                planned = schedule(unit, today, months)
                rate = 0 if taken == 0 else (worn + 0.5) / taken
                ends = [plus(later(month, 1), -1) for month in starts]
                begins = [today] + ends[:-1]
                early = np.array([(end - begin).days for begin, end in zip(begins, ends)]) * rate / MONTH
            else:
                planned, early = np.zeros(months), np.zeros(months)
                for life in mix:
                    one, other, _ = walk(unit, today, booked, life)
                    planned, early = planned + life[2] * one, early + life[2] * other
            seen[key] = (planned, early)
        planned, early = seen[key]
        stays = np.array([unit["until"] is None or month <= unit["until"] for month in starts])
        made.append((planned * stays, early * stays))
    return made, {"fit": fit, "mix": mix, "worn": int(worn), "exposure": exposure, "taken": taken}


def chances_of(book, units, wear, span, months):
    """Chances of each number of replacements in a span of months, all units together."""
    today = book.today
    booked = month_steps(today, months)
    if wear["mix"] is None:
        fixed = sum(schedule(unit, today, months)[span[0] : span[1] + 1].sum() for unit in units)
        if wear["taken"] == 0:
            return {int(fixed): 1.0}
        start = later(first_of(today), span[0])
        begin = today if span[0] == 0 else plus(start, -1)
        days = (plus(later(first_of(today), span[1] + 1), -1) - begin).days
        size = wear["worn"] + 0.5
        mean = size / wear["taken"] * len(units) * days / MONTH
        made = stats.nbinom(size, size / (size + mean))
        return {int(fixed) + k: float(made.pmf(k)) for k in range(int(made.ppf(1 - 1e-12)) + 2)}
    total = np.zeros(1)
    groups = Counter(
        (
            unit["now"],
            unit["then"],
            steps_of(unit["now"])
            if unit["at once"]
            else min(steps_of(unit["now"]), math.floor((today - unit["began"]).days / HALF_WEEK)),
        )
        for unit in units
    )
    for life in wear["mix"]:
        fleet = np.ones(1)
        for (now, then, age), times in groups.items():
            unit = {
                "now": now,
                "then": then,
                "at once": False,
                "began": plus(today, -math.ceil(age * HALF_WEEK)),
            }
            _, _, one = walk(unit, today, booked, life, span)
            for _ in range(times):
                fleet = np.convolve(fleet, one)
                fleet = fleet[: np.flatnonzero(fleet > 1e-20)[-1] + 1]
        size = max(len(total), len(fleet))
        total = np.pad(total, (0, size - len(total))) + life[2] * np.pad(fleet, (0, size - len(fleet)))
    return {count: float(chance) for count, chance in enumerate(total) if chance > 0}


def enough(mean, variance, service, floor):
    """Smallest number that unplanned calls do not pass with the chance asked for."""
    found = [stats.poisson(mean).ppf(service) if mean > 0 else 0]
    if variance > mean:
        size = mean**2 / (variance - mean)
        found.append(stats.nbinom(size, size / (size + mean)).ppf(service))
    return int(max(floor, *found))


def place(book, part, site, members, months):
    """What one part needs at one place that keeps spares."""
    setup, today = book.setup, book.today
    per, lead = part["Units a replacement"], part["Lead time (days)"]
    end = later(today, months)
    whole = ((later(first_of(today), months) - today).days - 1) / MONTH
    early = sum(other.sum() for _, (_, other) in members) * per / whole
    due = sorted(
        date
        for unit, _ in members
        for date in due_dates(unit, today, min(end, unit["until"] or end), book.workday)
        for _ in range(per)
    )
    days = lead + setup["Days between orders"]
    spread = part["Lead time spread (days)"] / MONTH if days else 0
    mean = early * days / MONTH
    floor = {"site": 1, "programme": 1, "device": len(members)}[setup["Spares kept"]] * per
    buffer = enough(mean, mean + (early * spread) ** 2, setup["Service level"], floor)
    lots = [
        (item["Expiry"].date() if item["Expiry"] else None, item["On hand"] or 0)
        for item in book.shelf
        if item["Part"] == part["Code"] and item["Site"] == site
    ]
    ordered = sum(
        item["On order"] or 0
        for item in book.shelf
        if item["Part"] == part["Code"] and item["Site"] == site
    )
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
        "point": buffer + sum(date <= plus(today, days) for date in due),
        "lead": lead,
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

        bought = 0
        looks = {today, *due} | {
            plus(today, at) for at in range(0, (end - today).days + 1, 7)
        } | {plus(expiry, 1) for expiry, _ in there["lots"] if expiry < end}
        for day in sorted(looks):
            supplied = there["hand"] + there["ordered"] + bought - lost_by(there, day)
            if supplied - used(day) >= there["buffer"]:
                continue
            until = min(plus(day, review), end)
            supplied = there["hand"] + there["ordered"] + bought - lost_by(there, until)
            missing = max(1, math.ceil(used(until) + there["buffer"] - supplied - 1e-9))
            packs = math.ceil(missing / there["pack"])
            bought += packs * there["pack"]
            by = book.workday(plus(day, -there["lead"]))
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


def budget(book, places, found, months, first):
    """Packs and cost by part, place and quarter; expected, and what is enough."""
    start = first_of(book.today)
    setup, rows, spent = book.setup, [], defaultdict(float)
    used_by, cost_by = defaultdict(float), defaultdict(float)
    shelves = {(there["part"], there["site"]): there for there in places}
    for part in book.parts:
        if part["Dated task"] == "yes" and part["Pack price"] is None:
            continue
        units, made = found[part["Code"]][:2]
        for site in sorted({unit["site"] for unit in units}):
            own = [sum(need) for unit, need in zip(units, made) if unit["site"] == site]
            by_month = sum(own) * part["Units a replacement"]
            there = shelves.get((part["Code"], site))
            end = there["buffer"] if there else 0
            begin = (there["hand"] + there["ordered"] if first == 0 else end) if there else 0
            used, bought, row = 0.0, 0, []
            for quarter in range(4):
                at = first + 3 * quarter
                units_here = float(by_month[at : at + 3].sum())
                used += units_here
                packs = max(0, math.ceil((used + end - begin) / part["Pack size"] - 1e-9)) - bought
                bought += packs
                price = price_on(book, part["Pack price"], later(start, at))
                row.append({"units": units_here, "packs": packs, "cost": money(price * packs)})
                spent[quarter] += money(price * packs)
                used_by[part["Code"]] += units_here / part["Units a replacement"]
                cost_by[part["Code"]] += units_here * price / part["Pack size"]
            rows.append(
                {"part": part["Code"], "site": site, "start": begin, "end": end, "quarters": row}
            )
    lines = order_lines(book, places, months)
    freight = []
    for quarter in range(4):
        begin = later(start, first + 3 * quarter)
        days = {
            (line["on"], line["place"]["site"], line["place"]["supplier"])
            for line in lines
            if begin <= line["on"] < later(begin, 3)
        }
        freight.append(money(len(days) * setup["Freight an order"]))
    numbers = []
    for part in book.parts:
        if part["Pack price"] is None:
            continue
        units, _, wear = found[part["Code"]]
        cents = math.floor(100 * cost_by[part["Code"]] / used_by[part["Code"]] + 0.5)
        span = (first, first + 11)
        numbers.append((cents, chances_of(book, units, wear, span, months)))
    expected = money(sum(spent.values()) + sum(freight))
    spare = upper(numbers, setup["Budget level"])
    return {
        "places": rows,
        "freight": freight,
        "expected": expected,
        "contingency": spare,
        "upper": money(expected + spare),
    }


def upper(numbers, level):
    """Cost that is enough less the expected one, over every pair and triple of numbers."""
    costs, weights = np.zeros(1), np.ones(1)
    for cents, chances in numbers:
        kept = {count: chance for count, chance in chances.items() if chance > 1e-13}
        counts = np.array(list(kept)) * float(cents)
        costs = np.add.outer(costs, counts).ravel()
        weights = np.multiply.outer(weights, np.array(list(kept.values()))).ravel()
        costs, where = np.unique(costs, return_inverse=True)
        weights = np.bincount(where.ravel(), weights)
    at = int(np.argmax(np.cumsum(weights) >= level - 1e-9))
    mean = sum(cents * sum(c * p for c, p in chances.items()) for cents, chances in numbers)
    return max(0, math.ceil(costs[at] - mean - 1e-6)) / 100


def year_of(book, months):
    ahead, uses = site_use(book, months)
    found = {}
    for part in book.parts:
        units = unit_list(book, part, uses, ahead)
        made, wear = needs(book, part, units, months)
        found[part["Code"]] = (units, made, wear)
    places = []
    for part in book.parts:
        if part["Dated task"] == "yes":
            continue
        units, made, _ = found[part["Code"]]
        for site in sorted({unit["site"] for unit in units}):
            members = [(u, need) for u, need in zip(units, made) if u["site"] == site]
            places.append(place(book, part, site, members, months))
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
            "planned": [float(sum(one[at] for one, _ in made)) for at in range(12)],
            "early": [float(sum(other[at] for _, other in made)) for at in range(12)],
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
