"""Looks at every word of printed class sets from outside: edges, words over words, lines through words, ink, empty pages.

Usage: inspect_words.py FOLDER..., or inspect_words.py --self-test. All pages of all PDFs are read. Ends with an error where
there are faults, and prints each; what is printed as a note is no fault.
"""
import collections
import json
import pathlib
import sys

import clear
import placed

INK = {"worksheets": 1.0, "keys": 1.0, "teacher": 1.0, "grid": 1.0, "cover": 1.0}
MARGIN = 20.0  # mm at the top and the foot that names, codes and page numbers may take
EMPTY = 0.12  # of the height between the margins
NOTES = 2  # pages of teacher's notes at most


def used(page):
    """Share of the height between the margins down to the lowest word or line."""
    foot = page.height - MARGIN
    lowest = [bottom for bottom in [*page.boxes[:, 3], *page.lines[:, [1, 3]].ravel()] if MARGIN < bottom < foot]
    return (max(lowest, default=MARGIN) - MARGIN) / (foot - MARGIN)


def ends(record):
    """The last page of each student's worksheet, by its number in the bound file where there is one file."""
    at, found = 0, {}
    for student in record["students"]:
        found[at + student["pages"]] = student
        at += student["pages"] + student["pages"] % 2
    return found


def inspect(folder):
    record = json.loads((folder / "set.json").read_text(encoding="utf-8"))
    faults, notes, worst, counted = collections.defaultdict(list), collections.Counter(), collections.Counter(), 0
    first = 0
    for path in sorted(folder.glob("*.pdf")):
        kind = path.stem.split("-")[0]
        number = 0
        for number, page in enumerate(placed.pages(path), 1):
            for fault in clear.faults(page):
                faults[path.name, f"{fault.what}: {' | '.join(fault.words)} ({fault.mm:.1f} mm)"].append(number)
            worst[kind] = max(worst[kind], page.darkness)
            if page.darkness > INK[kind]:
                faults[path.name, f"{page.darkness:.1%} of the page is black"].append(number)
            student = ends(record).get(first + number) if kind == "worksheets" else None
            if student and used(page) < EMPTY:
                notes[student["edition"], student["lang"], student["print"], round(used(page), 2)] += 1
        counted += number
        first += number if kind == "worksheets" else 0
        if kind == "teacher" and number > NOTES:
            faults[path.name, f"{number} pages of teacher's notes"].append(number)
    return faults, notes, worst, counted


def main(folders):
    sound = True
    for folder in folders:
        faults, notes, worst, counted = inspect(folder)
        for (edition, lang, size, share), sheets in sorted(notes.items()):
            print(f"note: {folder.name}: {edition}, {lang}, {size} print: last page used to {share:.0%} ({sheets} sheets)")
        for (name, text), at in faults.items():
            more = f" and {len(at) - 3} more" if len(at) > 3 else ""
            print(f"{folder.name}/{name}, page {', '.join(map(str, at[:3]))}{more}: {text}")
        if not faults:
            print(f"{folder.name}: {counted} pages, words clear; most ink " + ", ".join(
            f"{kind} {share:.1%}" for kind, share in sorted(worst.items())))
        sound &= not faults
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main([pathlib.Path(name) for name in sys.argv[1:]]))
