"""The same take-off by Parge, by openpyxl and by LibreOffice; see peers.sh, which calls this.

What the three do is told in the README. Parge reads the plan. The other two are given a sheet of
the same faces (sizes, openings, class) and a sheet of factors (what a square foot of each class takes),
both made here from Parge's own JSON, and make areas, needs, hours and totals of them. All sums are
compared with those of Parge before anything is printed.
"""

import argparse
import json
import os
import platform
import shutil
import statistics
import subprocess
import sys
import time
from collections import defaultdict
from pathlib import Path

import openpyxl

# What is taken off for each face beside its areas: a column each. Parge does all there is.
ITEMS = ["finish-mix", "scratch-mix", "bonding-primer", "sealer/matte", "metal-lath", "water"]
GIVEN = ["structure", "face", "class", "width", "height", "form", "count", "openings", "reveals"]
MADE = ["row", "gross", "net", *ITEMS, "hours"]
SUMMED = MADE[1:]
# Relative; the JSON has nine decimals.
CLOSE = 1e-6


def faces(path):
    """The faces of an estimate's JSON, one by one: the file is too large to be held."""
    with open(path, encoding="utf-8") as lines:
        for line in lines:
            if line == '  "faces": [\n':
                break
        one = []
        for line in lines:
            if line == "  ],\n":
                return
            one.append(line)
            if line.rstrip("\n,") == "    }":
                yield json.loads("".join(one).rstrip("\n,"))
                one = []


def class_of(face):
    return f"{face['substrate']}, {face['finish']}"


def taken(face):
    """What a face takes of each item with waste, and all its hours."""
    needs = defaultdict(float)
    for need in face["takes"]["needs"]:
        needs[need["item"]] += need["need"]["value"] + need["waste"]["value"]
    hours = sum(phase["hours"] for phase in face["takes"]["hours"])
    return [*(needs[item] for item in ITEMS), hours]


def make(estimate, values, formulas):
    """The sheets for the other two: with values alone, and with formulas that were never computed.
    Gives back the sums that both must come to."""
    takes = defaultdict(lambda: [0.0] * (len(ITEMS) + 1))
    areas = defaultdict(float)
    sums = [0.0] * len(SUMMED)
    for face in faces(estimate):
        of_it = taken(face)
        kind = class_of(face)
        areas[kind] += face["net_area"]["value"]
        takes[kind] = [a + b for a, b in zip(takes[kind], of_it)]
        of_it = [face["gross_area"]["value"], face["net_area"]["value"], *of_it]
        sums = [a + b for a, b in zip(sums, of_it)]
    factors = {kind: [take / areas[kind] for take in takes[kind]] for kind in sorted(areas)}
    for path, with_formulas in [(values, False), (formulas, True)]:
        book = openpyxl.Workbook(write_only=True)
        sheet = book.create_sheet("Faces")
        sheet.append([*GIVEN, *MADE] if with_formulas else GIVEN)
        last = 1
        for face in faces(estimate):
            last += 1
            cells = given(face)
            sheet.append([*cells, *formulas_of(last, len(factors))] if with_formulas else cells)
        if with_formulas:
            letters = [letter(len(GIVEN) + 1 + n) for n in range(len(SUMMED))]
            totals = [f"=SUM({at}2:{at}{last})" for at in letters]
            sheet.append(["total", *[None] * len(GIVEN), *totals])
        sheet = book.create_sheet("Factors")
        sheet.append(["class", *ITEMS, "hours"])
        for kind, of_it in factors.items():
            sheet.append([kind, *of_it])
        book.save(path)
    return sums


def given(face):
    width, height = face["width"]["value"], face["height"]["value"]
    # The share of the rectangle around it that a face has: 1 for a rectangle.
    form = face["gross_area"]["value"] / (width * height * face["count"])
    areas = [face["deducted_area"]["value"], face["reveal_area"]["value"]]
    return [face["structure"], face["name"], class_of(face), width, height, form, face["count"], *areas]


def letter(column):
    return openpyxl.utils.get_column_letter(column + 1)


def formulas_of(row, classes):
    last = classes + 1
    at = letter(len(GIVEN))
    gross, net = letter(len(GIVEN) + 1), letter(len(GIVEN) + 2)
    needs = [
        f"=${net}{row}*INDEX(Factors!{letter(1 + n)}$2:{letter(1 + n)}${last},${at}{row})"
        for n in range(len(ITEMS) + 1)
    ]
    return [
        f"=MATCH(C{row},Factors!$A$2:$A${last},0)",
        f"=D{row}*E{row}*F{row}*G{row}",
        f"={gross}{row}-H{row}+I{row}",
        *needs,
    ]


def take_off(cells, factors):
    """What a Python script makes of a row."""
    _, _, kind, width, height, form, count, openings, reveals = cells
    row, of_class = factors[kind]
    gross = width * height * form * count
    net = gross - openings + reveals
    return [row, gross, net, *(net * factor for factor in of_class)]


def factors_of(book):
    rows = book["Factors"].iter_rows(min_row=2, values_only=True)
    return {kind: (number, factors) for number, (kind, *factors) in enumerate(rows, 1)}


def usual(path, out):
    """As most scripts are written: the workbook is loaded, filled in and saved."""
    book = openpyxl.load_workbook(path)
    factors = factors_of(book)
    sheet = book["Faces"]
    for number, name in enumerate(MADE, len(GIVEN) + 1):
        sheet.cell(1, number, name)
    sums = [0.0] * len(SUMMED)
    last = sheet.max_row
    for cells in sheet.iter_rows(min_row=2, max_col=len(GIVEN)):
        made = take_off([cell.value for cell in cells], factors)
        for number, value in enumerate(made, len(GIVEN) + 1):
            sheet.cell(cells[0].row, number, value)
        sums = [a + b for a, b in zip(sums, made[1:])]
    sheet.cell(last + 1, 1, "total")
    for number, value in enumerate(sums, len(GIVEN) + 2):
        sheet.cell(last + 1, number, value)
    book.save(out)


