"""Adjusts the little sites of survey/*_example_test.go with SciPy.

    python3 testdata/reference/equations.py > testdata/reference/equations.json

Every place has a prior: where it is, and one standard deviation for both axes.
What is minimised is the sum of squares of (place - prior)/sigma and of
(observed - computed)/sigma, by scipy.optimize.least_squares with its own
numerical derivatives. Nothing here is taken from the engine but its default
standard deviations. Python 3.11, SciPy 1.10.1. Metres.
"""

import cmath
import json
from math import atan2, degrees, hypot, pi, radians, sqrt

import numpy as np
from scipy.optimize import least_squares

sites = {}


def site(name, places, observe, extra=()):
    """places: name -> (x, y, sigma); extra: (mean, sigma) of further unknowns;
    observe(p, extra) -> list of (observed - computed)/sigma, p[name] complex."""
    names = list(places)
    mean = np.array([v for k in names for v in places[k][:2]] + [e[0] for e in extra], float)
    sigma = np.array([places[k][2] for k in names for _ in range(2)] + [e[1] for e in extra], float)

    def residuals(u):
        p = {k: complex(u[2 * i], u[2 * i + 1]) for i, k in enumerate(names)}
        return np.concatenate([(u - mean) / sigma, observe(p, u[2 * len(names):])])

    start = mean + 1e-3 * sigma  # off the prior, so that no derivative is taken at a corner
    u = least_squares(residuals, start, jac="3-point", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=20000).x
    sites[name] = {k: [round(float(v), 9) for v in u[2 * i:2 * i + 2]] for i, k in enumerate(names)}


def along_across(a, b, p):
    """Distance along a -> b, and square to it, + to the right."""
    z = (p - a) / cmath.exp(1j * cmath.phase(b - a))
    return z.real, -z.imag


# Tapes: slope distance by Pythagoras in three dimensions.
A = (0, 0, 0.1)
site("tape, level", {"A center": A, "P": (3, 4, 0.2)}, lambda p, e: [(5.1 - abs(p["P"] - p["A center"])) / 0.05])
for name, value in ("tape, over a rise", 17.2), ("tape, over a fall", 16.8):
    site(name, {"A center": A, "P": (9, 12, 0.2)},
         lambda p, e: [(value - hypot(abs(p["P"] - p["A center"]), 8)) / 0.05])

# What is written: half a foot and 2 % of a length, 1 % of a tie.
# The middle of a bent line is a place that the test does not name.
bent = {"L start": (0, 0, 0.3), "middle": (6, 8, 0.3), "L end": (6, 20, 0.3)}
site("written length of a line", bent, lambda p, e: [
    (22.5 - abs(p["middle"] - p["L start"]) - abs(p["L end"] - p["middle"])) / hypot(0.15, 0.02 * 22.5)])
del sites["written length of a line"]["middle"]
site("written tie to a middle", {"A center": A, "box center": (3, 4, 0.3)},
     lambda p, e: [(5.2 - abs(p["box center"] - p["A center"])) / hypot(0.15, 0.01 * 5.2)])
site("written tie to a corner", {"A center": A, "box center": (5.5, 12.5, 0.3)},
     lambda p, e: [(13.3 - abs(p["box center"] - (0.5 + 0.5j) - p["A center"])) / hypot(0.15, 0.01 * 13.3)])


# Bearings: clockwise from north; the declination, east positive, is an unknown
# of 2 degrees, or 8 where none is given.
def bearing(name, value, places, ends=("A center", "P"), declination=None):
    def observe(p, e):
        w = p[ends[1]] - p[ends[0]]
        computed = degrees(atan2(w.real, w.imag)) - (e[0] if declination else 0)
        return [((value - computed + 180) % 360 - 180) / 2]
    site(name, places, observe, [declination] if declination else [])


P = {"A center": A, "P": (10, 10, 1)}
bearing("bearing, true", 47, P)
bearing("bearing, from the other end", 224, P, ("P", "A center"))
bearing("bearing, declination 10° east", 36, P, declination=(10, 2))
bearing("bearing, declination 12° west", 56, P, declination=(-12, 2))
bearing("bearing, no declination given", 48, P, declination=(0, 8))
bearing("bearing, across north", 359, {"A center": A, "P": (0.17455064928217585, 10, 1)})

# Station and offset.
for name, p0, value in ("baseline, to the right", (24, 7, 0.5), (20.5, 14.7)), ("baseline, to the left", (0, 25, 0.5), (19.8, -14.6)):
    site(name, {"A center": A, "B center": (30, 40, 0.2), "P": p0}, lambda p, e: [
        (v - c) / 0.1 for v, c in zip(value, along_across(p["A center"], p["B center"], p["P"]))])

# Cables: at least the straight distance, which is 0.93 of them to 0.07.
for name, value in ("cable, longer than the way", 25), ("cable, shorter than the way", 18):
    def observe(p, e):
        way = abs(p["P"] - p["A center"])
        return [min(0, value - way) / (0.15 + 0.01 * value), (0.93 * value - way) / (0.07 * value)]
    site(name, {"A center": A, "P": (12, 16, 1)}, observe)

