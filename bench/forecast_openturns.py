"""Two cases of the forecast by an independent program (OpenTURNS): a line each, name and chance.

    python3 bench/forecast_openturns.py

rice      a seat's runout of a fixed lean and a guide whose direction scatters, within its limit
yaw       two guides of one setup, both entered, that share the yaw of the head and have a casting scatter each
"""
import math

import openturns as ot


def within(radius, offset, sd):
    """The chance that a round scatter of that sd about a point so far off lies within the radius."""
    return ot.NonCentralChiSquare(2.0, (offset / sd) ** 2).computeCDF((radius / sd) ** 2)


def rice():
    half = 48 / 2 * math.cos(math.radians(45))
    share = 0.8
    lean = share * half
    return within(0.05 / 2, lean * math.radians(0.03), lean * math.radians(0.03))


def yaw():
    clearance, span, casting, room = 0.4, 400, 0.05, 0.15
    scatter = ot.Normal(0, math.sqrt(2) * clearance / (4 * span))

    def both(x):
        turn = x[0]
        return [scatter.computePDF(x) * within(room, 100 * abs(turn), casting) * within(room, 300 * abs(turn), casting)]

    far = 9 * scatter.getSigma()[0]
    rule = ot.GaussKronrod(1000, 1e-13, ot.GaussKronrodRule(ot.GaussKronrodRule.G25K51))
    return rule.integrate(ot.PythonFunction(1, 1, both), ot.Interval([-far], [far]))[0]


if __name__ == "__main__":
    print(f"rice {rice():.12f}")
    print(f"yaw {yaw():.12f}")
