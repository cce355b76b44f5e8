"""Adds up what copying would earn in a class set, from its record alone.

Usage: inspect_copying.py FOLDER... Ends with an error where a pair of sheets of one edition is above the recorded limit,
unless the record says that this edition is crowded; prints the worst share for each set.
"""
import json
import pathlib
import sys


def earned(source, sheet, tasks):
    """Marks of `sheet` that the printed right answers of `source` earn."""
    marks = 0
    for task in tasks:
        low, high = sheet["answers"][task["id"]]["accept"]
        printed = float(source["answers"][task["id"]]["text"].split(" ")[0])
        marks += task["marks"] if low <= printed <= high else 0
    return marks


def inspect(folder):
    record = json.loads((folder / "set.json").read_text(encoding="utf-8"))
    crowded = {crowd["edition"]: crowd for crowd in record["crowded"]}
    told = []
    for edition in sorted({student["edition"] for student in record["students"]}):
        students = [student for student in record["students"] if student["edition"] == edition]
        tasks = [task for task in record["tasks"] if task["kind"] == "number" and edition in task["editions"]]
        marks = sum(task["marks"] for task in tasks)
        versions = record["versions"] is not None
        pairs = [
            (earned(one, other, tasks) / marks, one["id"], other["id"])
            for one in students for other in students
            if one is not other and not (versions and one["version"] == other["version"])
        ]
        above = [pair for pair in pairs if pair[0] > record["copy_limit"] + 1e-9]
        if above and edition not in crowded:
            sys.exit(f"{folder}: {edition}: {above[:5]} above {record['copy_limit']}")
        if edition in crowded:
            if not above:
                sys.exit(f"{folder}: {edition} is said to be crowded, but no pair is above the limit")
            told.append(f"{edition}: {crowded[edition]['apart']} of {crowded[edition]['sheets']} apart, {len(above)} pairs above")
        else:
            told.append(f"{edition}: {len(students)} sheets, at most {max(pairs)[0] if pairs else 0:.3f}")
    print(f"{record['experiment']}: {'; '.join(told)}")


for name in sys.argv[1:]:
    inspect(pathlib.Path(name))
