"""Median seconds of Shapely's inward buffer of a polygon: buffer.py DISTANCE SAGITTA, points as JSON on standard input."""

import json
import math
import statistics
import sys
import time

import shapely

distance, sagitta = map(float, sys.argv[1:3])
polygon = shapely.Polygon(json.load(sys.stdin))
# Segments of a quarter circle that keep round joins within the sagitta.
quad_segs = math.ceil(math.pi / 2 / (2 * math.acos(1 - sagitta / distance)))
times = []
for _ in range(30):
    began = time.perf_counter()
    shapely.buffer(polygon, -distance, quad_segs=quad_segs)
    times.append(time.perf_counter() - began)
print(statistics.median(times))
