"""What stands on the pages of a PDF, as data: words and letters with the boxes of their ink, lines, white grounds, in painting order.

In goes a path, out come one `Page` for each page; lengths are in millimetres from the upper left corner. Judges nothing.
Read by pdfium: the boxes of `pdftotext -bbox` span the font's height, whatever the ink, and tick numbers that run together are one
word there (10.010.511.0), without any overlap. A letter that lies on the same letter of its neighbour is read once.
"""
import ctypes
import dataclasses

import numpy
import pypdfium2
import pypdfium2.raw as raw

MM = 72 / 25.4
WHITE = 250
PAPER_LINES = 8
ZERO_WIDTH = 0x200B


@dataclasses.dataclass
class Page:
    width: float
    height: float
    words: list  # what each says; a word ends where its text object ends
    boxes: numpy.ndarray  # left, top, right, bottom of each word's ink
    sizes: numpy.ndarray  # of its font
    places: numpy.ndarray  # of its text object in the painting order
    letters: list  # the boxes of its letters
    lines: numpy.ndarray  # x, y, x, y, half the stroke's width, place in the painting order, 1 where it is of graph paper
    grounds: numpy.ndarray  # left, top, right, bottom, place in the painting order: filled with white
    darkness: float  # share of black, at 40 dots an inch


def lightness(getter, item):
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    getter(item, red, green, blue, alpha)
    return min(red.value, green.value, blue.value) if alpha.value else 255


def points(item):
    """The corners of a path, its pieces (a curved one as six chords), and how much its matrix widens strokes."""
    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(item, matrix)
    corners, pieces, start = [], [], None
    x, y = ctypes.c_float(), ctypes.c_float()
    curved = []
    for number in range(raw.FPDFPath_CountSegments(item)):
        segment = raw.FPDFPath_GetPathSegment(item, number)
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        place = (matrix.a * x.value + matrix.c * y.value + matrix.e, matrix.b * x.value + matrix.d * y.value + matrix.f)
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            start = place
        elif kind == raw.FPDF_SEGMENT_LINETO:
            pieces.append((*corners[-1], *place))
        else:
            curved.append(place)
            if len(curved) == 3:
                before = numpy.array(corners[-3])
                one, two, three = (numpy.array(point) for point in curved)
                share = numpy.linspace(0, 1, 7)[:, None]
                way = (1 - share) ** 3 * before + 3 * share * (1 - share) ** 2 * one + 3 * share ** 2 * (1 - share) * two + share ** 3 * three
                pieces += [(*way[step], *way[step + 1]) for step in range(6)]
                curved = []
        corners.append(place)
        if raw.FPDFPathSegment_GetClose(segment) and start is not None:
            pieces.append((*place, *start))
    return corners, pieces, (abs(matrix.a * matrix.d - matrix.b * matrix.c)) ** 0.5


def is_paper(pieces):
    """Whether a path is graph paper: many lines, all upright or level, over more than 20 mm each way."""
    if len(pieces) < PAPER_LINES:
        return False
    ends = numpy.array(pieces).reshape(-1, 2, 2)
    straight = (numpy.abs(ends[:, 0] - ends[:, 1]) < 0.01).any(axis=1)
    return bool(straight.all() and (numpy.ptp(ends.reshape(-1, 2), axis=0) > 20 * MM).all())


def drawn(page, height):
    """Lines, white grounds, and the place of every object by its address."""
    lines, grounds, order = [], [], {}
    fill, stroke, width = ctypes.c_int(), ctypes.c_int(), ctypes.c_float()
    for place in range(raw.FPDFPage_CountObjects(page)):
        item = raw.FPDFPage_GetObject(page, place)
        order[ctypes.addressof(item.contents)] = place
        if raw.FPDFPageObj_GetType(item) != raw.FPDF_PAGEOBJ_PATH:
            continue
        raw.FPDFPath_GetDrawMode(item, fill, stroke)
        corners, pieces, scale = points(item)
        stroked = stroke.value and lightness(raw.FPDFPageObj_GetStrokeColor, item) < WHITE
        filled = fill.value and lightness(raw.FPDFPageObj_GetFillColor, item)
        if stroked or (fill.value and filled < WHITE):
            raw.FPDFPageObj_GetStrokeWidth(item, width)
            half = width.value * scale / 2 if stroked else 0
            paper = is_paper(pieces)
            lines += [(a, height - b, c, height - d, half, place * MM, paper * MM) for a, b, c, d in pieces]
        if fill.value and filled >= WHITE:
            xs, ys = zip(*corners)
            grounds.append((min(xs), height - max(ys), max(xs), height - min(ys), place * MM))
    return numpy.array(lines).reshape(-1, 7) / MM, numpy.array(grounds).reshape(-1, 5) / MM, order


def written(textpage, height, order):
    """Words, their sizes and places, and the boxes of their letters."""
    words, sizes, places, letters = [], [], [], []
    left, right, bottom, top = (ctypes.c_double() for _ in range(4))
    fresh = True
    for number in range(raw.FPDFText_CountChars(textpage)):
        code = raw.FPDFText_GetUnicode(textpage, number)
        item = raw.FPDFText_GetTextObject(textpage, number)
        if not item or chr(code).isspace():
            fresh = True
            continue
        if 0xDC00 <= code < 0xE000 or code == ZERO_WIDTH:  # the second half of a letter of mathematics; a place to break
            continue
        if 0xD800 <= code < 0xDC00:
            code = 0x10000 + (code - 0xD800 << 10) + (raw.FPDFText_GetUnicode(textpage, number + 1) - 0xDC00)
        place = order[ctypes.addressof(item.contents)]
        if fresh or place != places[-1]:
            words.append("")
            sizes.append(raw.FPDFText_GetFontSize(textpage, number) / MM)
            places.append(place)
            letters.append([])
            fresh = False
        words[-1] += chr(code)
        raw.FPDFText_GetCharBox(textpage, number, left, right, bottom, top)
        letters[-1].append((left.value / MM, (height - top.value) / MM, right.value / MM, (height - bottom.value) / MM))
    return words, numpy.array(sizes), numpy.array(places, dtype=int), [numpy.array(boxes) for boxes in letters]


def hulls(letters):
    return numpy.array([(*boxes[:, :2].min(axis=0), *boxes[:, 2:].max(axis=0)) for boxes in letters]).reshape(-1, 4)


def pages(path):
    with pypdfium2.PdfDocument(path) as document:
        for number in range(len(document)):
            page = document[number]
            textpage = page.get_textpage()
            lines, grounds, order = drawn(page, page.get_height())
            words, sizes, places, letters = written(textpage, page.get_height(), order)
            darkness = 1 - page.render(scale=40 / 72, grayscale=True).to_numpy().mean() / 255
            yield Page(
                page.get_width() / MM, page.get_height() / MM, words, hulls(letters), sizes, places, letters, lines, grounds, darkness,
            )
            textpage.close()
            page.close()
