"""A sequence through Slurm on this machine: a task is killed, and the folder is as from one run.

Starts its own controller and node daemons (Debian: slurm-wlm and munge), as root only; where that
can't be, it says so and passes. Run by `cargo xtask test reference`.
"""

import os
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
LOOKWRIGHT = os.environ["LOOKWRIGHT"]
SCRIPT = ROOT / "crates/cli/schedulers/slurm.sh"
SHARES, FRAMES = 3, 24


def left_out(why):
    print(f"left out: {why}")
    sys.exit(0)


def free_port():
    with socket.socket() as s:
        s.bind(("", 0))
        return s.getsockname()[1]


def run(*arguments, **more):
    return subprocess.run(arguments, check=True, text=True, capture_output=True, **more).stdout


def configuration(folder, munge):
    name = socket.gethostname().split(".")[0]
    return f"""
ClusterName=saltmarket
SlurmctldHost={name}(127.0.0.1)
NodeName={name} NodeAddr=127.0.0.1 CPUs={os.cpu_count()} State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES State=UP
AuthType=auth/munge
AuthInfo=socket={munge}
SlurmUser=root
SlurmctldPort={free_port()}
SlurmdPort={free_port()}
StateSaveLocation={folder}/state
SlurmdSpoolDir={folder}/spool
SlurmctldPidFile={folder}/slurmctld.pid
SlurmdPidFile={folder}/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
ReturnToService=2
SlurmctldTimeout=60
MinJobAge=10
"""


def wait_for(what, test, seconds=40):
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if test():
            return
        time.sleep(0.2)
    left_out(f"{what} did not start here")


def pictures(folder):
    return {path.name: path.read_bytes() for path in sorted(folder.glob("*.png"))}


def kill_one(output, ended, killed):
    """Kills a process that renders a share as soon as a picture is there."""
    while not ended.is_set():
        if any(output.glob("*.png")):
            for process in Path("/proc").glob("[0-9]*"):
                try:
                    words = (process / "cmdline").read_bytes().split(b"\0")
                except OSError:
                    continue
                ours = os.fsencode(str(output)) + b"/" in words and b"--share" in words
                if ours and words[0] == os.fsencode(LOOKWRIGHT):
                    os.kill(int(process.name), signal.SIGKILL)
                    killed.append(process.name)
                    return
        time.sleep(0.01)


def main():
    programs = {name: shutil.which(name, path=os.environ["PATH"] + ":/usr/sbin:/sbin")
                for name in ["munged", "slurmctld", "slurmd", "sbatch", "sinfo"]}
    missing = [name for name, path in programs.items() if path is None]
    if missing:
        left_out(f"no {', '.join(missing)} (Debian: apt-get install slurm-wlm munge)")
    if os.geteuid() != 0:
        left_out("Slurm's daemons are started as root only")
    with tempfile.TemporaryDirectory(prefix="slurm-") as name:
        folder = Path(name)
        folder.chmod(0o755)
        for below in ["state", "spool", "work"]:
            (folder / below).mkdir()
        key = folder / "munge.key"
        key.write_bytes(os.urandom(128))
        key.chmod(0o400)
        munge = folder / "munge.socket"
        configured = folder / "slurm.conf"
        configured.write_text(configuration(folder, munge))
        environment = os.environ | {"SLURM_CONF": str(configured)}
        started = []

        def start(program, *arguments):
            log = open(folder / f"{program}.log", "w")
            started.append(subprocess.Popen([programs[program], *arguments], env=environment,
                                            stdout=log, stderr=log))

        try:
            start("munged", "--foreground", "--force", f"--socket={munge}", f"--key-file={key}",
                  f"--pid-file={folder}/munged.pid", f"--log-file={folder}/munged.txt",
                  f"--seed-file={folder}/munged.seed")
            wait_for("munged", munge.exists)
            start("slurmctld", "-D")
            start("slurmd", "-D")
            ready = lambda: "idle" in subprocess.run(  # noqa: E731
                [programs["sinfo"], "-h", "-o", "%T"], env=environment, capture_output=True, text=True
            ).stdout
            wait_for("Slurm", ready)
            check(folder / "work", environment)
        finally:
            for process in reversed(started):
                process.terminate()
            for process in started:
                process.wait(20)


def check(work, environment):
    from PIL import Image

    run(LOOKWRIGHT, "new", "-o", "look.json", cwd=work)
    (work / "in").mkdir()
    for number in range(1, FRAMES + 1):
        ramp = Image.linear_gradient("L").resize((960, 540)).rotate(number)
        ramp.convert("RGB").save(work / f"in/ferry.{number:04}.png")
    render = [LOOKWRIGHT, "render", str(work / "look.json"), str(work / "in/ferry.####.png"),
              "--from", "srgb", "--threads", "1"]
    run(*render, "-o", str(work / "whole") + "/")
    output = work / "out"
    ended, killed = threading.Event(), []
    killer = threading.Thread(target=kill_one, args=(output, ended, killed))
    killer.start()
    said = run("sh", str(SCRIPT), str(SHARES), *render, "-o", f"{output}/",
               cwd=work, env=environment | {"LOGS": str(work / "logs")})
    ended.set()
    killer.join()
    print(said.strip())
    assert len(killed) == 1, "a task was killed"
    assert "round 2" in said, "its share was submitted again"
    assert f"all {SHARES} shares are done" in said, said
    whole = pictures(work / "whole")
    assert len(whole) == FRAMES
    assert pictures(output) == whole, "the same bytes as from one run"


main()
