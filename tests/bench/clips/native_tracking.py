"""The natural native reference: the same corners, the same pyramidal Lucas-Kanade there and back, on the same grey frames, by OpenCV's
own library on all cores. Prints one line of JSON. Needs python3-opencv and numpy.

usage: native_tracking.py FRAMES.raw WIDTH HEIGHT
"""

import json
import sys
import time

import cv2
import numpy as np

TARGET = 280
COLUMNS, ROWS = 16, 9
# Of the program at 960 px, scaled with the width.
FACTOR = max(0.5, int(sys.argv[2]) / 960)
WINDOW = 2 * round((21 * FACTOR - 1) / 2) + 1
LEVELS = max(2, 3 + round(np.log2(FACTOR)))
BLOCK = 2 * round((7 * FACTOR - 1) / 2) + 1
CRITERIA = (cv2.TERM_CRITERIA_EPS | cv2.TERM_CRITERIA_COUNT, 30, 0.005)


def starts(picture, live, count):
    """Strongest corners of the emptiest buckets."""
    height, width = picture.shape
    strength = cv2.cornerMinEigenVal(picture, BLOCK, ksize=3)
    local = (strength == cv2.dilate(strength, np.ones((3, 3)))) & (strength > 0.003 * np.quantile(strength, 0.99))
    margin = WINDOW // 2 + 3
    local[:margin] = local[-margin:] = False
    local[:, :margin] = local[:, -margin:] = False
    y, x = np.nonzero(local)
    order = np.argsort(-strength[y, x])
    filled = np.zeros(COLUMNS * ROWS, int)
    bucket = lambda px, py: (np.minimum(py * ROWS // height, ROWS - 1) * COLUMNS + np.minimum(px * COLUMNS // width, COLUMNS - 1)).astype(int)
    if len(live):
        np.add.at(filled, bucket(live[:, 0], live[:, 1]), 1)
    by_bucket = {}
    for i in order:
        by_bucket.setdefault(int(bucket(x[i], y[i])), []).append(i)
    taken = []
    while len(taken) < count and by_bucket:
        emptiest = min(by_bucket, key=lambda b: filled[b])
        i = by_bucket[emptiest].pop(0)
        if not by_bucket[emptiest]:
            del by_bucket[emptiest]
        taken.append((x[i], y[i]))
        filled[emptiest] += 1
    return np.array(taken, np.float32).reshape(-1, 2)


def main():
    width, height = int(sys.argv[2]), int(sys.argv[3])
    frames = np.fromfile(sys.argv[1], np.uint8).reshape(-1, height, width)
    cv2.setNumThreads(2)
    follow = dict(winSize=(WINDOW, WINDOW), maxLevel=LEVELS, criteria=CRITERIA)
    points = np.zeros((0, 2), np.float32)
    before = None
    followed = 0
    began = time.perf_counter()
    for frame in frames:
        picture = cv2.GaussianBlur(frame, (0, 0), FACTOR)
        if before is not None and len(points):
            there, found, _ = cv2.calcOpticalFlowPyrLK(before, picture, points, None, **follow)
            back, found_back, _ = cv2.calcOpticalFlowPyrLK(picture, before, there, None, **follow)
            off = np.linalg.norm(back - points, axis=1)
            points = there[(found[:, 0] == 1) & (found_back[:, 0] == 1) & (off < 0.4 * FACTOR)]
            followed += len(points)
        missing = TARGET - len(points)
        if missing > 0.04 * TARGET:
            points = np.concatenate([points, starts(picture, points, missing)])
        before = picture
    seconds = time.perf_counter() - began
    print(json.dumps({"frames": len(frames), "seconds": round(seconds, 3), "points": round(followed / max(1, len(frames) - 1))}))


main()
