"""Makes the .xlsb sheet that the tests of `parge import` read.

    python3 tests/importers/make_xlsb.py

No spreadsheet library writes this format, so the records are laid out here, as [MS-XLSB] describes
them: each has a type and a length in bytes of seven bits, and a body of little-endian numbers. Only
the standard library is needed. LibreOffice opens the file, which checks it from outside:

    soffice --headless --convert-to csv tests/importers/sheets/panels.xlsb
"""

import pathlib
import struct
import zipfile

HERE = pathlib.Path(__file__).parent / "sheets"

CONTENT = "application/vnd.ms-excel."
SCHEMA = "http://schemas.openxmlformats.org/"
OFFICE = SCHEMA + "officeDocument/2006/relationships/"

GENERAL, STRUCK, METRES = 0, 1, 2


def sevens(number):
    out = b""
    while True:
        byte, number = number & 0x7F, number >> 7
        out += bytes([byte | (0x80 if number else 0)])
        if not number:
            return out


def record(kind, body=b""):
    return sevens(kind) + sevens(len(body)) + body


def wide(text):
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def cell(column, style):
    return struct.pack("<II", column, style)


def whole(column, number, style=GENERAL):
    return record(2, cell(column, style) + struct.pack("<i", number << 2 | 2))


def hundredths(column, number, style=GENERAL):
    return record(2, cell(column, style) + struct.pack("<i", number << 2 | 3))


def real(column, number, style=GENERAL):
    return record(5, cell(column, style) + struct.pack("<d", number))


def text(column, words, style=GENERAL):
    return record(6, cell(column, style) + wide(words))


def shared(column, number, style=GENERAL):
    return record(7, cell(column, style) + struct.pack("<I", number))


def product(row, column, number):
    """The formula `B * C * D` of the row, with its result."""
    at = [b"\x44" + struct.pack("<IH", row, of | 0xC000) for of in (1, 2, 3)]
    tokens = at[0] + at[1] + b"\x05" + at[2] + b"\x05"
    formula = struct.pack("<I", len(tokens)) + tokens + struct.pack("<I", 0)
    return record(9, cell(column, GENERAL) + struct.pack("<dH", number, 0) + formula)


def fault(column):
    """A formula whose cell was deleted, which shows #REF!."""
    tokens = b"\x4A" + bytes(6)
    formula = struct.pack("<I", len(tokens)) + tokens + struct.pack("<I", 0)
    return record(11, cell(column, GENERAL) + b"\x17" + struct.pack("<H", 0) + formula)


def row(number, *cells, hidden=False):
    flags = 0x1000 if hidden else 0
    spans = struct.pack("<III", 1, 0, 5)
    head = struct.pack("<IIHHB", number, 0, 300, flags, 0) + spans
    return record(0, head) + b"".join(cells)


SHARED = ["Wall", "Length (m)", "Height", "Nos", "Area (m2)", "Remarks", "North", "South"]


def strings():
    count = struct.pack("<II", len(SHARED), len(SHARED))
    items = b"".join(record(19, b"\0" + wide(words)) for words in SHARED)
    return record(159, count) + items + record(160)


def font(struck):
    flags = 0x08 if struck else 0
    head = struct.pack("<HHHHBBBB", 220, flags, 400, 0, 0, 2, 0, 0)
    colour = bytes([0x07, 1, 0, 0, 0, 0, 0, 0xFF])
    return record(43, head + colour + b"\x02" + wide("Calibri"))


def style(parent, form, of_font):
    return record(47, struct.pack("<HHHHHBBHBB", parent, form, of_font, 0, 0, 0, 0, 0x1010, 0, 0))


def styles():
    """Fonts without and with a stroke; a number format that shows metres."""
    fill = record(45, struct.pack("<I", 0) + bytes([3, 64, 0, 0, 0, 0, 0, 255]) + bytes(
        [3, 65, 0, 0, 255, 255, 255, 255]) + bytes(48))
    line = b"\0\0" + bytes([1, 0, 0, 0, 0, 0, 0, 0])
    border = record(46, b"\0" + line * 5)
    return b"".join([
        record(278),
        record(615, struct.pack("<I", 1)), record(44, struct.pack("<H", 164) + wide('0.00" m"')),
        record(616),
        record(611, struct.pack("<I", 2)), font(False), font(True), record(612),
        record(603, struct.pack("<I", 1)), fill, record(604),
        record(613, struct.pack("<I", 1)), border, record(614),
        record(626, struct.pack("<I", 1)), style(0xFFFF, 0, 0), record(627),
        record(617, struct.pack("<I", 3)),
        style(0, 0, 0), style(0, 0, 1), style(0, 164, 0),
        record(618),
        record(279),
    ])


