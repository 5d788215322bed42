"""Values for real_footprints.rs, computed with other tools than the ones under test.

    pip install shapely==2.1.2 pyproj==3.7.2
    python real_footprints.py bubenec.gpkg > data/real_footprints.json

The footprints, plots and streets are those of the Python package momepy 0.11.0 (BSD-3-Clause), file
momepy/datasets/bubenec.gpkg. Only numbers derived from them are kept. Roles of lot lines follow the
definition printed at the heads of core/formats/src/roles/mod.rs and core/survey/src/roles/mod.rs, written here a second
time from that text.
"""

import json
import math
import sqlite3
import sys

from pyproj import Transformer
from shapely import STRtree, unary_union, wkb
from shapely.geometry import LineString, Point, Polygon
from shapely.ops import nearest_points, transform

REACH = 80 * 0.3048
NEAR = 10 * 0.3048


def layers(path):
    db = sqlite3.connect(path)
    found = {}
    for table in ("buildings", "plots", "streets"):
        rows = db.execute(f"select fid, geom from {table} order by fid")
        # A GeoPackage geometry is a header (its envelope of a size the flags tell) before plain WKB.
        found[table] = {
            fid: wkb.loads(blob[8 + {0: 0, 1: 32, 2: 48, 3: 48, 4: 64}[(blob[3] >> 1) & 7]:])
            for fid, blob in rows
        }
    return found


def on_a_plane(found):
    """Web Mercator to an azimuthal equidistant plane at the middle of everything."""
    boxes = [shape.bounds for layer in found.values() for shape in layer.values()]
    middle = (
        (min(b[0] for b in boxes) + max(b[2] for b in boxes)) / 2,
        (min(b[1] for b in boxes) + max(b[3] for b in boxes)) / 2,
    )
    lon, lat = Transformer.from_crs(3857, 4326, always_xy=True).transform(*middle)
    local = Transformer.from_crs(3857, f"+proj=aeqd +lat_0={lat} +lon_0={lon} +ellps=WGS84", always_xy=True)
    place = lambda x, y, z=None: local.transform(x, y)
    return {name: {fid: transform(place, s) for fid, s in layer.items()} for name, layer in found.items()}


def heading(a, b):
    return math.degrees(math.atan2(b[1] - a[1], b[0] - a[0]))


def turn(a, b):
    """Unsigned turn between two headings."""
    return abs((b - a + 180) % 360 - 180)


def sides_of(ring):
    """Each side as a list of places, the ring taken anticlockwise, and the heading out of the lot."""
    n = len(ring)
    way = [heading(ring[i], ring[(i + 1) % n]) for i in range(n)]
    sharp = [turn(way[i - 1], way[i]) > 20 for i in range(n)]
    start = next((i for i in range(n) if sharp[i]), 0)
    groups, first = [[start]], way[start]
    for step in range(1, n):
        i = (start + step) % n
        if sharp[i] or turn(first, way[i]) > 45:
            groups.append([])
            first = way[i]
        groups[-1].append(i)
    sides = []
    for group in groups:
        places = [ring[i] for i in group] + [ring[(group[-1] + 1) % n]]
        sides.append({
            "line": LineString(places),
            "out": heading(places[0], places[-1]) - 90,
            "length": LineString(places).length,
        })
    return sides


def street_seen(at, out, streets, rings, tree):
    seen = []
    for index, street in enumerate(streets):
        place = nearest_points(street, at)[0]
        away = place.distance(at)
        if away > REACH or (away > 0 and turn(out, heading(at.coords[0], place.coords[0])) > 60):
            continue
        sight = LineString([at, place])
        if away > 0 and any(rings[i].intersection(sight).length > 0.5 for i in tree.query(sight)):
            continue
        seen.append((away, index))
    return min(seen)[1] if seen else None


