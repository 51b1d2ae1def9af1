"""The peer of bench_forecast: the same batch of heads (tests/forecast/full_batch.hpp) drawn with NumPy, one
process, in chunks (without the distributions that ours counts). Prints heads a second of processor time, the pass rate and its verdicts.

    python3 bench/forecast_numpy.py [heads]
"""
import sys
import time

import numpy as np

DEG = np.pi / 180


def draw(rng, n, first):
    setups = [(np.linalg.cholesky(np.array([[0.002, 0, 1e-6], [0, 0.003, -2e-6], [1e-6, -2e-6, 4e-8]])), 0.02 * DEG, 0.01),
              (np.diag([0.004, 0.004, 1e-8]) ** 0.5, 0.015 * DEG, 0.015)]
    pose = [rng.standard_normal((n, 3)) @ chol.T for chol, _, _ in setups]
    lean = [level * rng.standard_normal((n, 2)) for _, level, _ in setups]
    zero = [sd * rng.standard_normal(n) for _, _, sd in setups]
    touch, casting, positioning, share = 0.02, 0.06, 0.01, 0.8
    life = (np.arange(first, first + n) % 20) % 8
    good = np.ones(n, bool)
    passed = np.ones(n, bool)
    failed = np.zeros(n, bool)
    heights, reads = [[], []], [[], []]
    for i in range(8):
        k = i % 2
        px, py = -150.0 + 40 * i, 12.0 - 3 * i
        touched = i < 4
        gain = touch**2 / (touch**2 + casting**2) if touched else 1.0
        own = touch * casting / np.hypot(touch, casting) if touched else casting
        sine, half = np.sin(45 * DEG), (44 if k == 0 else 38) / 2 * np.cos(45 * DEG)
        reach = 0.3 * sine + half * (1 - share) * 0.3 * 0.02
        tx, ty, th = pose[k].T
        m = np.stack([gain * (tx - th * py), gain * (ty + th * px)]) + np.hypot(own, positioning) * rng.standard_normal((2, n))
        enters = (m**2).sum(0) <= 0.35**2
        d = reach * m + half * share * (lean[k].T + np.array([[0.01 * DEG], [-0.02 * DEG]]) + 0.015 * DEG * rng.standard_normal((2, n)))
        turn, radius = 2 * np.pi * rng.random(n), 0.006 * sine * np.sqrt(rng.random(n))
        d += radius * np.stack([np.cos(turn), np.sin(turn)])
        turn = 2 * np.pi * rng.random(n)
        d += 0.004 * sine * np.stack([np.cos(turn), np.sin(turn)])
        runout = 2 * np.hypot(*d)
        worn = life * 4 + i // 2
        width = 0.02 * rng.standard_normal(n) + 0.0005 * worn
        height = 47.0 + 0.01 * i + zero[k] - lean[k] @ np.array([40.0 * i, 5]) + np.hypot(0.015, 0.01) * rng.standard_normal(n) + 0.0004 * worn
        good &= enters & (runout <= 0.08) & (np.abs(width) <= 0.08) & (height >= 46.8) & (height <= 47.25)
        r = runout + 0.003 * rng.standard_normal(n)
        w = np.abs(width + 0.006 * rng.standard_normal(n))
        h = height + 0.008 * rng.standard_normal(n)
        passed &= enters & (r <= 0.08 - 0.006) & (w <= 0.08 - 0.012) & (h >= 46.8 + 0.016) & (h <= 47.25 - 0.016)
        failed |= ~enters | (r > 0.08 + 0.006) | (w > 0.08 + 0.012) | (h < 46.8 - 0.016) | (h > 47.25 + 0.016)
        heights[k].append(height)
        reads[k].append(h)
    for k in range(2):
        spread, read = np.ptp(heights[k], axis=0), np.ptp(reads[k], axis=0)
        good &= spread <= 0.2
        passed &= read <= 0.2 - np.sqrt(2) * 0.016
        failed |= read > 0.2 + np.sqrt(2) * 0.016
    return good, passed, failed


def main():
    heads = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    rng = np.random.default_rng(1)
    chunk, done, counts = 20_000, 0, np.zeros(3)
    begun = time.process_time()
    while done < heads:
        n = min(chunk, heads - done)
        counts += [part.sum() for part in draw(rng, n, done)]
        done += n
    seconds = time.process_time() - begun
    good, passed, failed = counts / heads
    print(f"{heads / seconds:.3g} heads a second; good {good:.5f}, pass {passed:.5f}, fail {failed:.5f}")


if __name__ == "__main__":
    main()
