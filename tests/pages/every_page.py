"""Makes a class set of every experiment on both papers and looks at every word of it.

Usage: every_page.py [--all] PROGRAM..., for example `every_page.py target/release/labquire`.
There are sheets of each edition in each language and each print: half of them on one paper and half on the other, so that any two
of these meet in each experiment; with --all, all of them on both papers. Lists, keys and notes take one language a set, going round
from experiment to experiment; the teacher's notes are made in all languages. Sets with faults stay in target/every-page.
"""
import concurrent.futures
import pathlib
import shutil
import subprocess
import sys

import inspect_words

ROOT = pathlib.Path(__file__).resolve().parents[2]
OUT = ROOT / "target" / "every-page"
LANGUAGES = ("en", "de", "fr", "es")
PAPERS = ("a4", "letter")
NAMES = (
    "Adaeze Okoro", "Bruno Falkner", "Celia Montalvo", "Maximiliana-Theodora von Hohenstein-Kranichfeld", "Elif Aksoy", "Finnian O'Rourke",
    "Greta Lindqvist", "Hana Dvořáková", "Idris Benali", "Jonna Kivelä", "Bartholomäus Alexander Großschmied-Wiesenthaler", "Leonie Großhans",
    "Mateus Teixeira", "Nadja Korowanska", "Oskar Żurek", "Pia Sørensen", "Quentin Delmas", "Rosalía Íñiguez", "Samir Haddad",
    "Tove Ásgeirsdóttir", "Ugo Bellandi", "Vera Šimunić", "María de los Ángeles Fernández-Villaverde y Ocampo", "Yusuf Demirel",
)


EDITIONS = ("support", "core", "extension")
PRINTS = ("normal", "large")
HALVES = ("one-half", "other-half")


def classes(out, whole):
    """Two classes of half of all kinds of sheets, each with any two of edition, language and print, and one of a single student."""
    kinds = [(edition, lang, size) for edition in EDITIONS for lang in LANGUAGES for size in PRINTS]
    half = [(EDITIONS.index(edition) + LANGUAGES.index(lang) + PRINTS.index(size)) % 2 for edition, lang, size in kinds]
    rows = [f"{number},{name},{','.join(kind)}" for number, (name, kind) in enumerate(zip(NAMES, kinds, strict=True), 1)]
    head = "id,name,edition,lang,print"
    halves = [[row for row, turn in zip(rows, half) if whole or turn == wanted] for wanted in (0, 1)]
    for name, lines in zip((*HALVES, "single"), (*halves, rows[:1])):
        (out / f"{name}.csv").write_text("\n".join([head, *lines, ""]), encoding="utf-8")


def make(program, definition, paper, lang, name):
    folder = OUT / f"{definition.stem}-{paper}-{lang}{'-notes' if name == 'single' else ''}"
    command = [*program, "make", definition, "--class", OUT / f"{name}.csv", "--paper", paper, "--lang", lang, "--out", folder]
    made = subprocess.run(command, cwd=ROOT, capture_output=True, text=True)
    if made.returncode:
        sys.exit(f"{folder.name}: {made.stderr}")
    return folder


def look(program, definition, paper, lang, half):
    """One class set, and one sheet with notes in the language after it: in all languages on the two papers together."""
    sets = [(lang, half), (LANGUAGES[LANGUAGES.index(lang) + 1 - len(LANGUAGES)], "single")]
    lines, sound = [], True
    for lang, name in sets:
        folder = make(program, definition, paper, lang, name)
        told, clean = inspect_words.report(folder)
        lines += told if name == half or not clean else []
        sound &= clean
        if clean:
            shutil.rmtree(folder)
    return lines, sound


def begun(program, out, usage):
    """The program with its path in full, in front of an empty folder with the classes, and all definitions."""
    whole = program[:1] == ["--all"]
    program = program[1:] if whole else program
    if not program:
        sys.exit(usage)
    if pathlib.Path(program[0]).exists():
        program = [str(pathlib.Path(program[0]).resolve()), *program[1:]]
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    classes(out, whole)
    return program, sorted((ROOT / "experiments").glob("*.yaml"))


def main(program):
    program, definitions = begun(program, OUT, __doc__)
    faulty = []
    with concurrent.futures.ProcessPoolExecutor(2) as pool:
        jobs = {}
        for place, definition in enumerate(definitions):
            for turn, paper in enumerate(PAPERS):
                lang = LANGUAGES[(place + 2 * turn) % len(LANGUAGES)]
                half = HALVES[(place + turn) % 2]
                jobs[pool.submit(look, program, definition, paper, lang, half)] = f"{definition.stem} on {paper}"
        for job in jobs:
            lines, sound = job.result()
            print("\n".join(lines), flush=True)
            if not sound:
                faulty.append(jobs[job])
    sys.exit(f"faults in {len(faulty)} of {len(jobs)} sets: {', '.join(faulty)}" if faulty else 0)


if __name__ == "__main__":
    main(sys.argv[1:])
