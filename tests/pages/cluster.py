"""A Slurm cluster for the time of a test: a controller and nodes of one CPU, all on this machine, with their own key.

In: names of nodes, and files that jobs find in the folder `shared`. Out: jobs, their states, nodes that die. Needs root
and the programs of Slurm and munge, but no service manager and no control groups. It must not touch a Slurm or munge of
this machine, must leave no process behind, and must wait for nothing without a limit.
"""
import ctypes
import os
import pathlib
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time

LIMIT = 600  # seconds for the longest wait
PR_SET_PDEATHSIG, PR_SET_CHILD_SUBREAPER = 1, 36  # linux/prctl.h
CONFIGURATION = """\
ClusterName=test
SlurmctldHost={host}(127.0.0.1)
SlurmctldPort={controller}
SlurmUser=root
AuthType=auth/munge
CredType=cred/munge
AuthInfo=socket={base}/munge/socket
StateSaveLocation={base}/state
SlurmdSpoolDir={base}/spool/%n
SlurmctldPidFile={base}/slurmctld.pid
SlurmdPidFile={base}/%n.pid
# A plain container has no control groups.
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
MpiDefault=none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
# Nodes are believed to have the CPUs written below.
SlurmdParameters=config_overrides
# A dead node is noticed in seconds, not in minutes; jobs that are over stay listed.
SlurmdTimeout=6
MinJobAge=3600
PartitionName=all Nodes=ALL Default=YES MaxTime=60
"""


def prctl(option, value):
    if ctypes.CDLL(None, use_errno=True).prctl(option, value, 0, 0, 0):
        raise OSError(ctypes.get_errno(), "prctl")


def below(root):
    """The living processes below one, the upper ones first."""
    children = {}
    for stat in pathlib.Path("/proc").glob("[0-9]*/stat"):
        try:
            text = stat.read_text(errors="replace")
        except OSError:  # it ended while the list was read
            continue
        # The name in brackets may hold anything, brackets as well.
        pid, state, parent = re.match(r"(\d+) \(.*\) (\S) (\d+)", text, re.DOTALL).groups()
        children.setdefault(int(parent), []).append((int(pid), state))
    found, todo = [], [root]
    while todo:
        for pid, state in children.get(todo.pop(0), ()):
            todo.append(pid)
            found += [pid] if state not in "ZX" else []
    return found


def signal_all(pids, number):
    for pid in pids:
        try:
            os.kill(pid, number)
        except ProcessLookupError:
            pass