# Two fixes of a session: 2 m per axis, 0.66 of it common and 0.75 each one's own.
site("fixes, two of one session", {"A center": (1, 2, 0.5), "B center": (11, 2, 1)}, lambda p, e: [
    d / 1.5 for z, k in ((0, "A center"), (10.5 + 0.3j, "B center"))
    for d in ((z - p[k] - complex(*e)).real, (z - p[k] - complex(*e)).imag)], [(0, 1.32), (0, 1.32)])


# Holes at the ends of a trench of 1.2 m: 0.15 m along, 0.3 m across, about axes
# held as they lie at each step; their rotation has no part in the derivative at
# the solution, so the same is iterated here.
def at_end(name, p0, which):
    turn = cmath.phase(30 + 40j)
    for _ in range(50):
        def observe(p, e):
            z = (p["P"] - p[which]) * cmath.exp(-1j * turn)
            return [-z.real / 0.15, z.imag / 0.3]
        site(name, {"L start": (0, 0, 0.4), "L end": (30, 40, 0.4), "P": p0}, observe)
        a, b = (complex(*sites[name][k]) for k in ("L start", "L end"))
        turn = cmath.phase(b - a)


at_end("hole at a start", (3, -1, 0.2), "L start")
at_end("hole at an end", (30.6, 40.8, 0.2), "L end")


# Holes on a trench of 0.6 m, 10 m north from the origin.
def on(name, p0, want, sigma, bend=False):
    places = {"L start": (0, 0, 0.4), "L end": (0, 10, 0.4), "P": p0 + (0.1,)}
    legs = [("L start", "L end")]
    if bend:
        places = {"L start": (0, 0, 0.4), "bend": (0, 10, 0.4), "L end": (10, 10, 0.4), "P": p0 + (0.1,)}
        legs = [("L start", "bend"), ("bend", "L end")]

    def observe(p, e):
        def away(leg):
            s, o = along_across(p[leg[0]], p[leg[1]], p["P"])
            long = abs(p[leg[1]] - p[leg[0]])
            return hypot(o, max(0, -s, s - long))
        a, b = min(legs, key=away)
        s, o = along_across(p[a], p[b], p["P"])
        past = 0
        if a == "L start":
            past += min(0, s)
        if b == "L end":
            past += max(0, s - abs(p[b] - p[a]))
        return [(want(o) - o) / sigma, -past / 0.3]
    site(name, places, observe)
    sites[name].pop("bend", None)


for name, p0 in (("right of it", (0.5, 4)), ("left of it, past its end", (-0.5, 11)), ("before its start", (0.2, -0.7)), ("the nearer leg", (6, 9.6))):
    on("hole on a trench, " + name, p0, lambda o: 0, 0.45 / sqrt(3), "leg" in name)
for name, p0 in (("right of it", (0.5, 4)), ("left of it", (-0.5, 4)), ("too near on the right", (0.1, 4))):
    on("hole at an edge of a trench, " + name, p0, lambda o: 0.3 if o > 0 else -0.3, 0.08)


# Holes at a box of 0.6 m about (5, 5) and at a tank of 2 by 1 m about (5, 9.5).
def near(kind, name, middle, p0, observe):
    site(name, {kind + " center": middle + (0.4,), "P": p0 + (0.1,)}, lambda p, e: observe(p["P"] - p[kind + " center"]))


# Where a hole met one somewhere, at a side or at a corner, nobody saying which, a
# Gaussian of the same second moment stands for it, the part turned any way: half
# the mean squared distance from the middle, by the midpoint rule, for each axis.
def somewhere(a, b, r, n=2000):
    """Over a rectangle grown by the radius of the hole."""
    area = moment = 0.0
    for i in range(n):
        x = (i + 0.5) / n * (a / 2 + r)
        top = b / 2 + sqrt(r * r - max(0, x - a / 2) ** 2)
        area, moment = area + top, moment + x * x * top + top ** 3 / 3
    return moment / area


def along_sides(a, b, n=20000):
    """Along the four sides of a rectangle."""
    def one(a, b):
        return sum(((i + 0.5) / n * a - a / 2) ** 2 + b * b / 4 for i in range(n)) / n * a
    return (one(a, b) + one(b, a)) / (a + b)


# The side of the box is written; a tank is 2.7 by 1.6 m, 0.1 m more or less.
on = sqrt(somewhere(0.6, 0.6, 0.15) / 2 + 0.046 ** 2)
side = sqrt(along_sides(0.6, 0.6) / 2 + 0.08 ** 2)
corner = sqrt((0.6 ** 2 + 0.6 ** 2) / 4 / 2 + 0.08 ** 2)
tank_side = sqrt(along_sides(2.7, 1.6) / 2 + 0.08 ** 2 + 0.1 ** 2)
box, tank = (5, 5), (5, 9.5)
for kind, middle, name, p0, sigma in (
        ("box", box, "its middle", (5.5, 4.8), 0.1), ("box", box, "somewhere on it", (5.5, 5.1), on),
        ("box", box, "some side", (5.5, 5.1), side), ("box", box, "some corner", (5.4, 5.5), corner),
        ("tank", tank, "the middle of a tank", (5.5, 9.3), 0.25), ("tank", tank, "some side of a tank", (5.5, 8.7), tank_side)):
    near(kind, "hole at a box, " + name, middle, p0, lambda v: [v.real / sigma, v.imag / sigma])

print("{")
print(",\n".join(" %s: %s" % (json.dumps(k, ensure_ascii=False), json.dumps(v)) for k, v in sites.items()))
print("}")
