"""Makes the messy sheets that the tests of `parge import` read.

    pip install openpyxl msoffcrypto-tool
    python3 tests/importers/make_sheets.py

Each has one fault planted in it, which a test looks for. The files are committed, so that tests
need no Python; three are saved once more as .xls and .ods where LibreOffice is at hand. The one in .xlsb
is made by make_xlsb.py, which has to run before.
"""

import datetime
import pathlib
import shutil
import subprocess

from openpyxl import Workbook
from openpyxl.styles import Font

HERE = pathlib.Path(__file__).parent / "sheets"
WHEN = datetime.datetime(2026, 5, 11)


def book(title):
    made = Workbook()
    made.properties.created = WHEN
    made.properties.modified = WHEN
    made.active.title = title
    return made, made.active


def save(made, name):
    made.save(HERE / name)


def rows(sheet, lines):
    for line in lines:
        sheet.append(line)


def rooms_doubled_subtotal():
    made, sheet = book("Rooms")
    rows(sheet, [
        ["Beech Lane School: walls to be coated"],
        [],
        ["Wall", "L (ft)", "H (ft)", "Qty", "SF", "Remarks"],
        ["Hall"],
        ["North", 12, 8, 1, 96, None],
        ["South", 10.5, 8, 2, 168, "both alike"],
        ["Subtotal", None, None, None, 264],
        [],
        ["Kitchen"],
        ["East", 9, 8, 1, 72],
        ["West", 9, "8'-6\"", 1, 76.5],
        ["Subtotal", None, None, None, 148.5],
        [],
        # Planted: the rows and their subtotals.
        ["Grand total", None, None, None, 825],
        ["Sealing by others"],
    ])
    sheet.merge_cells("A1:F1")
    sheet.merge_cells("A4:F4")
    sheet.merge_cells("A9:F9")
    save(made, "rooms-doubled-subtotal.xlsx")


def rooms_hidden_row():
    made, sheet = book("Rooms")
    rows(sheet, [
        ["Room", "Wall", "Length, ft", "Ht, ft", "Nos", "SF"],
        ["Lobby", "N", 20, 9, 1, 180],
        [None, "S", 20, 9, 1, 180],
        # Planted: hidden, and in the total.
        [None, "E", 15, 9, 1, 135],
        ["Stair", "W", 8, 12, 2, 192],
        ["Total", None, None, None, None, 687],
    ])
    sheet.row_dimensions[4].hidden = True
    save(made, "rooms-hidden-row.xlsx")


def elevations_unit_slip():
    made, sheet = book("Elevations")
    rows(sheet, [
        ["Heron Court: elevations"],
        ["Elevation", "Description", "Size", None, "Qty", "Area (SF)", "Remarks"],
        [None, None, "W (ft)", "H (ft)", None, None, None],
        ["North", "Panel A", 24, 10, 1, 240],
        ["North", "less door D1", 3, 7, 1, -21],
        ["North", "less window", 4, 5, 2, -40, "sill 3'"],
        ["East", "Panel B", 18, 10, 1, 180],
        # Planted: 96 inches among feet.
        ["East", "Panel C", 10, 96, 1, 80],
        ["South", "Panel D", "12'-6\"", "8'-4 1/2\"", 2, 209.375],
        ["Total", None, None, None, None, 648.375],
    ])
    sheet.merge_cells("C2:D2")
    sheet.merge_cells("A1:G1")
    save(made, "elevations-unit-slip.xlsx")


def elevations_dates():
    made, sheet = book("Niches")
    rows(sheet, [
        ["All dimensions in inches unless noted"],
        ["Location", "Mark", "Width", "Height", "Reveal", "Opng W", "Opng H", "Opng qty"],
        ["North", "N1", 120, 96, 4, 30, 60, 1],
        # Planted: 3/4 that became a day.
        ["North", "N2", 96, 96, datetime.date(2026, 4, 3), 24, 24, 2],
        ["East", "E1", "102", 96, None, None, None, None],
    ])
    sheet["E4"].number_format = "d-mmm"
    save(made, "elevations-dates.xlsx")


def bill_text_number():
    made, sheet = book("Bill")
    rows(sheet, [
        ["Bill no. 3: decorative concrete"],
        [],
        ["Item", "Description", "Qty", "Unit", "Rate", "Amount"],
        [1, "Feature wall, carved", 420, "SF"],
        # Planted: a number as text, which the total passes over.
        [2, "Columns, round", "180.5", "SF"],
        [3, "Planter faces", 96, "SF"],
        ["", "Total", 516, "SF"],
        ["", "Scaffold by others"],
    ])
    save(made, "bill-text-number.xlsx")


