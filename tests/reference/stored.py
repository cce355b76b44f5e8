"""Writes a table of reference values, or compares it with the stored one (--check)."""
import csv
import pathlib
import sys


def keep(name, header, rows, tolerance):
    """rows: lists of text and numbers; numbers are compared relative to their size."""
    path = pathlib.Path(__file__).with_name(name)
    if "--check" not in sys.argv:
        with path.open("w", newline="") as file:
            writer = csv.writer(file, lineterminator="\n")
            writer.writerow(header)
            writer.writerows([[repr(cell) if isinstance(cell, float) else cell for cell in row] for row in rows])
        print(f"{name}: {len(rows)} rows written")
        return
    with path.open() as file:
        stored = list(csv.reader(file))[1:]
    if len(stored) != len(rows):
        sys.exit(f"{name}: {len(rows)} rows made, {len(stored)} stored")
    for made, kept in zip(rows, stored):
        for cell, text in zip(made, kept):
            if isinstance(cell, float):
                if abs(cell - float(text)) > tolerance * max(abs(cell), 1e-30):
                    sys.exit(f"{name}: {made} made, {kept} stored")
            elif str(cell) != text:
                sys.exit(f"{name}: {made} made, {kept} stored")
    print(f"{name}: {len(rows)} rows agree within {tolerance}")
