"""Makes a large class as a job array of a real Slurm cluster, one node of which dies at work, and joins the parts.

Usage: job_array.py PROGRAM, as root, for example `job_array.py target/release/labquire`. Tools: Slurm, munge, jq.
In: the program, and the line of the README that joins records. Out: what was seen, or an error on the first fault. The
parts are held against the same class made on one machine alone. It must not know how the program deals out parts.
"""
import json
import os
import pathlib
import re
import sys
import time

from cluster import Cluster, below

STUDENTS, PARTS, NODES = 2000, 10, ("node1", "node2", "node3")
DIES = NODES[1]
README = pathlib.Path(__file__).parents[2] / "README.md"
program = pathlib.Path(sys.argv[1]).resolve()
started = time.monotonic()


def say(text):
    print(f"{time.monotonic() - started:5.1f} s  {text}", flush=True)


def fail(text):
    sys.exit(f"job array: {text}")


def make(out, *part):
    return [str(program), "make", "cooling-curve", "--class", "class.csv", "--pdf", "plain", "--out", out, *part]


def submit(cluster, part, *options):
    # Two digits, so that `part-*` of the shell gives the parts in their order.
    return cluster.submit(" ".join(make('"$(printf part-%02d "$SLURM_ARRAY_TASK_ID")"', "--part", part)), *options)


def at_work(cluster):
    """A part on the node that will die: its index, the program's process, the hidden folder it has begun to fill."""
    for pid in below(cluster.daemons[DIES].pid):
        process = pathlib.Path(f"/proc/{pid}")
        try:
            if os.readlink(process / "exe") != str(program):
                continue
            task = re.search(rb"\0SLURM_ARRAY_TASK_ID=(\d+)", (process / "environ").read_bytes())
            held = [pathlib.Path(os.readlink(one)) for one in (process / "fd").iterdir()]
        except OSError:  # it ended, or closed a file, in this moment
            continue
        for lock in held:
            hidden = lock.with_suffix("")
            # Neither the first nor the last part, so that a wrong order shows.
            begun = lock == cluster.shared / f"{hidden.name}.lock" and list(hidden.glob("keys-*.pdf"))
            if task and begun and 1 < int(task[1]) < PARTS:
                return int(task[1]), pid, hidden
    return None


def lose_a_node(cluster, array):
    """Kills a node with a part at work; gives the part's index once all other parts have ended without it."""
    lost, pid, hidden = cluster.wait(f"a part at work on {DIES}", lambda: at_work(cluster))
    killed = cluster.kill(DIES)
    published = (cluster.shared / f"part-{lost:02}").exists()
    if pid not in killed or published or cluster.states_of_tasks(array)[lost] != "RUNNING":
        fail(f"part {lost} was not at work when {DIES} died")
    written = len(list(hidden.iterdir()))
    say(f"{DIES} killed with part {lost} at work: {len(killed)} processes, {written} files written, none published")
    states = cluster.ended(array, PARTS)
    expected = {index: "NODE_FAIL" if index == lost else "COMPLETED" for index in range(1, PARTS + 1)}
    nodes = cluster.states_of_nodes()
    if states != expected or {node for node in NODES if nodes[node].startswith("down")} != {DIES}:
        cluster.fail(f"the array ended with {states} on {nodes}")
    parts = sorted(path.name for path in cluster.shared.glob("part-*"))
    if parts != [f"part-{index:02}" for index in range(1, PARTS + 1) if index != lost]:
        fail(f"without part {lost} there should be all others, not {parts}")
    say(f"{DIES} is seen to be down: part {lost} is NODE_FAIL and missing, the other {len(parts)} are there")
    return lost


def read(path):
    """A record with its numbers as they are written."""
    number = lambda text: {"number": text}
    return json.loads(path.read_text(encoding="utf-8"), parse_float=number, parse_int=number)


def joined(records):
    return records[0] | {"part": None, "students": [student for record in records for student in record["students"]]}