def roles_of(ring, streets, rings, tree):
    """Sides with their role, or None for every role where the lot fronts no street."""
    if sum(Polygon(ring).intersection(street).length for street in streets) > 10:
        return [], "land"
    if not Polygon(ring).exterior.is_ccw:
        ring = ring[::-1]
    sides = sides_of(ring)
    for side in sides:
        side["street"] = None
        if side["length"] >= 1:
            at = [side["line"].interpolate(share, normalized=True) for share in (0.25, 0.5, 0.75)]
            seen = [s for s in (street_seen(p, side["out"], streets, rings, tree) for p in at) if s is not None]
            if len(seen) >= 2:
                side["street"] = seen[0]
    long = [side for side in sides if side["length"] >= 1]
    frontages = []
    for before, side in zip(long[-1:] + long[:-1], long):
        joins = before["street"] is not None and side["street"] is not None and turn(before["out"], side["out"]) < 45
        if side["street"] is not None:
            if joins and frontages and frontages[-1][-1] is before:
                frontages[-1].append(side)
            else:
                frontages.append([side])
    if len(frontages) > 1 and long[0]["street"] is not None and long[-1]["street"] is not None:
        if turn(long[-1]["out"], long[0]["out"]) < 45 and frontages[-1][-1] is long[-1]:
            frontages[0] = frontages.pop() + frontages[0]
    if not frontages:
        return sides, "unknown"
    size = lambda frontage: sum(side["length"] for side in frontage)
    wide = [frontage for frontage in frontages if size(frontage) >= 6]
    front = min(wide, key=size) if wide else max(frontages, key=size)
    for side in long:
        side["role"] = "side" if side["street"] is None else "street_side"
    for side in front:
        side["role"] = "front"
    x = sum(side["length"] * math.cos(math.radians(side["out"])) for side in front)
    y = sum(side["length"] * math.sin(math.radians(side["out"])) for side in front)
    out = math.degrees(math.atan2(y, x))
    back = (-math.cos(math.radians(out)), -math.sin(math.radians(out)))
    middle = lambda side: side["line"].interpolate(0.5, normalized=True)
    origin = middle(max(front, key=lambda side: side["length"]))
    depth = lambda side: (middle(side).x - origin.x) * back[0] + (middle(side).y - origin.y) * back[1]
    opposed = [side for side in long if side["street"] is None and turn(out, side["out"]) >= 135]
    deepest = max([depth(side) for side in opposed], default=0)
    for side in opposed:
        if depth(side) > 0 and depth(side) >= deepest / 2:
            side["role"] = "rear"
    for index, side in enumerate(sides):
        if side["length"] < 1:
            after = next(s for s in sides[index + 1:] + sides[:index] if s["length"] >= 1)
            before = next(s for s in sides[:index][::-1] + sides[index + 1:][::-1] if s["length"] >= 1)
            side["role"] = (after if after["length"] > before["length"] else before)["role"]
    return sides, "corner" if len(frontages) > 1 else "plain"


def main():
    found = on_a_plane(layers(sys.argv[1]))
    buildings, plots = found["buildings"], found["plots"]
    streets = list(found["streets"].values())
    rings = [Polygon(plot.exterior) for plot in plots.values()]
    tree = STRtree(rings)
    fids, shapes = list(plots), list(plots.values())
    plot_tree = STRtree(shapes)

    lines, fronts = {}, {"plain": 0, "corner": 0, "unknown": 0, "land": 0}
    for fid, plot in plots.items():
        lines[fid], kind = roles_of(list(plot.exterior.coords)[:-1], streets, rings, tree)
        fronts[kind] += 1

    on_lot = {}
    for fid, shape in buildings.items():
        shares = [(shape.intersection(shapes[i]).area, fids[i]) for i in plot_tree.query(shape)]
        on_lot.setdefault(max(shares)[1], []).append(fid)

    rows = []
    for lot, fids_there in sorted(on_lot.items()):
        dwelling = max(fids_there, key=lambda fid: buildings[fid].area)
        for fid in fids_there:
            row = [fid, lot, int(fid == dwelling), round(buildings[fid].area, 5)]
            for role in ("front", "side", "rear", "street_side"):
                away = [buildings[fid].distance(s["line"]) for s in lines[lot] if s.get("role") == role]
                row.append(round(min(away), 6) if away else None)
            rows.append(row)

    index = STRtree(list(buildings.values()))
    keys = list(buildings)
    pairs = sorted(
        (keys[i], keys[j], round(buildings[keys[i]].distance(buildings[keys[j]]), 6))
        for i, j in zip(*index.query(list(buildings.values()), predicate="dwithin", distance=NEAR))
        if keys[i] < keys[j]
    )
    coverage = []
    for lot, fids_there in sorted(on_lot.items()):
        ring = Polygon(plots[lot].exterior)
        built = unary_union([buildings[fid] for fid in fids_there]).intersection(ring)
        near = [buildings[keys[i]] for i in index.query(ring, predicate="intersects")]
        standing = unary_union(near).intersection(ring)
        shares = [round(built.area / ring.area, 8), round(standing.area / ring.area, 8)]
        coverage.append([lot, round(ring.area, 5), *shares])

    write({
        "source": "shapely 2.1.2 (GEOS) and pyproj 3.7.2 (PROJ) over momepy 0.11.0, bubenec.gpkg; see real_footprints.py",
        "buildings": len(buildings),
        "plots": len(plots),
        "fronts": fronts,
        "sides": sum(len(lot) for lot in lines.values()),
        "yard_columns": ["building", "plot", "dwelling", "area m2", "front m", "side m", "rear m", "street side m"],
        "yards": sorted(rows),
        "separation_columns": ["building", "building", "m"],
        "separations": pairs,
        "coverage_columns": ["plot", "area m2", "share of its own buildings", "share of all that stands on it"],
        "coverage": coverage,
    })


def write(values):
    """One row to a line."""
    print("{")
    for key, value in values.items():
        end = "" if key == list(values)[-1] else ","
        if value and isinstance(value, list) and not isinstance(value[0], str):
            rows = ",\n".join("  " + json.dumps(row) for row in value)
            print(f' "{key}": [\n{rows}\n ]{end}')
        else:
            print(f' "{key}": {json.dumps(value)}{end}')
    print("}")


main()