def bill_formulas():
    made, sheet = book("Bill")
    rows(sheet, [
        ["Particulars", "Gross area (m2)", "ddt (m2)", "Net area (m2)"],
        ["Front wall", 48.5, 6.3, 42.2],
        ["Side wall", 30, 0, 30],
        # Planted: the net area does not take the opening off.
        ["Rear wall", 30, 4.2, 30],
        ["Total", 108.5, 10.5, 102.2],
        # A formula whose result was never stored.
        ["Grand total", "=SUM(B2:B4)", None, None],
    ])
    hidden = made.create_sheet("Old bill")
    hidden.append(["Particulars", "Area (m2)"])
    hidden.append(["Front wall", 50])
    hidden.sheet_state = "hidden"
    save(made, "bill-formulas.xlsx")


def metric_blocks():
    made, sheet = book("Schedule")
    rows(sheet, [
        ["Tern Quay: typical bays"],
        ["Wall", "Length", "Height", "Nos", "Area"],
        [None, "(m)", "(mm)", None, "(m2)"],
        ["Typical bay (x 4)"],
        ["Front", 3.6, 2400, 1, 8.64],
        ["Door", 0.9, 2100, 1, 1.89],
        ["Side", 1.2, 2400, 2, 5.76],
        [],
        ["Entrance"],
        ["Front", 4.25, 3000, 1, 12.75],
        # Planted: the bays once and not four times.
        ["Total", None, None, None, 25.26],
    ])
    save(made, "metric-blocks.xlsx")


def metric_pages():
    made, sheet = book("Pages")
    head = ["#", "Location", "Item", "L (m)", "H (m)", "qty", "sqm"]
    rows(sheet, [
        head,
        [1, "Block A", "W1", 4, 2.7, 1, 10.8],
        [2, '"', "W2", 5, 2.7, 1, 13.5],
        ["", "", "Carried forward", None, None, None, 24.3],
        [],
        head,
        ["", "", "Brought forward", None, None, None, 24.3],
        [3, "Block B", "W3", 6, 2.7, 1, 16.2],
        [4, "Block B", "W4", "see dwg", 2.7, 1, 13.5],
        # Planted: what was brought forward is added once more.
        ["", "", "Total", None, None, None, 78.3],
    ])
    save(made, "metric-pages.xlsx")


def side_by_side():
    made, sheet = book("Walls")
    rows(sheet, [
        ["Wall", "L (ft)", "H (ft)", None, "Pier", "W (ft)", "H (ft)", "Qty"],
        ["A", 22, 6, None, "P1", 2, 7, 4],
        ["B", 18, 6, None, "P2", 2.5, 7, 2],
        # Planted: a cell that shows a fault.
        ["C", "#REF!", 6, None, "P3", 3, 7, 2],
    ])
    sheet["B4"].data_type = "e"
    save(made, "side-by-side.xlsx")


def struck_and_sizes():
    made, sheet = book("Panels")
    rows(sheet, [
        ["Panel schedule"],
        ["Dimensions in inches"],
        ["Ref", "Location", "Size", "No", "Finish", "Comments"],
        ["P1", "Bar", "102 x 30", 2, "bark", ""],
        ["P2", "Bar", "96 × 30", 1, "bark", ""],
        # Planted: struck through.
        ["P3", "Bar", "48 x 30", 1, "bark", "omitted"],
        ["P4", "Stage", "8'-6\" x 7'-0\"", 1, "drystone", ""],
    ])
    for cell in sheet[6]:
        cell.font = Font(strike=True)
    save(made, "struck-and-sizes.xlsx")


def other_formats():
    office = shutil.which("soffice")
    others = [
        ("rooms-doubled-subtotal.xlsx", "ods"), ("metric-blocks.xlsx", "xls"),
        ("panels.xlsb", "ods"),
    ]
    for name, kind in others:
        if office:
            subprocess.run(
                [office, "--headless", "--convert-to", kind, "--outdir", str(HERE),
                 str(HERE / name)],
                check=True,
            )


def locked():
    """A workbook that is really encrypted, beside the sheets; needs msoffcrypto-tool."""
    from msoffcrypto.format.ooxml import OOXMLFile

    with open(HERE / "struck-and-sizes.xlsx", "rb") as plain:
        with open(HERE.parent / "locked.xlsx", "wb") as out:
            OOXMLFile(plain).encrypt("secret", out)


if __name__ == "__main__":
    HERE.mkdir(exist_ok=True)
    for make in [
        rooms_doubled_subtotal, rooms_hidden_row, elevations_unit_slip, elevations_dates,
        bill_text_number, bill_formulas, metric_blocks, metric_pages, side_by_side,
        struck_and_sizes,
    ]:
        make()
    other_formats()
    locked()
