"""Looks at a set's form from outside: what is locked, text, or to be chosen. Then opens form and marks with LibreOffice:
totals recalculated there agree with marks.csv, and a form that was saved there as ods and as csv is marked like the one
that was typed.

Usage: inspect_marks.py PROGRAM SETDIR. Fills the form with the right answers of set.json, some of them changed.
"""
import csv
import json
import pathlib
import subprocess
import sys
import tempfile

import openpyxl

# Fields set apart by commas, texts in quotes, UTF-8.
CSV = "csv:Text - txt - csv (StarCalc):44,34,76"
program, folder = sys.argv[1], pathlib.Path(sys.argv[2])
record = json.loads((folder / "set.json").read_text(encoding="utf-8"))
tasks = {task["id"]: task for task in record["tasks"]}


def guard():
    """The form lets answers be typed and nothing else, and offers what can be chosen."""
    sheet = openpyxl.load_workbook(folder / "answers.xlsx").worksheets[0]
    heads = [cell.value for cell in sheet[1]]
    faults = []
    if not sheet.protection.sheet or sheet.protection.password:
        faults.append("the sheet must be protected, without a password")
    if sheet.freeze_panes != "C3" or sheet.print_title_rows != "$1:$2" or sheet.page_setup.orientation != "landscape":
        faults.append("heads must stay in view and on each printed page")
    rules = {}
    for rule in sheet.data_validations.dataValidation:
        for area in rule.sqref.ranges:
            rules.update({place: rule for place in area.cells})
    for row, student in enumerate(record["students"], 3):
        own = [task for task in tasks.values() if student["edition"] in task["editions"]]
        for column, head in enumerate(heads, 1):
            cell, rule, task = sheet.cell(row, column), rules.get((row, column)), tasks.get(head)
            if cell.protection.locked != (head in ("id", "name") or cell.value == "x"):
                faults.append(f"{cell.coordinate}: lock")
            if task in own and cell.number_format != "@":
                faults.append(f"{cell.coordinate}: {cell.number_format} in place of text")
            if task and task["kind"] != "number":
                counts = ",".join(str(count) for count in range(task["marks"] + 1))
                if not rule or (rule.type, rule.formula1, rule.errorStyle) != ("list", f'"{counts}"', "warning"):
                    faults.append(f"{cell.coordinate}: choices")
            elif head == "override":
                most = str(sum(task["marks"] for task in own))
                if not rule or (rule.type, rule.formula1, rule.formula2, rule.allowBlank) != ("whole", "0", most, True):
                    faults.append(f"{cell.coordinate}: total")
            elif rule:
                faults.append(f"{cell.coordinate}: a rule too many")
    if faults:
        sys.exit("\n".join(faults))


def fill(path):
    """Types answers into the form, as a teacher would."""
    book = openpyxl.load_workbook(folder / "answers.xlsx")
    sheet = book.worksheets[0]
    heads = [cell.value for cell in sheet[1]]
    for row, student in enumerate(record["students"], 3):
        for column, head in enumerate(heads, 1):
            task = tasks.get(head)
            if task is None or student["edition"] not in task["editions"]:
                continue
            if task["kind"] != "number":
                sheet.cell(row, column).value = str((row + column) % (task["marks"] + 1))
            elif (row + column) % 7 == 0:
                sheet.cell(row, column).value = "-"
            elif (row + column) % 5 == 0:
                sheet.cell(row, column).value = f"{student['answers'][head]['value'] * 1.5:.4g}"
            else:
                sheet.cell(row, column).value = student["answers"][head]["text"]
    sheet.cell(3, heads.index("override") + 1).value = 5
    sheet.cell(3, heads.index("reason") + 1).value = "came late"
    book.save(path)


def office(kind, source, target):
    subprocess.run(["soffice", "--headless", "--convert-to", kind, "--outdir", target, source], check=True, capture_output=True)
    return pathlib.Path(target) / (pathlib.Path(source).stem + "." + kind.split(":")[0])


def mark(form, lang="en"):
    done = subprocess.run([program, "mark", folder, "--answers", form, "--json", "--lang", lang], capture_output=True, text=True)
    if done.returncode:
        sys.exit(f"{form}: {done.stderr}")
    return json.loads(done.stdout)


guard()
with tempfile.TemporaryDirectory() as scratch:
    typed = pathlib.Path(scratch) / "typed.xlsx"
    fill(typed)
    # Saved by another spreadsheet, as each format that teachers have; a csv with semicolons and the German way.
    forms = [typed] + [office(kind, typed, scratch) for kind in ("ods", CSV.replace("44", "59"))]
    marked = [mark(form) for form in forms]
    for form, other in zip(forms[1:], marked[1:]):
        if other["students"] != marked[0]["students"]:
            sys.exit(f"{form.name} is marked otherwise than {typed.name}")
    # Saved without the results that stand beside the formulas, so that they must be computed again.
    bare = pathlib.Path(scratch) / "marks.xlsx"
    openpyxl.load_workbook(folder / "marked" / "marks.xlsx").save(bare)
    book = office(CSV, bare, scratch)
    with book.open(encoding="utf-8") as file:
        recalculated = list(csv.DictReader(file))[1:]
    with (folder / "marked" / "marks.csv").open(encoding="utf-8-sig") as file:
        computed = list(csv.DictReader(file))
    totals = [(row["id"], float(row["total"])) for row in recalculated]
    if totals != [(row["id"], float(row["total"])) for row in computed] or totals[0][1] != 5:
        sys.exit(f"LibreOffice has other totals: {totals}")
    print(f"{folder.name}: {len(totals)} totals recalculated, {len(forms)} formats of the form marked alike")
