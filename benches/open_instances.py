"""Compares open_instances with the PyPI package `spyrrow`, by hand:

    pip install spyrrow
    cargo bench --bench open_instances --no-run        # prints where the program is
    python benches/open_instances.py PROGRAM FOLDER [SECONDS [SEEDS [INSTANCE ...]]]

For each instance and seed both run in turn for about the same wall time with two threads, so that what else the machine does
falls on both alike; processor seconds are printed beside them. Densities are area / (length x width) in per cent.
"""
import json, os, resource, statistics, subprocess, sys, time


def area(points):
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))) / 2


def other(path, seconds, seed):
    """Run in a child of its own, so that its processor time can be told."""
    code = f"""
import json, spyrrow
d = json.load(open({path!r}))
items = [spyrrow.Item(str(i), [tuple(p) for p in x['shape']['data']], x['demand'], x['allowed_orientations'])
         for i, x in enumerate(d['items'])]
config = spyrrow.StripPackingConfig(early_termination=False, total_computation_time={seconds}, num_workers=2, seed={seed})
print(spyrrow.StripPackingInstance('x', d['strip_height'], items).solve(config).width)
"""
    return float(subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout)


def measured(run):
    wall, before = time.time(), resource.getrusage(resource.RUSAGE_CHILDREN)
    result = run()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return result, time.time() - wall, after.ru_utime - before.ru_utime


def main():
    program, folder = sys.argv[1:3]
    seconds, seeds = int((sys.argv[3:4] or ["60"])[0]), int((sys.argv[4:5] or ["3"])[0])
    names = sys.argv[5:] or sorted(f[:-5] for f in os.listdir(folder) if f.endswith(".json"))
    means = []
    print(f"{'instance':10} {'ours: each seed, median, cpu s':44} {'other: each seed, median, cpu s':44} difference of means")
    for name in names:
        path = os.path.join(folder, name + ".json")
        data = json.load(open(path))
        whole = sum(area(i["shape"]["data"]) * i["demand"] for i in data["items"]) / data["strip_height"]
        ours, theirs, cpu_ours, cpu_theirs = [], [], 0, 0
        for seed in range(1, seeds + 1):
            command = [program, folder, "--only", name, "--seconds", str(seconds), "--seed", str(seed)]
            out, _, cpu = measured(lambda: subprocess.run(command, check=True, capture_output=True, text=True).stdout)
            ours.append(json.loads(out)["density"])
            cpu_ours += cpu
            length, _, cpu = measured(lambda: other(path, seconds, seed))
            theirs.append(100 * whole / length)
            cpu_theirs += cpu
        said = lambda d, cpu: " ".join(f"{x:.2f}" for x in d) + f"  [{statistics.median(d):.2f}]  {cpu / seeds:.0f} s"
        means.append((statistics.mean(ours), statistics.mean(theirs)))
        gain = means[-1][0] - means[-1][1]
        print(f"{name:10} {said(ours, cpu_ours):44} {said(theirs, cpu_theirs):44} {gain:+.2f}", flush=True)
    a, b = (statistics.mean(column) for column in zip(*means))
    print(f"mean over {len(means)}: ours {a:.3f}, other {b:.3f}, {a - b:+.3f}")


main()
