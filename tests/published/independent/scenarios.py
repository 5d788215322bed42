"""The two invented plans of measurements, solved without any code of this project.

Run by hand, not by the tests; it writes the file the tests read:

    python scenarios.py ../data/scenarios.json

Run with Python 3.11.7, numpy 2.4.6 and scipy 1.17.1.

The readings below were copied from examples/rough-markup.toml and examples/deed-with-a-slip.toml by hand, and what
they mean from the description of the plan file. A rectangle is one by its parameters (a corner, a turn, two sizes),
so that no condition between unknowns is needed; everything else is dense nonlinear least squares. Spreads come from
the inverse of the normal matrix by central differences. Lengths in the output are metres, angles radians; every
spread is one standard uncertainty.
"""

import json
import sys

import numpy as np
import scipy
import scipy.integrate
import scipy.stats
from scipy.optimize import least_squares

FOOT = 0.3048
DEGREE = np.pi / 180.0
# Half widths in the plan are at 95 %: so many standard uncertainties.
WIDE = scipy.stats.norm.ppf(0.975)
BOTH = np.sqrt(2.0)


def tape(length_ft):
    """1/2 in and 0.2 % of the length, together as squares: metres at 95 %."""
    return np.hypot(0.5 / 12.0, 0.002 * length_ft) * FOOT


def deed(length_ft):
    """0.5 ft and 0.1 % of the length."""
    return np.hypot(0.5, 0.001 * length_ft) * FOOT


def unit(a, b):
    return (b - a) / np.hypot(*(b - a))


def left(u):
    return np.array([-u[1], u[0]])


def off_line(p, a, b):
    """How far left of the line from a to b a point lies."""
    return float(left(unit(a, b)) @ (p - a))


def area(ring):
    x, y = np.array(ring).T
    return 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))


def reach(p, a, b):
    """The distance of a point from a segment."""
    t = np.clip((p - a) @ (b - a) / ((b - a) @ (b - a)), 0.0, 1.0)
    return float(np.hypot(*(a + t * (b - a) - p)))


def apart(ring_a, ring_b):
    """The distances of every vertex of one outline from every edge of the other; the least is their distance."""

    def one(ps, ring):
        return [reach(p, ring[i - 1], ring[i]) for p in ps for i in range(len(ring)) if len(ring) > 1]

    return one(ring_a, ring_b) + one(ring_b, ring_a)


def spread_of_least(values, covariance):
    """The root mean square of the least of several normal values about the least of their best values.

    Where two could as well decide, that is an integral over their difference; more are drawn 400,000 times.
    Candidates whose difference is beyond three of its own standard uncertainties do not count.
    """
    order = np.argsort(values)
    first, rivals = order[0], []
    doubt = lambda i, j: np.sqrt(max(covariance[i, i] + covariance[j, j] - 2.0 * covariance[i, j], 0.0))
    for i in order[1:]:
        between = doubt(i, first)
        if between < 1e-6 or values[i] - values[first] >= 3.0 * between:
            continue
        if all(doubt(i, j) > 1e-6 * between for j in rivals):
            rivals.append(i)
    alone = np.sqrt(covariance[first, first])
    if not rivals:
        return float(alone), 1
    if len(rivals) > 1:
        some = [first, *rivals]
        draws = scipy.stats.multivariate_normal([values[i] - values[first] for i in some], covariance[np.ix_(some, some)], allow_singular=True, seed=7).rvs(400_000)
        return float(np.sqrt(np.mean(np.square(draws.min(axis=1))))), len(some)
    second = rivals[0]
    behind, between = values[second] - values[first], doubt(second, first)
    # The first's error on the difference, and what is left of it.
    slope = (covariance[first, second] - covariance[first, first]) / between**2
    left_over = covariance[first, first] - (slope * between) ** 2

    def weighed(d):
        return ((slope * (d - behind) + min(d, 0.0)) ** 2 + left_over) * scipy.stats.norm.pdf(d, behind, between)

    low, high = behind - 12.0 * between, behind + 12.0 * between
    parts = [low, min(max(0.0, low), high), high]
    square = sum(scipy.integrate.quad(weighed, a, b, epsabs=1e-14, epsrel=1e-12)[0] for a, b in zip(parts, parts[1:]))
    return float(np.sqrt(square)), 2


def gradient(f, x):
    columns = []
    for i in range(len(x)):
        step = np.zeros(len(x))
        step[i] = 1e-5
        columns.append((f(x + step) - f(x - step)) / 2e-5)
    return np.array(columns).T


def rectangle(o, turn, width, depth):
    u = np.array([np.cos(turn), np.sin(turn)])
    v = left(u)
    return {"sw": o, "se": o + width * u, "ne": o + width * u + depth * v, "nw": o + depth * v}


def ring(of, name):
    return [of[f"{name}.{c}"] for c in ("sw", "se", "ne", "nw")]


