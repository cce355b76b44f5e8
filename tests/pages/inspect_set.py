"""Looks at a printed class set from outside: standards, sizes, words, millimetres, odd pages.

Usage: inspect_set.py FOLDER. Ends with an error on the first fault.
Tools: page-validation (PDF/UA-1 and PDF/A-2a rules), pdfplumber (words and lines with their places).
"""
import collections
import json
import pathlib
import re
import sys

import page
import pdfplumber

MM = 72 / 25.4
LIMITS = page.SafetyLimits(max_reference_depth=4096)
folder = pathlib.Path(sys.argv[1])
record = json.loads((folder / "set.json").read_text(encoding="utf-8"))


def fail(text):
    sys.exit(f"{folder}: {text}")


def length_holds(data, start):
    """Whether /Length of the stream whose object begins at `start` reaches to the line feed before `endstream`.

    A compressed stream may end in a carriage return by chance; the validator then takes it for a part of the end of line.
    """
    length = int(re.search(rb"/Length (\d+)", data[start:]).group(1))
    body = data.index(b"stream\n", start) + len(b"stream\n")
    return data[body + length:].startswith(b"\nendstream")


def lengths_hold(data, failure):
    """The same for the object of a failure, or for all streams where the validator names none."""
    if failure.object_id is not None:
        return length_holds(data, data.index(b"\n%d 0 obj" % failure.object_id.object_number))
    starts = [found.start() for found in re.finditer(rb"\n\d+ 0 obj\n<<[^>]*?/Length \d+", data)]
    return bool(starts) and all(length_holds(data, start) for start in starts)


def standards():
    # The papers that marking gives lie in a folder within.
    for path in sorted(folder.rglob("*.pdf")):
        for profile in ("PDF_UA_1", "PDF_A_2A"):
            report = page.validate_pdf(path, profile=getattr(page.ValidationProfile, profile), limits=LIMITS)
            failures = [
                failure for failure in report.failures
                if not (failure.rule_id.endswith("STREAM-LENGTH-001")
                        and lengths_hold(path.read_bytes(), failure))
            ]
            if failures:
                fail(f"{path.name} breaks {profile}: {[failure.message for failure in failures[:5]]}")
    print("PDF/UA-1 and PDF/A-2a: every file conforms")


def sheets():
    """Every sheet starts on an odd page; name, code, class and the count of pages stand on each."""
    pages = []
    for path in sorted(folder.glob("worksheets*.pdf")):
        with pdfplumber.open(path) as document:
            for number, found in enumerate(document.pages, 1):
                words = found.extract_words()
                for word in words:
                    if word["x0"] < 5 * MM or word["x1"] > found.width - 5 * MM or word["top"] < 5 * MM \
                            or word["bottom"] > found.height - 5 * MM:
                        fail(f"{path.name}, page {number}: `{word['text']}` is too near to the edge")
                pages.append((number, found.extract_text() or ""))
                found.close()
    at = 0
    for student in record["students"]:
        if pages[at][0] % 2 == 0:
            fail(f"the sheet of {student['id']} starts on the even page {pages[at][0]}")
        for number in range(student["pages"]):
            text = pages[at + number][1].replace("\u00a0", " ")
            for wanted in (student["name"], student["code"], record["class"], f"{number + 1}", f"{student['pages']}"):
                if wanted not in text:
                    fail(f"`{wanted}` is missing on page {number + 1} of {student['id']}")
        at += student["pages"]
        if student["pages"] % 2 and at < len(pages):
            if pages[at][1].strip():
                fail(f"the filler behind {student['id']} is not blank")
            at += 1
    print(f"{len(record['students'])} sheets on odd pages, named on each of {at} pages")


def graph_paper():
    """The lines of the graph paper stand 1 mm apart within 0.1 mm over the whole width."""
    large = {student["code"] for student in record["students"] if student["print"] == "large"}
    seen = 0
    for path in sorted(folder.glob("worksheets*.pdf")):
        with pdfplumber.open(path) as document:
            for found in document.pages[:12]:
                text = found.extract_text() or ""
                if any(code in text for code in large):
                    continue
                lefts = collections.Counter()
                for line in found.lines:
                    if abs(line["x0"] - line["x1"]) < 0.01 and line["height"] > 50 * MM:
                        lefts[round(line["x0"] / MM, 3)] += 1
                if len(lefts) < 100:
                    continue
                seen += 1
                places = sorted(lefts)
                for index, place in enumerate(places):
                    if abs(place - places[0] - index) > 0.1:
                        fail(f"line {index} of the graph paper is {place - places[0]:.3f} mm from the first")
                found.close()
    if seen == 0:
        fail("no graph paper was found")
    print(f"graph paper: 1 mm lines exact to 0.1 mm on {seen} pages")


standards()
sheets()
graph_paper()