def sheet():
    """Panels with a hidden row and a struck one, which the planted total counts."""
    rows = [
        row(0, text(0, "Quay House: panels")),
        row(1, *[shared(column, column) for column in range(6)]),
        row(2, shared(0, 6), hundredths(1, 625), real(2, 2.7, METRES), whole(3, 1),
            product(2, 4, 16.875)),
        row(3, shared(0, 7), hundredths(1, 450), real(2, 2.7, METRES), whole(3, 2),
            product(3, 4, 24.3)),
        row(4, text(0, "East"), whole(1, 3), real(2, 2.7, METRES), whole(3, 1),
            product(4, 4, 8.1), hidden=True),
        row(5, text(0, "West", STRUCK), whole(1, 5, STRUCK), real(2, 2.7, STRUCK),
            whole(3, 1, STRUCK), real(4, 13.5, STRUCK), text(5, "omitted", STRUCK)),
        row(6, text(0, "Tower"), fault(1), real(2, 2.7, METRES), whole(3, 1)),
        row(7, text(0, "Total"), real(4, 62.775)),
    ]
    # A hidden column of remarks at the end.
    columns = record(390) + record(60, struct.pack("<IIIIH", 5, 5, 2340, 0, 1)) + record(391)
    merged = record(177, struct.pack("<I", 1)) + record(176, struct.pack("<IIII", 0, 0, 0, 5)) \
        + record(178)
    return b"".join([
        record(129), record(148, struct.pack("<IIII", 0, 7, 0, 5)), columns,
        record(145), *rows, record(146), merged, record(130),
    ])


def workbook():
    bundle = struct.pack("<II", 0, 1) + wide("rId1") + wide("Panels")
    # Behind the sheets stands how formulas are computed.
    computed = struct.pack("<IIIdIH", 191029, 1, 100, 0.001, 1, 0x0140)
    return b"".join([
        record(131), record(143), record(156, bundle), record(144), record(157, computed),
        record(132),
    ])


def relations(*targets):
    lines = [
        f'<Relationship Id="rId{number}" Type="{OFFICE}{kind}" Target="{target}"/>'
        for number, (kind, target) in enumerate(targets, 1)
    ]
    return f'<Relationships xmlns="{SCHEMA}package/2006/relationships">{"".join(lines)}</Relationships>'


def types():
    parts = [
        ("/xl/workbook.bin", "sheet.binary.macroEnabled.main"),
        ("/xl/worksheets/sheet1.bin", "worksheet"),
        ("/xl/sharedStrings.bin", "sharedStrings"),
        ("/xl/styles.bin", "styles"),
    ]
    lines = [
        f'<Override PartName="{name}" ContentType="{CONTENT}{kind}"/>' for name, kind in parts
    ]
    rels = '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.' \
        'relationships+xml"/>'
    binary = f'<Default Extension="bin" ContentType="{CONTENT}sheet.binary.macroEnabled.main"/>'
    return f'<Types xmlns="{SCHEMA}package/2006/content-types">{rels}{binary}{"".join(lines)}</Types>'


def main():
    parts = {
        "[Content_Types].xml": types(),
        "_rels/.rels": relations(("officeDocument", "xl/workbook.bin")),
        "xl/workbook.bin": workbook(),
        "xl/_rels/workbook.bin.rels": relations(
            ("worksheet", "worksheets/sheet1.bin"), ("sharedStrings", "sharedStrings.bin"),
            ("styles", "styles.bin")),
        "xl/worksheets/sheet1.bin": sheet(),
        "xl/sharedStrings.bin": strings(),
        "xl/styles.bin": styles(),
    }
    head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    with zipfile.ZipFile(HERE / "panels.xlsb", "w", zipfile.ZIP_DEFLATED) as archive:
        for name, body in parts.items():
            body = (head + body).encode() if isinstance(body, str) else body
            # One day for all, so that the same script makes the same file.
            archive.writestr(zipfile.ZipInfo(name, (2026, 5, 11, 0, 0, 0)), body)


if __name__ == "__main__":
    main()