def answer(points_of, values_of, adjusted, covariance, read, spreads):
    """Places and values with their spreads; `read` are readings that nothing adjusts, each by itself."""
    n, m = len(adjusted), len(read)
    whole = np.zeros((n + m, n + m))
    whole[:n, :n] = covariance
    whole[n:, n:] = np.diag(np.square(spreads))
    at = np.concatenate([adjusted, read])

    points = points_of(at)
    out = {"points": {}, "values": {}}
    for name, place in points.items():
        g = gradient(lambda x, name=name: points_of(x)[name], at)
        c = g @ whole @ g.T
        out["points"][name] = {"at": list(map(float, place)), "sigma": [float(np.sqrt(max(c[i, i], 0.0))) for i in (0, 1)]}
    for name, value in values_of(points).items():
        value = np.atleast_1d(value)
        g = gradient(lambda x, name=name: np.atleast_1d(values_of(points_of(x))[name]), at)
        sigma, candidates = spread_of_least(value, g @ whole @ g.T)
        out["values"][name] = {"value": float(value.min()), "sigma": sigma, "could decide": candidates}
    return out


def rough_markup(each_ft):
    """A lot read off a picture, each position to within `each_ft`."""
    each = each_ft * FOOT / WIDE
    # se.x; ne; nw; house (corner, turn, width, depth); shed likewise; t1; zeros of the four chains.
    guess = np.concatenate([
        np.array([62, 61, 118, 0, 118]) * FOOT,
        [10 * FOOT, 26 * FOOT, 0.0, 40 * FOOT, 34 * FOOT],
        [4 * FOOT, 100 * FOOT, 0.0, 10 * FOOT, 12 * FOOT],
        [26 * FOOT, 87 * FOOT],
        [0.0, 0.0, 0.0, 0.0],
    ])

    def points(x):
        of = {"lot.sw": np.zeros(2), "lot.se": np.array([x[0], 0.0]), "lot.ne": x[1:3], "lot.nw": x[3:5]}
        of |= {f"house.{c}": p for c, p in rectangle(x[5:7], *x[7:10]).items()}
        of |= {f"shed.{c}": p for c, p in rectangle(x[10:12], *x[12:15]).items()}
        of["t1"] = x[15:17]
        return of

    # Each chain: from, to, its marks with the positions read, its overall. In the east chain the figures come to 112
    # and not to 118, so its last mark is left out until that is settled, as the plan's report says.
    chains = [
        ("lot.sw", "lot.se", {"lot.sw": 0, "house.sw": 10, "house.se": 50, "lot.se": 62}, 62),
        ("lot.se", "lot.ne", {"lot.se": 0, "house.se": 26, "house.ne": 60, "shed.se": 100}, 118),
        ("lot.nw", "lot.ne", {"lot.nw": 0, "shed.nw": 4, "shed.ne": 14, "lot.ne": 61}, 61),
        ("lot.sw", "lot.nw", {"lot.sw": 0, "house.sw": 26, "house.nw": 60, "lot.nw": 118}, 118),
    ]

    def residuals(x):
        of, zeros, r = points(x), x[17:21], []
        for (a, b, marks, overall), zero in zip(chains, zeros):
            u = unit(of[a], of[b])
            r += [(u @ (of[m] - of[a]) - zero - read * FOOT) / each for m, read in marks.items()]
            r.append((np.hypot(*(of[b] - of[a])) - overall * FOOT) / (BOTH * each))
        r.append((np.hypot(*(of["shed.ne"] - of["shed.se"])) - 12 * FOOT) / (BOTH * each))
        # Parallel to the west line as the eye has it, and the right angle at sw taken for granted: 3 degrees each.
        u, v = unit(of["lot.sw"], of["lot.se"]), unit(of["lot.sw"], of["lot.nw"])
        r.append((x[12] + np.pi / 2 - np.arctan2(v[1], v[0])) / (3 * DEGREE / WIDE))
        r.append((np.arctan2(u[0] * v[1] - u[1] * v[0], u @ v) - np.pi / 2) / (3 * DEGREE / WIDE))
        for corner, read in (("house.nw", 31.6), ("house.ne", 36.1)):
            r.append((np.hypot(*(of["t1"] - of[corner])) - read * FOOT) / (tape(read) / WIDE))
        return np.array(r)

    def jacobian(x):
        return gradient(residuals, x)

    found = least_squares(residuals, guess, jac=jacobian, xtol=1e-15, ftol=1e-15, gtol=1e-15)
    j = jacobian(found.x)
    covariance = np.linalg.inv(j.T @ j)

    # Set out from what was adjusted, each length the distance of two positions. The drive along the street and the
    # front of the house; the patio as a box along its rear wall.
    read = np.array([40, 50, 30, 4, 20, 14]) * FOOT
    spreads = np.full(6, BOTH * each)

    def all_points(z):
        x, s = z[:len(guess)], z[len(guess):]
        of = points(x)
        street, front = unit(of["lot.sw"], of["lot.se"]), unit(of["house.sw"], of["house.se"])
        rear = unit(of["house.nw"], of["house.ne"])
        of["drive.c1"], of["drive.c2"] = of["lot.sw"] + s[0] * street, of["lot.sw"] + s[1] * street
        of["drive.c4"] = of["house.sw"] + s[2] * front
        corner = of["house.nw"] + s[3] * rear
        of["patio.sw"], of["patio.se"] = corner, corner + s[4] * rear
        of["patio.ne"], of["patio.nw"] = of["patio.se"] + s[5] * left(rear), corner + s[5] * left(rear)
        return of

    def values(of):
        lot, house, shed = ring(of, "lot"), ring(of, "house"), ring(of, "shed")
        sides = {"sw-se": (lot[0], lot[1]), "se-ne": (lot[1], lot[2]), "ne-nw": (lot[2], lot[3]), "nw-sw": (lot[3], lot[0])}
        out = {}
        for name, shape in (("house", house), ("shed", shed)):
            for side, (a, b) in sides.items():
                out[f"{name} to lot.{side}"] = [off_line(p, a, b) for p in shape]
        out |= {f"area of {name}": area(ring(of, name)) for name in ("lot", "house", "shed", "patio")}
        out["coverage of lot"] = (out["area of house"] + out["area of shed"]) / out["area of lot"]
        out["shed to house"] = apart(shed, house)
        out["t1 to house"] = apart([of["t1"]], house)
        return out

    out = answer(all_points, values, found.x, covariance, read, spreads)
    out["weighted sum"] = float(2.0 * found.cost)
    out["degrees of freedom"] = int(len(found.fun) - len(guess))
    out["each"] = f"{each_ft} ft"
    return out