def difference(record, whole):
    """The first one, as text; none where both are the same, character by character."""
    text = lambda value: json.dumps(value, ensure_ascii=False)
    for mine, its in zip(record["students"], whole["students"]):
        if text(mine) != text(its):
            return f"student {mine['id']} in place of {its['id']}: {text(mine)[:200]} … is not {text(its)[:200]} …"
    if len(record["students"]) != len(whole["students"]):
        return f"{len(record['students'])} students in place of {len(whole['students'])}"
    if list(record) != list(whole):
        return f"fields {list(record)} in place of {list(whole)}"
    return next((f"field {name}" for name in whole if text(record[name]) != text(whole[name])), None)


def compare_records(cluster, lost):
    whole = read(cluster.shared / "whole" / "set.json")
    if len(whole["students"]) != STUDENTS:
        fail(f"the whole has {len(whole['students'])} students")
    records = [read(cluster.shared / f"part-{index:02}" / "set.json") for index in range(1, PARTS + 1)]
    if found := difference(joined(records), whole):
        fail(f"the joined record is not the whole's: {found}")
    # What is wrong must be seen as wrong: a part missing, the order in which a shell lists numbers without zeros.
    listed = sorted(records, key=lambda record: record["part"]["index"]["number"])
    for wrong in (records[: lost - 1] + records[lost:], listed):
        if not difference(joined(wrong), whole):
            fail("a record that is joined wrongly passes for the whole")
    command = re.search(r"jq -s '[^']+' part-\*/set\.json", README.read_text(encoding="utf-8"))
    if not command:
        fail("the README no longer joins records with jq")
    # jq may write the same number in another way, so that values are compared here.
    whole = json.loads((cluster.shared / "whole" / "set.json").read_text(encoding="utf-8"))
    if json.loads(cluster.run("sh", "-c", command[0])) != whole:
        fail(f"`{command[0]}` does not give the whole's record")
    say(f"records joined here and by jq are the whole's, student by student ({STUDENTS})")


def compare_pages(cluster):
    """Parts end where volumes end, so that the very files are there, under the same names."""
    kinds = ("worksheets", "keys")
    pages = lambda folder: [path for kind in kinds for path in cluster.shared.glob(f"{folder}/{kind}-*.pdf")]
    whole, parts = ({path.name: path.read_bytes() for path in pages(folder)} for folder in ("whole", "part-*"))
    if not whole or len(pages("part-*")) != len(whole) or parts.keys() != whole.keys():
        fail(f"the whole has {sorted(whole)}, the parts {sorted(path.name for path in pages('part-*'))}")
    for name in sorted(whole):
        if parts[name] != whole[name]:
            fail(f"{name} of a part is not the whole's")
    say(f"{len(whole)} files of sheets and keys are the whole's, byte by byte")


with Cluster(*NODES) as cluster:
    say(f"Slurm {cluster.version[0]}: {', '.join(NODES)} are idle")
    rows = "".join(f"{student},Student {student}\n" for student in range(1, STUDENTS + 1))
    (cluster.shared / "class.csv").write_text("id,name\n" + rows)
    cluster.run(*make("whole"))
    say(f"a class of {STUDENTS} is made on one machine alone")
    # Slurm would start the lost part again by itself; here it shall be seen to fail first.
    array = submit(cluster, "array", f"--array=1-{PARTS}", "--no-requeue")
    lost = lose_a_node(cluster, array)
    # An array of one index calls itself one of one, so that `--part array` is refused there. The count is written out,
    # which holds for any index, and whether or not the controller still remembers the first array.
    again = submit(cluster, f'"$SLURM_ARRAY_TASK_ID/{PARTS}"', f"--array={lost}")
    if (states := cluster.ended(again, 1)) != {lost: "COMPLETED"}:
        cluster.fail(f"part {lost} ended again with {states}")
    say(f"part {lost} made again on the nodes that are left")
    if left := [path.name for path in cluster.shared.glob(".labquire-*")]:
        fail(f"what the dead node left behind is still there: {left}")
    compare_records(cluster, lost)
    compare_pages(cluster)
say("the cluster is gone")
