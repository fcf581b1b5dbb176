"""Processor time and memory of whole processes, by those of a Rust program that does nothing.

    python3 process_time.py PROGRAM FOLDER RECORD MANY RUNS

`cargo bench --bench process` writes FOLDER and calls this. Of RUNS runs of each command, taken in turn, the one that
took least counts: what other work does to a process only ever adds. Standard library alone.
"""

import os
import sys
import time


def run(command):
    """User and system seconds, wall seconds, most memory in MB, pages asked for. `A=B` is for the environment."""
    settings = dict(word.split("=", 1) for word in command if "=" in word)
    command = [word for word in command if "=" not in word]
    quiet = [(os.POSIX_SPAWN_OPEN, fd, os.devnull, os.O_WRONLY, 0) for fd in (1, 2)]
    start = time.perf_counter()
    child = os.posix_spawn(command[0], command, os.environ | settings, file_actions=quiet)
    _, status, used = os.wait4(child, 0)
    wall = time.perf_counter() - start
    if status:
        sys.exit(f"{' '.join(command)} ended with {status}")
    return used.ru_utime + used.ru_stime, wall, used.ru_maxrss / 1024, used.ru_minflt


def least(commands, runs):
    """The least of each figure, for each command."""
    best = [None] * len(commands)
    for _ in range(runs):
        for n, command in enumerate(commands):
            figures = run(command)
            best[n] = figures if best[n] is None else tuple(map(min, best[n], figures))
    return best


def main():
    program, folder, record, many, runs = sys.argv[1:]
    many, runs = int(many), int(runs)
    nothing = [os.path.join(folder, "nothing")]
    made = lambda name: os.path.join(folder, name)
    annotate = lambda *rest: [program, "annotate", *rest]
    one_thread = ("RAYON_NUM_THREADS=1",)
    json = ("--format", "json")

    small = [nothing, [program, "--version"], annotate(record), annotate(*json, record)]
    small = least(small, runs)
    unit = small[0][0]
    print(f"a program that does nothing: {unit * 1e3:.2f} ms, {small[0][3]} pages")
    for name, figures in zip(("--version", "one record", "one record, JSON"), small[1:]):
        print(f"{name}: {figures[0] / unit:.2f}, {figures[3]} pages")

    further = [annotate(*one_thread, *form, made(f"{n}.yaml")) for form in ((), json) for n in (1, 200)]
    further = least(further, max(3, runs // 10))
    for name, (first, all_of_them) in (("text", further[:2]), ("JSON", further[2:])):
        print(f"each further record, {name}: {(all_of_them[0] - first[0]) / 199 / unit:.2f}")

    all_files = made("many")
    runs = max(1, runs // 60)
    one, two = least([annotate(f"RAYON_NUM_THREADS={n}", all_files) for n in ("1", "2")], runs)
    forms = [annotate(*form, made(folder)) for form in ((), json) for folder in ("days", "few-days")]
    days = least(forms, runs)
    print(f"two threads by one: processor time {two[0] / one[0]:.2f}, wall time {two[1] / one[1]:.2f}")
    print(f"100,000 records by {many}: {one[0] * 1e5 / many:.0f} s of processor time, {two[1] * 1e5 / many:.0f} s on two threads")
    for name, (lots, few) in (("text", days[:2]), ("JSON", days[2:])):
        print(f"memory of {many} records by that of 100, files of five, {name}: {lots[2] / few[2]:.2f}; {lots[2]:.1f} MB")


if __name__ == "__main__":
    main()
