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
import planted

# Share of black at most. The worst page of the whole catalogue (31 experiments, both papers, four languages, November 2026) has
# 16.9 % among worksheets and 18.8 % among keys, each with graph paper over the page, 13.3 % among grids, 5.9 % and 8.4 % among
# notes and covers; the middle page of a worksheet has 4 %. What is above would be a fill or graph paper drawn too strong.
INK = {"worksheets": 0.19, "keys": 0.21, "teacher": 0.08, "grid": 0.15, "cover": 0.10}
MOST_INK = max(INK.values())
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
    """Faults and notes, the same on several pages together; the most ink of each kind of document; how many pages there are."""
    record = json.loads((folder / "set.json").read_text(encoding="utf-8"))
    faults, notes, worst = collections.defaultdict(list), collections.defaultdict(list), collections.Counter()
    counted = first = 0
    for path in sorted(folder.rglob("*.pdf")):
        kind = path.stem.split("-")[0]
        number = 0
        for number, page in enumerate(placed.pages(path), 1):
            for fault in clear.faults(page):
                # Names and codes stand at the edge: what is wrong with one page there is wrong with all.
                same = None if fault.what == clear.AT_EDGE else fault.words
                text = f"{fault.what}: {' | '.join(fault.words[:6])} ({fault.mm:.1f} mm)"
                (faults if fault.grave else notes)[path.name, fault.what, same].append((number, text))
            worst[kind] = max(worst[kind], page.darkness)
            if page.darkness > INK.get(kind, MOST_INK):
                faults[path.name, "ink", None].append((number, f"{page.darkness:.1%} of the page is black, {INK.get(kind, MOST_INK):.0%} at most"))
            student = ends(record).get(first + number) if kind == "worksheets" else None
            if student and used(page) < EMPTY:
                who = (student["edition"], student["lang"], student["print"])
                text = f"nearly empty at the end: {', '.join(who)} print, {used(page):.0%} of the height used"
                notes[path.name, "empty", who].append((number, text))
        counted += number
        first += number if kind == "worksheets" else 0
        if kind == "teacher" and number > NOTES:
            faults[path.name, "notes", None].append((number, f"{number} pages of teacher's notes, {NOTES} at most"))
    return faults, notes, worst, counted


def told(folder, found, kind):
    for (name, _, _), places in found.items():
        pages = list(dict.fromkeys(str(number) for number, _ in places))
        more = f" and {len(pages) - 3} more" if len(pages) > 3 else ""
        yield f"{kind}: {folder.name}/{name}, page {', '.join(pages[:3])}{more}: {places[0][1]}"


def report(folder):
    """The lines to print, and whether the set is sound."""
    faults, notes, worst, counted = inspect(folder)
    lines = [*told(folder, notes, "note"), *told(folder, faults, "fault")]
    if not faults:
        most = ", ".join(f"{kind} {share:.1%}" for kind, share in sorted(worst.items()))
        lines.append(f"{folder.name}: words clear on {counted} pages; most ink: {most}")
    return lines, not faults


def main(names):
    if names == ["--self-test"]:
        print(f"{planted.check()} planted pages judged as they should be")
        return 0
    sound = True
    for name in names:
        lines, clean = report(pathlib.Path(name))
        print("\n".join(lines))
        sound &= clean
    return 0 if sound else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
