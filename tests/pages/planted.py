"""Pages with planted faults, and sound ones beside them, given as boxes: whether `clear` tells them apart.

A word is (text, left, top, right, bottom, size of the font, place in the painting order), in millimetres; it has one letter, its box.
"""
import sys

import clear
import numpy
import placed

GRID = [(20, 20 + step, 80, 20 + step, 0.1, 1, 1) for step in range(41)] + [(20 + step, 20, 20 + step, 60, 0.1, 1, 1) for step in range(61)]
CASES = [
    ("a word in the middle", [("water", 50, 50, 60, 53, 4, 0)], [], [], []),
    ("a word beyond the edge", [("water", 204, 50, 214, 53, 4, 0)], [], [], ["too near to the edge of the page"]),
    ("a word 4 mm from the foot", [("water", 50, 290, 60, 293, 4, 0)], [], [], ["too near to the edge of the page"]),
    ("a label over another", [("lamp", 50, 50, 60, 53, 4, 0), ("pump", 58, 52, 70, 55, 4, 1)], [], [], ["one over the other"]),
    ("a label on the same place", [("lamp", 50, 50, 60, 53, 4, 0), ("pump", 50, 50, 60, 53, 4, 1)], [], [], ["one over the other"]),
    ("two lines of a text", [("lamp", 50, 50, 60, 53.9, 4, 0), ("pump", 50, 55, 60, 58.9, 4, 1)], [], [], []),
    ("a subscript under its letter", [("f", 50, 50, 52, 54, 4, 0), ("y", 51.8, 52.5, 53, 55, 2.8, 1)], [], [], []),
    ("a subscript on its letter", [("f", 50, 50, 52, 54, 4, 0), ("y", 51, 52.5, 53, 55, 2.8, 1)], [], [], ["one over the other"]),
    (
        "a cell's text in the next cell",
        [("temperature", 50, 50, 72, 53, 4, 0), ("20.0", 75, 50, 80, 53, 4, 1)],
        [(70, 48, 70, 56, 0.1, 2, 0)], [], ["met by a line"],
    ),
    ("a cell's text over the next cell's", [("temperature", 50, 50, 72, 53, 4, 0), ("20.0", 70, 50, 77, 53, 4, 1)], [], [], ["one over the other"]),
    ("a title in a box", [("Heating", 50, 50, 90, 56, 7, 0)], [(80, 40, 80, 60, 0.2, 1, 0), (80, 40, 120, 40, 0.2, 1, 0)], [], ["met by a line"]),
    ("a title above a box", [("Heating", 50, 50, 90, 56, 7, 0)], [(40, 56.4, 120, 56.4, 0.2, 1, 0)], [], []),
    ("a subscript on the rule below", [("p", 50, 50, 51, 52, 3, 0)], [(40, 51.9, 90, 51.9, 0.2, 1, 0)], [], ["met by a line"]),
    ("tick numbers in each other", [("0.10", 50, 50, 57, 53, 4, 0), ("0.15", 56, 50, 63, 53, 4, 1)], [], [], ["one over the other"]),
    (
        "tick numbers against each other",
        [("0.10", 50, 50, 57, 53, 4, 0), ("0.15", 57.3, 50, 64, 53, 4, 1)], [], [], ["numbers run together, apart by"],
    ),
    ("tick numbers with a gap", [("0.10", 50, 50, 57, 53, 4, 0), ("0.15", 58, 50, 65, 53, 4, 1)], [], [], []),
    ("digits of a formula", [("3", 50, 50, 52, 53, 4, 0), ("1", 52.3, 50, 54, 53, 4, 1)], [], [], []),
    ("a fraction and its bar", [("3", 50, 50, 52, 53, 4, 0), ("4", 50, 54, 52, 57, 4, 1)], [(49, 53.5, 53, 53.5, 0.1, 2, 0)], [], []),
    ("a line through a label", [("plate", 50, 50, 60, 53, 4, 3)], [(55, 40, 55, 70, 0.1, 1, 0)], [], ["met by a line"]),
    ("the same with a white ground", [("plate", 50, 50, 60, 53, 4, 3)], [(55, 40, 55, 70, 0.1, 1, 0)], [(49, 49, 61, 54, 2)], []),
    ("a white ground under the line", [("plate", 50, 50, 60, 53, 4, 3)], [(55, 40, 55, 70, 0.1, 2, 0)], [(49, 49, 61, 54, 1)], ["met by a line"]),
    ("a leader at a descender", [("plug", 50, 50, 60, 54, 4, 3)], [(55, 53.6, 65, 80, 0.1, 1, 0)], [], ["met by its leader"]),
    ("a leader through its label", [("plug", 50, 50, 60, 54, 4, 3)], [(55, 51.5, 65, 80, 0.1, 1, 0)], [], ["met by a line"]),
    ("a label on graph paper", [("T", 50, 40, 53, 43, 4, 3)], GRID + [(20, 60, 80, 20, 0.2, 2, 0)], [], []),
    ("a title on the paper's rule", [("T", 50, 63, 53, 66, 4, 3)], GRID + [(20, 64, 120, 64, 0.2, 2, 0)], [], ["met by a line"]),
]


def page(words, lines, grounds):
    boxes = numpy.array([word[1:5] for word in words], dtype=float)
    return placed.Page(
        210.0, 297.0, [word[0] for word in words], boxes, numpy.array([word[5] for word in words], dtype=float),
        numpy.array([word[6] for word in words]), [box[None, :] for box in boxes],
        numpy.array(lines, dtype=float).reshape(-1, 7), numpy.array(grounds, dtype=float).reshape(-1, 5), 0.0,
    )


def check():
    for name, words, lines, grounds, wanted in CASES:
        found = [fault.what for fault in clear.faults(page(words, lines, grounds))]
        if found != wanted:
            sys.exit(f"{name}: found {found}, planted {wanted}")
    return len(CASES)