def streamed(path, out):
    """As a script is written by who knows the two modes of the library for long sheets."""
    book = openpyxl.load_workbook(path, read_only=True)
    factors = factors_of(book)
    written = openpyxl.Workbook(write_only=True)
    sheet = written.create_sheet("Faces")
    sheet.append([*GIVEN, *MADE])
    sums = [0.0] * len(SUMMED)
    for cells in book["Faces"].iter_rows(min_row=2, max_col=len(GIVEN), values_only=True):
        made = take_off(cells, factors)
        sheet.append([*cells, *made])
        sums = [a + b for a, b in zip(sums, made[1:])]
    sheet.append(["total", *[None] * len(GIVEN), *sums])
    written.save(out)


def total_row(path):
    """The sums in the last row of a workbook that one of the others wrote."""
    book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    last = None
    for last in book["Faces"].iter_rows(values_only=True):
        pass
    first = len(GIVEN) + 1
    return list(last[first : first + len(SUMMED)])


def measured(command, runs, said):
    """Of a command and what it starts: median time and median time of all cores, in seconds, and
    most memory in MB. What it says goes into a file."""
    times, busy, memory = [], [], []
    for _ in range(runs):
        begun = time.monotonic()
        with open(said, "wb") as file:
            child = subprocess.Popen(command, stdout=file, stderr=file)
            _, status, usage = os.wait4(child.pid, 0)
        times.append(time.monotonic() - begun)
        busy.append(usage.ru_utime + usage.ru_stime)
        memory.append(usage.ru_maxrss / 1024)
        child.returncode = os.waitstatus_to_exitcode(status)
        if child.returncode != 0:
            sys.exit(f"{' '.join(map(str, command))} ended with {child.returncode}; see {said}")
    return statistics.median(times), statistics.median(busy), max(memory)


# Without it LibreOffice shows the results that are stored, and computes nothing.
RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"""


def office(work):
    profile = work / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user/registrymodifications.xcu").write_text(RECALCULATE)
    out = work / "office"
    out.mkdir(exist_ok=True)
    command = [
        "soffice",
        "--headless",
        f"-env:UserInstallation=file://{profile}",
        "--convert-to",
        "xlsx:Calc MS Excel 2007 XML",
        "--outdir",
        str(out),
        str(work / "formulas.xlsx"),
    ]
    return command, out / "formulas.xlsx"


def compare(parge, work, runs):
    plan = work / "plan.parge"
    estimate = work / "plan.json"
    said = work / "said.txt"
    rows = []

    def by_parge(name, option, file):
        command = [parge, "estimate", plan, option, file, "--force"]
        rows.append((name, *measured(command, runs, said), file))

    by_parge("Parge, to JSON", "--json", estimate)
    by_parge("Parge, to its workbook", "-o", work / "plan.xlsx")
    values, formulas = work / "values.xlsx", work / "formulas.xlsx"
    sums = make(estimate, values, formulas)

    def check(name, path):
        for what, ours, theirs in zip(SUMMED, sums, total_row(path)):
            if theirs is None or abs(ours - theirs) > CLOSE * max(1.0, abs(ours)):
                sys.exit(f"{name}: {what} comes to {theirs}, and not to {ours}")

    for name, way in [
        ("Python, openpyxl as usual", "usual"),
        ("Python, openpyxl row by row", "streamed"),
    ]:
        out = work / f"{way}.xlsx"
        command = [sys.executable, __file__, way, str(values), str(out)]
        rows.append((name, *measured(command, runs, said), out))
        check(name, out)
    if shutil.which("soffice"):
        name = "LibreOffice, load, recalculate, save"
        command, out = office(work.resolve())
        out.unlink(missing_ok=True)
        rows.append((name, *measured(command, runs, said), out))
        check(name, out)
    show(rows, work)


def show(rows, work):
    count = sum(1 for _ in faces(work / "plan.json"))
    with open("/proc/meminfo", encoding="utf-8") as info:
        memory = int(info.readline().split()[1]) >> 20
    load = os.getloadavg()[0]
    print(f"{count:,} faces; {os.cpu_count()} cores, {memory} GB, {platform.system()}; load {load:.1f}\n")
    print("| way | time | of all cores | peak memory | file |")
    print("| --- | --- | --- | --- | --- |")
    for name, seconds, busy, most, file in rows:
        size = file.stat().st_size / 1e6
        print(f"| {name} | {seconds:.1f} s | {busy:.1f} s | {most:,.0f} MB | {size:,.1f} MB |")


def main():
    parser = argparse.ArgumentParser()
    ways = parser.add_subparsers(dest="way", required=True)
    for way in ["usual", "streamed"]:
        sub = ways.add_parser(way)
        sub.add_argument("values")
        sub.add_argument("out")
    sub = ways.add_parser("compare")
    sub.add_argument("--parge", required=True)
    sub.add_argument("--work", type=Path, required=True)
    sub.add_argument("--runs", type=int, default=3)
    args = parser.parse_args()
    match args.way:
        case "usual":
            usual(args.values, args.out)
        case "streamed":
            streamed(args.values, args.out)
        case _:
            compare(args.parge, args.work, args.runs)


if __name__ == "__main__":
    main()