class Cluster:
    """Use it with `with`: nodes are up within, and nothing is left behind it."""

    def __init__(self, *nodes):
        self.nodes = nodes
        self.daemons = {}
        # A short path, whatever TMPDIR says: sockets of job steps lie within, and a socket's path has at most 107 bytes.
        self.home = tempfile.TemporaryDirectory(prefix="slurm-", dir="/tmp")
        self.base = pathlib.Path(self.home.name)
        self.shared = self.base / "shared"
        self.base.chmod(0o755)  # munged wants its socket within everybody's reach
        for folder in ("shared", "state", "munge", "spool", *(f"spool/{node}" for node in nodes)):
            (self.base / folder).mkdir(mode=0o755)

    def fail(self, text):
        for log in sorted(self.base.glob("*.log")):
            if lines := log.read_text(errors="replace").splitlines():
                print(f"-- the end of {log.name}", *lines[-12:], sep="\n", file=sys.stderr)
        sys.exit(f"cluster: {text}")

    def run(self, *command):
        command = [*map(str, command)]
        done = subprocess.run(command, cwd=self.shared, capture_output=True, text=True, timeout=LIMIT)
        if done.returncode:
            self.fail(f"{' '.join(command)}: {done.stdout}{done.stderr}")
        return done.stdout

    def wait(self, what, found, limit=LIMIT):
        """What `found` gives as soon as it gives something. Daemons that should live are watched meanwhile."""
        end = time.monotonic() + limit
        while time.monotonic() < end:
            if result := found():
                return result
            for name, daemon in self.daemons.items():
                if daemon.poll() is not None:
                    self.fail(f"{name} ended ({daemon.returncode}) before there was {what}")
            time.sleep(0.2)
        return self.fail(f"within {limit} s there was not {what}")

    def start(self, name, *command):
        # Job steps detach themselves from the slurmd that starts them. A child subreaper gets them back: what runs on a
        # node stands below its slurmd, and what the test started stands below the test.
        def prepare():
            prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
            prctl(PR_SET_CHILD_SUBREAPER, 1)
        with open(self.base / f"{name}.log", "wb") as log:
            self.daemons[name] = subprocess.Popen(
                [*map(str, command)], stdout=log, stderr=log, cwd=self.base, preexec_fn=prepare)

    def __enter__(self):
        signal.signal(signal.SIGTERM, lambda *_: sys.exit("cluster: told to stop"))
        prctl(PR_SET_CHILD_SUBREAPER, 1)
        try:
            self.come_up()
        except BaseException:
            self.__exit__()
            raise
        return self

    def come_up(self):
        self.version = re.search(r"(\d+)\.(\d+)\S*", self.run("slurmctld", "-V"))
        taken = [socket.create_server(("127.0.0.1", 0)) for _ in range(1 + len(self.nodes))]
        controller, *ports = (one.getsockname()[1] for one in taken)
        for one in taken:
            one.close()
        nodes = [f"NodeName={node} NodeAddr=127.0.0.1 Port={port} CPUs=1\n" for node, port in zip(self.nodes, ports)]
        host = socket.gethostname().split(".")[0]
        written = CONFIGURATION.format(base=self.base, host=host, controller=controller) + "".join(nodes)
        (self.base / "slurm.conf").write_text(written)
        if tuple(map(int, self.version.groups())) >= (23, 11):  # it looks for control groups unless it is told not to
            (self.base / "cgroup.conf").write_text("CgroupPlugin=disabled\n")
        os.environ["SLURM_CONF"] = str(self.base / "slurm.conf")
        key, reached = self.base / "munge.key", self.base / "munge" / "socket"
        key.write_bytes(os.urandom(128))
        key.chmod(0o400)
        self.start("munged", "munged", "--foreground", "--origin=127.0.0.1", "--key-file", key, "--socket", reached,
                   "--pid-file", self.base / "munged.pid", "--seed-file", self.base / "munged.seed")
        self.wait("a socket of munged", reached.exists, 30)
        self.start("slurmctld", "slurmctld", "-D", "-i")
        for node in self.nodes:
            self.start(node, "slurmd", "-D", "-N", node)
        self.wait("a cluster of idle nodes", lambda: self.states_of_nodes() == dict.fromkeys(self.nodes, "idle"), 90)

    def __exit__(self, *_):
        end = time.monotonic() + 20
        while (left := below(os.getpid())) and time.monotonic() < end:
            signal_all(left, signal.SIGKILL)
            time.sleep(0.1)
        try:
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass
        except ChildProcessError:  # none is left
            pass
        self.home.cleanup()
        if left:
            sys.exit(f"cluster: these processes would not end: {left}")

    def states_of_nodes(self):
        # Not `run`: the controller does not answer in its first moments.
        done = subprocess.run(["sinfo", "-hN", "-o", "%N %T"], capture_output=True, text=True, timeout=60)
        return dict(line.split() for line in done.stdout.splitlines())

    def submit(self, command, *options):
        """A job, or an array of jobs, of one CPU in the folder `shared`; gives its number."""
        (self.shared / "job.sh").write_text(f"#!/bin/sh\nexec {command}\n")
        return self.run("sbatch", "--parsable", "--output", self.base / "job-%A-%a.log", *options, "job.sh").strip()

    def states_of_tasks(self, array):
        """By index; those that wait in one entry for many are not listed."""
        tasks = re.findall(r"ArrayTaskId=(\d+) .*?JobState=(\S+)", self.run("scontrol", "-o", "show", "job", array))
        return {int(index): state for index, state in tasks}

    def ended(self, array, count):
        """The states of the tasks once all of them have ended one way or another."""
        def found():
            states = self.states_of_tasks(array)
            going = set(states.values()) & {"PENDING", "CONFIGURING", "RUNNING", "COMPLETING", "SUSPENDED"}
            return states if len(states) == count and not going else None
        return self.wait(f"an end of array {array}", found)

    def kill(self, node):
        """Kills a node's slurmd and whatever runs below it; gives the processes."""
        slurmd = self.daemons.pop(node)
        processes = [slurmd.pid, *below(slurmd.pid)]
        # First all stand still, so that none can tell of another's death, as none can when the power fails.
        for number in (signal.SIGSTOP, signal.SIGKILL):
            signal_all(processes, number)
        self.wait(f"an end of all on {node}", lambda: not set(processes) & set(below(os.getpid())), 30)
        return processes
