"""Reads the codes of a class set from its pages with a reader of its own.

Usage: inspect_codes.py FOLDER. Renders the worksheets at 150 dpi (pdftoppm) and reads each page (zbarimg): the first page
of every sheet must show the code in the record, and nothing else may be readable anywhere.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

folder = pathlib.Path(sys.argv[1])
record = json.loads((folder / "set.json").read_text(encoding="utf-8"))
found = []
with tempfile.TemporaryDirectory() as scratch:
    for path in sorted(folder.glob("worksheets*.pdf")):
        stem = pathlib.Path(scratch) / path.stem
        subprocess.run(["pdftoppm", "-r", "150", "-gray", "-png", path, stem], check=True)
    for picture in sorted(pathlib.Path(scratch).glob("*.png")):
        read = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", picture], capture_output=True, text=True)
        found += read.stdout.split()
wanted = [student["code"] for student in record["students"]]
if found != wanted:
    sys.exit(f"{folder}: read {found}, recorded {wanted}")
print(f"{len(found)} codes read back from pages at 150 dpi")
