"""What is wrong with where words stand on a page, as data. In goes a `placed.Page`, out come faults; opens no file.

The tolerances were measured on class sets of the whole catalogue in four languages, both prints and both papers.
"""
import dataclasses
import re

import numpy

AT_EDGE = "too near to the edge of the page"
EDGE = 5.0  # mm that a printer may leave white
# Shares of the larger font's size. Sound pages stay below 0.03 (a subscript above a superscript of the next line); a subscript
# that is tucked under the letter it belongs to reaches 0.06 (f with y). The boxes are those of the letters' ink.
OVERLAP = 0.03
SCRIPT_OVERLAP = 0.08
SCRIPT = 0.8  # a script is at most so large as a share of its letter; those of the pages are 0.7 and 0.72
# Between whole numbers on one line; a space is 0.2 of the font's size. Digits within a formula are text objects of one digit each.
NUMBER_GAP = 0.2
NUMBER = re.compile(r"[−+-]?\d[\d.,]+$")
# How far the ink of a line may reach into that of a letter, in millimetres.
TOUCH = 0.1
MARK = 2.0  # mm that marks of readings and arrows of axes reach beyond the paper
ROOT = "√"  # its sign meets the bar above what it covers


# A leader of a drawing begins under its label and may meet a descender there (g of Eingang in large print: 0.7 mm).
LEADER = 0.8


@dataclasses.dataclass
class Fault:
    what: str
    words: tuple
    mm: float
    grave: bool = True


def common(one, other):
    """How deep boxes lie in each other: the smaller of the two directions; negative is a distance."""
    across = numpy.minimum(one[:, None, 2], other[None, :, 2]) - numpy.maximum(one[:, None, 0], other[None, :, 0])
    down = numpy.minimum(one[:, None, 3], other[None, :, 3]) - numpy.maximum(one[:, None, 1], other[None, :, 1])
    return across, down


def edges(page):
    away = numpy.column_stack([page.boxes[:, :2], page.width - page.boxes[:, 2], page.height - page.boxes[:, 3]])
    near = numpy.flatnonzero(away.min(axis=1) < EDGE)
    if len(near):
        yield Fault(AT_EDGE, tuple(page.words[number] for number in near), round(away.min(), 2))


def overlaps(page):
    """Words in or against each other. Those of one text object are set by the font and not looked at."""
    across, down = common(page.boxes, page.boxes)
    apart = numpy.triu(page.places[:, None] != page.places[None, :])
    for one, other in zip(*numpy.nonzero(apart & (numpy.minimum(across, down) > 0))):
        depth = numpy.minimum(*common(page.letters[one], page.letters[other])).max()
        small, large = sorted((page.sizes[one], page.sizes[other]))
        if depth > large * (SCRIPT_OVERLAP if small <= large * SCRIPT else OVERLAP):
            yield Fault("one over the other", (page.words[one], page.words[other]), round(depth, 2))
    numbers = numpy.array([bool(NUMBER.match(word)) for word in page.words], dtype=bool)
    size = page.sizes[:, None]
    level = (numpy.abs(page.boxes[:, None, 3] - page.boxes[None, :, 3]) < 0.1 * size) & (size == page.sizes[None, :])
    close = apart & numbers[:, None] & numbers[None, :] & level & (across <= 0) & (across > -NUMBER_GAP * size)
    for one, other in zip(*numpy.nonzero(close)):
        yield Fault("numbers run together, apart by", (page.words[one], page.words[other]), round(-across[one, other], 2))


def crossing(line, box, reach):
    """The ends of the part of a line that lies in a box widened by `reach`; nothing where it passes by."""
    start, way = line[:2], line[2:4] - line[:2]
    begin, end = 0.0, 1.0
    for axis in (0, 1):
        low, high = box[axis] - reach, box[axis + 2] + reach
        if abs(way[axis]) < 1e-9:
            if not low < start[axis] < high:
                return None
        else:
            first, last = sorted(((low - start[axis]) / way[axis], (high - start[axis]) / way[axis]))
            begin, end = max(begin, first), min(end, last)
    return numpy.array([start + begin * way, start + end * way]) if begin < end else None


def hidden(page, line, part, place):
    """Whether a white ground between the line and the word covers that part of the line."""
    (left, top), (right, bottom) = part.min(axis=0), part.max(axis=0)
    grounds = page.grounds
    between = (grounds[:, 4] > line[5]) & (grounds[:, 4] < place)
    slack = line[4] + TOUCH  # the part was cut from a widened box
    covers = (grounds[:, 0] < left + slack) & (grounds[:, 1] < top + slack)
    return bool((between & covers & (grounds[:, 2] > right - slack) & (grounds[:, 3] > bottom - slack)).any())


def in_graphs(lines):
    """Which lines are graph paper or lie on it: curves and marks may meet numbers of axes, labels have a white ground there."""
    inside = lines[:, 6] == 1
    for place in numpy.unique(lines[inside, 5]):
        ends = lines[(lines[:, 5] == place) & (lines[:, 6] == 1), :4].reshape(-1, 2)
        low, high = ends.min(axis=0) - MARK, ends.max(axis=0) + MARK
        inside |= (lines[:, :2] > low).all(axis=1) & (lines[:, 2:4] > low).all(axis=1) \
            & (lines[:, :2] < high).all(axis=1) & (lines[:, 2:4] < high).all(axis=1)
    return inside


def borders(page):
    """Lines through words: each word once, with the worst line. What is drawn in a graph is left out."""
    lines = page.lines[~in_graphs(page.lines)]
    half = lines[:, 4]
    reach = numpy.column_stack([
        numpy.minimum(lines[:, 0], lines[:, 2]) - half, numpy.minimum(lines[:, 1], lines[:, 3]) - half,
        numpy.maximum(lines[:, 0], lines[:, 2]) + half, numpy.maximum(lines[:, 1], lines[:, 3]) + half,
    ])
    deepest = {}
    for number, at in zip(*numpy.nonzero(numpy.minimum(*common(page.boxes, reach)) > TOUCH)):
        if page.words[number] == ROOT:
            continue
        line = lines[at]
        for letter in page.letters[number]:
            part = crossing(line, letter, line[4] - TOUCH)
            if part is None or hidden(page, line, part, page.places[number]):
                continue
            along = numpy.vstack([part, part.mean(axis=0)])
            inner = numpy.minimum(along - letter[:2], letter[2:] - along).min(axis=1).max()
            leader = is_leader(line, page.boxes[number]) and inner + line[4] < LEADER
            deepest[number] = max(deepest.get(number, (False, TOUCH)), (not leader, inner + line[4]))
    for number, (grave, depth) in deepest.items():
        yield Fault("met by a line" if grave else "met by its leader", (page.words[number],), round(depth, 2), grave)


def is_leader(line, box):
    """Whether a line that is not level ends in a box."""
    ends = line[:4].reshape(2, 2)
    return bool(abs(line[1] - line[3]) > 0.1 and ((ends > box[:2]) & (ends < box[2:])).all(axis=1).any())


def faults(page):
    return [*edges(page), *overlaps(page), *borders(page)] if page.words else []
