"""The same computation with numpy, vectorised over wavelengths; several ways, so that the best one can be named.

Reads one JSON workload from standard input (see bench.ts), writes {way: [ns a unit, one a batch]} and sums of R.
"""

import json
import sys
import time

import numpy as np

work = json.load(sys.stdin)
wavelength = np.array(work["wavelengthNm"])
index = [np.array(n) - 1j * np.array(k) for n, k in work["layers"]]
substrate = np.array(work["substrate"])
incident = np.array(work["incident"])
nominal = np.array(work["thicknessNm"])
angle = work["incidenceRad"]
units = work["units"]


def tables(polarization):
    """What does not change with the thicknesses: computed once, as our own solver does."""
    along = (incident * np.sin(angle)) ** 2
    def admittance(one):
        normal = np.sqrt(one * one - along)
        return normal, normal if polarization == "s" else one * one / normal
    pairs = [admittance(one) for one in index]
    wave = [2 * np.pi * normal / wavelength for normal, _ in pairs]
    eta = [one for _, one in pairs]
    if not work["absorbing"]:
        wave = [one.real.copy() for one in wave]
        eta = [one.real.copy() for one in eta]
    return wave, eta, admittance(incident)[1].real, admittance(substrate)[1].real


prepared = [tables(one) for one in work["polarizations"]]


def finish(y0, b, c):
    r = (y0 * b - c) / (y0 * b + c)
    return r.real**2 + r.imag**2


def by_matrices(table, thickness):
    wave, eta, y0, glass = table
    field = np.empty((wavelength.size, 2, 1), complex)
    field[:, 0, 0] = 1
    field[:, 1, 0] = glass
    layer = np.empty((wavelength.size, 2, 2), complex)
    for d, k, y in zip(thickness, wave, eta):
        delta = k * d
        cosine, sine = np.cos(delta), 1j * np.sin(delta)
        layer[:, 0, 0] = cosine
        layer[:, 0, 1] = sine / y
        layer[:, 1, 0] = sine * y
        layer[:, 1, 1] = cosine
        field = layer @ field
    return finish(y0, field[:, 0, 0], field[:, 1, 0])


def by_vectors(table, thickness):
    wave, eta, y0, glass = table
    b, c = np.ones(wavelength.size, complex), glass.astype(complex)
    for d, k, y in zip(thickness, wave, eta):
        delta = k * d
        cosine, sine = np.cos(delta), 1j * np.sin(delta)
        b, c = cosine * b + sine / y * c, sine * y * b + cosine * c
    return finish(y0, b, c)


def by_real_numbers(table, thickness):
    wave, eta, y0, glass = table
    br, bi = np.ones_like(glass), np.zeros_like(glass)
    cr, ci = glass.copy(), np.zeros_like(glass)
    for d, k, y in zip(thickness, wave, eta):
        delta = k * d
        cosine, sine = np.cos(delta), np.sin(delta)
        up, down = sine * y, sine / y
        br, bi, cr, ci = cosine * br - down * ci, cosine * bi + down * cr, cosine * cr - up * bi, cosine * ci + up * br
    back = (y0 * br - cr) ** 2 + (y0 * bi - ci) ** 2
    return back / ((y0 * br + cr) ** 2 + (y0 * bi + ci) ** 2)


ways = {"2x2 matrices": by_matrices, "complex vectors": by_vectors}
if not work["absorbing"]:
    ways["real arithmetic by hand"] = by_real_numbers

answer = {}
for name, way in ways.items():
    def once(round_number):
        thickness = nominal.copy()
        thickness[0] += round_number % 7
        return sum(float(way(table, thickness).sum()) for table in prepared)

    repeat, spent = 1, 0.0
    while spent < 0.04:
        start = time.process_time()
        for i in range(repeat):
            once(i)
        spent = time.process_time() - start
        repeat = max(repeat + 1, int(repeat * 1.2 * 0.04 / max(spent, 1e-4)))
    times = []
    for _ in range(11):
        start = time.process_time()
        for i in range(repeat):
            once(i)
        times.append((time.process_time() - start) * 1e9 / (repeat * units))
    answer[name] = {"timesNs": times, "sumOfR": once(0)}
print(json.dumps(answer))
