# Times flights of one launch by SciPy's adaptive solvers, each at the loosest tolerance that is as accurate as ours.
# Takes one JSON object: velocity (m/s) and spin direction (right, downrange, up), spin (rad/s), radius (m), force
# (density * area / 2 mass, 1/m), decay (1/m), gravity (m/s2), and carry, the one to be as accurate as.
# Prints our error, then one line a solver: name, relative tolerance, error of carry (m), flights a second (best of 3).
import json
import math
import sys
import time

from scipy.integrate import solve_ivp

given = json.loads(sys.argv[1])
sx, sy, sz = given["spinDirection"]
radius, force, decay, gravity = (given[name] for name in ("radius", "force", "decay", "gravity"))
start = [0.0, 0.0, 0.0, *given["velocity"], given["spin"]]


def drag(S):
    # Naruo, Mizota & Shimozono 2004, Trans. JSME B 70(697):2371-2377, equation 12; a 7-iron stays within its range.
    return (((0.751 * S - 1.76) * S + 1.098) * S + 0.2148) * S + 0.2049


def lift(S):
    # The same, equation 13.
    return (((-0.2158 * S + 1.006) * S - 1.644) * S + 1.25) * S + 0.0616


# Plain floats: arrays of three numbers would make each evaluation several times slower.
def rates(_, state):
    x, y, z, vx, vy, vz, spin = state.tolist()
    speed = math.sqrt(vx * vx + vy * vy + vz * vz)
    lx, ly, lz = sy * vz - sz * vy, sz * vx - sx * vz, sx * vy - sy * vx
    across = math.sqrt(lx * lx + ly * ly + lz * lz)
    S = radius * spin * across / (speed * speed)
    d = force * speed * drag(S)
    l = force * speed * speed * lift(S) / across
    return [vx, vy, vz, l * lx - d * vx, l * ly - d * vy, l * lz - d * vz - gravity, -decay * speed * spin]


def landing(_, state):
    return state[2]


def apex(_, state):
    return state[5]


landing.terminal, landing.direction, apex.direction = True, -1, -1


def fly(method, tolerance):
    flight = solve_ivp(rates, (0, 60), start, method=method, rtol=tolerance, atol=tolerance, events=(landing, apex))
    x, y = flight.y_events[0][0][:2]
    return math.hypot(x, y)


exact = fly("DOP853", 1e-13)
ours = abs(given["carry"] - exact)
print(ours)
for method in ("RK45", "DOP853", "LSODA"):
    tolerance = next((10.0**-n for n in range(2, 14) if abs(fly(method, 10.0**-n) - exact) <= ours), 1e-13)
    best = 0.0
    for _ in range(3):
        begun = time.perf_counter()
        for _ in range(20):
            fly(method, tolerance)
        best = max(best, 20 / (time.perf_counter() - begun))
    print(method, tolerance, abs(fly(method, tolerance) - exact), best, sep="\t")
