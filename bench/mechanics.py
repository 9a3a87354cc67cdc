"""How long the loads of a class take: 20 people, 12 movements, 61 frames each.

Run it with `python bench/mechanics.py`. In the same run the same work is done by a general
rigid-body engine, frame by frame from Python, and by a compiled loop, which is about what this
machine can do at all; the ratios do not depend on how busy it is. The two need their packages
(mujoco-core and numba); without one its row is left out. Appends nothing: see docs/benchmarks.md.
"""

import subprocess
import sys
import time
import tracemalloc
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from halewright.core import units
from halewright.core.catalogue.movement import BandPath, NodeKind, Option
from halewright.core.mechanics import angles, crowd, kinematics, moments, points, rubber, skeleton
from halewright.core.mechanics.angles import Array
from halewright.core.mechanics.crowd import Crowd
from halewright.core.people.person import Sex
from halewright.files import movements

PEOPLE, MOVEMENTS, FRAMES = 20, 12, 61
EVALUATIONS = PEOPLE * MOVEMENTS * FRAMES
REPEATS = 7
CURVE = rubber.Curve(linear_n=9.0, softening_n=9.0, stiffening_n=0.2, most_ratio=1_000.0)
SLACK_M = 0.4
JOINTS = tuple(moments.JOINTS.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One movement for the whole class."""

    path: BandPath
    angles_rad: dict[str, Array]
    people: Crowd


def bodies() -> tuple[skeleton.Body, ...]:
    """Return a class of all sizes."""
    chance = np.random.default_rng(1)  # noqa: TID251  a benchmark has its own chance
    return tuple(
        skeleton.body(
            stature_m=float(chance.uniform(1.45, 1.9)),
            mass_kg=float(chance.uniform(45.0, 110.0)),
            sex=list(Sex)[k % 3],
        )
        for k in range(PEOPLE)
    )


def options() -> list[Option]:
    """Return twelve movements whose bands go straight from point to point of the body."""
    found = []
    for movement in movements.shipped().values():
        option = movement.standard
        plain = bool(option.paths) and not option.paths[0].closed
        at = {node.at for path in option.paths for node in path.nodes}
        if plain and not at & points.CHAIR_POINTS:
            found.append(option)
    return found[:MOVEMENTS]


def works(people: tuple[skeleton.Body, ...]) -> list[Work]:
    """Lay out all the work, in arrays of one movement for everybody."""
    phases = np.linspace(0.0, 1.0, FRAMES)
    whose = np.repeat(np.arange(PEOPLE), FRAMES)
    return [
        Work(
            path=option.paths[0],
            angles_rad={
                name: np.tile(values, PEOPLE)
                for name, values in angles.at_phases(option=option, phase_ratios=phases).items()
            },
            people=crowd.gathered(
                bodies=people, whose=whose, names=sorted({n.at for n in option.paths[0].nodes})
            ),
        )
        for option in options()
    ]


def numpy_work(laid: list[Work]) -> list[Array]:
    """Return the net joint moments of everybody: band and weight, (joints, 3, N) a movement."""
    told = []
    for work in laid:
        found = crowd.asked(crowd=work.people, angles_rad=work.angles_rad, path=work.path)
        net = {joint: vector.copy() for joint, vector in found.weight_nm.items()}
        for run, band in zip(found.runs, found.band_nm, strict=True):
            pull_n = rubber.told_n(CURVE, stretch_ratios=run.length_m / SLACK_M)
            for joint, vector in band.items():
                net[joint] += pull_n * vector
        told.append(np.stack([net[joint] for joint in moments.JOINTS]))
    return told


def runs_of(path: BandPath) -> list[list[str]]:
    """Return the points of each stretch between clamps."""
    parts, part = [], [path.nodes[0].at]
    for k, node in enumerate(path.nodes[1:], start=1):
        part.append(node.at)
        if node.kind is NodeKind.CLAMP or k == len(path.nodes) - 1:
            parts.append(part)
            part = [node.at]
    return parts


def engine_loop(people: tuple[skeleton.Body, ...], laid: list[Work]) -> Callable[[], float] | None:
    """Return a loop over the engine's models that does the same work, or None without it."""
    try:
        import mujoco
    except ImportError:
        return None
    hinges = [
        (f"{segment}.{k}", turn)
        for segment in skeleton.SEGMENTS
        for k, turn in enumerate(kinematics.TURNS[segment])
    ]
    models = []
    for work in laid:
        parts = runs_of(work.path)
        for person, body in enumerate(people):
            model = mujoco.MjModel.from_xml_string(_model_words(body, parts))
            order = [model.joint(name).id for name, _ in hinges]
            here = slice(person * FRAMES, (person + 1) * FRAMES)
            values = np.zeros((FRAMES, model.nq))
            for place, (_, turn) in zip(order, hinges, strict=True):
                values[:, place] = turn.share * work.angles_rad[turn.angle][here]
            models.append((model, mujoco.MjData(model), values, len(parts)))

    def loop() -> float:
        total = 0.0
        for model, data, values, parts in models:
            bias = np.zeros(model.nv)
            starts, counts, columns = model.ten_J_rowadr, model.ten_J_rownnz, model.ten_J_colind
            for row in values:
                data.qpos[:] = row
                mujoco.mj_kinematics(model, data)
                mujoco.mj_comPos(model, data)
                mujoco.mj_tendon(model, data)
                mujoco.mj_rne(model, data, 0, bias)
                for k in range(parts):
                    stretch = max(data.ten_length[k] / SLACK_M, 1.0)
                    first = stretch - stretch**-2
                    pull_n = (
                        CURVE.linear_n * first
                        + CURVE.softening_n * (1.0 - stretch**-3)
                        + CURVE.stiffening_n * (stretch**2 + 2.0 / stretch - 3.0) * first
                    )
                    here = slice(starts[k], starts[k] + counts[k])
                    bias[columns[here]] += pull_n * data.ten_J[here]
                total += bias[0]
        return total

    return loop


def _model_words(body: skeleton.Body, parts: list[list[str]]) -> str:
    """Write a body as a model for the engine."""
    places = points.places(body=body, chair=crowd.NO_CHAIR)
    named = {name for part in parts for name in part}

    def numbers(values: object) -> str:
        return " ".join(f"{float(value):.12g}" for value in values)  # type: ignore[attr-defined]

    def told(segment: skeleton.Segment) -> str:
        inner = "".join(
            f'<joint name="{segment.name}.{k}" axis="{numbers(turn.sign * np.eye(3)[turn.axis])}"/>'
            for k, turn in enumerate(kinematics.TURNS[segment.name])
        )
        inner += (
            f'<inertial pos="{numbers(segment.centre_m)}" mass="{segment.mass_kg}" '
            'diaginertia="0.01 0.01 0.01"/>'
        )
        inner += "".join(
            f'<site name="{name}" pos="{numbers(places[name].at_m)}"/>'
            for name in sorted(named)
            if places[name].owner == segment.name
        )
        inner += "".join(told(each) for each in body.segments if each.parent == segment.name)
        return f'<body name="{segment.name}" pos="{numbers(segment.joint_m)}">{inner}</body>'

    tendons = "".join(
        "<spatial>" + "".join(f'<site site="{name}"/>' for name in part) + "</spatial>"
        for part in parts
    )
    return (
        '<mujoco><compiler angle="radian" boundmass="0" boundinertia="0"/>'
        f'<option gravity="0 0 -{units.STANDARD_GRAVITY_M_PER_S2}"/>'
        f"<worldbody>{told(body.segments[0])}</worldbody><tendon>{tendons}</tendon></mujoco>"
    )


def compiled_loop(laid: list[Work]) -> Callable[[], list[Array]] | None:
    """Return a compiled loop, frame by frame, that does the same work, or None without numba."""
    try:
        import numba
    except ImportError:
        return None
    kernel = numba.njit(fastmath=False, cache=False)(_frames)
    names = list(skeleton.SEGMENTS)
    parents = np.array([names.index(p) if (p := skeleton.PARENTS[n]) else -1 for n in names])
    turns = [(names.index(n), turn) for n in names for turn in kinematics.TURNS[n]]
    turn_at = np.array([[at, turn.axis] for at, turn in turns])
    turn_sign = np.array([turn.sign for _, turn in turns])
    joints = np.array([names.index(segment) for segment in JOINTS])
    inputs = []
    for work in laid:
        order = list(work.people.places)
        turned = np.array([turn.share * work.angles_rad[turn.angle] for _, turn in turns])
        parts = [[order.index(name) for name in part] for part in runs_of(work.path)]
        ways = np.full((len(parts), 8), -1)
        for k, part in enumerate(parts):
            ways[k, : len(part)] = part
        inputs.append(
            (
                np.ascontiguousarray(turned.T),
                np.ascontiguousarray(np.array([work.people.joints_m[n].T for n in names])),
                np.ascontiguousarray(np.array([work.people.centres_m[n].T for n in names])),
                np.array([work.people.masses_kg[n] for n in names]),
                np.array([names.index(work.people.places[name][0]) for name in order]),
                np.ascontiguousarray(np.array([work.people.places[n][1].T for n in order])),
                ways,
            )
        )
    law = np.array([CURVE.linear_n, CURVE.softening_n, CURVE.stiffening_n])

    def loop() -> list[Array]:
        return [kernel(parents, turn_at, turn_sign, joints, law, SLACK_M, *each) for each in inputs]

    return loop


def _frames(  # type: ignore[no-untyped-def]  # compiled: plain loops, no annotations
    parents, turn_at, turn_sign, joints, law, slack_m,
    turned, joints_m, centres_m, masses_kg, owners, places_m, ways,
):  # fmt: skip
    """Return net joint moments (joints, 3, N): chain, spans, law, forces and weight in one pass."""
    count, bodies_count, places_count = turned.shape[0], parents.size, owners.size
    out = np.zeros((joints.size, 3, count))
    frame = np.zeros((bodies_count, 3, 3))
    origin = np.zeros((bodies_count, 3))
    place = np.zeros((places_count, 3))
    force = np.zeros((bodies_count, 3))
    turning = np.zeros((bodies_count, 3))
    for n in range(count):
        t = 0
        for b in range(bodies_count):
            p = parents[b]
            for i in range(3):
                for j in range(3):
                    frame[b, i, j] = (1.0 if i == j else 0.0) if p < 0 else frame[p, i, j]
                origin[b, i] = 0.0
                if p >= 0:
                    origin[b, i] = origin[p, i]
                    for j in range(3):
                        origin[b, i] += frame[p, i, j] * joints_m[b, n, j]
            while t < turn_at.shape[0] and turn_at[t, 0] == b:
                u, v = (turn_at[t, 1] + 1) % 3, (turn_at[t, 1] + 2) % 3
                c, s = np.cos(turned[n, t]), turn_sign[t] * np.sin(turned[n, t])
                for i in range(3):
                    a, d = frame[b, i, u], frame[b, i, v]
                    frame[b, i, u] = a * c + d * s
                    frame[b, i, v] = d * c - a * s
                t += 1
        for b in range(bodies_count):
            w = masses_kg[b, n] * 9.80665
            cx, cy = origin[b, 0], origin[b, 1]
            for j in range(3):
                cx += frame[b, 0, j] * centres_m[b, n, j]
                cy += frame[b, 1, j] * centres_m[b, n, j]
            force[b, 0], force[b, 1], force[b, 2] = 0.0, 0.0, -w
            turning[b, 0], turning[b, 1], turning[b, 2] = -cy * w, cx * w, 0.0
        for k in range(places_count):
            for i in range(3):
                place[k, i] = origin[owners[k], i]
                for j in range(3):
                    place[k, i] += frame[owners[k], i, j] * places_m[k, n, j]
        for k in range(ways.shape[0]):
            length_m, m = 0.0, 0
            while m < 7 and ways[k, m + 1] >= 0:
                a, d = ways[k, m], ways[k, m + 1]
                length_m += np.sqrt(
                    (place[d, 0] - place[a, 0]) ** 2
                    + (place[d, 1] - place[a, 1]) ** 2
                    + (place[d, 2] - place[a, 2]) ** 2
                )
                m += 1
            r = max(length_m / slack_m, 1.0)
            first = r - 1.0 / (r * r)
            pull_n = law[0] * first + law[1] * (1.0 - 1.0 / (r * r * r))
            pull_n += law[2] * (r * r + 2.0 / r - 3.0) * first
            m = 0
            while m < 7 and ways[k, m + 1] >= 0:
                a, d = ways[k, m], ways[k, m + 1]
                x = place[d, 0] - place[a, 0]
                y = place[d, 1] - place[a, 1]
                z = place[d, 2] - place[a, 2]
                g = pull_n / np.sqrt(x * x + y * y + z * z)
                for e, q in ((a, g), (d, -g)):
                    fx, fy, fz = q * x, q * y, q * z
                    o = owners[e]
                    force[o, 0] += fx
                    force[o, 1] += fy
                    force[o, 2] += fz
                    turning[o, 0] += place[e, 1] * fz - place[e, 2] * fy
                    turning[o, 1] += place[e, 2] * fx - place[e, 0] * fz
                    turning[o, 2] += place[e, 0] * fy - place[e, 1] * fx
                m += 1
        for b in range(bodies_count - 1, 0, -1):
            for i in range(3):
                force[parents[b], i] += force[b, i]
                turning[parents[b], i] += turning[b, i]
        for k in range(joints.size):
            b = joints[k]
            ox, oy, oz = origin[b, 0], origin[b, 1], origin[b, 2]
            out[k, 0, n] = oy * force[b, 2] - oz * force[b, 1] - turning[b, 0]
            out[k, 1, n] = oz * force[b, 0] - ox * force[b, 2] - turning[b, 1]
            out[k, 2, n] = ox * force[b, 1] - oy * force[b, 0] - turning[b, 2]
    return out


def best_s(work: Callable[[], object]) -> float:
    """Return the least seconds of several tries."""
    found = []
    for _ in range(REPEATS):
        began = time.perf_counter()
        work()
        found.append(time.perf_counter() - began)
    return min(found)


def memory_mb() -> tuple[float, float]:
    """Return the arrays' peak in a run, and the peak of a whole fresh process that does one."""
    laid = works(bodies())
    tracemalloc.start()
    numpy_work(laid)
    peak = tracemalloc.get_traced_memory()[1] / 1e6
    tracemalloc.stop()
    told = subprocess.run(  # noqa: S603  ourselves
        [sys.executable, __file__, "--alone"], capture_output=True, text=True, check=True
    )
    return peak, float(told.stdout)


def main() -> None:
    """Print the table."""
    people = bodies()
    laid = works(people)
    compiled = compiled_loop(laid)
    loop = engine_loop(people, laid)
    ours = numpy_work(laid)
    if compiled is not None:
        theirs = compiled()
        worst = max(float(np.abs(a - b).max()) for a, b in zip(ours, theirs, strict=True))
        print(f"The compiled loop's moments differ by at most {worst:.1e} Nm.")
    numpy_s = best_s(lambda: numpy_work(laid))
    print("| way | milliseconds | evaluations a second | times numpy |")
    print("|---|---|---|---|")
    rows = [("numpy, ours", numpy_s)]
    if loop is not None:
        rows.append(("rigid-body engine, looped from Python", best_s(loop)))
    if compiled is not None:
        rows.append(("compiled loop, one core", best_s(compiled)))
    for name, seconds in rows:
        rate = EVALUATIONS / seconds
        print(f"| {name} | {1e3 * seconds:.1f} | {rate:,.0f} | {seconds / numpy_s:.2f} |")
    arrays_mb, process_mb = memory_mb()
    print(f"Peak of arrays {arrays_mb:.1f} MB; of a fresh process {process_mb:.0f} MB.")


if __name__ == "__main__":
    if "--alone" in sys.argv:
        numpy_work(works(bodies()))
        # Not getrusage: a child starts with its parent's peak there.
        status = Path("/proc/self/status").read_text("utf-8")
        print(float(status.split("VmHWM:")[1].split()[0]) / 1e3)
    else:
        main()
