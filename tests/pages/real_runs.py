"""Makes sets for real runs of every experiment and looks at every word of them.

Usage: real_runs.py PROGRAM..., for example `real_runs.py target/release/labquire`.
For each experiment: blank sheets for one half of all kinds of students, then a set for the other half with what one drawn sheet shows
as if it had been read, and the page of a bench fitted to it. Languages go round from experiment to experiment. Sets with faults stay in target/real-runs.
"""
import concurrent.futures
import csv
import json
import shutil
import subprocess
import sys

import every_page
import inspect_words

ROOT = every_page.ROOT
OUT = ROOT / "target" / "real-runs"
# Held against PDF/UA-1 and PDF/A-2a as well; that takes long.
VALIDATED = ("pumped-loop", "store-race")


def run(program, *arguments):
    return subprocess.run([*program, *map(str, arguments)], cwd=ROOT, capture_output=True, text=True)


def made(program, *arguments):
    done = run(program, *arguments)
    if done.returncode:
        sys.exit(f"{arguments}: {done.stderr}")
    return done


def typed(record, path):
    """What a sheet shows, as a spreadsheet: the table, and what is told once in its first row."""
    student = record["students"][0]
    columns = student["readings"]["columns"]
    told = student["given"]
    head = lambda name, unit: f"{name} / {unit}" if unit else name
    heads = [head(column["id"], column["unit"]) for column in columns] + [head(name, one["unit"]) for name, one in told.items()]
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(heads)
        for place, row in enumerate(student["readings"]["rows"]):
            once = [one["text"].split(" ")[0] for one in told.values()]
            writer.writerow(row + (once if place == 0 else [""] * len(once)))


def look(program, definition, lang):
    folder = OUT / definition.stem
    drawn, blank, measured = folder / "drawn", folder / "blank", folder / "measured"
    one, other, single = (OUT / f"{name}.csv" for name in (*every_page.HALVES, "single"))
    made(program, "make", definition, "--class", single, "--out", drawn)
    made(program, "make", definition, "--class", one, "--lang", lang, "--blank", "--out", blank)
    readings = folder / "readings.csv"
    typed(json.loads((drawn / "set.json").read_text(encoding="utf-8")), readings)
    made(program, "make", definition, "--class", other, "--lang", lang, "--measured", readings, "--out", measured)
    answers = json.loads((measured / "set.json").read_text(encoding="utf-8"))["students"][0]["answers"]
    was = json.loads((drawn / "set.json").read_text(encoding="utf-8"))["students"][0]["answers"]
    faults = []
    for name, answer in was.items():
        if "text" in answer and answers[name].get("text") != answer["text"]:
            faults.append(f"{definition.stem}: {name} is {answers[name]}, the sheet with the same numbers has {answer['text']}")
    fitted = run(program, "fit", definition, "--readings", readings, "--lang", lang, "--out", measured / "fit.yaml")
    if fitted.returncode and "names no input" not in fitted.stderr:
        faults.append(f"{definition.stem}: {fitted.stderr}")
    lines = []
    for place in (blank, measured):
        told, clean = inspect_words.report(place)
        lines += told
        faults += [] if clean else [f"{place.name} of {definition.stem}"]
    if definition.stem in VALIDATED:
        for place in (blank, measured):
            seen = subprocess.run([sys.executable, ROOT / "tests/pages/inspect_set.py", place], capture_output=True, text=True)
            faults += [seen.stderr] if seen.returncode else []
    if not faults:
        shutil.rmtree(folder)
    return lines, faults, fitted.stdout.strip().splitlines()[-2:-1]


def main(program):
    program, definitions = every_page.begun(program, OUT, __doc__)
    faults = []
    with concurrent.futures.ProcessPoolExecutor(2) as pool:
        jobs = {}
        for place, definition in enumerate(definitions):
            lang = every_page.LANGUAGES[place % len(every_page.LANGUAGES)]
            jobs[pool.submit(look, program, definition, lang)] = definition.stem
        for job, name in jobs.items():
            lines, wrong, verdict = job.result()
            print("\n".join([*lines, f"{name}: {' '.join(verdict)}"]), flush=True)
            faults += wrong
    sys.exit("\n".join(faults) if faults else 0)


if __name__ == "__main__":
    main(sys.argv[1:])