def deed_with_a_slip():
    """A deed of four calls. The last does not close, so the first three alone place the corners, one after another."""
    calls = [(4.5, 132.0), (180 - 85.5, 76.6), (180 + 4.5, 132.0), (180 + 85.5, 76.6)]
    up = 4.5  # the top of the sheet is N 4°30' E

    def run(bearings, lengths):
        at, out = np.zeros(2), [np.zeros(2)]
        for bearing, length in zip(bearings, lengths):
            at = at + length * np.array([np.sin(bearing), np.cos(bearing)])
            out.append(at)
        return out

    def course(calls):
        return [(b - up) * DEGREE for b, _ in calls], [d * FOOT for _, d in calls]

    ends = run(*course(calls))
    perimeter = sum(d for _, d in calls) * FOOT
    misclosure = float(np.hypot(*ends[-1]))

    def closing(with_call, bearing):
        other = [(bearing, d) if i == with_call else (b, d) for i, (b, d) in enumerate(calls)]
        ends = run(*course(other))
        return {"left": float(np.hypot(*ends[-1])), "area": abs(area(ends[:-1]))}

    bearings, lengths = course(calls[:3])
    adjusted = np.array(bearings + lengths)
    covariance = np.diag([(0.5 * DEGREE / WIDE) ** 2] * 3 + [(deed(d) / WIDE) ** 2 for _, d in calls[:3]])
    # House, taped: station, offset, width, depth. Carport, whose status is not stated, likewise off the east side.
    taped = np.array([14, 32, 44, 38, 36, 3.6, 20, 11])
    read, spreads = taped * FOOT, np.array([tape(t) / WIDE for t in taped])

    def points(z):
        sw, nw, ne, se = run(z[:3], z[3:6])
        of = {"lot.sw": sw, "lot.se": se, "lot.ne": ne, "lot.nw": nw}

        def box(name, a, b, station, offset, width, depth):
            u = unit(a, b)
            o = a + station * u + offset * left(u)
            of.update({f"{name}.sw": o, f"{name}.se": o + width * u, f"{name}.ne": o + width * u + depth * left(u), f"{name}.nw": o + depth * left(u)})

        box("house", sw, se, *z[6:10])
        box("carport", se, ne, *z[10:14])
        box("shed", sw, se, 60 * FOOT, 112 * FOOT, 12 * FOOT, 12 * FOOT)
        return of

    def values(of):
        lot = ring(of, "lot")
        sides = {"sw-se": (lot[0], lot[1]), "se-ne": (lot[1], lot[2]), "ne-nw": (lot[2], lot[3]), "nw-sw": (lot[3], lot[0])}
        out = {}
        for name in ("house", "shed", "carport"):
            for side, (a, b) in sides.items():
                out[f"{name} to lot.{side}"] = [off_line(p, a, b) for p in ring(of, name)]
        out |= {f"area of {name}": area(ring(of, name)) for name in ("lot", "house", "shed", "carport")}
        out["carport to house"] = apart(ring(of, "carport"), ring(of, "house"))
        out["shed to house"] = apart(ring(of, "shed"), ring(of, "house"))
        return out

    out = answer(points, values, adjusted, covariance, read, spreads)
    out["misclosure"] = misclosure
    out["one in"] = perimeter / misclosure
    out["call 2 to N E"] = closing(1, 85.5)
    out["call 4 to N W"] = closing(3, 360 - 85.5)
    return out


if __name__ == "__main__":
    found = {
        "source": f"independent solution, scipy {scipy.__version__}, of the invented plans; tests/published/independent/scenarios.py",
        "rough-markup": [rough_markup(1.0), rough_markup(0.1)],
        "deed-with-a-slip": deed_with_a_slip(),
    }
    with open(sys.argv[1], "w", encoding="utf-8") as file:
        json.dump(found, file, indent=1, ensure_ascii=False)
        file.write("\n")
