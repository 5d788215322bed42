"""Compares a review of a neighbourhood with the measurements of neighbourhood.py, value by value.

    python neighbourhood_compare.py review.json measured.json

Exit code 0 when every number of measurements agrees and no value differs by more than the tolerance.
"""

import json
import sys
from collections import defaultdict

# Metres, shares of one and square metres: the two planes and the rounding of what is written differ by less.
TOLERANCE = 1e-5


def number(name):
    return int(name.split(".")[0].rsplit("-", 1)[1])


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        review = json.load(file)["plans"][0]
    with open(sys.argv[2], encoding="utf-8") as file:
        measured = json.load(file)
    if review["tool_findings"]:
        raise SystemExit(f"a module stopped: {review['tool_findings'][0]}")
    found = defaultdict(list)
    for finding in review["findings"]:
        if finding["shown"]:
            found[finding["rule"]].append(finding)

    bad = 0

    def tell(rule, ours, theirs):
        """Two lists of sorted rows of which all but the last figures are keys."""
        nonlocal bad
        worst, wrong = 0.0, len(ours) != len(theirs)
        for (key, *values), (other, *others) in zip(sorted(ours), sorted(theirs)):
            wrong |= key != other
            worst = max([worst, *(abs(a - b) for a, b in zip(values, others))])
        bad += wrong or worst > TOLERANCE
        say = "differ" if wrong or worst > TOLERANCE else "agree"
        print(f"{rule:12} {len(ours):8} {len(theirs):8}  worst {worst:.1e}  {say}")

    # A building that reaches into another, or that a corner of its lot reaches into, is at no distance in the script.
    away = lambda finding: max(0.0, finding["shown"]["value"])
    for rule, name in (("front", "front"), ("side", "side"), ("rear", "rear"), ("street-side", "street_side")):
        line = lambda f: (number(f["features"][0]), f["features"][1].split(".")[1])
        theirs = {(building, line): away for building, line, away in measured["rows"][name]}
        value = lambda f: away(f) if theirs.get(line(f)) == 0.0 else f["shown"]["value"]
        ours = [(line(f), value(f)) for f in found[rule]]
        theirs = list(theirs.items())
        tell(rule, ours, theirs)
    pair = lambda finding: tuple(number(name) for name in finding["features"])
    ours = [(tuple(sorted(pair(f))), away(f)) for f in found["separation"]]
    tell("separation", ours, [((a, b), gap) for a, b, gap in measured["rows"]["separation"]])
    ours = [(number(f["features"][0]), f["shown"]["value"]) for f in found["share"]]
    tell("share", ours, measured["rows"]["share"])
    area = lambda f: next(b["amount"]["value"] for b in f["beside"] if b["what"] == "shared area")
    ours = [(pair(f), away(f), area(f)) for f in found["overlap"]]
    tell("overlap", ours, [((a, b), gap, shared) for a, b, gap, shared in measured["rows"]["overlap"]])
    raise SystemExit(1 if bad else 0)


main()
