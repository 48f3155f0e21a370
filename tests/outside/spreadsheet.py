"""Spreadsheets: read back by openpyxl, every value the JSON's."""

import csv

import openpyxl

from common import FOLDER, close, report, roofs, sticks


def rows(book, sheet):
    """Rows of a sheet by the names of its heads."""
    heads, *lines = book[sheet].iter_rows(values_only=True)
    return [dict(zip(heads, line)) for line in lines]


# how numbers are shown, by how the head of their column ends
FORMATS = {
    ", in": "0.000",
    ", mm": "0.0",
    ", deg": "0.00",
    "cubic inches": "#,##0.0",
    " x": "0.000000",
    " y": "0.000000",
    " z": "0.000000",
    "each": "#,##0.00",
    "cost": "#,##0.00",
}
LETTER, A4 = 1, 9


def check_looks(book, job, paper):
    """Every sheet: heads that stay in sight and on every page, a page wide, landscape, the job above it, numbers as their
    heads say."""
    for sheet in book:
        assert sheet.freeze_panes == "A2" and sheet.print_title_rows == "$1:$1", sheet.title
        assert sheet.page_setup.orientation == "landscape" and sheet.page_setup.paperSize == paper
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        # a width of one page is what is meant if none is told
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)
        assert sheet.oddHeader.left.text == job[:60].replace("&", "&&"), sheet.oddHeader.left.text
        assert sheet.oddFooter.right.text == "page &P of &N"
        heads = [cell.value for cell in sheet[1]]
        for column, head in enumerate(heads, 1):
            letter = openpyxl.utils.get_column_letter(column)
            # a head that is wrapped at its spaces has room for its longest word
            room = sheet.column_dimensions[letter].width
            assert room >= max(len(word) for word in head.split()), (sheet.title, head, room)
            wanted = next((form for end, form in FORMATS.items() if head.endswith(end)), "General")
            for row in sheet.iter_rows(min_row=2, min_col=column, max_col=column):
                (cell,) = row
                if isinstance(cell.value, (int, float)) or str(cell.value).startswith("="):
                    assert cell.number_format == wanted, (sheet.title, head, cell.number_format)


for name, factor in roofs():
    book = openpyxl.load_workbook(FOLDER / f"{name}.xlsx")
    assert book.sheetnames == ["Cut list", "Placements", "Layout marks"]
    unit = "in" if factor == 1.0 else "mm"
    frame = report(name)
    job = next((used["value"] for used in frame["used"] if used["key"] == "job.name"), None)
    check_looks(book, job or "Roof frame", LETTER if factor == 1.0 else A4)
    listed = rows(book, "Cut list")
    assert len(listed) == len(frame["sticks"])
    for row, stick in zip(listed, frame["sticks"]):
        assert (row["mark"], row["what"], row["count"]) == (stick["mark"], stick["role"], stick["count"])
        assert row["order, ft"] == stick["order_length_ft"]
        for head, key in [
            (f"thickness, {unit}", "thickness_in"),
            (f"depth, {unit}", "depth_in"),
            (f"blank, {unit}", "blank_in"),
            (f"top edge, {unit}", "length_top_in"),
            (f"bottom edge, {unit}", "length_bottom_in"),
        ]:
            close(row[head], stick[key] * factor, what=f"{stick['mark']} {head}")
        close(row["volume of one, cubic inches"], stick["volume_in3"])
        for end, told in zip(("start", "end"), stick["ends"]):
            assert row[f"{end} cut"] == told["cut"]
            close(row[f"{end} miter, deg"], told["miter_deg"])
            close(row[f"{end} bevel, deg"], told["bevel_deg"])
        assert (row["other cuts"] or "") == "; ".join(cut["cut"] for cut in stick["other_cuts"])
    placed = rows(book, "Placements")
    wanted = sticks(name)
    assert [row["id"] for row in placed] == list(wanted)
    for row in placed:
        stick, place = wanted[row["id"]]
        assert row["mark"] == stick["mark"]
        for number, axis in enumerate("xyz"):
            close(row[f"{axis}, {unit}"], place[f"{axis}_in"] * factor)
            close(row[f"along {axis}"], place["along"][number])
            close(row[f"up {axis}"], place["up"][number])
    marks = [
        (line["on"], what, mark)
        for line in report(name, "layout.json")["lines"]
        for what, key in (("rafter", "marks_in"), ("joist", "joist_marks_in"))
        for mark in line[key]
    ]
    told = rows(book, "Layout marks")
    assert len(told) == len(marks)
    for row, (on, what, mark) in zip(told, marks):
        assert (row["on"], row["what"]) == (on, what)
        close(row[f"mark, {unit}"], mark * factor)

    with open(FOLDER / f"{name}.csv", newline="") as file:
        lines = list(csv.DictReader(file))
    assert [line["id"] for line in lines] == list(wanted)
    for line in lines:
        stick, place = wanted[line["id"]]
        for key in ("x_in", "y_in", "z_in"):
            close(float(line[key]), place[key])
        for key in ("blank_in", "volume_in3", "length_top_in"):
            close(float(line[key]), stick[key])

    order = report(name, "order.json")
    book = openpyxl.load_workbook(FOLDER / f"{name}.order.xlsx")
    check_looks(book, job or "Order", book["Order"].page_setup.paperSize)
    listed = [row for row in rows(book, "Order") if row["count"] is not None]
    assert len(listed) == len(order["lines"]) > 0
    for row, line in zip(listed, order["lines"]):
        assert (row["trade"], row["unit"]) == (line["trade"], line["unit"])
        close(row["count"], line["count"])
        assert (row["length, in"] is None) == (line["length_in"] is None)
        if line["length_in"] is not None:
            close(row["length, in"], line["length_in"])
    bars = rows(book, "Cut plan")
    used = {}
    for bar in bars:
        used[bar["section"]] = used.get(bar["section"], 0) + bar["sticks"]
    assert sorted(used.values()) == sorted(section["bars_used"] for section in order["sections"])
    print(f"{name}: spreadsheets and CSV equal the JSON, {len(placed)} sticks, {len(marks)} marks")
